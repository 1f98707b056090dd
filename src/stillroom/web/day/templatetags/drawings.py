"""Drawn things of the split: jars that fill in layers, canner loads, the freezer. Words stand beside each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from stillroom.model.plan import FreezerAfter
from stillroom.web.day.split_page import Load, Lump
from stillroom.web.day.timetable_page import LINE_PX
from stillroom.web.frame.templatetags.kitchen_words import mass

register = template.Library()

_TOP, _HIGH, _LEFT, _WIDE = 34, 112, 10, 76  # the inside of the large jar
_LEAST = 3.0  # a layer that can still be seen
_FITS_NUMBER = 14
_A_ROW = 14  # jars of a load beside each other
_JAR_WIDE, _JAR_HIGH = 15, 21
LONGEST_WAY = 300


@register.simple_tag
def layers(lump: Lump) -> SafeString:
    """A jar filled with the parts of a lump, the first at the bottom, each with its number."""
    parts = lump.leaves
    total = sum(part.mass_g for part in parts) or 1.0
    highs = _heights([part.mass_g / total for part in parts])
    rows, bottom = [], float(_TOP + _HIGH)
    for part, high in zip(parts, highs, strict=True):
        bottom -= high
        rows.append((part.look, _LEFT, round(bottom, 1), _WIDE, round(high, 1)))
    marks = [
        (part.look, _LEFT + _WIDE / 2, round(y + high / 2 + 5, 1), part.number)
        for part, (_, _, y, _, high) in zip(parts, rows, strict=True)
        if high >= _FITS_NUMBER
    ]
    return format_html(
        '<svg class="layers" viewBox="0 0 96 154" width="96" height="154" aria-hidden="true">{}'
        '<path class="glass" d="M22 4h52v13c0 5 14 8 14 18v107a8 8 0 0 1-8 8H16a8 8 0 0 1-8-8V35c0-10 14-13 14-18z"/>'
        '<path class="glass" d="M20 11h56"/>{}</svg>',
        format_html_join("", '<rect class="{}" x="{}" y="{}" width="{}" height="{}"/>', rows),
        format_html_join("", '<text class="{}" x="{}" y="{}" text-anchor="middle">{}</text>', marks),
    )


def _heights(shares: Sequence[float]) -> list[float]:
    """Heights that add up to the jar; small ones grow until they can be seen, the others give way."""
    seen = [max(_LEAST, share * _HIGH) for share in shares]
    scale = _HIGH / (sum(seen) or 1.0)
    return [high * scale for high in seen]


@register.simple_tag
def canner_load(load: Load) -> SafeString:
    """The places of a canner: filled jars, then the empty outlines where jars of water stand."""
    across = min(load.places, _A_ROW)
    down = -(-load.places // _A_ROW)
    jars = [
        ("full" if place < load.filled else "water", place % _A_ROW * _JAR_WIDE, place // _A_ROW * _JAR_HIGH)
        for place in range(load.places)
    ]
    return format_html(
        '<svg class="load" viewBox="-1 -1 {0} {1}" width="{0}" height="{1}" aria-hidden="true">{2}</svg>',
        across * _JAR_WIDE + 1,
        down * _JAR_HIGH + 1,
        format_html_join(
            "",
            '<path class="{}" transform="translate({} {})" d="M3 1h6v3l2 2v11a1 1 0 0 1-1 1H2a1 1 0 0 1-1-1V6l2-2z"/>',
            jars,
        ),
    )


@register.simple_tag
def freezer_box(freezer: FreezerAfter) -> SafeString:
    """The freezer with what is in it, what goes out, what comes in, and the line up to which it may be filled."""
    inside = 180.0
    scale = inside / max(freezer.capacity_l, 1.0)
    stays = (freezer.before_l - freezer.freed_l) * scale
    parts: Iterable[tuple[str, float, float]] = (
        ("before", 10, stays),
        ("added", 10 + stays, freezer.added_l * scale),
    )
    line = 10 + freezer.plannable_l * scale
    return format_html(
        '<svg class="freezer" viewBox="0 0 200 76" width="200" height="76" aria-hidden="true">{}'
        '<rect class="glass" x="10" y="18" width="180" height="50" rx="5"/><path class="glass" d="M6 18h188M84 11h32"/>'
        '<path class="line" d="M{} 20v46"/></svg>',
        format_html_join(
            "",
            '<rect class="{}" x="{}" y="20" width="{}" height="46"/>',
            ((look, round(x, 1), round(max(0.0, wide), 1)) for look, x, wide in parts),
        ),
        round(line, 1),
    )


@register.filter
def kilograms(mass_kg: float) -> str:
    """ "0 kg", "12.4 kg"."""
    return f"{mass_kg:.1f}".removesuffix(".0") + " kg"


@register.filter
def food_word(item: str) -> str:
    """A food without its state where it is fresh, with it otherwise."""
    return item.removesuffix(", fresh")


@register.filter
def underscores(text: str) -> str:
    """Words instead of a key."""
    return text.replace("_", " ")


@register.simple_tag(takes_context=True)
def counted(context: dict[str, Any], amount: float, unit: str) -> str:
    """Grams in the units of the household, what is counted as a whole number."""
    if unit == "g":
        return mass(context, amount)
    return f"{amount:.0f} {unit}"


@register.filter
def add_px(place: float, more: float) -> float:
    """A place in a drawing, so much further."""
    return round(place + more, 1)


@register.filter
def line_px(number: int) -> float:
    """Where a line of writing in a block stands."""
    return LINE_PX * number - 1.0


@register.filter
def of_a_length(ways: Sequence[str]) -> list[str]:
    """Ways out that can be read at a glance: one that leaves out half of the week is none."""
    return [way for way in ways or () if len(way) <= LONGEST_WAY]


@register.filter
def percent(share: float) -> str:
    """ "97 %", "99.6 %": one figure more only where little is missing, and never rounded up to all of it."""
    figures = 1 if share > 0.99 else 0
    return f"{min(share * 100, 99.9 if share < 1 else 100):.{figures}f}".removesuffix(".0") + " %"
