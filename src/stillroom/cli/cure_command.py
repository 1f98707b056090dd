"""`stillroom cure PRODUCT MEAT`: curing mix, salt and brine within the nitrite limit of the product."""

from __future__ import annotations

from typing import Annotated, NoReturn

import typer

from stillroom.cli.sums_output import print_json, refusal_said
from stillroom.errors import InputError
from stillroom.quantities import amounts, cure, cure_advice, curing_limits
from stillroom.quantities.bench import bench_g, mass_text
from stillroom.quantities.curing_limits import CuredProduct, CureMethod
from stillroom.quantities.measured_text import read_length_mm, read_percent, read_ppm

PRODUCTS = ", ".join(CuredProduct)


def cure_command(
    product: Annotated[str, typer.Argument(help=f"One of: {PRODUCTS}.")],
    meat: Annotated[str, typer.Argument(help="Raw weight of the meat, as in “4 kg” or “9 lb 4 oz”.")],
    *,
    mix: Annotated[str, typer.Option("--mix", help="Nitrite in your curing mix, from its pack: “6.25%”.")] = "",
    nitrate: Annotated[str, typer.Option("--nitrate", help="Nitrate in your curing mix, from its pack.")] = "0%",
    method: Annotated[str, typer.Option("--method", help=f"One of: {', '.join(CureMethod)}.")] = "",
    ppm: Annotated[str, typer.Option("--ppm", help="Nitrite wanted on the raw meat, as in “120”.")] = "",
    mix_amount: Annotated[str, typer.Option("--check-mix", help="Instead of --ppm: mix already weighed out.")] = "",
    salt: Annotated[str, typer.Option("--salt", help="All salt, the mix counted, as in “2.5%”.")] = "",
    sugar: Annotated[str, typer.Option("--sugar", help="Sugar, as in “1%”.")] = "0%",
    brine: Annotated[str, typer.Option("--brine", help="Whole brine, salt counted, as in “3 kg”.")] = "",
    pump: Annotated[str, typer.Option("--pump", help="Share of brine pumped in, as in “10%”.")] = "0%",
    thickness: Annotated[str, typer.Option("--thickness", help="At the thickest, as in “40 mm”: gives days.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Weigh out an equilibrium cure: nitrite within its limit, salt less what the mix brings."""
    with refusal_said(as_json):
        made_of = _product(product)
        order = cure.CureOrder(
            product=made_of,
            method=_method(method, made_of),
            meat_g=_mass_g(meat, "the meat"),
            mix=_mix(mix, nitrate),
            salt_fraction=read_percent(salt) if salt else _ask("--salt", "all salt as a share of the meat, as in 2.5%"),
            sugar_fraction=read_percent(sugar),
            brine_g=_mass_g(brine, "the brine") if brine else 0.0,
            pump_fraction=read_percent(pump),
        )
        nitrite_ppm = _ppm(order, ppm, mix_amount)
        weighed = cure.amounts(order, nitrite_ppm)
        days = cure_advice.days(read_length_mm(thickness)) if thickness else None
    cautions = cure_advice.cautions(order, weighed)
    if as_json:
        _print_json(order, weighed, days, cautions)
    else:
        _print_lines(order, weighed, days, cautions)


def _product(text: str) -> CuredProduct:
    try:
        return CuredProduct(text.strip().lower())
    except ValueError:
        raise InputError(f"“{text}” is no cured product known here; choose one of: {PRODUCTS}.") from None


def _method(text: str, product: CuredProduct) -> CureMethod:
    """The method; may be left out where the product has only one."""
    known = [row.method for row in curing_limits.limits() if row.product is product]
    if not text and len(known) == 1:
        return known[0]
    if text.strip().lower() not in known:
        raise InputError(f"Say --method for {product}; it is one of: {', '.join(known)}.")
    return CureMethod(text.strip().lower())


def _mix(nitrite: str, nitrate: str) -> cure.Mix:
    if not nitrite:
        _ask("--mix", "the nitrite in your curing mix as its pack says; 6.25% in the USA, other countries differ")
    return cure.Mix(read_percent(nitrite), read_percent(nitrate))


def _ask(option: str, what: str) -> NoReturn:
    raise InputError(f"Give {option}: {what}.")


def _mass_g(text: str, what: str) -> float:
    amount = amounts.parse(text)
    if amount.kind != "mass":
        raise InputError(f"Weigh {what}: “{text}” is not a weight. A cure is never measured by volume.")
    return amount.value


def _ppm(order: cure.CureOrder, ppm: str, mix_amount: str) -> float:
    if bool(ppm) == bool(mix_amount):
        most = curing_limits.limit(order.product, order.method).nitrite_ppm
        _ask("--ppm", f"nitrite on the raw meat, at most {most:g} for this; or --check-mix: the mix you weighed out")
    return read_ppm(ppm) if ppm else cure.ppm(order, _mass_g(mix_amount, "the mix"))


def _print_json(
    order: cure.CureOrder, weighed: cure.CureAmounts, days: cure_advice.CureDays | None, cautions: tuple[str, ...]
) -> None:
    print_json(
        {
            "refused": False,
            "product": str(order.product),
            "method": str(order.method),
            "meat_g": order.meat_g,
            "nitrite_ppm": weighed.ppm,
            "limit_ppm": weighed.limit.nitrite_ppm,
            "nitrate_ppm": weighed.nitrate_ppm,
            "nitrite_g": weighed.nitrite_g,
            "mix_g": weighed.mix_g,
            "mix_to_weigh_g": weighed.mix_bench_g,
            "salt_total_g": weighed.salt_total_g,
            "salt_in_mix_g": weighed.salt_in_mix_g,
            "plain_salt_g": weighed.plain_salt_g,
            "sugar_g": weighed.sugar_g,
            "ascorbate_g": weighed.ascorbate_g,
            "water_g": weighed.water_g,
            "days": [days.shorter, days.longer] if days else None,
            "days_evidence": days.note if days else None,
            "source": weighed.limit.source,
            "evidence": weighed.limit.rule.evidence,
            "cautions": list(cautions),
        }
    )


def _print_lines(
    order: cure.CureOrder, weighed: cure.CureAmounts, days: cure_advice.CureDays | None, cautions: tuple[str, ...]
) -> None:
    print(f"{order.product.capitalize()}, {order.method} cure, {mass_text(order.meat_g)} of meat")
    print(f"  Curing mix   {weighed.mix_bench_g:g} g   (exactly {weighed.mix_g:.2f} g; never more)")
    print(f"  Plain salt   {bench_g(weighed.plain_salt_g):g} g   ({weighed.salt_in_mix_g:.1f} g more is in the mix)")
    for name, mass_g in (("Sugar", weighed.sugar_g), ("Ascorbate", weighed.ascorbate_g), ("Water", weighed.water_g)):
        if mass_g > 0:
            print(f"  {name:<10}   {bench_g(mass_g):g} g")
    print(f"  Nitrite {weighed.ppm:.4g} ppm of at most {weighed.limit.nitrite_ppm:g} ppm", end="")
    print(f"; nitrate {weighed.nitrate_ppm:.4g} ppm" if weighed.nitrate_ppm else "")
    if days:
        print(f"  Leave {days.shorter} to {days.longer} days, turned daily ({days.note})")
    print(f"  Limit: {weighed.limit.source}; evidence: {weighed.limit.rule.evidence}")
    for caution in cautions:
        print(f"  ! {caution}")
