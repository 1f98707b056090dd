"""The chart: one spec, drawn without a network, told apart without colour, in words for those who can't see it."""

from __future__ import annotations

import json
from typing import Any
from xml.etree import ElementTree

import pytest
from made_up import curve

from stillroom.heat import chart

SPEC = chart.chart_spec(curve(), title="Inside a <quart> of beef & more", said="F0 1 to 4 min, about 2.")


def marks(spec: Any) -> list[dict[str, Any]]:
    """Every mark with its type, wherever it stands in the spec."""
    if isinstance(spec, dict):
        own = [spec["mark"]] if isinstance(spec.get("mark"), dict) else []
        return own + [mark for value in spec.values() for mark in marks(value)]
    return [mark for value in spec for mark in marks(value)] if isinstance(spec, list) else []


def test_the_spec_travels_as_json_and_needs_nothing_from_outside() -> None:
    text = json.dumps(SPEC)
    assert json.loads(text) == SPEC
    schema = SPEC["$schema"]
    assert "http" not in text.replace(schema, "")
    assert "url" not in text.replace(schema, "")


def test_lines_differ_by_dash_and_each_is_named() -> None:
    lines = [mark for mark in marks(SPEC) if mark["type"] == "line"]
    dashes = [tuple(mark.get("strokeDash", ())) for mark in lines]
    assert len(lines) == 3
    assert len(set(dashes)) == 3
    text = json.dumps(SPEC)
    for label in ("canner (dashed)", "cold spot and its band", "lethal rate (dotted; F0"):
        assert label in text


def test_the_picture_shows_bands() -> None:
    assert sum(mark["type"] == "area" for mark in marks(SPEC)) == 2


def test_only_our_colours() -> None:
    ours = {chart.GROUND, chart.INK, chart.DAMSON, chart.LEAF, chart.DEEP_BLUE, chart.MUSTARD}
    assert {mark["color"] for mark in marks(SPEC) if "color" in mark} <= ours


@pytest.mark.parametrize("colour", [chart.DAMSON, chart.DEEP_BLUE, chart.INK, chart.LEAF])
def test_words_are_readable_on_the_ground(colour: str) -> None:
    """Contrast of text by WCAG 2.2: 4.5 at least."""

    def luminance(hexed: str) -> float:
        parts = [int(hexed[start : start + 2], 16) / 255 for start in (1, 3, 5)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    light, dark = luminance(chart.GROUND), luminance(colour)
    assert (light + 0.05) / (dark + 0.05) >= 4.5


def test_the_svg_says_what_it_shows() -> None:
    root = ElementTree.fromstring(chart.svg(SPEC))
    name = "{http://www.w3.org/2000/svg}"
    title, said = root[0], root[1]
    assert (title.tag, said.tag) == (f"{name}title", f"{name}desc")
    assert title.text == "Inside a <quart> of beef & more"
    assert said.text is not None
    assert "F0 1 to 4 min, about 2." in said.text
    assert "printed process stands" in said.text
    assert root.attrib["role"] == "img"
    assert set(root.attrib["aria-labelledby"].split()) == {title.attrib["id"], said.attrib["id"]}
    drawn = " ".join(part.text or "" for part in root.iter(f"{name}text"))
    for words in ("canner (dashed)", "cold spot and its band", "temperature, °C", "minutes after heat on", "process"):
        assert words in drawn
