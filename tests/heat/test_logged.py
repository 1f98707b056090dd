"""A log laid over what was expected: made-up jars whose lag is known, in canners that run as they like."""

from __future__ import annotations

import math

import pytest
from made_up import canner_c, cold_spot_c, curve

from stillroom.errors import InputError
from stillroom.heat.logged import compare, unbroken_hold
from stillroom.heat.pack import Pack
from stillroom.heat.probe_file import ProbeLog
from stillroom.physics.uncertainty import ConvectionFood, Spread

PACK = Pack((ConvectionFood(Spread(20, 30, 40), Spread(0.95, 1.0, 1.05)),), 946.0, Spread(60, 60, 60), "", ())
MINUTES = [float(minute) for minute in range(0, 141)]
CANNER = tuple(map(canner_c, MINUTES))


def log(fh_min: float, *, start_c: float = 60.0, with_canner: bool = True) -> ProbeLog:
    return ProbeLog(tuple(MINUTES), tuple(cold_spot_c(MINUTES, fh_min, start_c)), CANNER if with_canner else None)


@pytest.mark.parametrize("start_c", [20.0, 60.0, 90.0])
def test_a_jar_as_expected_whatever_it_began_with(start_c: float) -> None:
    found = compare(log(30.0, start_c=start_c), PACK, curve())
    assert (found.within_share, found.largest_below_c) == (1.0, 0.0)


def test_a_slow_jar_is_found_and_when() -> None:
    found = compare(log(80.0), PACK, curve())
    assert found.within_share < 0.5
    assert found.largest_below_c > 3
    assert 20 < found.at_min < 120


def test_a_fast_jar_is_not_within_but_never_below() -> None:
    found = compare(log(8.0), PACK, curve())
    assert found.within_share < 0.7
    assert found.largest_below_c == 0.0  # it cools faster, too, but that is no slow heating


def test_a_slow_canner_is_no_slow_jar() -> None:
    """The canner took 20 min longer to heat; the jar followed it as it should."""
    minutes = [float(minute) for minute in range(0, 161)]
    slow_canner = [60.0] * 20 + [canner_c(minute - 20) for minute in minutes[20:]]
    jar_c = [60.0] * 20 + cold_spot_c(minutes[: 161 - 20], 30.0, 60.0)
    found = compare(ProbeLog(tuple(minutes), tuple(jar_c), tuple(slow_canner)), PACK, curve())
    assert found.within_share == 1.0


def test_without_a_canner_the_usual_run_is_laid_at_the_start() -> None:
    assert compare(log(30.0, with_canner=False), PACK, curve()).within_share == 1.0
    assert compare(log(80.0, with_canner=False), PACK, curve()).largest_below_c > 3
    assert compare(log(30.0, with_canner=False), PACK, curve()).unbroken_hold is None


def test_a_log_that_begins_when_the_run_is_over_can_not_be_compared() -> None:
    late = ProbeLog(tuple(minute + 500 for minute in MINUTES), tuple(80.0 for _ in MINUTES), None)
    with pytest.raises(InputError, match="overlap"):
        compare(late, PACK, curve())


def test_the_hold_is_counted_without_a_break() -> None:
    """Held from 20 to 80 min; a dip at 50 leaves two halves, of which the longer counts."""
    whole = unbroken_hold(log(30.0), 115.0)
    assert whole is not None
    assert (whole.low, whole.high) == (60.0, 62.0)
    dipped = list(CANNER)
    dipped[45] = 113.0
    half = unbroken_hold(ProbeLog(tuple(MINUTES), tuple(MINUTES), tuple(dipped)), 115.0)
    assert half is not None
    assert (half.low, half.high) == (34.0, 36.0)


def test_a_canner_never_at_its_mark_held_nothing() -> None:
    none = unbroken_hold(log(30.0), 130.0)
    assert none is not None
    assert none.high == 0.0


def test_a_hold_that_goes_on_to_the_last_reading_ends_there() -> None:
    held = unbroken_hold(ProbeLog((0.0, 1.0, 2.0, 3.0), (20.0,) * 4, (100.0, 116.0, 116.0, 116.0)), 115.0)
    assert held is not None
    assert (held.low, held.high) == (2.0, 3.0)
    assert math.isfinite(held.middle)
