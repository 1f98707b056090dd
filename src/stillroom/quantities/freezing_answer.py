"""All that is told of food to be frozen: hours by shape, room, the thickest pack, the days; figures and sentences."""

from __future__ import annotations

import math
from dataclasses import dataclass

from stillroom.errors import InputError
from stillroom.quantities.cold_text import AUTHORITY, hours_words, source_words, span_words, temp_words
from stillroom.quantities.food_parts import POURED, FoodParts
from stillroom.quantities.freezing import (
    CHILLED,
    DOWN_K,
    SOLID_C,
    USUAL_PACK_KG,
    Cold,
    FreezerLoad,
    PackKind,
    PackTime,
    bag_thickness_m,
    freezer_load,
    pack_time,
    thickest_flat_m,
    usual_thickness_m,
)
from stillroom.tables.constants import constant
from stillroom.tables.freezing import headspaces
from stillroom.units import celsius

IN_ONE_PIECE = ("beef", "pork", "lamb and game", "poultry", "fish")  # groups that come as birds, joints, whole fish
FREEZING_RULES = ("R103", "R123", "R124", "R126", "R128", "R134")


@dataclass(frozen=True, slots=True)
class FreezingAnswer:
    """A mass [kg] in packs of `pack_kg`, in every shape; the load where the size of the freezer was told."""

    parts: FoodParts
    mass_kg: float
    pack_kg: float
    cold: Cold
    ways: tuple[PackTime, ...]
    thickest_m: float | None
    load: FreezerLoad | None
    free_l: float | None

    @property
    def packs(self) -> int:
        """How many packs; the last may be smaller."""
        return math.ceil(self.mass_kg / self.pack_kg - 1e-9)

    @property
    def sentences(self) -> tuple[str, ...]:
        """What a cook reads, in order."""
        return (
            f"Each pack of {self.pack_kg:.3g} kg, put in at {self.cold.from_c:.0f} °C, freezer at "
            f"{self.cold.freezer_c:.0f} °C:".replace("-", "−"),
            *(f"- {way_words(way, self.cold)}" for way in self.ways),
            self._thickest_words(),
            *self._load_words(),
            *self._room_words(),
            headspace_words(self.parts),
        )

    def _thickest_words(self) -> str:
        within_h = constant("freeze_solid_within_h").value
        if self.thickest_m is None:
            return f"No flat pack of a centimetre or more is surely solid within {within_h:.0f} h here."
        return (
            f"Flat packs of up to {100 * self.thickest_m:.1f} cm, laid out singly, are solid within {within_h:.0f} h "
            "by the slow side."
        )

    def _load_words(self) -> tuple[str, ...]:
        if self.load is None:
            return ()
        heavier = self.load.counts_as_kg > self.mass_kg * 1.005
        counts = f"; warm as it is it counts as {self.load.counts_as_kg:.1f} kg" if heavier else ""
        days, each_kg = len(self.load.loads_kg), self.load.loads_kg[0]
        if days == 1:
            return (f"All at once: this freezer takes {self.load.per_day_kg:.1f} kg a day{counts}.",)
        return (
            f"Over {days} days, {each_kg:.1f} kg a day: this freezer takes {self.load.per_day_kg:.1f} kg a day"
            f"{counts}. Until its day the rest waits in the fridge, within the days that it keeps there.",
        )

    def _room_words(self) -> tuple[str, ...]:
        printed_l = self.mass_kg / constant("freezer_packed_kg_per_l").value
        printed = f"The printed {constant('freezer_packed_kg_per_l').value:g} kg per litre makes {printed_l:.0f} L."
        return (printed, *self._free_words())

    def _free_words(self) -> tuple[str, ...]:
        if self.free_l is None:
            return ()
        fits = [way for way in self.ways if way.room.high <= self.free_l]
        share = constant("freezer_fill_share").value
        free = f"Filled to {share:.0%}, {max(0.0, self.free_l):.0f} L are free"
        if not fits:
            return (f"{free}: it may not fit in any shape.",)
        return (f"{free}: it fits as {' or '.join(f'{way.kind.value}s' for way in fits)}.",)


