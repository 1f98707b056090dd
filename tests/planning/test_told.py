"""What is told when the rest of a day was planned anew."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from kept_day import HOT, kept_day

from stillroom.planning.crew import with_sittings
from stillroom.planning.kept_plan import KeptPlan, read_plan
from stillroom.planning.told import Told, moved_on, told
from stillroom.planning.what_now import _BY_HOLD, what_now
from stillroom.recipes.reader import all_recipes
from stillroom.tables.constants import constant
from stillroom.tables.rules import rule
from stillroom.timetable.problem import Span
from stillroom.timetable.progress import Progress, progress
from stillroom.timetable.replan import Replanned, replan
from stillroom.units import celsius


def planned_anew(kept: KeptPlan, seen: Progress) -> tuple[Told, Replanned]:
    found = replan(with_sittings(kept.worked_out.problem), kept.worked_out.timetable, seen, workers=1)
    return told(kept, seen, found), found


def test_a_day_as_planned_has_nothing_to_tell() -> None:
    kept = kept_day()
    seen = Progress(1000, {"trim": Span(960, 990)}, {"boil": Span(990, 1005)})
    answer, _ = planned_anew(kept, seen)
    assert (answer.late, answer.broken, answer.moves, answer.small_moves, answer.longer) == ((), (), (), 0, ())
    assert [number for number, _ in answer.going_on] == [2]
    assert [number for number, _ in answer.to_come] == [3, 4, 5, 6, 7, 8]


def test_somebody_else_cuts_so_that_dinner_is_on_time() -> None:
    """Trimming lasts until 17:50; only B can cut the soup in time."""
    answer, _ = planned_anew(kept_day(), Progress(1000, {}, {"trim": Span(960, 1070)}))
    assert answer.late == ()
    cut = next(move for move in answer.moves if move.text == "Cut.")
    assert (cut.number, cut.run, cut.person_before, cut.person) == (5, "Soup", "A", "B")


def test_a_late_dinner_is_told_and_nobody_sits_down_before() -> None:
    kept = kept_day()
    done = {item.task: Span(item.start, item.end) for item in kept.worked_out.timetable.placed if item.end <= 1080}
    seen = Progress(1100, done, {"cool": Span(1080, 1120), "cook": Span(1090, 1130)})
    answer, found = planned_anew(kept, seen)
    (late,) = answer.late
    assert (late.name, late.at.hour, late.ready.hour, late.ready.minute) == ("dinner", 18, 18, 50)
    after = {item.task: item for item in found.timetable.placed}
    assert after["A"].start == after["B"].start == 1130


def test_a_clock_that_ran_out_says_what_to_do() -> None:
    """Filled at 17:00, and the canner is out of order until 17:30."""
    kept = kept_day()
    happened = {"trim": Span(960, 990), "boil": Span(990, 1005), "fill": Span(1005, 1020)}
    answer, found = planned_anew(kept, Progress(1050, happened, {}))
    assert set(found.broken) == {HOT}
    (broken,) = answer.broken
    assert (broken.run, broken.step, broken.may_wait_min, broken.reason) == ("Beans in jars", "Heat.", 10, HOT.reason)
    assert broken.waits_min == 30
    assert "Do not process jars that have cooled" in broken.do


def test_who_stays_longer_is_told() -> None:
    kept = kept_day()
    seen = Progress(1195, {item.task: Span(item.start, item.end) for item in kept.worked_out.timetable.placed
                           if item.task != "sweep"}, {})  # fmt: skip
    answer, _ = planned_anew(kept, seen)
    (longer,) = answer.longer
    assert (longer.until.hour, longer.until.minute, longer.more_min) == (20, 5, 5)


def test_numbers_stay_when_the_plan_moves_on() -> None:
    kept = kept_day()
    seen = Progress(1000, {}, {"trim": Span(960, 1070)})
    _, found = planned_anew(kept, seen)
    after = read_plan(moved_on(kept, seen, found).as_text())  # as it is read back from a file
    assert after.numbered == kept.numbered
    placed = {item.task: item for item in after.worked_out.timetable.placed}
    assert placed["trim"].end == 1070
    # Told again an hour later, the new plan is what is compared with.
    real = placed.items() - {(key, item) for key, item in placed.items() if key in ("A", "B")}
    later = progress(
        after.worked_out.problem,
        after.worked_out.timetable,
        now=1090,
        started={key: item.start for key, item in real if item.start <= 1090},
        finished={key: item.end for key, item in real if item.end <= 1090},
    )
    answer, _ = planned_anew(after, later)
    assert answer.late == ()


def test_modes_that_only_the_rest_knows_do_not_stay() -> None:
    kept = kept_day()
    seen = Progress(1000, {}, {"trim": Span(960, 1070)})
    _, found = planned_anew(kept, seen)
    strange = replace(found, timetable=replace(found.timetable, placed=tuple(
        replace(item, mode=5) if item.task == "cool" else item for item in found.timetable.placed)))  # fmt: skip
    after = moved_on(kept, seen, strange).worked_out.timetable
    assert next(item for item in after.placed if item.task == "cool").mode == 0


def test_what_to_do_names_rules_that_are_printed_and_says_their_figures() -> None:
    for words in _BY_HOLD.values():
        for name in re.findall(r"R\d{3}", words):
            assert rule(name).evidence
    cooling = what_now("hot", "57 to 21 °C within 2 hours and to 5 °C within 6 (rule R095)", is_in_jars=False)
    assert f"{celsius(constant('cooling_start_f').value):.0f} °C" in cooling
    assert f"{celsius(constant('cooling_first_end_f').value):.0f} °C" in cooling
    assert "165 °F (74 °C)" in rule("R106").value
    assert "74 °C" in cooling
    assert "at most 2 h" in rule("R103").value
    assert "1 h above 90 °F (32 °C)" in rule("R103").value


def test_every_clock_of_our_recipes_says_what_to_do() -> None:
    waits = [after for recipe in all_recipes() for step in recipe.steps for after in step.after if after.max_lag_min]
    assert len(waits) > 100
    for after in waits:
        assert after.hold in _BY_HOLD, after
        assert what_now(after.hold, after.reason, is_in_jars=False)
    jars = [after for after in waits if "go into the hot canner" in after.reason]
    assert jars
    for after in jars:
        words = what_now(after.hold, after.reason, is_in_jars=True)
        assert ("cooled" in words) == (after.hold == "hot")


@pytest.mark.parametrize("hold", sorted(_BY_HOLD))
def test_nothing_is_promised_that_a_rule_does_not_say(hold: str) -> None:
    """No advice tells to taste, and none calls food safe."""
    words = what_now(hold, "", is_in_jars=False).lower()
    assert "taste" not in words.replace("untasted", "")
    assert "safe" not in words
