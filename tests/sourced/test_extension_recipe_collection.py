"""Seasonal and Simple, the recipe collection of an extension service, each page naming NCHFP or So Easy to Preserve.

Publisher: University of Missouri Extension; sources named on the pages: National Center for Home Food Preservation,
and Univ. of Georgia, So Easy to Preserve, 5th ed. 2006 and 6th ed. 2020.
Copies read: seasonalandsimple.info/recipedetails.aspx, RecipeID 3 (apples), 162 (blackberry jelly), 291 (golden pepper
jelly), 323 and 324 (no sugar added), 338 and 341 (carrots), 349 (pearl onions), 351 (yellow pepper rings),
354 (relish), 372 (asparagus), 392 (tomatillos), 394 (hot sauce), 441 (peas), 451 (okra), 463 (dried peas),
866 (nectarines).
"""

from __future__ import annotations

import pytest
from printed import Line, boiling_water_cases, card, fruit_pressure, lines, low_acid, pressure_cases

from stillroom.model.process import CannerKind, ProcessRefusal
from stillroom.process.find import find

BOILING_WATER = [
    *lines("apples", "hot", {"quart": (20, 25, 30, 35)}, None),
    *lines("nectarines", "hot", {"pint": (20, 25, 30, 35), "quart": (25, 30, 35, 40)}, 0.5),
    *lines("nectarines", "raw", {"pint": (25, 30, 35, 40), "quart": (30, 35, 40, 45)}, 0.5),
    *lines("tomatillos", "hot", {"pint": (40, 45, 50, 55), "quart": (45, 50, 55, 60)}, 0.5),
    *lines(
        "jelly", "hot", {"half-pint": (5, 10, 15), "pint": (5, 10, 15)}, 0.25, form="fruit jelly without added pectin"
    ),
    *lines("golden pepper jelly", "hot", {"half-pint": (5, 10, 15)}, 0.25),
    *lines("hot pepper sauce", "hot", {"half-pint": (10, 15, 20)}, 0.25),
    *lines("pickled carrots", "hot", {"half-pint": (15, 20, 25), "pint": (15, 20, 25)}, 0.5),
    *lines("pickled pearl onions", "hot", {"pint": (10, 15, 20)}, 0.5),
    *lines("pickled yellow pepper rings", "raw", {"pint": (10, 15, 20)}, 0.5),
    *lines("pepper-onion relish", "hot", {"half-pint": (5, 10, 15), "pint": (5, 10, 15)}, 0.5),
    *lines("sweet cucumber slices", "hot", {"pint": (10, 15, 20)}, 0.5),
    *lines("pickled beets", "hot", {"pint": (30, 35, 40, 45)}, 0.5, form="slices, no sugar added"),
]
PRESSURE = [
    *fruit_pressure("apples", "hot", {"pint": 8, "quart": 8}, None),
    *fruit_pressure("nectarines", "hot", {"pint": 10, "quart": 10}, 0.5),
    *low_acid("asparagus", "hot/raw", {"pint": 30, "quart": 40}, 1),
    *low_acid("okra", "hot", {"pint": 25, "quart": 40}, 1),
    *low_acid("green peas", "hot/raw", {"pint": 40, "quart": 40}, 1),
    *low_acid("dried beans or peas", "hot", {"pint": 75, "quart": 90}, 1),
]


@pytest.mark.parametrize(("line", "altitude_ft", "minutes"), boiling_water_cases(BOILING_WATER))
def test_boiling_water(line: Line, altitude_ft: int, minutes: int) -> None:
    assert card(line, CannerKind.BOILING_WATER, altitude_ft).minutes == minutes


@pytest.mark.parametrize(("line", "canner", "altitude_ft", "psi"), pressure_cases(PRESSURE))
def test_pressure(line: Line, canner: CannerKind, altitude_ft: int, psi: int) -> None:
    answer = card(line, canner, altitude_ft)
    assert (answer.minutes, answer.pressure_psi_printed) == (line.minutes[0], psi)


@pytest.mark.parametrize(
    ("food", "form"), [("sweet cucumber slices", None), ("pickled beets", "slices, no sugar added")]
)
def test_pickles_without_sugar_are_printed_for_pints_only(food: str, form: str | None) -> None:
    """Pages 323 and 324 give the jar size as pints; a quart is not offered."""
    answer = find(food, form=form, jar="quart", canner=CannerKind.BOILING_WATER, altitude_m=100.0)
    assert isinstance(answer, ProcessRefusal)
