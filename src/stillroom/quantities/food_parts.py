"""What a food named by a cook consists of, as the models of heat take it: water, fat ... and where it begins to freeze.

Where no composition is published, its kin stand for it (the driest and the wettest of them), then a thin and a thick
dish; whatever is worked out from two compositions is told as a band that spans both.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from stillroom.errors import InputError
from stillroom.physics.band import Band
from stillroom.physics.properties import Fractions, density_kg_m3, per_100_g
from stillroom.quantities import amounts
from stillroom.tables import composition
from stillroom.tables.vocabulary import Food, foods, hear

LEAST_WATER_G = 30.0  # per 100 g; drier food is no pot to cool and hardly freezes
FULL_OF_AIR = ("dough and bread",)  # the properties hold for food without pores
WARM_C = 40.0  # at which cooling food is weighed: its density hardly changes
FREEZING_C = -1.0  # meat, fish, vegetables: −0.5 to −1.7 in the ASHRAE table; sweet and salty food lies lower
CRYOSCOPIC_K_KG_MOL = 1.86  # of water
SUGAR_G_MOL, SODIUM_G_MOL = 180.0, 23.0  # counted as simple sugars; salt as two ions
POURED = ("stock and soup", "dish", "pickle and sauce")
LIKELY_MOIST = (*POURED, "vegetable", "fruit", "pork", "beef", "lamb and game", "poultry", "fish")
NOT_MOIST = (
    *("fat", "skin", "bone", "cube", "jerky", "dried", "dry", "oil", "caramel", "chocolate"),
    *("relish", "chutney", "jelly", "pickle", "pickled", "gherkin"),
)


@dataclass(frozen=True, slots=True)
class Mixture:
    """Mass fractions of a food and its initial freezing point [°C]."""

    fractions: Fractions
    freezing_c: float = FREEZING_C


# A broth with little in it and a stew or mash that holds its shape: judgement, no source.
THIN = Mixture(Fractions(0.92, 0.03, 0.01, 0.03, 0.0, 0.01))
THICK = Mixture(Fractions(0.68, 0.12, 0.10, 0.07, 0.01, 0.02))


@dataclass(frozen=True, slots=True)
class FoodParts:
    """A food of the vocabulary with one or two compositions, and the words for where they come from.

    `form` is what its name implies: mince is beef, ground or chopped.
    """

    food: Food
    mixtures: tuple[Mixture, ...]
    basis: str
    form: str | None = None

    def band(self, work_out: Callable[[Mixture], Band]) -> Band:
        """What holds for any of its compositions."""
        return Band.covering(*(work_out(mixture) for mixture in self.mixtures))

    def mass_kg(self, amount: str) -> float:
        """The mass of an amount as a cook writes it; a volume of a dish or stock by its density, else by measures."""
        if self.food.group in POURED and (heard := amounts.parse(amount)).kind == "volume":
            return heard.value / 1e6 * sum(_density_kg_m3(each) for each in self.mixtures) / len(self.mixtures)
        return amounts.mass_g(amount, self.food.key) / 1000


def food_parts(name: str) -> FoodParts:
    """The food that a cook means by `name`.

    Raises UnknownFood where there is none of that name, InputError where it is dry, full of air, or nothing is known.
    """
    heard = hear(name)
    return replace(_parts_of(heard.food), form=heard.form)


@cache
def _parts_of(asked: Food) -> FoodParts:
    if asked.group in FULL_OF_AIR:
        raise InputError(f"{asked.key} is full of air, and these sums hold for moist food without pores.")
    kin = composed_kin(asked, LEAST_WATER_G) or _namesakes(asked)
    if kin:
        by_water = sorted(kin, key=lambda key: composition.of(key).water_g)
        ends = tuple(dict.fromkeys((by_water[0], by_water[-1])))
        return FoodParts(asked, tuple(_mixture(key) for key in ends), f"the composition of {' and '.join(ends)}")
    if asked.composition is not None or not _is_likely_moist(asked):
        raise InputError(
            f"{asked.key} is too dry for these sums, or nobody has published what it consists of; "
            f"name a moist food{_cooked_names(asked)}, or for a dish “soup” or “stew”."
        )
    basis = "anything from a thin broth to a thick stew, as no composition is published"
    return FoodParts(asked, (THIN, THICK), basis)


def _cooked_names(asked: Food) -> str:
    """The same food cooked, where it is known so: rice is cooled boiled, never dry."""
    first = asked.key.split(",")[0].split()[0]
    cooked = [
        f"“{each.key}”"
        for each in foods()
        if each.key.split(",")[0].split()[0] == first and ("cooked" in each.key or "boiled" in each.key)
    ]
    return f" such as {' or '.join(cooked[:2])}" if cooked else ""


def composed_kin(asked: Food, least_water_g: float) -> tuple[str, ...]:
    """The food where its own composition is published, else its kin in the process tables; moist ones only."""
    if asked.composition is not None and _is_usable(asked.composition, least_water_g):
        return (asked.composition,)
    if asked.process_food is None:
        return ()
    kin = (each.composition for each in foods() if each.process_food == asked.process_food)
    return tuple(key for key in kin if key is not None and _is_usable(key, least_water_g))


def fractions_of(composition_key: str) -> Fractions:
    """The published composition as mass fractions."""
    found = composition.of(composition_key)
    return per_100_g(found.water_g, found.protein_g, found.fat_g, found.carb_g, found.fibre_g, found.ash_g)


def freezing_c(composition_key: str) -> float:
    """Initial freezing point [°C] of an ideal solution, or that of meat and vegetables where it lies higher.

    t = −1.86 (sugar/180 + 2 sodium/23)/water, grams over grams per mole and kilograms of water

    Valid: within 1 °C of the printed ones for fruit, vegetables, milk and meat. Source: Raoult's law; checked against
    ASHRAE Refrigeration, thermal properties of foods, table 3.
    """
    found = composition.of(composition_key)
    solutes_mol = (found.sugar_g or 0.0) / SUGAR_G_MOL + 2 * (found.sodium_mg or 0.0) / 1000 / SODIUM_G_MOL
    return min(FREEZING_C, -CRYOSCOPIC_K_KG_MOL * solutes_mol / (found.water_g / 1000))


def _density_kg_m3(mixture: Mixture) -> float:
    return float(density_kg_m3(mixture.fractions, WARM_C))


def _mixture(composition_key: str) -> Mixture:
    return Mixture(fractions_of(composition_key), freezing_c(composition_key))


def _is_usable(key: str, least_water_g: float) -> bool:
    """Moist, and made of the parts that are tabled: alcohol and vinegar are not."""
    found = composition.of(key)
    parts_g = found.water_g + found.protein_g + found.fat_g + found.carb_g + found.ash_g
    return found.water_g >= least_water_g and abs(parts_g - 100) < 3


def _namesakes(asked: Food) -> tuple[str, ...]:
    """Others of its group whose name ends alike: beef stock for pork stock."""
    if asked.composition is not None:
        return ()
    last = asked.key.split()[-1]
    alike = (each for each in foods() if each.group == asked.group and each.key.split()[-1] == last)
    return tuple(each.composition for each in alike if each.composition and _is_usable(each.composition, LEAST_WATER_G))


def _is_likely_moist(asked: Food) -> bool:
    words = asked.key.replace(",", " ").replace("-", " ").split()
    return asked.group in LIKELY_MOIST and not any(word.rstrip("s") in NOT_MOIST for word in words)
