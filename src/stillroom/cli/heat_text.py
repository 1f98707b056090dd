"""What `stillroom heat` prints: the card or the refusal first, then what the model adds, always as bands."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stillroom.heat.role import ROLE, HeatNote, LagNote, figures, span

if TYPE_CHECKING:
    from stillroom.physics.band import Band

NO_LETHALITY = (
    "No lethality is worked out for a jar without a tested process: no figure of a model can make it one. "
    "No chart is drawn of it and no log is weighed, for a picture travels without its refusal."
)


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


def band_keys(band: Band) -> dict[str, Any]:
    """A band for machines, three figures each."""
    low, middle, high = (float(f"{value:.3g}") for value in (band.low, band.middle, band.high))
    return {"low": low, "middle": middle, "high": high, "unit": band.unit}


def _rounded(values: tuple[float, ...]) -> list[float]:
    return [round(value, 2) for value in values]
