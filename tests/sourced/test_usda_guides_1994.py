"""USDA Complete Guide to Home Canning, Agriculture Information Bulletin No. 539, revised 1994.

Publisher: United States Department of Agriculture, Extension Service, 1994.
Copies read: public text copies of the bulletin, one food a page, each naming the bulletin and its revision:
recipesource.com/misc/canning/, gopher.mills.io/tilde.pink/0/~bencollver/recipes/ascii/misc/canning/,
astray.com/recipes, welovegod.org/guide/recipe, recipicks.com, feedmethat.com, completerecipes.com, culinarycafe.com
and recipedatabase.eu (succotash). Where a copy prints its altitudes apart
from its times (pears, quick fresh-pack dill pickles) both halves were read.
Not typed: the copy's 20 min at 6 lb for water-packed tomatoes, a slip for 15 that every other copy shows.
"""

from __future__ import annotations

import pytest
from printed import Line, boiling_water_cases, card, fruit_pressure, lines, low_acid, pressure_cases

from stillroom.model.process import CannerKind

GUIDE_2 = [
    *lines("peaches", "hot", {"pint": (20, 25, 30, 35), "quart": (25, 30, 35, 40)}, None),
    *lines("peaches", "raw", {"pint": (25, 30, 35, 40), "quart": (30, 35, 40, 45)}, None),
    *lines("nectarines", "hot", {"pint": (20, 25, 30, 35), "quart": (25, 30, 35, 40)}, None),
    *lines("nectarines", "raw", {"pint": (25, 30, 35, 40), "quart": (30, 35, 40, 45)}, None),
    *lines("cherries", "hot", {"pint": (15, 20, 20, 25)}, 0.5),
    *lines("pears", "hot", {"pint": (20, 25, 30, 35), "quart": (25, 30, 35, 40)}, 0.5),
]
IN_WATER = "whole or halved in water"
IN_JUICE = "whole or halved in tomato juice"
GUIDE_3 = [
    *lines("tomatoes", "hot", {"pint": (40, 45, 50, 55), "quart": (45, 50, 55, 60)}, 0.5, form=IN_WATER),
    *lines("tomatoes", "hot", {"pint": (85, 90, 95, 100), "quart": (85, 90, 95, 100)}, 0.5, form=IN_JUICE),
    *lines("salsa", "hot", {"pint": (15, 20, 25)}, 0.5, form="hot tomato and chile"),
]
GUIDE_6 = [
    *lines("reduced-salt sweet slices", "hot", {"pint": (10, 15, 20)}, 0.5),
    *lines(
        "dill pickles", "raw", {"pint": (10, 15, 20), "quart": (15, 20, 25)}, 0.5, form="quick fresh-pack cucumbers"
    ),
    *lines("pepper-onion relish", "hot", {"half-pint": (5, 10, 15), "pint": (5, 10, 15)}, 0.5),
]
SPREADS = "strawberry-rhubarb jelly; blueberry-spice jam; grape-plum jelly; pear-apple jam"
GUIDE_7 = lines(SPREADS, "hot", {"half-pint": (5, 10, 15)}, 0.25)

FRUIT_IN_A_PRESSURE_CANNER = [
    *fruit_pressure("peaches", "hot/raw", {"pint": 10, "quart": 10}, None),
    *fruit_pressure("nectarines", "hot/raw", {"pint": 10, "quart": 10}, None),
    *fruit_pressure("pears", "hot", {"pint": 10, "quart": 10}, 0.5),
]
GUIDE_4 = [
    *low_acid("okra", "hot", {"pint": 25, "quart": 40}, 1),
    *low_acid("carrots", "hot/raw", {"pint": 25, "quart": 30}, 1),
    *low_acid("asparagus", "hot/raw", {"pint": 30, "quart": 40}, 1),
    *low_acid("green peas", "hot/raw", {"pint": 40, "quart": 40}, 1),
    *low_acid("succotash", "hot/raw", {"pint": 60, "quart": 85}, 1),
]
FATTY_FISH = "fatty fish such as mackerel, salmon, steelhead, trout, bluefish; not tuna"
GUIDE_5 = [
    *low_acid("chicken; rabbit", "hot/raw", {"pint": 75, "quart": 90}, 1.25, "pieces without bones"),
    *low_acid("chicken; rabbit", "hot/raw", {"pint": 65, "quart": 75}, 1.25, "pieces with bones"),
    *low_acid("beef; pork; lamb; veal; venison; bear", "hot", {"pint": 75, "quart": 90}, 1, "ground or chopped"),
    *low_acid("sausage", "hot", {"pint": 75, "quart": 90}, 1),
    *low_acid("fish", "raw", {"pint": 100}, 1, FATTY_FISH),
]


@pytest.mark.parametrize(("line", "altitude_ft", "minutes"), boiling_water_cases(GUIDE_2 + GUIDE_3 + GUIDE_6 + GUIDE_7))
def test_boiling_water(line: Line, altitude_ft: int, minutes: int) -> None:
    answer = card(line, CannerKind.BOILING_WATER, altitude_ft)
    assert (answer.minutes, answer.pressure_psi) == (minutes, None)


@pytest.mark.parametrize(
    ("line", "canner", "altitude_ft", "psi"), pressure_cases(FRUIT_IN_A_PRESSURE_CANNER + GUIDE_4 + GUIDE_5)
)
def test_pressure(line: Line, canner: CannerKind, altitude_ft: int, psi: int) -> None:
    answer = card(line, canner, altitude_ft)
    assert (answer.minutes, answer.pressure_psi_printed) == (line.minutes[0], psi)
