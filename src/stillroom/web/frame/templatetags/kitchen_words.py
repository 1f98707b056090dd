"""Amounts, days and lengths of time in the words and the units of the household."""

from __future__ import annotations

import secrets
from datetime import date, timedelta
from typing import Any

from django import forms, template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from stillroom import units
from stillroom.web.frame.once import FIELD, is_token

register = template.Library()


@register.simple_tag
def once(form: forms.BaseForm | None = None) -> SafeString:
    """The hidden token by which a form is acted on once; a `form` that comes back with a complaint keeps its own."""
    sent = str(form.data.get(FIELD, "")) if form is not None and form.is_bound else ""
    token = sent if is_token(sent) else secrets.token_urlsafe(24)
    return format_html('<input type="hidden" name="{}" value="{}">', FIELD, token)


@register.simple_tag(takes_context=True)
def mass(context: dict[str, Any], mass_g: float) -> str:
    """A mass in kg and g, or in lb and oz."""
    return mass_text(mass_g, is_us=_is_us(context))


def mass_text(mass_g: float, *, is_us: bool = False) -> str:
    """`mass_g` [g] as one weighs: "850 g", "12.5 kg", "3 lb 4 oz"."""
    if is_us:
        ounces = mass_g / units.G_PER_OZ
        if ounces < 16:
            return f"{ounces:.1f}".removesuffix(".0") + " oz"
        pounds = units.pounds(mass_g)
        if pounds >= 20:
            return f"{pounds:.0f} lb"
        whole, rest = divmod(round(ounces), 16)
        return f"{whole} lb {rest} oz" if rest else f"{whole} lb"
    if mass_g < 1000:
        return f"{mass_g:.0f} g"
    return f"{mass_g / 1000:.{1 if mass_g < 100_000 else 0}f}".removesuffix(".0") + " kg"


@register.simple_tag(takes_context=True)
def volume(context: dict[str, Any], volume_l: float) -> str:
    """Room in litres, or in cubic feet."""
    return f"{volume_l / units.L_PER_CUBIC_FOOT:.1f} cu ft" if _is_us(context) else f"{volume_l:.0f} L"


@register.simple_tag(takes_context=True)
def height(context: dict[str, Any], altitude_m: float) -> str:
    """An altitude in the household's unit, the other beside it."""
    metric, us = f"{altitude_m:,.0f} m", f"{units.feet(altitude_m):,.0f} ft"
    return f"{us} ({metric})" if _is_us(context) else f"{metric} ({us})"


@register.simple_tag
def days_left(days: int | None, of_days: int | None) -> SafeString | str:
    """A dot for each day of a clock, filled while it is still to come; a fortnight at the most."""
    if days is None or of_days is None or not 0 < of_days <= 14:
        return ""
    dots = format_html_join(
        "",
        '<circle cx="{}" cy="6" r="4.5" class="{}"/>',
        ((6 + 13 * place, "left" if place <= days else "gone") for place in range(of_days + 1)),
    )
    return format_html('<svg class="days" viewBox="0 0 {} 12" aria-hidden="true">{}</svg>', 13 * of_days + 13, dots)


@register.simple_tag
def jar(share: float, look: str = "") -> SafeString:
    """A jar filled to `share` (0 to 1); decoration: say the number in words beside it."""
    high = round(32 * min(1.0, max(0.0, share)), 1)
    return format_html(
        '<svg class="jar {}" viewBox="0 0 40 54" aria-hidden="true"><rect class="fill" x="7" y="{}" width="26"'
        ' height="{}" rx="2"/><path class="glass" d="M10 3h20v7l5 6v31a4 4 0 0 1-4 4H9a4 4 0 0 1-4-4V16l5-6z"/></svg>',
        look,
        49 - high,
        high,
    )


@register.filter
def day_name(day: date, today: date) -> str:
    """ "today", "tomorrow", "yesterday", else "Sat 10 Apr"."""
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}.get((day - today).days)
    return near or f"{day:%a} {day.day} {day:%b}" + (f" {day.year}" if day.year != today.year else "")


@register.filter
def after_days(day: date, days: int) -> date:
    """The day so many days later."""
    return day + timedelta(days=days)


@register.filter
def get(mapping: Any, key: Any) -> Any:
    """The value of a mapping under a key that is itself a value."""
    return mapping.get(key)


def _is_us(context: dict[str, Any]) -> bool:
    household = getattr(context.get("request"), "household", None)
    return bool(household and household.units == "us")
