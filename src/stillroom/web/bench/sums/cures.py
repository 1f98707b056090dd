"""Cure and brine."""

from __future__ import annotations

from typing import Any

from stillroom.quantities import amounts, cure, cure_advice, curing_limits
from stillroom.quantities.brine import BrineBasis, brine
from stillroom.quantities.curing_limits import CuredProduct, CureMethod
from stillroom.quantities.measured_text import read_length_mm, read_percent, read_ppm
from stillroom.web.bench.sums.shape import Answer, Figure, SumForm, asked, chosen, grams

FERMENT = "In a ferment the salt holds back what spoils: never less than the recipe, weighed, not spooned."


class CureForm(SumForm):
    """Nitrite within the printed limit of product and method, salt less what the mix brings."""

    needed = ("meat",)
    more = {
        "Brine and pump": ("brine", "pump"),
        "Mix already weighed; sugar, nitrate, thickness": ("mix_amount", "sugar", "nitrate", "thickness"),
    }
    product = chosen("It becomes", [(one.value, one.value) for one in CuredProduct])
    method = chosen("Cured", [(one.value, one.value) for one in CureMethod])
    meat = asked("Raw meat", amounts.weight_g, "“4 kg” or “9 lb 4 oz”", needed=True)
    mix = asked("Nitrite in your curing mix", read_percent, "As its pack says, “6.25%”; countries differ.", needed=True)
    ppm = asked("Nitrite wanted", read_ppm, "Of the raw meat, “120 ppm”.")
    salt = asked("All salt, the mix counted", read_percent, "“2.5%”", needed=True)
    brine = asked("Whole brine", amounts.weight_g, "Salt counted, “3 kg”.")
    pump = asked("Share pumped in", read_percent, "“10%” of the raw weight.")
    mix_amount = asked("Instead of a wish: mix weighed out", amounts.weight_g, "“10 g”: checks what it gives.")
    sugar = asked("Sugar", read_percent, usual="0%")
    nitrate = asked("Nitrate in your curing mix", read_percent, usual="0%")
    thickness = asked("Thickest part", read_length_mm, "“40 mm”: how many days.")

    def clean(self) -> dict[str, Any]:
        """A wish, or a weight to check."""
        typed = super().clean() or self.cleaned_data
        if typed.get("ppm") is not None and typed.get("mix_amount") is not None:
            self.add_error("mix_amount", "Write the nitrite wanted or the mix weighed out, not both.")
        elif typed.get("mix_amount") is None and "mix_amount" not in self.errors:
            self.needs("ppm", "Write the nitrite wanted; the limit of product and method is checked.")
        return typed

    def answer(self) -> Answer:
        """What to weigh out."""
        typed = self.cleaned_data
        order = cure.CureOrder(
            product=CuredProduct(typed["product"]),
            method=CureMethod(typed["method"]),
            meat_g=typed["meat"],
            mix=cure.Mix(typed["mix"], self.got("nitrate", 0.0)),
            salt_fraction=typed["salt"],
            sugar_fraction=self.got("sugar", 0.0),
            brine_g=self.got("brine", 0.0),
            pump_fraction=self.got("pump", 0.0),
        )
        wanted = typed["ppm"] if typed["ppm"] is not None else cure.ppm(order, typed["mix_amount"])
        weighed = cure.amounts(order, wanted)
        more = (("sugar", weighed.sugar_g), ("ascorbate", weighed.ascorbate_g), ("water", weighed.water_g))
        days = cure_advice.days(typed["thickness"]) if typed["thickness"] else None
        nitrate = f"; nitrate {weighed.nitrate_ppm:.4g} ppm" if weighed.nitrate_ppm else ""
        return Answer(
            figures=(
                Figure("curing mix", f"{weighed.mix_bench_g:g} g", f"exactly {weighed.mix_g:.2f} g; never more"),
                Figure("plain salt", grams(weighed.plain_salt_g), f"{weighed.salt_in_mix_g:.1f} g more is in the mix"),
                *(Figure(name, grams(mass_g)) for name, mass_g in more if mass_g > 0),
            ),
            sentences=(
                f"Nitrite {weighed.ppm:.4g} ppm of at most {weighed.limit.nitrite_ppm:g} ppm{nitrate}.",
                *((f"Leave it {days.shorter} to {days.longer} days, turned daily ({days.note}).",) if days else ()),
            ),
            cautions=cure_advice.cautions(order, weighed),
            source=weighed.limit.source,
            evidence=weighed.limit.rule.evidence,
        )


def cure_limits() -> str:
    """All printed limits, in one line."""
    return "; ".join(f"{row.product}, {row.method}: {row.nitrite_ppm:g} ppm" for row in curing_limits.limits())


class BrineForm(SumForm):
    """Salt by weight, whatever the per cent counts from."""

    needed = ("water", "salt")
    water = asked("Water", lambda text: amounts.mass_g(text, "water"), "“2 l” or “1 gal”", needed=True)
    salt = asked("Salt", read_percent, "“3.5%”", needed=True)
    basis = chosen("counted from", [(one.value, one.value.removeprefix("of ")) for one in BrineBasis])
    food = asked("Food that lies in it", amounts.weight_g, "By weight, “5 kg”.")

    def answer(self) -> Answer:
        """The salt, and how strong the brine is."""
        typed = self.cleaned_data
        made = brine(typed["water"], typed["salt"], BrineBasis(typed["basis"]), self.got("food", 0.0))
        evened = (f"{made.evened_fraction:.2%} when food and brine have evened out.",) if typed["food"] else ()
        return Answer(
            figures=(Figure("salt", grams(made.salt_g), f"in {grams(made.water_g)} of water"),),
            sentences=(
                f"{made.poured_fraction:.2%} as poured ({made.salometer_deg:.0f}° salometer), water activity about "
                f"{made.water_activity:.2f}.",
                *evened,
            ),
            cautions=(FERMENT,),
            source="by weight; saturated brine 26.395 % at 60 °F",
        )
