"""Asks the program what a page prints: every band of a printed line, at both of its ends.

The figures stand in the test files, typed from the pages they name; nothing here reads the tables of the program.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise, product

import pytest
from _pytest.mark.structures import ParameterSet

from stillroom import units
from stillroom.model.process import CannerKind, ProcessCard
from stillroom.process.find import find

FOUR_BANDS_FT = (0, 1000, 3000, 6000, 8000)
THREE_BANDS_FT = (0, 1000, 6000, 8000)
DIAL_BANDS_FT = (0, 2000, 4000, 6000, 8000)
WEIGHTED_BANDS_FT = (0, 1000, 8000)

LOW_ACID_DIAL = (11, 12, 13, 14)
LOW_ACID_WEIGHTED = (10, 15)
FRUIT_DIAL = (6, 7, 8, 9)
FRUIT_WEIGHTED = (5, 10)


@dataclass(frozen=True)
class Line:
    """One printed line of a process table: a food in one pack and jar.

    `minutes`: boiling water, one per printed band (three or four); pressure, the one time. `headspace_in` is None
    where the page does not print it.
    """

    food: str
    pack: str
    jar: str
    minutes: tuple[int, ...]
    headspace_in: float | None
    form: str | None = None
    dial_psi: tuple[int, ...] = ()
    weighted_psi: tuple[int, ...] = ()

    @property
    def name(self) -> str:
        """How a failing test calls it."""
        form = f"-{self.form}" if self.form else ""
        return f"{self.food}{form}-{self.pack}-{self.jar}".replace(" ", "_")


def lines(
    foods: str,
    packs: str,
    jars: Mapping[str, tuple[int, ...]],
    headspace_in: float | None,
    *,
    form: str | None = None,
    dial_psi: tuple[int, ...] = (),
    weighted_psi: tuple[int, ...] = (),
) -> list[Line]:
    """The lines of a table that prints several foods ("; "), packs ("/") or jars together."""
    return [
        Line(food, pack, jar, minutes, headspace_in, form, dial_psi, weighted_psi)
        for food, pack, (jar, minutes) in product(foods.split("; "), packs.split("/"), jars.items())
    ]


def low_acid(foods: str, packs: str, jars: dict[str, int], headspace_in: float, form: str | None = None) -> list[Line]:
    """Lines of a table with the pressures that Guides 4 and 5 print for both gauges."""
    minutes = {jar: (time_min,) for jar, time_min in jars.items()}
    return lines(foods, packs, minutes, headspace_in, form=form, dial_psi=LOW_ACID_DIAL, weighted_psi=LOW_ACID_WEIGHTED)


def fruit_pressure(food: str, packs: str, jars: dict[str, int], headspace_in: float | None) -> list[Line]:
    """Lines of a fruit table in a pressure canner."""
    minutes = {jar: (time_min,) for jar, time_min in jars.items()}
    return lines(food, packs, minutes, headspace_in, dial_psi=FRUIT_DIAL, weighted_psi=FRUIT_WEIGHTED)


def boiling_water_cases(printed: Iterable[Line]) -> list[ParameterSet]:
    """Every line at both ends of every band: (line, altitude [ft], minutes)."""
    cases = []
    for line in printed:
        bands_ft = FOUR_BANDS_FT if len(line.minutes) == len(FOUR_BANDS_FT) - 1 else THREE_BANDS_FT
        for altitude_ft, minutes in _at_both_ends(bands_ft, line.minutes):
            cases.append(pytest.param(line, altitude_ft, minutes, id=f"{line.name}-{altitude_ft}ft"))
    return cases


def pressure_cases(printed: Iterable[Line]) -> list[ParameterSet]:
    """Every line at both ends of every band of both gauges: (line, canner, altitude [ft], psi)."""
    cases = []
    for line in printed:
        for canner, bands_ft, psi in (
            (CannerKind.DIAL, DIAL_BANDS_FT, line.dial_psi),
            (CannerKind.WEIGHTED, WEIGHTED_BANDS_FT, line.weighted_psi),
        ):
            for altitude_ft, pressure_psi in _at_both_ends(bands_ft, psi):
                name = f"{line.name}-{canner.value.split()[0]}-{altitude_ft}ft"
                cases.append(pytest.param(line, canner, altitude_ft, pressure_psi, id=name))
    return cases


def card(line: Line, canner: CannerKind, altitude_ft: float) -> ProcessCard:
    """The program's answer to a printed line; a refusal fails the test with its reason."""
    answer = find(
        line.food, form=line.form, pack=line.pack, jar=line.jar, canner=canner, altitude_m=units.metres(altitude_ft)
    )
    assert isinstance(answer, ProcessCard), f"{line.name}: {answer.rule}: {answer.reason}"
    assert answer.jar_counted_as.value == line.jar.replace("-", "_")
    assert line.headspace_in is None or answer.headspace_in == line.headspace_in
    return answer


def _at_both_ends(bands_ft: tuple[int, ...], values: tuple[int, ...]) -> Iterator[tuple[int, int]]:
    for (below_ft, top_ft), value in zip(pairwise(bands_ft), values, strict=bool(values)):
        yield below_ft + (below_ft > 0), value
        yield top_ft, value
