"""PNW 421, Using and Caring for Your Pressure Canner: pressure by gauge and altitude, venting, gauge checks.

Publisher: Pacific Northwest Extension (Univ. of Idaho, Oregon State Univ., Washington State Univ.); author M. Swanson.
Copy read: text of page 11 at manuzoid.com/manuals/x1p7b (Pacific Northwest PNW 421).
"""

from __future__ import annotations

from datetime import date

import pytest
from printed import Line, card

from stillroom.model.process import CannerKind, ProcessCard
from stillroom.process.cycle import cycle
from stillroom.process.find import find

WEIGHTED = [(0, 10), (1000, 10), (1001, 15), (8000, 15)]
DIAL = [(0, 11), (2000, 11), (2001, 12), (4000, 12), (4001, 13), (6000, 13), (6001, 14), (8000, 14)]
LOW_ACID = [
    Line("snap beans", "raw", "quart", (), None),
    Line("beets", "hot", "pint", (), None),
    Line("corn", "hot", "pint", (), None, "whole kernel"),
    Line("potatoes", "hot", "quart", (), None),
    Line("beef", "raw", "quart", (), None, "strips, cubes or chunks, boned"),
    Line("venison", "hot", "pint", (), None, "ground or chopped"),
    Line("chicken", "raw", "quart", (), None, "pieces with bones"),
    Line("beef stock", "hot", "quart", (), None),
]


@pytest.mark.parametrize("line", LOW_ACID, ids=lambda line: line.name)
@pytest.mark.parametrize(("altitude_ft", "psi"), WEIGHTED)
def test_weighted_gauge(line: Line, altitude_ft: int, psi: int) -> None:
    """The 10-pound weight to 1,000 ft, the 15-pound weight above."""
    assert card(line, CannerKind.WEIGHTED, altitude_ft).pressure_psi_printed == psi


@pytest.mark.parametrize("line", LOW_ACID, ids=lambda line: line.name)
@pytest.mark.parametrize(("altitude_ft", "psi"), DIAL)
def test_dial_gauge(line: Line, altitude_ft: int, psi: int) -> None:
    """11 pounds to 2,000 ft, one more for every further 2,000 ft."""
    assert card(line, CannerKind.DIAL, altitude_ft).pressure_psi_printed == psi


@pytest.mark.parametrize("line", LOW_ACID, ids=lambda line: line.name)
def test_altitude_never_changes_the_minutes_under_pressure(line: Line) -> None:
    minutes = {card(line, CannerKind.DIAL, altitude_ft).minutes for altitude_ft, _ in DIAL}
    assert len(minutes) == 1


def test_every_pressure_canner_is_vented_ten_minutes() -> None:
    for canner in (CannerKind.DIAL, CannerKind.WEIGHTED):
        assert cycle(card(LOW_ACID[0], canner, 0)).vent_min == 10


@pytest.mark.parametrize(("jar", "minutes"), [("pint", 30), ("quart", 45)])
def test_older_canners_cool_half_an_hour_with_pints_and_three_quarters_with_quarts(jar: str, minutes: int) -> None:
    answer = card(Line("snap beans", "raw", jar, (), None), CannerKind.DIAL, 0)
    assert cycle(answer).cool_min == minutes


@pytest.mark.parametrize(("tested_on", "warned"), [(date(2025, 6, 1), False), (date(2024, 5, 31), True)])
def test_dial_gauges_are_checked_each_year(tested_on: date, warned: bool) -> None:
    """“Have your dial gauge checked each year before use.”"""
    today = date(2025, 6, 2)
    asked = {"pack": "raw", "jar": "pint", "canner": CannerKind.DIAL, "altitude_m": 0.0}
    answer = find("snap beans", gauge_tested_on=tested_on, today=today, **asked)  # type: ignore[arg-type]
    assert isinstance(answer, ProcessCard)
    assert any("more than a year ago" in warning for warning in answer.warnings) is warned
