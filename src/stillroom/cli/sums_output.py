"""What the sums share when they print: JSON for machines, also when they refuse."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from stillroom.errors import Refusal
from stillroom.physics.band import Band


def print_json(answer: Mapping[str, object]) -> None:
    """One JSON object on standard output; masses to the milligram."""
    print(json.dumps({key: _rounded(value) for key, value in answer.items()}, ensure_ascii=False, indent=2))


def band_keys(band: Band) -> dict[str, object]:
    """A band for machines: its three figures and the unit; what never happens is null."""
    figures = {"low": band.low, "middle": band.middle, "high": band.high}
    return {name: value if math.isfinite(value) else None for name, value in figures.items()} | {"unit": band.unit}


def _rounded(value: object) -> object:
    if isinstance(value, float):
        return round(value, 3)
    if isinstance(value, Mapping):
        return {key: _rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(inner) for inner in value]
    return value


@contextmanager
def refusal_said(as_json: bool) -> Iterator[None]:
    """A refusal also as JSON when machines read; it goes on to become exit code 3."""
    try:
        yield
    except Refusal as refusal:
        if as_json:
            print_json({"refused": True, "reason": str(refusal)})
        raise
