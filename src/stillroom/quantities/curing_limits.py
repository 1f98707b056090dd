"""How much nitrite, nitrate and salt a cured product may and must have: the printed limits with their sources."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from stillroom.errors import InputError
from stillroom.tables.rules import Rule, rule


class CuredProduct(StrEnum):
    """What the meat becomes; the limits differ."""

    BACON = "bacon"
    SAUSAGE = "sausage"
    DRY_SAUSAGE = "dry sausage"
    WHOLE_MUSCLE = "whole muscle"
    DRY_AGED = "dry-aged whole muscle"


class CureMethod(StrEnum):
    """How the cure gets into the meat, which decides the sum."""

    DRY = "dry"  # rubbed on and left until all is taken up
    GROUND = "ground"  # mixed into ground meat
    PUMPED = "pumped"  # injected as pickle
    BRINE = "brine"  # covered with brine until meat and brine are equal


@dataclass(frozen=True, slots=True)
class NitriteLimit:
    """Most ingoing sodium nitrite [ppm of green weight], and ascorbate that has to go with it."""

    product: CuredProduct
    method: CureMethod
    nitrite_ppm: float
    ascorbate_ppm: float
    rule: Rule

    @property
    def source(self) -> str:
        """Where the limit is printed."""
        return self.rule.source


@cache
def curing_data() -> dict[str, Any]:
    """The file of curing limits as it stands."""
    text = (files("stillroom.quantities") / "data" / "curing.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def limits() -> tuple[NitriteLimit, ...]:
    """All printed nitrite limits."""
    return tuple(
        NitriteLimit(
            CuredProduct(row["product"]),
            CureMethod(row["method"]),
            float(row["nitrite_ppm"]),
            float(row.get("ascorbate_ppm", 0)),
            rule(row["rule"]),
        )
        for row in curing_data()["limit"]
    )


def limit(product: CuredProduct, method: CureMethod) -> NitriteLimit:
    """The limit for this product and method; InputError when the product is not made that way."""
    for row in limits():
        if row.product is product and row.method is method:
            return row
    methods = ", ".join(row.method for row in limits() if row.product is product)
    raise InputError(f"No limit is printed for {product} cured by the method “{method}”; choose one of: {methods}.")


def may_hold_nitrate(product: CuredProduct) -> bool:
    """Whether nitrate is allowed at all: never in bacon, only in what is dried or aged for weeks."""
    return str(product) in curing_data()["nitrate"]["products"]


def most_nitrate_ppm() -> float:
    """Most nitrate from a household mix [ppm], 21 CFR 172.170."""
    return float(curing_data()["nitrate"]["nitrate_ppm"])


def least_salt_fraction(product: CuredProduct) -> float:
    """Least salt, mix counted, as a share of the meat [-]; 0 where no source gives one."""
    rows = curing_data()["least_salt"]
    return next((float(row["fraction"]) for row in rows if row["product"] == product), 0.0)
