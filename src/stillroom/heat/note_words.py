"""What the model adds to a card or a refusal, in sentences; commands, pages and papers say the same."""

from __future__ import annotations

from stillroom.heat.curve import Curve
from stillroom.heat.role import HeatNote, LagNote, figures, span

NO_LETHALITY = (
    "No lethality is worked out for a jar without a tested process: no figure of a model can make it one. "
    "No chart is drawn of it and no log is weighed, for a picture travels without its refusal."
)


def verdict_words(note: HeatNote) -> str:
    """Whether the band begins below what is asked for, and that the process stands either way."""
    if note.is_low:
        return "The band begins below that: the card carries a warning more. Its process stands as printed."
    return "The band lies above that. This changes nothing: the process stands as printed."


def slowness_words(note: LagNote) -> str:
    """How slowly a refused jar heats."""
    return f"How slowly it heats: the gap between canner and cold spot shrinks to a tenth in {span(note.heating_time)}."


def share_words(note: LagNote) -> str:
    """How much less than the tested jar the refused one may get; "" where nothing may be said."""
    if note.share is None:
        return ""
    return (
        f"In the same time its cold spot may get as little as {figures(note.share.low)} % of the lethality of "
        f"{note.compared_with} (band: {span(note.share)}). A small lag is no smaller risk, and more minutes were "
        "never tested: neither is a way out."
    )


def chart_words(note: HeatNote) -> str:
    """The chart in one sentence, for those who can't see it."""
    return f"{note.yardstick.name} {span(note.lethality)}."


def phase_rows(curve: Curve) -> tuple[tuple[str, float, float, float, float, float], ...]:
    """The chart as a table: phase, start and end [min], and at its end canner, cold spot from and to [°C]."""
    rows = []
    for phase in curve.phases:
        at = min(range(len(curve.time_min)), key=lambda index: abs(curve.time_min[index] - phase.end_min))
        ends = curve.canner_c[at], curve.low_c[at], curve.high_c[at]
        rows.append((phase.name, phase.start_min, phase.end_min, *ends))
    return tuple(rows)
