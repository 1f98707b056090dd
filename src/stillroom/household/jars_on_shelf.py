"""The jars and lids of kitchen.yaml: by tested name, or by millilitres with the outside size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from pydantic import Field

from stillroom.errors import InputError
from stillroom.household.measure_text import length_mm
from stillroom.household.places import at
from stillroom.model.kitchen import JarKind
from stillroom.process.jar_text import read_jar
from stillroom.tables.jars import jars
from stillroom.yaml_files import Written


class JarLines(Written):
    """A kind of jar; a jar of a tested size may leave out what it measures outside."""

    kind: str
    count: int = Field(ge=0, le=10_000)
    lids: int = Field(ge=0, le=10_000)
    reusable_lids: bool = False
    diameter: str | None = None
    height: str | None = None


def jar_kinds(path: Path, written: Sequence[JarLines]) -> tuple[JarKind, ...]:
    """Each kind of jar with its size; FileError with line and field when a size is missing or can't be."""
    kinds = tuple(_jar_kind(path, place, lines) for place, lines in enumerate(written))
    for place, kind in enumerate(kinds):
        if any(kind.name == other.name for other in kinds[:place]):
            with at(path, "jars", place, "kind"):
                raise InputError(f"“{kind.name}” stands here twice: write one line for each kind of jar.")
    return kinds


def _jar_kind(path: Path, place: int, lines: JarLines) -> JarKind:
    diameter_mm = height_mm = None
    if lines.diameter is not None:
        with at(path, "jars", place, "diameter"):
            diameter_mm = length_mm(lines.diameter)
    if lines.height is not None:
        with at(path, "jars", place, "height"):
            height_mm = length_mm(lines.height)
    with at(path, "jars", place, "kind"):
        size = jar_size(lines.kind, diameter_mm, height_mm)
    return JarKind(lines.kind, *size, lines.count, lines.lids, lines.reusable_lids)


def jar_size(kind: str, diameter_mm: float | None, height_mm: float | None) -> tuple[float, float, float]:
    """(volume [ml], diameter [mm], height [mm]) of a jar, as published where it was not measured.

    InputError when nothing is published for such a jar, or when it can't hold so much.
    """
    volume_ml = read_jar(kind).volume_ml
    published = _published_size_mm(volume_ml)
    if published is None and (diameter_mm is None or height_mm is None):
        raise InputError(
            f"no outside size is published for a jar of {volume_ml:g} ml: measure one and write its “diameter” "
            "and “height”, or nobody knows how many fit in the canner."
        )
    across_mm, high_mm = published or (0.0, 0.0)
    across_mm, high_mm = (
        across_mm if diameter_mm is None else diameter_mm,
        high_mm if height_mm is None else height_mm,
    )
    _check_holds(volume_ml, across_mm, high_mm)
    return volume_ml, across_mm, high_mm


def _published_size_mm(volume_ml: float) -> tuple[float, float] | None:
    return next(((jar.diameter_mm, jar.height_mm) for jar in jars() if abs(jar.volume_ml - volume_ml) < 1), None)


def _check_holds(volume_ml: float, diameter_mm: float, height_mm: float) -> None:
    """A jar holds between a third and all of the cylinder around it (glass and shoulders take the rest)."""
    cylinder_ml = math.pi / 4 * diameter_mm**2 * height_mm / 1000
    if not cylinder_ml / 3 <= volume_ml <= cylinder_ml:
        raise InputError(
            f"a jar of {diameter_mm:g} × {height_mm:g} mm outside can't hold {volume_ml:g} ml: measure it again."
        )
