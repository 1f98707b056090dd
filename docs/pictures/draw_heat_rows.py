"""Draws what the heat model gives for every tested low-acid row at the sea: `python docs/pictures/draw_heat_rows.py > heat-rows.svg`.

A bar for each row, from the low to the high end of its band, in three groups by the way the pack heats.
"""

from __future__ import annotations

from typing import Any

import altair as alt

from stillroom.heat.chart import DAMSON, DEEP_BLUE, FONT, GROUND, INK, LEAF, MUSTARD, svg
from stillroom.heat.heating_kind import HeatingKind, heating_kind
from stillroom.heat.sweep_cases import answer_cases, every_case
from stillroom.model.process import CannerKind
from stillroom.process.jar_text import jar_name
from stillroom.tables.processes import rows
from stillroom.tables.vocabulary import food

GROUPS = {
    HeatingKind.CONDUCTION: ("as a solid", DAMSON),
    HeatingKind.BETWEEN: ("not known which", DEEP_BLUE),
    HeatingKind.CONVECTION: ("liquid turns over", LEAF),
}
ASKED_MIN, WIDTH_PX = 3.0, 640
SAID = (
    "F0 in minutes, on a logarithmic scale, for every tested low-acid row: packs that heat as a solid lie lowest, "
    "some of them beginning below the 3 minutes asked for; where the liquid turns over all lie above."
)


def main() -> None:
    """The picture to standard output."""
    bars = _bars()
    panels = [_panel(kind, [bar for bar in bars if bar["kind"] == kind.value]) for kind in GROUPS]
    title = alt.TitleParams(
        f"F0 of the cold spot in {len(bars)} tested low-acid rows, weighted gauge, sea level",
        subtitle="from low to high end of the band; the stroke is its middle; dashed: what is asked for",
        anchor="start", fontSize=16, font=FONT, subtitleFont=FONT, color=INK, subtitleColor=INK,
    )  # fmt: skip
    chart = (
        alt.vconcat(*panels, spacing=8)
        .resolve_scale(x="shared")
        .properties(title=title, background=GROUND, padding=14, description=SAID)
        .configure_view(stroke=None)
        .configure_axis(labelFont=FONT, titleFont=FONT, labelColor=INK, titleColor=INK, titleFontWeight="normal")
    )
    print(svg(chart.to_dict()))


def _bars() -> list[dict[str, Any]]:
    printed = {(row.food, row.form, row.pack, jar_name(row.jar)) for row in rows() if row.key.startswith("low_acid")}
    cases = [
        case
        for case in every_case(jars=("half-pint", "pint", "quart"), altitudes_m=(0.0,), samples=400)
        if case.canner == CannerKind.WEIGHTED.value
        and (food(case.food).process_food, case.form, case.pack, case.jar) in printed
    ]
    return [
        {
            "low": outcome.low,
            "middle": outcome.middle,
            "high": outcome.high,
            "kind": heating_kind(food(outcome.food).process_food or "", outcome.form, outcome.pack)[0].value,
        }
        for outcome in answer_cases(tuple(cases))
        if outcome.tested and outcome.measure == "F0"
    ]


def _panel(kind: HeatingKind, bars: list[dict[str, Any]]) -> alt.LayerChart:
    name, colour = GROUPS[kind]
    bars.sort(key=lambda bar: bar["low"])
    numbered = [{**bar, "place": place} for place, bar in enumerate(bars)]
    x = alt.X(
        "low:Q",
        axis=alt.Axis(values=[1, 2, 3, 5, 10, 20, 30, 50]),
        scale=alt.Scale(type="log", domain=[1, 50], nice=False),
        title="F0, min",
    )
    if kind is not HeatingKind.CONVECTION:
        x = x.axis(labels=False, title=None, values=[1, 2, 3, 5, 10, 20, 30, 50])
    y = alt.Y("place:O", axis=None)
    plot = alt.Chart(alt.Data(values=numbered))
    spans = plot.mark_rule(color=colour, strokeWidth=2, opacity=0.6).encode(x=x, x2="high:Q", y=y)
    middles = plot.mark_tick(color=colour, thickness=2, size=4).encode(x="middle:Q", y=y)
    asked = alt.Chart(alt.Data(values=[{"asked": ASKED_MIN}])).mark_rule(
        color=MUSTARD, strokeDash=[5, 3], strokeWidth=2
    )
    label = (
        alt.Chart(alt.Data(values=[{"text": name}]))
        .mark_text(align="right", baseline="top", font=FONT, fontSize=13, fontWeight="bold", color=colour, dy=2)
        .encode(x=alt.value(WIDTH_PX), y=alt.value(0), text="text:N")
    )
    return alt.layer(asked.encode(x="asked:Q"), spans, middles, label).properties(
        width=640, height=max(60, 4 * len(bars))
    )


if __name__ == "__main__":
    main()
