"""What in a readable household folder will trouble a plan is told as a warning."""

from collections.abc import Callable
from pathlib import Path

import pytest

from stillroom.household.folder import read_folder, warnings

WriteFolder = Callable[..., Path]


@pytest.mark.parametrize(
    ("file", "old", "new", "words"),
    [
        ("kitchen.yaml", "count: 20\n    lids: 20", "count: 20\n    lids: 15", "only 15 lids"),
        ("kitchen.yaml", "2027-02-19", "2026-02-19", "last tested on 2026-02-19"),
        ("kitchen.yaml", "    gauge_tested: 2027-02-19\n", "", "no test on record"),
        ("kitchen.yaml", "0.5 psi high", "1.5 psi low", "off by 1.5 psi: replace it"),
        ("kitchen.yaml", "0.5 psi high", "2.5 psi low", "no process may be run"),
        ("kitchen.yaml", "0.5 psi high", "1 psi low", ""),
        ("kitchen.yaml", "altitude: 690 m", "altitude: 9000 ft", "Tested processes end at 8,000 ft"),
        ("kitchen.yaml", "used: 165 L", "used: 210 L", "room for 10 L"),
        ("household.yaml", "18:30", "21:30", "No adult is in the kitchen at 21:30 on Friday 09 April for dinner"),
        ("larder.yaml", "best_by: 2027-08-30", "best_by: 2027-03-30", "past its best-by date"),
        (
            "larder.yaml",
            "shelf\n    amount: 6 quart jars of 900 g\n    made_on: 2026-08-30\n    best_by: 2027-08-30",
            "fridge\n    amount: 1 kg\n    made_on: 2027-04-01\n    best_by: 2027-04-03",
            "2027-04-03: do not use it",
        ),
        ("arrivals.yaml", "food: tomatoes", "food: apples", ""),
    ],
)
def test_what_will_trouble_the_plan_is_a_warning(
    write_folder: WriteFolder, file: str, old: str, new: str, words: str
) -> None:
    before = set(warnings(read_folder(write_folder())))
    after = warnings(read_folder(write_folder((file, old, new))))
    new_warnings = [caution for caution in after if caution not in before]
    assert (any(words in caution for caution in new_warnings)) == bool(words)
    assert all(caution.endswith(".") for caution in after)


def test_what_keeps_every_jar_out_of_the_plan_is_a_warning(write_folder: WriteFolder) -> None:
    text = (write_folder() / "kitchen.yaml").read_text()
    canners, jars = (
        text[text.index("canners:") : text.index("burners:")],
        text[text.index("jars:") : text.index("pantry:")],
    )
    for block, words in ((canners, "no canner"), (jars, "no jars")):
        said = warnings(read_folder(write_folder(("kitchen.yaml", block, ""))))
        assert any(words in caution for caution in said)


def test_a_kitchen_without_hours_is_a_warning(write_folder: WriteFolder) -> None:
    hours = "      weekdays: 7:00-8:15, 17:00-20:00\n      saturday: 8:00-19:00\n"
    said = warnings(read_folder(write_folder(("kitchen.yaml", hours, "      daily: none\n"))))
    assert any("No adult has any hours" in caution for caution in said)


def test_a_clock_longer_than_published_for_fruit_is_a_warning_only(write_folder: WriteFolder) -> None:
    path = write_folder(("arrivals.yaml", "food: tomatoes", "food: apples"), ("arrivals.yaml", "3 days", "4 weeks"))
    folder = read_folder(path)
    assert next(arrival for arrival in folder.arrivals if arrival.food == "apple").keep_days == 28
    assert any("longer than the published 21 days" in caution for caution in warnings(folder))


def test_the_small_folder_warns_of_days_without_a_cook(write_folder: WriteFolder) -> None:
    assert {caution.split(" for ")[0] for caution in warnings(read_folder(write_folder()))} == {
        "No adult is in the kitchen at 18:30 on Sunday 11 April",
        "No adult is in the kitchen at 18:30 on Monday 12 April",
    }
