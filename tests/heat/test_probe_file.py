"""The probe log: every column name that is promised, and one clear sentence for everything that can be wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from stillroom.errors import FileError
from stillroom.heat.probe_file import ProbeLog, read_probe

SIX = [(0, 60.0), (5, 61.0), (10, 63.5), (15, 66.0), (20, 73.0), (25, 85.0)]


def written(folder: Path, text: str) -> Path:
    path = folder / "probe.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_minutes_and_celsius(tmp_path: Path) -> None:
    log = read_probe(written(tmp_path, "minutes,jar_c\n" + "".join(f"{m},{t}\n" for m, t in SIX)))
    assert log == ProbeLog(tuple(float(m) for m, _ in SIX), tuple(t for _, t in SIX), None)


def test_fahrenheit_canner_other_columns_remarks_and_blank_lines(tmp_path: Path) -> None:
    lines = "# my quart\n\nno,Time (min),Jar °F,canner (f),remark\n"
    lines += "".join(f"{n},{m + 3},{t * 1.8 + 32},240,x\n\n" for n, (m, t) in enumerate(SIX))
    log = read_probe(written(tmp_path, lines))
    assert log.time_min == tuple(float(m) for m, _ in SIX)
    assert log.jar_c == pytest.approx([t for _, t in SIX])
    assert log.canner_c == pytest.approx([(240 - 32) / 1.8] * 6)


def test_decimal_comma_behind_semicolons_and_tabs(tmp_path: Path) -> None:
    for mark in (";", "\t"):
        text = f"min{mark}food_c\n" + "".join(f"{m},5{mark}{t}\n".replace(".", ",") for m, t in SIX)
        log = read_probe(written(tmp_path, text))
        assert log.time_min[1] == 5.0
        assert log.jar_c[2] == 63.5


@pytest.mark.parametrize(
    ("clocks", "minutes"),
    [
        (["23:50", "23:55", "0:00", "0:05", "0:10:30", "0:15"], [0, 5, 10, 15, 20.5, 25]),
        (["2026-06-30 23:58", "2026-06-30T23:59", "2026-07-01 00:01", "2026-07-01 00:02",
          "2026-07-01 00:03", "2026-07-01 00:04"], [0, 1, 3, 4, 5, 6]),
    ],
)  # fmt: skip
def test_clock_times_pass_midnight(tmp_path: Path, clocks: list[str], minutes: list[float]) -> None:
    text = "clock,jar_c\n" + "".join(f"{clock},80\n" for clock in clocks)
    assert read_probe(written(tmp_path, text)).time_min == pytest.approx(minutes)


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("", None, "empty"),
        ("minutes,jar_c\n0,60\n", None, "at least 6"),
        ("minutes,jar\n0,60\n", 1, "°C or °F"),
        ("minutes,pot_c\n0,60\n", 1, "jar_c"),
        ("jar_c\n60\n", 1, "clock"),
        ("minutes,jar_c,jar_f\n0,60,140\n", 1, "two columns"),
        ("minutes,jar_c\n0,60\n1,hot\n", 3, "not a number"),
        ("minutes,jar_c\n0,60\n1\n", 3, "nothing is written"),
        ("minutes,jar_c\n0,60\n1,nan\n", 3, "not a reading"),
        ("minutes,jar_c\n0,60\n0,61\n", 3, "not later"),
        ("minutes,jar_c\n0,60\n40,61\n", 3, "40 min without a reading"),
        ("minutes,jar_c\n0,60\n1,240\n", 3, "Check the unit"),
        ("clock,jar_c\n25:10,60\n", 2, "there is no"),
        ("clock,jar_c\n2026-02-30 10:10,60\n", 2, "there is no"),
        ("time,jar_c\n3.5,60\n", 2, "minutes"),
    ],
)
def test_what_is_wrong_is_said_with_file_and_line(tmp_path: Path, text: str, line: int | None, says: str) -> None:
    with pytest.raises(FileError, match=says) as error:
        read_probe(written(tmp_path, text))
    assert error.value.line == line
    assert "probe.csv" in str(error.value)
    assert "\n" not in str(error.value)


def test_no_such_file_and_no_text(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="Check the name"):
        read_probe(tmp_path / "none.csv")
    path = tmp_path / "probe.csv"
    path.write_bytes(b"\xff\xfe\x00\x01")
    with pytest.raises(FileError, match="UTF-8"):
        read_probe(path)


def test_what_the_gauge_shows_is_steam_of_that_pressure(tmp_path: Path) -> None:
    """10.79 psi less half a psi of error is 10.29 psi, at sea level 240 °F (115.56 °C, IF97); zero is the boil."""
    text = "minutes,jar_c,canner_psi\n" + "".join(f"{m},{t},{'0' if m < 10 else '10.79'}\n" for m, t in SIX)
    log = read_probe(written(tmp_path, text), altitude_m=0.0, gauge_error_psi=0.5)
    assert log.by_gauge
    assert log.canner_c is not None
    assert log.canner_c[0] == pytest.approx(99.97, abs=0.02)
    assert log.canner_c[-1] == pytest.approx(115.56, abs=0.05)
    with pytest.raises(FileError, match="nothing that a gauge shows"):
        read_probe(written(tmp_path, text.replace("10.79", "115.6")))
    with pytest.raises(FileError, match="canner_psi"):
        read_probe(written(tmp_path, text.replace("canner_psi", "canner")))
