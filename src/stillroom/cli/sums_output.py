"""What the sums share when they print: JSON for machines, also when they refuse."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from stillroom.errors import Refusal


def print_json(answer: Mapping[str, object]) -> None:
    """One JSON object on standard output; masses to the milligram."""
    print(json.dumps({key: _rounded(value) for key, value in answer.items()}, ensure_ascii=False, indent=2))


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
