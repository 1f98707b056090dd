"""A process card and a refusal as keys and values, for other programs."""

from __future__ import annotations

from typing import Any

from stillroom.model.process import Alternative, ProcessCard, ProcessRefusal
from stillroom.process.cycle import cycle
from stillroom.process.steps import CAUTION


def card_keys(card: ProcessCard) -> dict[str, Any]:
    """A card for machines."""
    return {
        "tested": True,
        "food": card.food,
        "form": card.form,
        "pack": card.pack,
        "jar": card.jar_asked,
        "jar_counted_as": card.jar_counted_as.value,
        "canner": card.canner.value,
        "altitude_m": round(card.altitude_m, 3),
        "minutes": card.minutes,
        "pressure_psi": card.pressure_psi,
        "pressure_psi_printed": card.pressure_psi_printed,
        "pressure_kpa": None if card.pressure_kpa is None else round(card.pressure_kpa, 1),
        "headspace_in": card.headspace_in,
        "acidification": card.acidification or None,
        "sterilise_jars": card.sterilise_jars,
        "choices": [{"minutes": minutes, "pressure_psi": psi} for minutes, psi in card.choices],
        "steps": list(card.steps),
        "warnings": list(card.warnings),
        "note": card.row.note or None,
        "load_minutes": cycle(card).total_min,
        "guide_table": card.row.guide_table,
        "source": card.row.source,
        "url": card.row.url,
        "evidence": card.row.evidence.value,
        "caution": CAUTION,
    }


def refusal_keys(refusal: ProcessRefusal) -> dict[str, Any]:
    """A refusal for machines."""
    return {
        "tested": False,
        "food": refusal.food,
        "reason": refusal.reason,
        "rule": refusal.rule,
        "alternatives": [_alternative_keys(way) for way in refusal.alternatives],
        "common_practice": refusal.common_practice or None,
        "common_practice_tested": False if refusal.common_practice else None,
        "source": refusal.source or None,
        "caution": CAUTION,
    }


def _alternative_keys(way: Alternative) -> dict[str, Any]:
    keys: dict[str, Any] = {"what": way.what, "source": way.source}
    if way.card is not None:
        keys |= {
            "tested": True,
            "form": way.card.form,
            "pack": way.card.pack,
            "jar": way.card.jar_counted_as.value,
            "canner": way.card.canner.value,
            "minutes": way.card.minutes,
            "pressure_psi": way.card.pressure_psi,
        }
    return keys
