"""The cases of a sweep over the printed rows, and their answers: plain functions that travel to any worker."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stillroom.errors import InputError
from stillroom.heat.answer import answer
from stillroom.heat.question import HeatQuestion
from stillroom.heat.role import CardAndNote, RefusalAndNote
from stillroom.heat.sweep import Case, Outcome
from stillroom.model.process import CannerKind
from stillroom.tables.processes import rows
from stillroom.tables.vocabulary import foods

JARS = ("half-pint", "pint", "500 ml", "750 ml", "quart", "1 l", "1200 ml")
ALTITUDES_M = (0.0, 304.0, 305.0, 609.0, 610.0, 914.0, 915.0, 1219.0, 1220.0, 1828.0, 1829.0, 2438.0, 2500.0)
"""The last metre of each printed band and the first of the next, and one place above them all."""
GAUGE_ERRORS_PSI = (-2.0, 0.0, 2.0)


def every_case(
    *,
    jars: Iterable[str] = JARS,
    altitudes_m: Iterable[float] = ALTITUDES_M,
    gauge_errors_psi: Iterable[float] = GAUGE_ERRORS_PSI,
    samples: int = 1000,
    seed: int = 1,
) -> Iterator[Case]:
    """Every printed food, form and pack × canner that its table is for × jar × altitude × error of a dial."""
    jars, altitudes_m, gauge_errors_psi = tuple(jars), tuple(altitudes_m), tuple(gauge_errors_psi)
    names = _names()
    printed = dict.fromkeys((row.food, row.form, row.pack, row.is_pressure) for row in rows())
    for food, form, pack, is_pressure in printed:
        for canner in CannerKind:
            if canner.is_pressure is not is_pressure:
                continue
            errors_psi = gauge_errors_psi if canner is CannerKind.DIAL else (0.0,)
            for jar in jars:
                for altitude_m in altitudes_m:
                    for error_psi in errors_psi:
                        yield Case(names[food], form, pack, jar, canner.value, altitude_m, error_psi, samples, seed)


def answer_cases(cases: tuple[Case, ...]) -> list[Outcome]:
    """The answers of one chunk; a case that can't be read names itself."""
    return [_outcome(case) for case in cases]


def _outcome(case: Case) -> Outcome:
    question = HeatQuestion(
        case.food, case.form, case.pack, case.jar, CannerKind(case.canner), case.altitude_m, case.gauge_error_psi
    )
    try:
        found = answer(question, samples=case.samples, seed=case.seed)
    except InputError as problem:
        raise InputError(f"{case}: {problem}") from None
    return _tested(case, found) if isinstance(found, CardAndNote) else _refused(case, found)


def _tested(case: Case, found: CardAndNote) -> Outcome:
    note = found.note
    band = note.lethality
    return Outcome(
        *_asked(case), True, "", note.yardstick.name, band.low, band.middle, band.high, note.dominating, note.is_low
    )


def _refused(case: Case, found: RefusalAndNote) -> Outcome:
    share, rule = found.note.share, found.refusal.rule
    if share is None:
        return Outcome(*_asked(case), False, rule, "", None, None, None, "", False)
    measure = f"% of {found.note.compared_with}"
    return Outcome(*_asked(case), False, rule, measure, share.low, share.middle, share.high, "", False)


def _asked(case: Case) -> tuple[str, str, str, str, str, float, float]:
    return case.food, case.form, case.pack, case.jar, case.canner, case.altitude_m, case.gauge_error_psi


def _names() -> dict[str, str]:
    """A name of the vocabulary for each printed food, whose name implies no form of its own."""
    found: dict[str, str] = {}
    for known in foods():
        if known.process_food is not None and known.form is None:
            found.setdefault(known.process_food, known.key)
    return found
