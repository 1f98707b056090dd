"""Everything that the logs of a household tell of one question: jar by jar, and of its canner."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from stillroom.errors import InputError
from stillroom.heat.answer import asked_pack, in_own_canner
from stillroom.heat.canner_times import CannerTimes, canner_times, own_canner
from stillroom.heat.fitting import Fit, fit
from stillroom.heat.logged import Comparison, compare
from stillroom.heat.probe_file import ProbeLog, read_probe
from stillroom.heat.question import HeatQuestion
from stillroom.heat.role import CardAndNote


@dataclass(frozen=True, slots=True)
class WeighedLog:
    """One log: its heating line, how it lies against what was expected, what it shows of the canner."""

    name: str
    fitted: Fit
    compared: Comparison
    canner: CannerTimes | None


@dataclass(frozen=True, slots=True)
class WeighedLogs:
    """All logs, and the card with the note of the canner that they show (None where no log shows one)."""

    logs: tuple[WeighedLog, ...]
    in_own_canner: CardAndNote | None
    runs: int


def weigh(question: HeatQuestion, found: CardAndNote, paths: Sequence[Path]) -> WeighedLogs:
    """The logs in `paths` read, fitted and laid over what was expected; FileError or InputError name what is wrong."""
    if len({path.resolve() for path in paths}) < len(paths):
        raise InputError("A log is named twice; each run counts once.")
    error_psi = question.gauge_error_psi
    read = [read_probe(path, altitude_m=question.altitude_m, gauge_error_psi=error_psi) for path in paths]
    own = own_canner(read, found.card, gauge_error_psi=error_psi)
    return WeighedLogs(
        tuple(_one(question, found, log, path.name) for log, path in zip(read, paths, strict=True)),
        in_own_canner(question, found, own) if own is not None else None,
        own.runs if own is not None else 0,
    )


def _one(question: HeatQuestion, found: CardAndNote, log: ProbeLog, name: str) -> WeighedLog:
    curve = found.note.curve
    return WeighedLog(
        name,
        fit(log, hold_c=max(curve.canner_c), reference=found.note.yardstick.reference),
        compare(log, asked_pack(question, found.card), curve),
        canner_times(log, found.card, gauge_error_psi=question.gauge_error_psi),
    )
