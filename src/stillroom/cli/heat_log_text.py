"""What `stillroom heat --log` prints: each log beside the expected curve, then the canner that all of them show."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stillroom.cli.heat_text import band_keys
from stillroom.heat.role import span
from stillroom.tables.constants import constant

if TYPE_CHECKING:
    from stillroom.heat.broken_line import BrokenLine
    from stillroom.heat.canner_times import CannerTimes
    from stillroom.heat.fitting import Fit
    from stillroom.heat.logged import Comparison
    from stillroom.heat.weighed import WeighedLog, WeighedLogs
    from stillroom.model.process import ProcessCard
    from stillroom.physics.band import Band

NEAREST_C = 0.1
SLOWER_C = 1.0  # below the expected band by more than two probes are off


def logs_text(card: ProcessCard, logged: WeighedLogs) -> str:
    """What the logs tell, one by one and together."""
    parts = [_log_text(card, log) for log in logged.logs]
    if logged.in_own_canner is not None:
        note = logged.in_own_canner.note
        runs = f"{logged.runs} run{'s' if logged.runs > 1 else ''}"
        parts.append(
            f"YOUR CANNER  by {runs}\n"
            f"  With its own times the model gives the cold spot {note.yardstick.name} {span(note.lethality)} "
            f"(while heating {span(note.from_heating)}; while cooling {span(note.from_cooling)}).\n"
            "  This may add a warning to the card and never takes one away."
        )
    return "\n".join([*parts, "  A log is one jar on one day: it proves nothing of the next and makes no process."])


def _log_text(card: ProcessCard, log: WeighedLog) -> str:
    fitted, compared = log.fitted, log.compared
    lines = [
        f"LOG  {log.name}",
        f"  fh {span(fitted.fh)}; jh {fitted.jh.low:.2f} to {fitted.jh.high:.2f} "
        f"({fitted.readings_on_line} readings on the line, canner at {fitted.hold_c:.1f} °C)",
        *_broken_lines(fitted.broken),
        f"  {fitted.reference.name}: while heating {span(fitted.lethality_heating)}; "
        f"while cooling {span(fitted.lethality_cooling)}",
        *_ball_lines(fitted),
        f"  {100 * compared.within_share:.0f} % of the readings lie in the expected band",
        *_canner_lines(log.canner),
        *_hold_lines(card, compared),
    ]
    if compared.largest_below_c > SLOWER_C:
        lines.append(
            f"  ! At worst {compared.largest_below_c:.1f} °C below it, {compared.at_min:.0f} min into the log: the jar "
            "heated more slowly than expected. Was it packed tighter, or is the jar larger?"
        )
    return "\n".join(lines)


def _broken_lines(broken: BrokenLine | None) -> list[str]:
    """Two slopes, and what a jar that slows down while it heats has most likely in it."""
    if broken is None:
        return []
    slows = broken.fh_after.middle > broken.fh_before.middle
    with_c, without_c = (max(off_c, NEAREST_C) for off_c in (broken.off_with_c, broken.off_without_c))
    lines = [
        f"  The heating line breaks {broken.at_min:.0f} min into the log: fh {span(broken.fh_before)} before it, "
        f"{span(broken.fh_after)} after it. A curve with this break follows the log within {with_c:.1f} °C, one "
        f"without within {without_c:.1f} °C"
    ]
    if slows:
        lines.append(
            "  ! From there on it heats more slowly, as food does that thickens while it is hot. Flour, starch, rice, "
            "pasta, bread and mashed or pureed low-acid food have no tested process: if any of it is in this jar, do "
            "not put it on the shelf. Chill or freeze it."
        )
    return lines


def _ball_lines(fitted: Fit) -> list[str]:
    if fitted.by_ball is None:
        return []
    return [
        f"  Ball's formula gives this line F0 {span(fitted.by_ball)}, cooled at once in cold water; your jar cooled "
        "in the canner"
    ]


def _hold_lines(card: ProcessCard, compared: Comparison) -> list[str]:
    """How long the canner stood at its mark, and a warning where that is less than the card says."""
    hold = compared.unbroken_hold
    if hold is None:
        return ["  No canner was logged: jh counts from the first reading, cooling from the hottest one of the jar"]
    stood = f"stood at its mark without a break for {span(hold)}" if hold.high > 0 else "never stood at its mark"
    lines = [f"  The canner {stood}"]
    if hold.high < card.minutes:
        lines.append(
            f"  ! The card says {card.minutes} min without a break, counted again from zero after every fall below "
            "the mark. By this log the load was not processed in full."
        )
    return lines


def _canner_lines(canner: CannerTimes | None) -> list[str]:
    """How long this canner took, and a warning where it was vented too briefly."""
    if canner is None:
        return []
    stretches = (
        ("to the boil", canner.heat_up),
        ("venting", canner.vent),
        ("up to its mark", canner.come_up),
        ("cooling to no pressure", canner.cooling),
    )
    lines = [f"  The canner, {name}: {span(times)}" for name, times in stretches if times is not None]
    asked_min = constant("vent_min").value
    if canner.vent is not None and canner.vent.middle < asked_min:
        lines.append(
            f"  ! The canner stood at the boil too briefly before its pressure rose: {asked_min:g} min of venting are "
            "asked for. Air that is left inside makes it colder than the gauge says."
        )
    return lines


def logs_keys(logged: WeighedLogs) -> dict[str, Any]:
    """What the logs tell, for machines."""
    own = logged.in_own_canner
    return {
        "logs": [_log_keys(log) for log in logged.logs],
        "in_own_canner": None
        if own is None
        else {
            "runs": logged.runs,
            "lethality": band_keys(own.note.lethality),
            "while_heating": band_keys(own.note.from_heating),
            "while_cooling": band_keys(own.note.from_cooling),
        },
    }


def _log_keys(log: WeighedLog) -> dict[str, Any]:
    fitted, compared, canner = log.fitted, log.compared, log.canner
    return {
        "name": log.name,
        "fh": band_keys(fitted.fh),
        "jh": band_keys(fitted.jh),
        "measure": fitted.reference.name,
        "while_heating": band_keys(fitted.lethality_heating),
        "while_cooling": band_keys(fitted.lethality_cooling),
        "hold_c": round(fitted.hold_c, 2),
        "readings_on_line": fitted.readings_on_line,
        "broken": None
        if fitted.broken is None
        else {
            "at_min": round(fitted.broken.at_min, 1),
            "fh_before": band_keys(fitted.broken.fh_before),
            "fh_after": band_keys(fitted.broken.fh_after),
        },
        "by_ball": _or_none(fitted.by_ball),
        "within_expected_share": round(compared.within_share, 3),
        "largest_below_c": round(compared.largest_below_c, 2),
        "largest_below_at_min": round(compared.at_min, 1),
        "unbroken_hold": _or_none(compared.unbroken_hold),
        "canner": None
        if canner is None
        else {
            "heat_up": _or_none(canner.heat_up),
            "vent": _or_none(canner.vent),
            "come_up": _or_none(canner.come_up),
            "cooling_to_no_pressure": _or_none(canner.cooling),
        },
    }


def _or_none(band: Band | None) -> dict[str, Any] | None:
    return None if band is None else band_keys(band)
