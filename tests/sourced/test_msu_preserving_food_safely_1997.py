"""Michigan State University Extension, Preserving Food Safely, files of 10/13/97, restating the USDA guides of 1994.

Publisher: Michigan State University Extension, East Lansing, 1997.
Copies read: the files by number as kept at angelfire.com/mo3/abcdefg200/survlib/pfs/, gill.readingroo.ms,
exosomatic.org and members.tripod.com/~Lasaan/canningrecipes/ (peach pie filling): 01600106, 01600473, 01600482,
01600574, 01600828, 01600833, 01600842, 01600844, 01600849, 01600869, 01600875, 01600882, 01600892 to 01600895;
01600835 (syrups), 01600890 (gel point), 01600946 (sterile jars).
"""

from __future__ import annotations

import pytest
from printed import (
    FRUIT_DIAL,
    FRUIT_WEIGHTED,
    LOW_ACID_DIAL,
    LOW_ACID_WEIGHTED,
    Line,
    boiling_water_cases,
    card,
    lines,
    low_acid,
    pressure_cases,
)

from stillroom import units
from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal
from stillroom.process.find import find
from stillroom.quantities.syrup import for_jars
from stillroom.tables.constants import constant
from stillroom.tables.gel_point import gel_points
from stillroom.tables.syrups import syrups

IN_JUICE = "whole or halved in tomato juice"
NO_LIQUID = "whole or halved, no added liquid"
BOILING_WATER = [
    *lines("apple pie filling", "hot", {"pint": (25, 30, 35, 40), "quart": (25, 30, 35, 40)}, 1),
    *lines("cherry pie filling", "hot", {"pint": (30, 35, 40, 45), "quart": (30, 35, 40, 45)}, 1),
    *lines("peach pie filling", "hot", {"pint": (30, 35, 40, 45), "quart": (30, 35, 40, 45)}, 1),
    *lines("tomatoes", "hot/raw", {"pint": (85, 90, 95, 100), "quart": (85, 90, 95, 100)}, 0.5, form=IN_JUICE),
    *lines("tomatoes", "raw", {"pint": (85, 90, 95, 100), "quart": (85, 90, 95, 100)}, 0.5, form=NO_LIQUID),
    *lines("tomato and vegetable juice", "hot", {"pint": (35, 40, 45, 50), "quart": (40, 45, 50, 55)}, 0.5),
    *lines("salsa", "hot", {"pint": (15, 20, 25)}, 0.5, form="hot tomato and chile"),
    *lines("pepper-onion relish", "hot", {"half-pint": (5, 10, 15), "pint": (5, 10, 15)}, 0.5),
    *lines("green tomato relish", "hot", {"pint": (5, 10, 15)}, 0.5),
    *lines("pear-apple jam; blueberry-spice jam", "hot", {"half-pint": (5, 10, 15)}, 0.25),
    *lines("strawberry-rhubarb jelly; grape-plum jelly", "hot", {"half-pint": (5, 10, 15)}, 0.25),
]
FATTY_FISH = "fatty fish such as mackerel, salmon, steelhead, trout, bluefish; not tuna"
CUBES = "strips, cubes or chunks, boned"
LOW_ACID = [
    *low_acid("bear; beef; lamb; pork; veal; venison", "hot", {"pint": 75, "quart": 90}, 1, "ground or chopped"),
    *low_acid("sausage", "hot", {"pint": 75, "quart": 90}, 1),
    *low_acid("bear; beef; lamb; pork; veal; venison", "hot/raw", {"pint": 75, "quart": 90}, 1, CUBES),
    *low_acid("chicken; rabbit", "hot/raw", {"pint": 75, "quart": 90}, 1.25, "pieces without bones"),
    *low_acid("chicken; rabbit", "hot/raw", {"pint": 65, "quart": 75}, 1.25, "pieces with bones"),
    *low_acid("fish", "raw", {"pint": 100}, 1, FATTY_FISH),
]
CHOICES = [  # food, pack, form, and minutes at low, middle and high pressure
    (("tomatoes", "hot", IN_JUICE), (40, 25, 15)),
    (("tomatoes", "raw", IN_JUICE), (40, 25, 15)),
    (("tomato and vegetable juice", "hot", None), (20, 15, 10)),
]
DIAL_PAIRS = zip(FRUIT_DIAL, LOW_ACID_DIAL, strict=True)
CHOICE_PRESSURES = [  # canner, altitude [ft], psi: low, middle and, where a 15-lb line is printed, high
    *[(CannerKind.DIAL, *row) for row in zip((2000, 4000, 6000, 8000), DIAL_PAIRS, strict=True)],
    (CannerKind.WEIGHTED, 1000, (FRUIT_WEIGHTED[0], LOW_ACID_WEIGHTED[0], 15)),
    (CannerKind.WEIGHTED, 8000, (FRUIT_WEIGHTED[1], LOW_ACID_WEIGHTED[1])),
]