def freeze(
    parts: FoodParts,
    mass_kg: float,
    *,
    pack_kg: float = 0.0,
    thickness_m: float = 0.0,
    bag_m: tuple[float, float] | None = None,
    cold: Cold = CHILLED,
    freezer_l: tuple[float, float | None] | None = None,
) -> FreezingAnswer:
    """Every shape; `bag_m` are the sides of a bag laid flat, `freezer_l` the litres of the freezer and those used.

    Where nothing was told, packs of up to a kilogram, 3 cm thick. Raises InputError for what can't be.
    """
    pack_kg = pack_kg or min(mass_kg, USUAL_PACK_KG)
    if pack_kg > mass_kg * (1 + 1e-9):
        raise InputError(f"Packs of {pack_kg:.3g} kg are more than the {mass_kg:.3g} kg there are.")
    if bag_m is not None:
        thickness_m = bag_thickness_m(parts, pack_kg, *bag_m)
    thickness_m = thickness_m or usual_thickness_m(pack_kg)
    if freezer_l is not None and freezer_l[1] is not None and freezer_l[1] > freezer_l[0]:
        raise InputError(f"A freezer of {freezer_l[0]:.3g} litres can't hold {freezer_l[1]:.3g} already; check both.")
    ways = tuple(
        pack_time(parts, kind, pack_kg, thickness_m=thickness_m, total_kg=mass_kg, cold=cold)
        for kind in PackKind
        if kind is not PackKind.ODD or parts.food.group in IN_ONE_PIECE
    )
    load = freezer_load(parts, mass_kg, freezer_l[0], cold) if freezer_l else None
    free_l = None
    if freezer_l is not None and freezer_l[1] is not None:
        free_l = freezer_l[0] * constant("freezer_fill_share").value - freezer_l[1]
    return FreezingAnswer(parts, mass_kg, pack_kg, cold, ways, thickest_flat_m(parts, cold), load, free_l)


def way_words(way: PackTime, cold: Cold) -> str:
    """One shape in a line."""
    down_c = min(cold.freezer_c + DOWN_K, SOLID_C)
    down = "" if down_c >= SOLID_C else f", {down_c:.0f} °C in the middle after {hours_words(way.down)}"
    at_least = f"{way.at_least_h * 60:.0f} min" if way.at_least_h < 2 else f"{way.at_least_h:.1f} h"
    return (
        f"{way.kind.value}, {100 * way.thickness_m:.2g} cm thick: solid in {hours_words(way.solid)}{down} (no "
        f"fan or metal plate brings it below {at_least}); {span_words(way.room, 'L')} for all"
    ).replace("-", "−")


def headspace_words(parts: FoodParts) -> str:
    """Room to leave in a stiff container, by its mouth."""
    pack = "liquid" if parts.food.group in POURED else "dry"
    rows = [row for row in headspaces() if row.pack == pack]
    told = "; ".join(f"{row.container}, {row.mouth} mouth {row.headspace_in:g} in" for row in rows)
    return f"Headspace in stiff boxes and jars, {pack} pack: {told}."


def freezing_cautions(cold: Cold) -> tuple[str, ...]:
    """What holds for every load; a freezer that is too warm."""
    freezer_c = celsius(constant("freezer_f").value)
    warm = (f"A freezer keeps {temp_words(freezer_c)} or colder; yours is warmer.".replace("-", "−"),)
    return (
        *(warm if cold.freezer_c > freezer_c + 0.5 else ()),
        "Spread packs out against cold walls and bare shelves with air between, stack them when hard; an "
        "overloaded freezer is slower than all this and thaws what lies beside.",
        "Perishable food is out of the cold for two hours at most, one above 32 °C.",
        "The hours are by a model: press a pack from the middle of the load after a day.",
        AUTHORITY,
    )


def freezing_sources() -> str:
    """Where the rules are printed."""
    return source_words(*FREEZING_RULES)
