"""Thawing: how long in the fridge or in cold water, and when to take out what for a meal; never on the counter.

The published rule goes by weight (R113, R114), the band by thickness. What is planned is the later of the rule and the
slow side of the band, but never so early that a pack which thaws quickly would wait longer than it keeps.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from stillroom.errors import InputError
from stillroom.physics.band import Band
from stillroom.physics.medium import Medium, fridge, still_air, water_bath
from stillroom.physics.properties import thermal
from stillroom.physics.thawing import Thawing, rule_h, thawing_h
from stillroom.quantities.cold_text import AUTHORITY, hours_words, source_words
from stillroom.quantities.food_parts import FoodParts
from stillroom.quantities.freezing import FREEZER_C, PackKind, freezable_of, pack_of_kind
from stillroom.tables.constants import constant
from stillroom.units import G_PER_LB

THAWED_C = 5.0
FRIDGE_C, WATER_C, ROOM_C = 4.0, 12.0, 20.0  # cold water from the tap, changed: common practice, no source
RED_MEAT = ("beef", "pork", "lamb and game")
ICY = {
    "fridge": "There may be ice left in the middle by then, as taken out sooner it might lie thawed too long: finish "
    "it in cold water, fresh every half hour, or cook it from there, up to half as long again.",
    "cold water": "There may be ice left in the middle by then: cook it from there, up to half as long again.",
}
THAWING_RULES = ("R113", "R114", "R116", "R117", "R118")
NO_CUTS = frozenset(
    (
        "ground",
        "stewing",
        "stew",
        "trimmings",
        "sausage",
        "liver",
        "heart",
        "kidney",
        "tongue",
        "tripe",
        "bones",
        "cubes",
    )
)


class ThawPlace(StrEnum):
    """Where food thaws; the counter is there to be refused."""

    FRIDGE = "fridge"
    WATER = "cold water"
    COUNTER = "counter"


@dataclass(frozen=True, slots=True)
class ThawTime:
    """One pack: thickness [m], hours by rule and band, hours to allow, and how long it keeps thawed in the fridge."""

    place: ThawPlace
    thickness_m: float
    times: Thawing
    allow_h: float
    keeps_days: float  # 0: cook it at once

    @property
    def may_be_icy(self) -> bool:
        """Whether the slow side of the band is longer than what can be allowed."""
        return self.allow_h < self.times.band.high

    def take_out(self, use_at: datetime) -> datetime:
        """The latest moment to take it out, to the minute."""
        moment = use_at - timedelta(hours=self.allow_h)
        return moment.replace(second=0, microsecond=0)

    @property
    def sentences(self) -> tuple[str, ...]:
        """What a cook reads, in order."""
        where = "in cold water" if self.place is ThawPlace.WATER else "in the fridge"
        rule_band = Band(self.times.rule_h, self.times.rule_h, self.times.rule_h, "h")
        return (
            f"{100 * self.thickness_m:.2g} cm thick, {where}: {hours_words(self.times.band)} by the model, "
            f"{hours_words(rule_band)} by the rule of weight.",
            f"Allow {hours_words(Band(self.allow_h, self.allow_h, self.allow_h, 'h'))}.",
            self._after_words(),
            *((ICY[self.place.value],) if self.may_be_icy else ()),
        )

    def _after_words(self) -> str:
        if self.place is ThawPlace.WATER:
            return "In a bag that does not leak, fresh cold water every half hour, and cook it at once."
        days = f"{self.keeps_days:g} day" + ("" if self.keeps_days == 1 else "s")
        return (
            f"In a dish on the lowest shelf, packs apart. Once thawed it keeps {days} more in the fridge, and "
            "may go back into the freezer uncooked."
        )


def thaw_time(
    parts: FoodParts,
    kind: PackKind,
    pack_kg: float,
    *,
    thickness_m: float = 0.0,
    place: ThawPlace = ThawPlace.FRIDGE,
    place_c: float | None = None,
) -> ThawTime:
    """Hours for one pack or piece, laid apart from others.

    Valid: fridge 1 to 7 °C, water 1 to 21 °C. Raises Refusal for the counter and for warmer places, InputError for a
    pack that can't be.
    """
    around = _medium(place, place_c)
    foods = {mixture: freezable_of(parts, mixture) for mixture in parts.mixtures}
    packs = {mix: pack_of_kind(kind, pack_kg, thickness_m, food.density_kg_m3) for mix, food in foods.items()}
    band = parts.band(
        lambda mixture: thawing_h(
            packs[mixture],
            foods[mixture],
            thermal(mixture.fractions, THAWED_C).conductivity_w_m_k,
            around,
            from_c=FREEZER_C,
        )
    )
    times = Thawing(rule_h(pack_kg, h_per_kg(place)), band)
    keeps_days = keeps_thawed_days(parts) if place is ThawPlace.FRIDGE else 0.0
    thickness = max(pack.thickness_m for pack in packs.values())
    return ThawTime(place, thickness, times, times.take_out_h(24 * keeps_days), keeps_days)


def keeps_thawed_days(parts: FoodParts) -> float:
    """Days in the fridge after thawing there (R113): named cuts of red meat three, everything else one.

    Just “beef” may be minced, so it counts as that.
    """
    words = parts.food.key.replace(",", " ").split()
    is_whole = parts.form is None or "ground" not in parts.form
    is_cut = parts.food.group in RED_MEAT and is_whole and len(words) > 1 and not NO_CUTS.intersection(words)
    return constant("thawed_red_meat_keep_days" if is_cut else "thawed_keep_days").value


def h_per_kg(place: ThawPlace) -> float:
    """Hours per kilogram by the published rule of the place."""
    if place is ThawPlace.WATER:
        return constant("thaw_cold_water_min_per_lb").value / 60 / (G_PER_LB / 1000)
    return constant("thaw_refrigerator_h_per_5_lb").value / (5 * G_PER_LB / 1000)


def _medium(place: ThawPlace, place_c: float | None) -> Medium:
    if place_c is not None and not -5 <= place_c <= 60:
        raise InputError(f"No place to thaw has {place_c:g} °C; a fridge has 1 to 5 °C, cold water up to 21 °C.")
    if place is ThawPlace.WATER:
        return water_bath(WATER_C if place_c is None else place_c)
    if place is ThawPlace.FRIDGE:
        return fridge(FRIDGE_C if place_c is None else place_c)
    return still_air(ROOM_C if place_c is None else place_c)


def thawing_cautions() -> tuple[str, ...]:
    """What holds for every thawing."""
    return (
        "Only in the fridge, in cold water, or while it cooks: never on the counter, in a warm room or in hot water.",
        "The hours are by a model for a solid piece; a hollow bird thaws sooner. Feel for ice in the middle.",
        AUTHORITY,
    )


def thawing_sources() -> str:
    """Where the rules are printed."""
    return source_words(*THAWING_RULES)
