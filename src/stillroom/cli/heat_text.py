"""What `stillroom heat` prints: the card or the refusal first, then what the model adds, always as bands."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stillroom.heat.note_words import NO_LETHALITY, share_words, slowness_words, verdict_words
from stillroom.heat.role import ROLE, HeatNote, LagNote, span

if TYPE_CHECKING:
    from stillroom.physics.band import Band


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
            f"  {verdict_words(note)}",
            f"  What widens the band most: {note.dominating}",
            *(f"  Assumed: {line}" for line in note.assumed),
        )
    )


def lag_text(note: LagNote) -> str:
    """What the model adds to a refusal: only how far the jar lags behind."""
    lines = [f"HEAT MODEL  {note.about}", f"  {NO_LETHALITY}", f"  {slowness_words(note)}"]
    return "\n".join([*lines, f"  {share_words(note)}"] if note.share is not None else lines)


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
