"""What `stillroom heat` prints: the card or the refusal first, then what the model adds, always as bands."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stillroom.heat.role import ROLE, HeatNote, LagNote, figures, span
from stillroom.tables.constants import constant

if TYPE_CHECKING:
    from stillroom.heat.canner_times import CannerTimes
    from stillroom.heat.fitting import Fit
    from stillroom.heat.logged import Comparison
    from stillroom.model.process import ProcessCard
    from stillroom.physics.band import Band

NO_LETHALITY = (
    "No lethality is worked out for a jar without a tested process: no figure of a model can make it one. "
    "No chart is drawn of it and no log is weighed, for a picture travels without its refusal."
)

SLOWER_C = 1.0  # below the expected band by more than two probes are off


def note_text(note: HeatNote) -> str:
    """The note beside a tested card."""
    yardstick = note.yardstick
    return "\n".join(
        (
            f"HEAT MODEL  {note.about}",
            f"  {ROLE}",
            f"  Cold spot, whole cycle: {yardstick.name} {span(note.lethality)}",
            f"    while heating {span(note.from_heating)}; while cooling {span(note.from_cooling)}",
            f"    (minutes at {yardstick.reference.temp_c:.1f} °C, z {yardstick.reference.z_c:.1f} °C; 5 to 95 of 100 "
            "jars with what is not known drawn at random)",
            f"  Asked for: at least {yardstick.asked_min:g} min ({yardstick.source})",
            f"  {_verdict(note)}",
            f"  What widens the band most: {note.dominating}",
            *(f"  Assumed: {line}" for line in note.assumed),
        )
    )


def _verdict(note: HeatNote) -> str:
    if note.is_low:
        return "The band begins below that: the card carries a warning more. Its process stands as printed."
    return "The band lies above that. This changes nothing: the process stands as printed."


def lag_text(note: LagNote) -> str:
    """What the model adds to a refusal: only how far the jar lags behind."""
    lines = [
        f"HEAT MODEL  {note.about}",
        f"  {NO_LETHALITY}",
        f"  How slowly it heats: the gap between canner and cold spot shrinks to a tenth in {span(note.heating_time)}.",
    ]
    if note.share is not None:
        lines.append(
            f"  In the same time its cold spot may get as little as {figures(note.share.low)} % of the lethality of "
            f"{note.compared_with} (band: {span(note.share)}). A small lag is no smaller risk, and more minutes were "
            "never tested: neither is a way out."
        )
    return "\n".join(lines)


def log_text(name: str, card: ProcessCard, fitted: Fit, compared: Comparison, canner: CannerTimes | None) -> str:
    """What a log tells, beside the expected curve."""
    lines = [
        f"LOG  {name}",
        f"  fh {span(fitted.fh)}; jh {fitted.jh.low:.2f} to {fitted.jh.high:.2f} "
        f"({fitted.readings_on_line} readings on the line, canner at {fitted.hold_c:.1f} °C)",
        f"  {fitted.reference.name}: while heating {span(fitted.lethality_heating)}; "
        f"while cooling {span(fitted.lethality_cooling)}",
        f"  {100 * compared.within_share:.0f} % of the readings lie in the expected band",
        *_canner_lines(canner),
    ]
    hold = compared.unbroken_hold
    if hold is None:
        lines.append(
            "  No canner was logged: jh counts from the first reading, cooling from the hottest one of the jar"
        )
    else:
        stood = f"stood at its mark without a break for {span(hold)}" if hold.high > 0 else "never stood at its mark"
        lines.append(f"  The canner {stood}")
        if hold.high < card.minutes:
            lines.append(
                f"  ! The card says {card.minutes} min without a break, counted again from zero after every fall below "
                "the mark (R008). By this log the load was not processed in full."
            )
    if compared.largest_below_c > SLOWER_C:
        lines.append(
            f"  ! At worst {compared.largest_below_c:.1f} °C below it, {compared.at_min:.0f} min into the log: the jar "
            "heated more slowly than expected. Was it packed tighter, or is the jar larger?"
        )
    return "\n".join([*lines, "  A log is one jar on one day: it proves nothing of the next and makes no process."])


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
            "asked for (R002). Air that is left inside makes it colder than the gauge says."
        )
    return lines


def note_keys(note: HeatNote) -> dict[str, Any]:
    """The note for machines."""
    curve = note.curve
    return {
        "role": ROLE,
        "about": note.about,
        "measure": note.yardstick.name,
        "reference_c": round(note.yardstick.reference.temp_c, 2),
        "z_c": round(note.yardstick.reference.z_c, 2),
        "asked_min": note.yardstick.asked_min,
        "asked_source": note.yardstick.source,
        "lethality": band_keys(note.lethality),
        "while_heating": band_keys(note.from_heating),
        "while_cooling": band_keys(note.from_cooling),
        "is_low": note.is_low,
        "widest_because": note.dominating,
        "assumed": list(note.assumed),
        "curve": {
            "time_min": _rounded(curve.time_min),
            "canner_c": _rounded(curve.canner_c),
            "cold_spot_low_c": _rounded(curve.low_c),
            "cold_spot_middle_c": _rounded(curve.middle_c),
            "cold_spot_high_c": _rounded(curve.high_c),
        },
    }


def lag_keys(note: LagNote) -> dict[str, Any]:
    """What is added to a refusal, for machines: no lethality at all."""
    keys: dict[str, Any] = {
        "role": ROLE,
        "about": note.about,
        "lethality": None,
        "why_none": NO_LETHALITY,
        "heating_time": band_keys(note.heating_time),
    }
    if note.share is not None:
        keys |= {"compared_with": note.compared_with, "share_of_tested": band_keys(note.share)}
    return keys


def log_keys(fitted: Fit, compared: Comparison, canner: CannerTimes | None) -> dict[str, Any]:
    """What a log tells, for machines."""
    return {
        "fh": band_keys(fitted.fh),
        "jh": band_keys(fitted.jh),
        "measure": fitted.reference.name,
        "while_heating": band_keys(fitted.lethality_heating),
        "while_cooling": band_keys(fitted.lethality_cooling),
        "hold_c": round(fitted.hold_c, 2),
        "readings_on_line": fitted.readings_on_line,
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


def band_keys(band: Band) -> dict[str, Any]:
    """A band for machines, three figures each."""
    low, middle, high = (float(f"{value:.3g}") for value in (band.low, band.middle, band.high))
    return {"low": low, "middle": middle, "high": high, "unit": band.unit}


def _or_none(band: Band | None) -> dict[str, Any] | None:
    return None if band is None else band_keys(band)


def _rounded(values: tuple[float, ...]) -> list[float]:
    return [round(value, 2) for value in values]