@pytest.mark.parametrize(("line", "altitude_ft", "minutes"), boiling_water_cases(BOILING_WATER))
def test_boiling_water(line: Line, altitude_ft: int, minutes: int) -> None:
    assert card(line, CannerKind.BOILING_WATER, altitude_ft).minutes == minutes


@pytest.mark.parametrize(("line", "canner", "altitude_ft", "psi"), pressure_cases(LOW_ACID))
def test_pressure(line: Line, canner: CannerKind, altitude_ft: int, psi: int) -> None:
    answer = card(line, canner, altitude_ft)
    assert (answer.minutes, answer.pressure_psi_printed) == (line.minutes[0], psi)


@pytest.mark.parametrize("jar", ["pint", "quart"])
@pytest.mark.parametrize(("canner", "altitude_ft", "pressures_psi"), CHOICE_PRESSURES)
@pytest.mark.parametrize(("asked", "minutes"), CHOICES)
def test_tomatoes_have_alternatives_not_a_line_for_pints_and_one_for_quarts(
    asked: tuple[str, str, str | None],
    minutes: tuple[int, int, int],
    canner: CannerKind,
    altitude_ft: int,
    pressures_psi: tuple[int, ...],
    jar: str,
) -> None:
    """Files 01600828, 01600833: every line is for pints or quarts; 15 lb is not recommended above 1,000 ft."""
    food, pack, form = asked
    answer = card(Line(food, pack, jar, (), 0.5, form), canner, altitude_ft)
    printed = set(zip(minutes, pressures_psi, strict=False))
    assert {(answer.minutes, answer.pressure_psi_printed), *answer.choices} == printed


@pytest.mark.parametrize("canner", [CannerKind.BOILING_WATER, CannerKind.STEAM])
def test_ground_meat_has_a_pressure_process_only(canner: CannerKind) -> None:
    """File 01600473 prints dial and weighted gauges and nothing else."""
    asked = {"form": "ground or chopped", "pack": "hot", "jar": "pint", "altitude_m": 100.0}
    assert isinstance(find("beef", canner=canner, **asked), ProcessRefusal)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("food", "jar", "altitude_ft", "sterile"),
    [
        ("pepper-onion relish", "half-pint", 500, True),
        ("grape-plum jelly", "half-pint", 1000, True),
        ("pear-apple jam", "half-pint", 1001, False),
        ("apple pie filling", "quart", 500, False),
    ],
)
def test_jars_are_sterile_where_the_process_is_under_ten_minutes(
    food: str, jar: str, altitude_ft: int, sterile: bool
) -> None:
    """File 01600946: sterile jars under 10 minutes, needless for 10 minutes or longer."""
    answer = find(food, jar=jar, canner=CannerKind.BOILING_WATER, altitude_m=units.metres(altitude_ft))
    assert isinstance(answer, ProcessCard)
    assert answer.sterilise_jars is sterile


def test_how_long_empty_jars_are_boiled() -> None:
    """File 01600946: 10 minutes up to 1,000 ft, 1 minute more for each further 1,000 ft."""
    assert constant("sterilise_boil_min").value == 10
    assert constant("sterilise_boil_min_per_1000ft").value == 1


def test_jars_for_a_pressure_canner_need_no_sterilising() -> None:
    """File 01600946."""
    line = Line("chicken", "raw", "pint", (65,), 1.25, "pieces with bones")
    assert not card(line, CannerKind.DIAL, 0).sterilise_jars


@pytest.mark.parametrize(
    ("name", "pints", "quarts"),
    [
        ("very light", (6.5, 0.75), (10.5, 1.25)),
        ("light", (5.75, 1.5), (9, 2.25)),
        ("medium", (5.25, 2.25), (8.25, 3.75)),
        ("heavy", (5, 3.25), (7.75, 5.25)),
        ("very heavy", (4.25, 4.25), (6.5, 6.75)),
    ],
)
def test_syrups_as_printed(name: str, pints: tuple[float, float], quarts: tuple[float, float]) -> None:
    """File 01600835: cups of water and sugar for a load of 9 pints and of 7 quarts."""
    cups = {row.load: (row.water_cups, row.sugar_cups) for row in syrups() if row.name == name}
    assert cups == {"9 pints": pints, "7 quarts": quarts}


@pytest.mark.parametrize(
    ("name", "water_cups"), [("very light", 10.5), ("light", 9), ("medium", 8.25), ("heavy", 7.75)]
)
def test_a_load_of_seven_quarts_takes_the_printed_water(name: str, water_cups: float) -> None:
    assert for_jars(name, quarts=7).water_cups == pytest.approx(water_cups)


GEL_POINT_F = {0: 220, 1000: 218, 2000: 216, 3000: 214, 4000: 212, 5000: 211, 6000: 209, 7000: 207, 8000: 205}


def test_gel_point_by_altitude() -> None:
    """File 01600890: the temperature at which jam and jelly without added pectin is done."""
    assert {point.altitude_ft: point.temp_f for point in gel_points()} == GEL_POINT_F
