"""Recipes at the pace of a household."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from stillroom.model.household import TimeTaken
from stillroom.model.recipe import Recipe, Step
from stillroom.model.work import Attention
from stillroom.planning.own_pace import at_own_pace, pace_notes
from stillroom.recipes.reader import all_recipes

START = date(2027, 4, 9)


@pytest.fixture(scope="module")
def recipes() -> tuple[Recipe, ...]:
    return all_recipes()


def times(recipe: str, step: str, ratio: float, *, many: int = 40, day: date = START) -> list[TimeTaken]:
    return [TimeTaken(recipe, step, 30.0, 30.0 * ratio, day - timedelta(number)) for number in range(many)]


def step_of(recipes: tuple[Recipe, ...], recipe: str, step: str) -> Step:
    return next(s for r in recipes if r.key == recipe for s in r.steps if s.key == step)


def test_hands_are_planned_at_their_own_pace(recipes: tuple[Recipe, ...]) -> None:
    before = step_of(recipes, "pears_jarred", "prepare")
    for ratio in (0.7, 1.4):
        after = step_of(at_own_pace(recipes, times("pears_jarred", "prepare", ratio), START), "pears_jarred", "prepare")
        assert after.fixed_min / before.fixed_min == pytest.approx(ratio, rel=0.04)
        assert after.per_unit_min / before.per_unit_min == pytest.approx(ratio, rel=0.04)
        assert after.pace == pytest.approx(ratio, rel=0.04)
        assert after.sigma is not None
        assert (after.after, after.needs, after.text) == (before.after, before.needs, before.text)


def test_what_is_minded_is_never_planned_shorter(recipes: tuple[Recipe, ...]) -> None:
    before = step_of(recipes, "pears_jarred", "heat")
    assert before.attention is Attention.NEAR
    quick = step_of(at_own_pace(recipes, times("pears_jarred", "heat", 0.5), START), "pears_jarred", "heat")
    slow = step_of(at_own_pace(recipes, times("pears_jarred", "heat", 1.5), START), "pears_jarred", "heat")
    assert quick.fixed_min == before.fixed_min
    assert slow.fixed_min > 1.3 * before.fixed_min


def test_processes_waits_and_rests_are_never_touched(recipes: tuple[Recipe, ...]) -> None:
    """Every step of every recipe is said to go twice as fast: no wait, no process, nothing free changes."""
    said = [time for r in recipes for s in r.steps for time in times(r.key, s.key, 0.5, many=6)]
    changed = 0
    for before, after in zip(recipes, at_own_pace(recipes, said, START), strict=True):
        for old, new in zip(before.steps, after.steps, strict=True):
            assert (old.after, old.needs, old.day) == (new.after, new.needs, new.day)
            if old.attention is not Attention.HANDS or old.is_canner_cycle:
                assert (old.fixed_min, old.per_unit_min) == (new.fixed_min, new.per_unit_min)
            else:
                changed += new.fixed_min < old.fixed_min or new.per_unit_min < old.per_unit_min
    assert changed > 100


def test_without_times_the_recipes_are_the_recipes(recipes: tuple[Recipe, ...]) -> None:
    assert at_own_pace(recipes, (), START) == recipes


def test_times_of_later_days_are_not_known_yet(recipes: tuple[Recipe, ...]) -> None:
    later = times("pears_jarred", "prepare", 2.0, day=START + timedelta(60))[:20]
    assert at_own_pace(recipes, later, START) == recipes
    assert "20 times in done.yaml lie after the first day" in pace_notes(recipes, later, START)[0]


def test_what_is_not_learned_from_is_told(recipes: tuple[Recipe, ...]) -> None:
    strange = TimeTaken("no_such_recipe", "prepare", 10, 12, START)
    forgotten = TimeTaken("pears_jarred", "prepare", 30, 540, START)
    notes = pace_notes(recipes, [strange, forgotten], START)
    assert "no_such_recipe: prepare" in notes[0]
    assert notes[1].startswith("1 time in done.yaml can't be right")
    assert pace_notes(recipes, times("pears_jarred", "prepare", 1.2), START) == ()
