"""Reads the log of a temperature probe in a jar: a CSV with a time, the jar, and perhaps the canner.

The header names each column with its unit: `minutes` or `clock`, `jar_c` or `jar_f`, `canner_c`, `canner_f` or
`canner_psi` for what the gauge shows ("Jar °F" and "jar (F)" are read too).
Columns may be separated by comma, semicolon or tab; with semicolon or tab a decimal comma is read. Other columns are
left alone. No unit is ever guessed: 120 may be hot or not.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, time
from pathlib import Path

from stillroom import units
from stillroom.errors import FileError
from stillroom.physics.steam import canner_temp_c

FEWEST_READINGS = 6  # a slope and its scatter need some
COLDEST_C, HOTTEST_C = -20.0, 150.0  # a probe in a home canner reads nothing else
HIGHEST_PSI = 30.0  # a gauge of a home canner shows no more
LONGEST_GAP_MIN = 15.0  # over a longer gap nobody knows what the jar did
_HEADER = re.compile(r"(minutes?|min|time|clock|jar|food|canner)[\s_(]*(min|minutes?|psi|°?\s*[cf])?[)\s]*")
_EXAMPLE = "Write a header such as “minutes,jar_c,canner_c” or “clock,jar_f”."
_CLOCK = re.compile(r"(?:(\d{4}-\d{2}-\d{2})[T ])?(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?")


@dataclass(frozen=True, slots=True)
class ProbeLog:
    """Readings in their order: minutes after the first, jar and perhaps canner [°C].

    `by_gauge`: the canner was read from its gauge, which shows nothing below the boiling point; it stands there then.
    """

    time_min: tuple[float, ...]
    jar_c: tuple[float, ...]
    canner_c: tuple[float, ...] | None
    by_gauge: bool = False


@dataclass(frozen=True, slots=True)
class _Columns:
    time: int
    time_is_clock: bool
    jar: int
    jar_to_c: Callable[[float], float]
    canner: int | None
    canner_to_c: Callable[[float], float]
    by_gauge: bool


@dataclass(frozen=True, slots=True)
class _Line:
    """One line of the file and what to say when a cell of it can't be read."""

    path: Path
    number: int
    cells: list[str]
    has_decimal_comma: bool

    def number_in(self, column: int, name: str) -> float:
        text = self.cell(column, name)
        plain = text.replace(",", ".") if self.has_decimal_comma else text
        try:
            value = float(plain.replace("−", "-"))
        except ValueError:
            raise self.wrong(name, f"“{text}” is not a number. Mend or delete this line.") from None
        if not math.isfinite(value):
            raise self.wrong(name, f"“{text}” is not a reading. Delete this line.")
        return value

    def pressure_psi(self, column: int) -> float:
        shown = self.number_in(column, "canner")
        if not 0 <= shown <= HIGHEST_PSI:
            raise self.wrong("canner", f"{shown:g} psi is nothing that a gauge shows. Check the header, or the line.")
        return shown

    def temperature_c(self, column: int, name: str, to_c: Callable[[float], float]) -> float:
        shown = self.number_in(column, name)
        temp_c = to_c(shown)
        if not COLDEST_C <= temp_c <= HOTTEST_C:
            raise self.wrong(name, f"{shown:g} would be {temp_c:.0f} °C. Check the unit in the header, or the line.")
        return temp_c

    def cell(self, column: int, name: str) -> str:
        if column >= len(self.cells) or not self.cells[column].strip():
            raise self.wrong(name, "nothing is written there. Fill it in or delete the line.")
        return self.cells[column].strip()

    def wrong(self, field: str, problem: str) -> FileError:
        return FileError(self.path, self.number, field, problem)


def read_probe(path: Path, *, altitude_m: float = 0.0, gauge_error_psi: float = 0.0) -> ProbeLog:
    """The log in `path`; FileError names the line and what to do.

    Altitude and error of the gauge turn a column in psi into the temperature of steam.
    """
    lines = list(_lines(path))
    if not lines:
        raise FileError(path, None, "", f"the file is empty. {_EXAMPLE}")
    columns = _columns(lines[0])
    times_min: list[float] = []
    jar_c: list[float] = []
    canner_c: list[float] = []
    for line in lines[1:]:
        times_min.append(_next_minute(line, columns, times_min))
        jar_c.append(line.temperature_c(columns.jar, "jar", columns.jar_to_c))
        if columns.canner is not None and columns.by_gauge:
            shown_psi = line.pressure_psi(columns.canner)
            true_psi = max(shown_psi - gauge_error_psi, 0.0) if shown_psi > 0 else 0.0
            canner_c.append(float(canner_temp_c(true_psi, altitude_m)))
        elif columns.canner is not None:
            canner_c.append(line.temperature_c(columns.canner, "canner", columns.canner_to_c))
    if len(times_min) < FEWEST_READINGS:
        raise FileError(path, None, "", f"only {len(times_min)} readings; at least {FEWEST_READINGS} are needed.")
    start_min = times_min[0]
    minutes = tuple(minute - start_min for minute in times_min)
    return ProbeLog(minutes, tuple(jar_c), tuple(canner_c) or None, by_gauge=columns.by_gauge)


