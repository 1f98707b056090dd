"""Lethality against printed rates, a published history and closed forms."""

import re

import numpy as np
import pytest
from check_rows import Row, group, row, rows, untested

from stillroom.physics.history import History
from stillroom.physics.lethality import (
    F0,
    P70,
    P93,
    Lethality,
    Reference,
    lethal_rate,
    lethality_by_trapezoid,
    lethality_of,
)

F121_1 = Reference("F 121.1", 121.1, 10.0)
TESTED = {
    *("time_temperature_history", "trapezoid_sum", "lethal_rate", "lethal_rate_table", "pasteurisation_rate_70_10"),
    *("pasteurisation_rate_93_8.9", "analytic"),
}
SKIPPED = {"LE-12D": "twelve times D: the model never says what is enough, so there is no function to test"}


def by_id(checks: list[Row]):
    return pytest.mark.parametrize("check", checks, ids=lambda check: check.id)


def series(check: Row) -> History:
    pairs = [point.split(":") for point in check.series.split()]
    return History(np.array([float(pair[0]) for pair in pairs]), np.array([float(pair[1]) for pair in pairs]))


def test_no_numeric_row_is_left_out():
    assert untested("lethality", TESTED, set(SKIPPED)) == set()


@by_id(group("lethality", "time_temperature_history"))
def test_published_history_by_trapezoid(check):
    assert lethality_by_trapezoid(series(check), F121_1) == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_published_history_with_lines_between_readings():
    check = row("lethality", "LE-hist1")
    exact = float(re.search(r"F0 = ([\d.]+)", check.note).group(1))
    assert lethality_of(series(check), F121_1) == pytest.approx(exact, abs=0.006)


def test_trapezoid_of_a_printed_sum_of_rates():
    check = row("lethality", "LE-fao1")
    rates = np.array([1e-12, 0.45, 0.975, 0.9, 0.6, 1e-12])
    assert rates.sum() == pytest.approx(check.number("sum_L"))
    history = History(np.arange(6) * check.number("dt"), F121_1.temp_c + F121_1.z_c * np.log10(rates))
    assert lethality_by_trapezoid(history, F121_1) == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_temperature_of_a_printed_rate():
    check = row("lethality", "LE-fao3")
    low, high = (lethal_rate(check.values[0] + edge, F121_1) for edge in (-0.01, 0.01))
    assert low < check.number("L") < high


@by_id(group("lethality", "lethal_rate_table"))
def test_printed_lethal_rates(check):
    """Entries look truncated: 0.6 % or 0.0011."""
    temp_c = float(re.search(r"at (\d+) C", check.description).group(1))
    assert lethal_rate(temp_c, F0) == pytest.approx(check.values[0], rel=0.006, abs=0.0011)


def test_the_suspected_misprint_stays_out():
    check = row("lethality", "LE-L116")
    assert not check.is_numeric
    assert lethal_rate(116, F0) != pytest.approx(check.values[0], rel=0.006, abs=0.0011)


@by_id(group("lethality", "pasteurisation_rate_70_10"))
def test_printed_pasteurisation_rates(check):
    temp_c = float(re.search(r"at (\d+) C", check.description).group(1))
    assert lethal_rate(temp_c, P70) == pytest.approx(check.values[0], rel=0.002, abs=0.006)


@by_id(group("lethality", "pasteurisation_rate_93_8.9"))
def test_printed_high_pasteurisation_rates(check):
    """1 %, or half a unit of the last printed figure, which is more for the smallest."""
    temp_c = float(re.search(r"at (\d+) C", check.description).group(1))
    assert lethal_rate(temp_c, P93) == pytest.approx(check.values[0], rel=0.01, abs=0.0005)


@by_id([check for check in rows("lethality") if check.id.startswith("LE-np")])
def test_from_memory_equivalent_times_of_the_chilled_food_list(check):
    """Evidence memory: the list was not read again."""
    temp_c = float(re.search(r"at (\d+) C", check.description).group(1))
    assert 10 / lethal_rate(temp_c, Reference("P 90", 90.0, 9.0)) == pytest.approx(check.values[0], rel=0.015)


def test_from_memory_stepwise_history():
    """Evidence memory: a textbook's can centre, level within each interval; z 18 °F."""
    check = row("lethality", "LE-geank")
    steps = re.findall(r"(\d+)-(\d+):(\d+)F", check.series)
    total = sum((float(end) - float(start)) * lethal_rate((float(temp_f) - 32) / 1.8) for start, end, temp_f in steps)
    assert total == pytest.approx(check.values[0], abs=float(check.tolerance))


@by_id(group("lethality", "analytic"))
def test_closed_forms(check):
    numbers = [float(number) for number in re.findall(r"[\d.]+", check.description)]
    if "ramp" in check.description:
        start_c, end_c, minutes = numbers
    else:
        minutes, start_c = numbers
        end_c = start_c
    history = History(np.array([0.0, minutes]), np.array([start_c, end_c]))
    assert lethality_of(history, F121_1) == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_the_reference_is_250_f_exactly():
    assert pytest.approx(121.1111, abs=1e-4) == F0.temp_c
    assert lethal_rate(121.1) / lethal_rate(121.1, F121_1) == pytest.approx(1 / 1.0026, abs=2e-4)


def test_heating_and_cooling_add_up():
    both = Lethality(F0, np.array([1.0, 2.0]), np.array([0.5, 0.25]))
    assert both.total_min.tolist() == [1.5, 2.25]


@pytest.mark.parametrize(
    ("times", "temps", "message"),
    [
        ([0.0, 1.0], [20.0], "one temperature"),
        ([0.0], [20.0], "two points"),
        ([0.0, 0.0], [20.0, 21.0], "must rise"),
        ([0.0, 1.0], [20.0, float("nan")], "finite"),
    ],
)
def test_histories_that_make_no_sense_are_refused(times, temps, message):
    with pytest.raises(ValueError, match=message):
        History(np.array(times), np.array(temps))
