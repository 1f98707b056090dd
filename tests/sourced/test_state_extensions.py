"""State extension services: salsas and sauces with their altitude steps, and the acid for tomatoes.

Publications and copies read:
North Carolina State Univ. (Fraser and Lackey, 2004), Is there a recipe for tomato taco sauce? foodsafetysite.com
South Dakota State Univ. Extension, Canned Tomato Salsa (names NCHFP), extension.sdstate.edu/canned-tomato-salsa
Oklahoma State Univ. Extension, Chile Salsa (names NCHFP), extension.okstate.edu
Univ. of California Cooperative Extension, Central Sierra, Barbecue Sauce (names NCHFP 2017), docslib.org/doc/10067685
Univ. of Missouri Extension GH1456, How to Can Fresh Tomato Products, extension.missouri.edu/publications/gh1456
Utah State Univ. Extension, Vegetable Freezing, extension.usu.edu/preserve-the-harvest/research/vegetable-freezing
"""

from __future__ import annotations

import pytest
from printed import Line, boiling_water_cases, card, lines

from stillroom.model.process import CannerKind, JarSize
from stillroom.tables.acids import acids
from stillroom.tables.constants import constant
from stillroom.tables.freezing import blanching

BOILING_WATER = [
    *lines("taco sauce", "hot", {"pint": (15, 20, 25)}, 0.5),
    *lines("salsa", "hot", {"pint": (15, 20, 25)}, 0.5, form="tomato, paste tomatoes"),
    *lines("salsa", "hot", {"pint": (15, 20, 25)}, 0.5, form="hot tomato and chile"),
    *lines("barbecue sauce", "hot", {"half-pint": (20, 25, 30, 35), "pint": (20, 25, 30, 35)}, 0.5),
]


@pytest.mark.parametrize(("line", "altitude_ft", "minutes"), boiling_water_cases(BOILING_WATER))
def test_boiling_water(line: Line, altitude_ft: int, minutes: int) -> None:
    assert card(line, CannerKind.BOILING_WATER, altitude_ft).minutes == minutes


@pytest.mark.parametrize(
    ("jar", "agent", "amount", "unit"),
    [
        (JarSize.QUART, "bottled lemon juice", 2, "tbsp"),
        (JarSize.QUART, "citric acid", 0.5, "tsp"),
        (JarSize.QUART, "vinegar 5 %", 4, "tbsp"),
        (JarSize.PINT, "bottled lemon juice", 1, "tbsp"),
        (JarSize.PINT, "citric acid", 0.25, "tsp"),
    ],
)
def test_acid_for_tomatoes(jar: JarSize, agent: str, amount: float, unit: str) -> None:
    """GH1456: whole, crushed, juiced or sauced tomatoes, whatever the canning method."""
    assert (amount, unit) in {
        (row.amount, row.unit) for row in acids("tomatoes") if (row.jar, row.agent) == (jar, agent)
    }


@pytest.mark.parametrize(
    ("food", "piece", "minutes"),
    [("asparagus", "small", 2), ("asparagus", "medium", 3), ("asparagus", "large", 4), ("green bean", "", 3)],
)
def test_blanching_minutes(food: str, piece: str, minutes: int) -> None:
    """Utah State: asparagus by stalk, and snap beans."""
    times = [(row.min_minutes, row.max_minutes) for row in blanching(food) if piece in row.piece]
    assert times, f"no blanching time for {food}, {piece}"
    assert all(low is not None and high is not None and low <= minutes <= high for low, high in times)


def test_blanching_takes_a_minute_longer_from_5000_feet() -> None:
    """Utah State: allow 1 minute longer at 5,000 or more feet."""
    assert constant("blanch_altitude_extra_min").value == 1
    assert constant("blanch_altitude_from_ft").value == 5000
