"""One chart of a jar in the canner: temperatures above, lethal rate below. Web, paper and command use this one spec.

Every line is told by its dash and by a label on it, not by its colour alone.
"""

from __future__ import annotations

import re
from html import escape
from typing import Any
from zlib import crc32

from stillroom.heat.curve import Curve

GROUND, INK, FAINT = "#fbf7ee", "#2b2522", "#d9d0bf"
DAMSON, LEAF, DEEP_BLUE, MUSTARD = "#6d2c4e", "#4d7c4f", "#1d3f72", "#c08a1e"
FONT = "Georgia, 'DejaVu Serif', serif"
WIDTH_PX, TEMPERATURE_PX, RATE_PX = 640, 280, 120
LETTER_PX = 6.4  # of the names of phases
LABEL_ROOM = 0.12  # of the height of a panel, for the words above its highest line
STANDS = "A model, and only a caution: the printed process stands as it is printed."


def chart_spec(curve: Curve, *, title: str, said: str) -> dict[str, Any]:
    """The Vega-Lite spec as a plain dict; `said` is the same answer in a sentence, for those who can't see it."""
    import altair as alt

    both = (
        alt.vconcat(_temperatures(alt, curve), _lethal_rate(alt, curve), spacing=14)
        .resolve_scale(x="shared")
        .properties(
            title=alt.TitleParams(
                title, subtitle=STANDS, anchor="start", offset=26, fontSize=17, subtitleFontSize=12, color=INK
            ),
            description=f"{title}. {said} {STANDS}",
            background=GROUND,
            padding=16,
        )
        .configure(font=FONT)
        .configure_view(stroke=None)
        .configure_title(font=FONT, subtitleFont=FONT, subtitleColor=INK, fontWeight="bold")
        .configure_axis(
            labelColor=INK, titleColor=INK, gridColor=FAINT, domainColor=INK, tickColor=INK, labelFontSize=12,
            titleFontSize=12, titleFontWeight="normal", labelFont=FONT, titleFont=FONT,
        )
    )  # fmt: skip
    spec: dict[str, Any] = both.to_dict()
    return spec


def svg(spec: dict[str, Any]) -> str:
    """The chart as SVG, drawn without any network, with a title and a description for those who listen."""
    import vl_convert

    drawn: str = vl_convert.vegalite_to_svg(spec, allowed_base_urls=[])
    return _with_words(drawn, title=spec["title"]["text"], description=spec["description"])


