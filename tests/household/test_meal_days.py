"""A meal that is another on one day: sums of portions worked by hand from the demo's eaters."""

from datetime import time
from pathlib import Path

import pytest

from stillroom.errors import FolderError
from stillroom.household.folder import read_folder
from stillroom.model.household import Meal

DEMO = Path(__file__).parents[2] / "examples" / "demo"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for file in DEMO.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    return tmp_path


def say(folder: Path, *lines: str) -> None:
    file = folder / "household.yaml"
    said = "".join(f"  - {{{line}}}\n" for line in lines)
    file.write_text(f"{file.read_text(encoding='utf-8')}\nmeal_days:\n{said}", encoding="utf-8")


def meals(folder: Path) -> dict[str, Meal]:
    return {meal.key: meal for meal in read_folder(folder, days=7).household.meals}


def test_it_works(folder: Path) -> None:
    """The away cook eats 1.25 adult portions (a large appetite); two guests eat one each."""
    usual = meals(folder)
    say(folder, 'meal: dinner, day: 2027-04-10, at: "19:15", eaters: [away cook], guests: 2')
    changed = meals(folder)
    dinner = changed.pop("2027-04-10 dinner")
    assert (dinner.at, dinner.portions, dinner.roles) == (time(19, 15), 3.25, ("main", "side"))
    del usual["2027-04-10 dinner"]
    assert changed == usual


def test_guests_eat_beside_who_eats_as_usual(folder: Path) -> None:
    before = meals(folder)["2027-04-11 lunch"]
    say(folder, "meal: lunch, day: 2027-04-11, guests: 4")
    after = meals(folder)["2027-04-11 lunch"]
    assert after.portions == pytest.approx(before.portions + 4)
    assert after.at == before.at


def test_children_who_are_guests_eat_by_their_age(folder: Path) -> None:
    """Dietary Guidelines for Americans 2015-2020, table A2-1, moderately active, mean of girls and boys over 2500 kcal:
    1400 at four years, 1700 at nine."""
    before = meals(folder)["2027-04-11 lunch"]
    say(folder, "meal: lunch, day: 2027-04-11, guests: 1, child_guests: [4, 9]")
    after = meals(folder)["2027-04-11 lunch"]
    assert after.portions == pytest.approx(before.portions + 1 + 1400 / 2500 + 1700 / 2500)


def test_a_meal_is_left_out(folder: Path) -> None:
    before = meals(folder)
    say(folder, "meal: dinner, day: 2027-04-12, left_out: yes")
    assert before.keys() - meals(folder).keys() == {"2027-04-12 dinner"}


def test_a_day_outside_of_the_plan_changes_nothing(folder: Path) -> None:
    before = meals(folder)
    say(folder, "meal: dinner, day: 2027-06-12, left_out: yes")
    assert meals(folder) == before


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (["meal: supper, day: 2027-04-12"], "no meal “supper” on Mondays"),
        (["meal: lunch, day: 2027-04-12"], "no meal “lunch” on Mondays"),
        (["meal: dinner, day: 2027-04-12, eaters: [nobody known]"], "must be one of home cook"),
        (["meal: dinner, day: 2027-04-12, guests: 100"], "less than or equal to 40"),
        (["meal: dinner, day: 2027-04-12, child_guests: [1]"], "greater than or equal to 2"),
        (["meal: dinner, day: 2027-04-12, child_guests: [19]"], "less than 19"),
        (["meal: dinner, day: 2027-04-12, guests: 1"] * 2, "stands here twice"),
    ],
)
def test_what_can_not_be_is_told_with_its_place(folder: Path, lines: list[str], sentence: str) -> None:
    say(folder, *lines)
    with pytest.raises(FolderError, match="meal_days") as caught:
        read_folder(folder, days=7)
    assert sentence in str(caught.value)
