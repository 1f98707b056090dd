"""Plans that fail their check, and plans with nobody to do anything."""

import pytest
from small_kitchen import DINNER, arrival, folder, household, kitchen

from stillroom.errors import SourceError
from stillroom.model.kitchen import Person
from stillroom.planning import pipeline


def test_a_plan_that_fails_its_check_is_not_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pipeline, "check_timetable", lambda *_: ("Two things at once.",))
    with pytest.raises(SourceError, match="Two things at once"):
        pipeline.plan(folder(household(DINNER), kitchen(), arrival("potato", 2)), days=1, seconds=3, progress=str)


def test_with_nobody_in_the_kitchen_food_is_given_away_and_meals_are_told_missing() -> None:
    empty = kitchen(people=(Person("cook", ()),))
    made = pipeline.plan(folder(household(DINNER), empty, arrival("potato", 0)), days=1, seconds=3, progress=str)
    assert made.tasks == ()
    (meal,) = made.meals
    assert not meal.is_on_time
    assert meal.missing == ("main (3.0 portions)",)
    assert [(part.food, part.mass_g) for part in made.left] == [("potato, fresh", pytest.approx(3000))]
