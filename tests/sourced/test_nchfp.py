"""National Center for Home Food Preservation (NCHFP), University of Georgia: pages on single foods.

Publisher: National Center for Home Food Preservation, Athens, 2003 to 2023.
Copies read: nchfp.uga.edu (apple pie filling, chile salsa, bread and butter pickled jicama, atmospheric steam canners
2015); page texts of NCHFP copied at ahomesteader.com/canning/ (asian pears, cranberry orange chutney, easy hot sauce)
and at keyingredient.com (tomato/tomato paste salsa); webarchive.library.unt.edu (preserving tomatillos, 2006);
the tables of water-packed tomatoes (rev. 2015) quoted with their source at sufficientself.com, post 468093.
"""

from __future__ import annotations

import pytest
from printed import Line, boiling_water_cases, card, lines

from stillroom import units
from stillroom.model.process import CannerKind, JarSize, ProcessCard, ProcessRefusal
from stillroom.process.find import find
from stillroom.tables.constants import constant

IN_WATER = "whole or halved in water"
BOILING_WATER = [
    *lines("apple pie filling", "hot", {"pint": (25, 30, 35, 40), "quart": (25, 30, 35, 40)}, 1),
    *lines("asian pears", "hot", {"pint": (20, 25, 30, 35), "quart": (25, 30, 35, 40)}, 0.5),
    *lines("cranberry orange chutney", "hot", {"half-pint": (10, 15, 20)}, 0.5),
    *lines("salsa", "hot", {"pint": (15, 20, 25)}, 0.5, form="hot tomato and chile"),
    *lines("salsa", "hot", {"pint": (15, 20, 25)}, 0.5, form="tomato with tomato paste"),
    *lines("hot pepper sauce", "hot", {"half-pint": (10, 15, 20)}, 0.25),
    *lines("bread-and-butter jicama", "hot", {"pint": (15, 20, 25)}, 0.5),
    *lines("tomatoes", "hot/raw", {"pint": (40, 45, 50, 55), "quart": (45, 50, 55, 60)}, None, form=IN_WATER),
]
WATER_PACKED_BY_WEIGHT = {1000: {(15, 5), (10, 10), (1, 15)}, 8000: {(15, 10), (10, 15)}}


@pytest.mark.parametrize(("line", "altitude_ft", "minutes"), boiling_water_cases(BOILING_WATER))
def test_boiling_water(line: Line, altitude_ft: int, minutes: int) -> None:
    assert card(line, CannerKind.BOILING_WATER, altitude_ft).minutes == minutes


@pytest.mark.parametrize("jar", ["pint", "quart"])
@pytest.mark.parametrize("altitude_ft", WATER_PACKED_BY_WEIGHT)
@pytest.mark.parametrize(
    ("food", "form", "pack"),
    [("tomatoes", IN_WATER, "hot"), ("tomatoes", IN_WATER, "raw"), ("tomatillos", None, "hot")],
)
def test_water_packed_tomatoes_by_weighted_gauge(
    food: str, form: str | None, pack: str, altitude_ft: int, jar: str
) -> None:
    """Table 3, pints or quarts: any one line is a full process; 15 lb is not recommended above 1,000 ft.

    Tomatillos: “process the same as water-packed whole tomatoes, hot pack” (AIB 539, later revision).
    """
    answer = card(Line(food, pack, jar, (), None, form), CannerKind.WEIGHTED, altitude_ft)
    assert {(answer.minutes, answer.pressure_psi_printed), *answer.choices} == WATER_PACKED_BY_WEIGHT[altitude_ft]


@pytest.mark.parametrize(("canner", "psi"), [(CannerKind.DIAL, 11), (CannerKind.WEIGHTED, 10)])
@pytest.mark.parametrize("jar", ["pint", "quart"])
def test_tomatillos_under_pressure_at_sea_level(jar: str, canner: CannerKind, psi: int) -> None:
    """Preserving a Harvest of Tomatillos, 2006, option 2: 10 minutes."""
    answer = card(Line("tomatillos", "hot", jar, (), 0.5), canner, 0)
    assert (10, psi) in {(answer.minutes, answer.pressure_psi_printed), *answer.choices}


@pytest.mark.parametrize(("jar", "minutes"), [("pint", 40), ("quart", 45)])
def test_tomatillos_at_sea_level(jar: str, minutes: int) -> None:
    """Preserving a Harvest of Tomatillos, 2006, option 1."""
    assert card(Line("tomatillos", "hot", jar, (), 0.5), CannerKind.BOILING_WATER, 0).minutes == minutes


def test_asian_pears_are_always_acidified() -> None:
    """1 tbsp bottled lemon juice per pint, 2 tbsp per quart."""
    said = card(Line("asian pears", "hot", "quart", (), 0.5), CannerKind.BOILING_WATER, 0).acidification
    assert "required" in said
    assert "lemon juice 1 tbsp per pint or 2 tbsp per quart" in said


AT_MOST_45 = [  # food, form, pack, jar, altitude [ft], boiling-water minutes as printed on the pages above
    ("asian pears", None, "hot", "quart", 6000, 35),
    ("apple pie filling", None, "hot", "quart", 8000, 40),
    ("tomatillos", None, "hot", "quart", 0, 45),
]
OVER_45 = [
    ("tomatillos", None, "hot", "quart", 1001),
    ("tomatoes", IN_WATER, "hot", "pint", 3001),
    ("tomatoes", "whole or halved in tomato juice", "hot", "pint", 0),
]


@pytest.mark.parametrize(("food", "form", "pack", "jar", "altitude_ft", "minutes"), AT_MOST_45)
def test_steam_takes_the_boiling_water_time(
    food: str, form: str | None, pack: str, jar: str, altitude_ft: int, minutes: int
) -> None:
    """Using Atmospheric Steam Canners: USDA process times can be used, 45 minutes or less, altitude included."""
    assert card(Line(food, pack, jar, (), None, form), CannerKind.STEAM, altitude_ft).minutes == minutes


@pytest.mark.parametrize(("food", "form", "pack", "jar", "altitude_ft"), OVER_45)
def test_steam_is_refused_above_45_minutes(food: str, form: str | None, pack: str, jar: str, altitude_ft: int) -> None:
    asked = {"form": form, "pack": pack, "jar": jar, "altitude_m": units.metres(altitude_ft)}
    assert isinstance(find(food, canner=CannerKind.STEAM, **asked), ProcessRefusal)  # type: ignore[arg-type]
    assert isinstance(find(food, canner=CannerKind.BOILING_WATER, **asked), ProcessCard)  # type: ignore[arg-type]


def test_the_steam_limit_is_the_printed_one() -> None:
    assert constant("steam_limit_min").value == 45


def test_a_jar_smaller_than_the_printed_one_takes_the_printed_time() -> None:
    """Jar size choices (NCHFP, quoted by Ask Extension 867753): use the time of the next larger tested jar."""
    answer = find("pickled pearl onions", jar="half-pint", canner=CannerKind.BOILING_WATER, altitude_m=100.0)
    assert isinstance(answer, ProcessCard)
    assert (answer.jar_counted_as, answer.minutes) == (JarSize.PINT, 10)
