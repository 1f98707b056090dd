"""USDA Complete Guide to Home Canning, Agriculture Information Bulletin No. 539, later revision (2009/2015 wording).

Publisher: United States Department of Agriculture, National Institute of Food and Agriculture, 2009 and 2015.
Copies read: public restatements of the later wording, one food a page, at meatsandsausages.com/recipes/canning/
(tomatoes/tomato-easy-hot-sauce, tomato-paste-salsa, tomato-whole-halved-water, tomato-tomatillos;
vegetables/pickled/carrots-pickled; jelly-strawberry-rhubarb, jelly-grape-plum, jelly-golden-pepper,
jam-blueberry-spice), and a canner manual that quotes page 6-18 (bread and butter pickled jicama).
Not typed from there: its pressure table for water-packed tomatoes, which prints “pints” and “quarts” against the two
alternatives, and its mango chutney, whose directions are those of mango sauce.
"""

from __future__ import annotations

import pytest
from printed import Line, boiling_water_cases, card, lines

from stillroom.model.process import CannerKind, ProcessRefusal
from stillroom.process.find import find

IN_WATER = "whole or halved in water"
BOILING_WATER = [
    *lines("hot pepper sauce", "hot", {"half-pint": (10, 15, 20)}, 0.25),
    *lines("salsa", "hot", {"pint": (15, 20, 25)}, 0.5, form="tomato with tomato paste"),
    *lines("tomatoes", "hot/raw", {"pint": (40, 45, 50, 55), "quart": (45, 50, 55, 60)}, 0.5, form=IN_WATER),
    *lines("tomatillos", "hot", {"pint": (40, 45, 50, 55), "quart": (45, 50, 55, 60)}, 0.5),
    *lines("pickled carrots", "hot", {"pint": (15, 20, 25)}, 0.5),
    *lines("bread-and-butter jicama", "hot", {"pint": (15, 20, 25)}, 0.5),
    *lines("strawberry-rhubarb jelly; grape-plum jelly", "hot", {"half-pint": (5, 10, 15)}, 0.25),
    *lines("golden pepper jelly; blueberry-spice jam", "hot", {"half-pint": (5, 10, 15)}, 0.25),
]


@pytest.mark.parametrize(("line", "altitude_ft", "minutes"), boiling_water_cases(BOILING_WATER))
def test_boiling_water(line: Line, altitude_ft: int, minutes: int) -> None:
    assert card(line, CannerKind.BOILING_WATER, altitude_ft).minutes == minutes


@pytest.mark.parametrize("food", ["cayenne pepper sauce", "mango chutney"])
def test_what_the_pages_contradict_is_not_offered(food: str) -> None:
    """Cayenne sauce is printed for pints at 1/2 in, not for half-pints at 1/4 in; the chutney page can't be trusted."""
    answer = find(food, jar="half-pint", canner=CannerKind.BOILING_WATER, altitude_m=100.0)
    assert isinstance(answer, ProcessRefusal)