def _lines(path: Path) -> Iterator[_Line]:
    """The lines with something on them; those that begin with # are remarks."""
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as problem:
        raise FileError(path, None, "", f"can't be read ({problem.strerror}). Check the name.") from None
    except UnicodeDecodeError:
        raise FileError(path, None, "", "is not a text file in UTF-8. Save the log as CSV, UTF-8.") from None
    first = next((line for line in text.splitlines() if line.strip() and not line.startswith("#")), "")
    mark = next((mark for mark in (";", "\t") if mark in first), ",")
    for number, cells in enumerate(csv.reader(text.splitlines(), delimiter=mark), start=1):
        if any(cell.strip() for cell in cells) and not cells[0].startswith("#"):
            yield _Line(path, number, cells, has_decimal_comma=mark != ",")


def _columns(header: _Line) -> _Columns:
    found: dict[str, tuple[int, str]] = {}
    for index, cell in enumerate(header.cells):
        match = _HEADER.fullmatch(cell.strip().lower())
        if match is None:
            continue
        name = {"food": "jar", "min": "time", "minute": "time", "minutes": "time"}.get(match[1], match[1])
        if name in found:
            raise header.wrong(name, f"two columns are called that. {_EXAMPLE}")
        found[name] = (index, match[1] if match[1].startswith("min") else (match[2] or "").strip("° "))
    time_name = next((name for name in ("time", "clock") if name in found), None)
    if time_name is None or "jar" not in found:
        missing = "time" if time_name is None else "jar"
        raise header.wrong(missing, f"no column of that kind is named in the first line. {_EXAMPLE}")
    time_index, time_unit = found[time_name]
    by_gauge = "canner" in found and found["canner"][1] == "psi"
    return _Columns(
        time=time_index,
        time_is_clock=time_name == "clock" or not time_unit.startswith("min"),
        jar=found["jar"][0],
        jar_to_c=_to_c(header, "jar", found["jar"][1]),
        canner=found["canner"][0] if "canner" in found else None,
        canner_to_c=_to_c(header, "canner", found["canner"][1]) if "canner" in found and not by_gauge else float,
        by_gauge=by_gauge,
    )


def _to_c(header: _Line, name: str, unit: str) -> Callable[[float], float]:
    more = ", or what the gauge shows: “canner_psi”" if name == "canner" else ""
    if unit not in ("c", "f"):
        raise header.wrong(name, f"say whether it is °C or °F: “{name}_c” or “{name}_f”{more}.")
    return float if unit == "c" else units.celsius


def _next_minute(line: _Line, columns: _Columns, before_min: list[float]) -> float:
    if columns.time_is_clock:
        minute = _clock_min(line, line.cell(columns.time, "clock"))
        if before_min and minute < before_min[-1] - 12 * 60:
            minute += 24 * 60 * math.ceil((before_min[-1] - minute) / (24 * 60))  # past midnight
    else:
        minute = line.number_in(columns.time, "minutes")
    if before_min and minute <= before_min[-1]:
        raise line.wrong("time", "is not later than the line before. Put the readings in order, one for each time.")
    if before_min and minute - before_min[-1] > LONGEST_GAP_MIN:
        gap_min = minute - before_min[-1]
        raise line.wrong("time", f"{gap_min:.0f} min without a reading. Log at least every {LONGEST_GAP_MIN:.0f} min.")
    return minute


def _clock_min(line: _Line, text: str) -> float:
    """Minutes of the day of “14:05”, “14:05:30” or “2026-06-30 14:05:30”; with a date, minutes since year one."""
    match = _CLOCK.fullmatch(text)
    if match is None:
        raise line.wrong("clock", f"“{text}” is not a time of day. Write 14:05, or call the column “minutes”.")
    day, hours, minutes, seconds = match[1], int(match[2]), int(match[3]), float(match[4] or 0)
    try:
        days = date.fromisoformat(day).toordinal() if day else 0
        time(hours, minutes, int(seconds))
    except ValueError:
        raise line.wrong("clock", f"there is no “{text}”. Mend this line.") from None
    return days * 24 * 60 + hours * 60 + minutes + seconds / 60
