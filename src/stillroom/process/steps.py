"""What to do, step by step, in our words and with the rule that each step follows."""

from __future__ import annotations

from stillroom import units
from stillroom.model.process import CannerKind, ProcessRow
from stillroom.process.preparation import before_packing
from stillroom.tables.constants import constant

CAUTION = (
    "This repeats published tables and is no licence: your local food-safety authority, the maker of your canner and "
    "licensed practice come first."
)


def steps_for(
    row: ProcessRow, canner: CannerKind, minutes: int, held_psi: float | None, *, sterilise: bool
) -> tuple[str, ...]:
    """All steps for one load of this row."""
    if canner.is_pressure:
        assert held_psi is not None
        heat = _pressure_steps(row, canner, minutes, held_psi)
    elif canner is CannerKind.STEAM:
        heat = _steam_steps(row, minutes)
    else:
        heat = _boiling_water_steps(row, minutes)
    return (before_packing(row), *_in_the_jar(row, sterilise=sterilise), *heat, *_afterwards())


def headspace_text(headspace_in: float) -> str:
    """Headspace in inches and millimetres: "1 in (25 mm)"."""
    return f"{headspace_in:g} in ({headspace_in * units.MM_PER_IN:.0f} mm)"


def _in_the_jar(row: ProcessRow, *, sterilise: bool) -> tuple[str, ...]:
    jars = f"Sterilise the jars: {_sterilise_text()}." if sterilise else "Use clean hot jars and new lids."
    acid = (f"Acid: {row.acidification}.",) if row.acidification else ()
    return (
        jars,
        *acid,
        f"Fill, leaving {headspace_text(row.headspace_in)} of headspace; free the bubbles, wipe the rim, "
        "lid on, band fingertip-tight.",
    )


def _sterilise_text() -> str:
    boil_min, more_min = constant("sterilise_boil_min").value, constant("sterilise_boil_min_per_1000ft").value
    return (
        f"boil them {boil_min:g} min up to 1,000 ft and {more_min:g} min more for each further 1,000 ft, fill them hot"
    )


def _pressure_steps(row: ProcessRow, canner: CannerKind, minutes: int, held_psi: float) -> tuple[str, ...]:
    vent_min, wait_min = constant("vent_min").value, constant("wait_min").value
    water = "2–3 in (5–8 cm) of hot water in the canner, jars on the rack, lid locked, vent open."
    if row.food == "smoked fish":
        water = "4 quarts (3.8 l) of cool water in the canner, not preheated, jars on the rack, lid locked, vent open."
    clock = (
        f"the dial shows {held_psi:g} psi ({units.kpa(held_psi):.0f} kPa)"
        if canner is CannerKind.DIAL
        else f"the {held_psi:g} psi ({units.kpa(held_psi):.0f} kPa) weight jiggles or rocks as its maker describes"
    )
    return (
        water,
        f"High heat until steam jets steadily; let it vent {vent_min:g} min, then close the vent.",
        f"The time starts when {clock}. Hold it there or slightly above for {minutes} min; stay with it.",
        "If the pressure falls below that, even for a moment, bring it back and start the whole time again.",
        "Heat off. Let the pressure fall by itself to zero: no cold water, no opening of the vent.",
        f"Weight off, wait {wait_min:g} min, open the lid away from you, lift the jars out.",
    )


def _boiling_water_steps(row: ProcessRow, minutes: int) -> tuple[str, ...]:
    preheat = "140 °F (60 °C)" if row.pack == "raw" else "180 °F (82 °C)"
    wait_min = constant("boiling_water_wait_min").value
    return (
        f"Canner half full of water at {preheat}; jars in; water 1–2 in (2.5–5 cm) above the lids.",
        f"The time starts at a full boil with the lid on: {minutes} min; top up with boiling water only.",
        "If the boil stops, bring it back and start the whole time again.",
        f"Heat off, lid off, wait {wait_min:g} min, lift the jars out.",
    )


def _steam_steps(row: ProcessRow, minutes: int) -> tuple[str, ...]:
    return (
        "Only with a recipe tested for boiling water, never with the leaflet sold with the canner.",
        f"Jars hot, {'raw' if row.pack == 'raw' else 'hot'} food in them cooled as little as can be; load at once.",
        "Vent until pure steam stands at the boiling temperature of water for this altitude, by thermometer.",
        f"Then {minutes} min without a break in the steam; if it falls off, start the whole time again. Do not open.",
        "Heat off; let the jars cool in still room air.",
    )


def _afterwards() -> tuple[str, ...]:
    return (
        "Cool the jars upright, 1 in (2.5 cm) apart, out of draughts, 12–24 h; do not retighten the bands.",
        "Then test every seal; an unsealed jar goes to the refrigerator, the freezer or, within 24 h, a whole new "
        "process with a new lid.",
    )