def _temperatures(alt: Any, curve: Curve) -> Any:
    """Canner dashed, cold spot solid inside its band, phases as upright marks."""
    rows = [
        {"minute": minute, "canner": canner, "low": low, "middle": middle, "high": high}
        for minute, canner, low, middle, high in zip(curve.time_min, *curve.temperatures_c, strict=True)
    ]
    plot = alt.Chart(alt.Data(values=_rounded(rows)))
    minutes = alt.X(
        "minute:Q", title=None, axis=alt.Axis(labels=False, ticks=False, grid=False), scale=_whole(alt, curve)
    )
    hottest, coldest = max(curve.canner_c), min(*curve.low_c, *curve.canner_c)
    degrees = alt.Scale(domain=[10 * (coldest // 10), hottest + LABEL_ROOM * (hottest - coldest)], nice=False)
    band = plot.mark_area(color=DAMSON, opacity=0.22).encode(
        x=minutes, y=alt.Y("low:Q", title="temperature, °C", scale=degrees), y2="high:Q"
    )
    coldest = plot.mark_line(color=DAMSON, strokeWidth=2.6).encode(x=minutes, y=alt.Y("middle:Q", scale=degrees))
    canner = plot.mark_line(color=DEEP_BLUE, strokeWidth=2, strokeDash=[8, 4]).encode(
        x=minutes, y=alt.Y("canner:Q", scale=degrees)
    )
    return alt.layer(*_phases(alt, curve), band, canner, coldest, *_temperature_labels(alt, curve)).properties(
        width=WIDTH_PX, height=TEMPERATURE_PX
    )


def _lethal_rate(alt: Any, curve: Curve) -> Any:
    """How much each minute is worth; the area under the line is the lethality."""
    rows = [
        {"minute": minute, "low": low, "middle": middle, "high": high}
        for minute, low, middle, high in zip(curve.time_min, *curve.lethal_rates, strict=True)
    ]
    plot = alt.Chart(alt.Data(values=_rounded(rows, digits=6)))
    minutes = alt.X(
        "minute:Q",
        title="minutes after heat on",
        axis=alt.Axis(grid=False, labelFlush=False, tickCount=10),
        scale=_whole(alt, curve),
    )
    scale = alt.Scale(domain=[0, (1 + 2 * LABEL_ROOM) * max(curve.lethal_rate_high)], nice=False)
    band = plot.mark_area(color=LEAF, opacity=0.25).encode(
        x=minutes, y=alt.Y("low:Q", title="lethal rate", scale=scale, axis=alt.Axis(tickCount=4)), y2="high:Q"
    )
    middle = plot.mark_line(color=LEAF, strokeWidth=2.2, strokeDash=[3, 3]).encode(
        x=minutes, y=alt.Y("middle:Q", scale=scale)
    )
    top = max(curve.lethal_rate_high)
    label = _label(alt, curve.time_min[0], top, f"lethal rate (dotted; {curve.reference})", LEAF, dy=-10)
    return alt.layer(*_phases(alt, curve, named=False), band, middle, *label).properties(width=WIDTH_PX, height=RATE_PX)


def _phases(alt: Any, curve: Curve, *, named: bool = True) -> list[Any]:
    """Upright marks where a phase begins; above the upper panel the names of those that are long enough for it."""
    px_per_min = WIDTH_PX / (curve.time_min[-1] - curve.time_min[0])
    begun = [{"minute": round(phase.start_min, 2)} for phase in curve.phases if phase.start_min > curve.time_min[0]]
    rules = alt.Chart(alt.Data(values=begun)).mark_rule(color=MUSTARD, strokeWidth=1.4, strokeDash=[2, 3])
    if not named:
        return [rules.encode(x="minute:Q")]
    fitting = [
        {"minute": round(phase.start_min, 2), "name": phase.name}
        for phase in curve.phases
        if len(phase.name) * LETTER_PX <= (phase.end_min - phase.start_min) * px_per_min
    ]
    names = alt.Chart(alt.Data(values=fitting)).mark_text(align="left", dx=2, dy=-7, color=INK, fontSize=11)
    return [rules.encode(x="minute:Q"), names.encode(x="minute:Q", y=alt.value(0), text="name:N")]


def _temperature_labels(alt: Any, curve: Curve) -> list[Any]:
    """The canner is named above its line in the process, the cold spot below its band where it climbs."""
    process = next((phase for phase in curve.phases if phase.name == "process"), curve.phases[0])
    at = _index_at(curve, process.start_min + (process.end_min - process.start_min) / 4)
    return [
        *_label(alt, curve.time_min[at], max(curve.canner_c), "canner (dashed)", DEEP_BLUE, dy=-10),
        *_label(alt, curve.time_min[at], curve.low_c[at], "cold spot and its band", DAMSON, dx=10, dy=16),
    ]


def _index_at(curve: Curve, minute: float) -> int:
    return min(range(len(curve.time_min)), key=lambda index: abs(curve.time_min[index] - minute))


def _label(
    alt: Any, minute: float, value: float, text: str, colour: str, *, dx: float = 4, dy: float = 0
) -> tuple[Any, Any]:
    """Words on the plot, with a halo of the ground so that no line runs through them."""
    row = [{"minute": round(minute, 3), "value": round(value, 6), "text": text}]
    plot = alt.Chart(alt.Data(values=row)).encode(x="minute:Q", y="value:Q", text="text:N")
    style = {"align": "left", "dx": dx, "dy": dy, "fontSize": 13, "fontWeight": "bold"}
    halo = plot.mark_text(**style, color=GROUND, stroke=GROUND, strokeWidth=4, strokeJoin="round")
    return halo, plot.mark_text(**style, color=colour)


def _whole(alt: Any, curve: Curve) -> Any:
    """Both panels run over the whole cycle and no further."""
    return alt.Scale(domain=[curve.time_min[0], curve.time_min[-1]], nice=False)


def _rounded(rows: list[dict[str, float]], *, digits: int = 3) -> list[dict[str, float]]:
    """No more digits than a page can show: the spec travels to the browser."""
    return [{key: round(float(value), digits) for key, value in row.items()} for row in rows]


def _with_words(drawn: str, *, title: str, description: str) -> str:
    """The SVG with <title> and <desc> as its first children, named by the picture itself (SVG 2, WAI-ARIA)."""
    key = f"heat-{crc32(description.encode()):08x}"  # a page may show several charts
    words = f'<title id="{key}-title">{escape(title)}</title><desc id="{key}-said">{escape(description)}</desc>'
    labels = f' role="img" aria-labelledby="{key}-title {key}-said"'
    return re.sub(r"<svg\b([^>]*)>", lambda tag: f"<svg{tag[1]}{labels}>{words}", drawn, count=1)
