"""Reads a jar as a cook names it: "quart", "1 qt", "12 oz", "1200ml", "0.75 l"."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from stillroom import units
from stillroom.errors import InputError
from stillroom.model.process import JarSize

SMALLEST_ML, LARGEST_ML = 30.0, 20_000.0  # beyond this nobody means a jar

_NAMES_ML = {
    "quarter pint": units.ML_PER_PINT / 4,
    "half pint": JarSize.HALF_PINT.volume_ml,
    "cup": JarSize.HALF_PINT.volume_ml,
    "pint": JarSize.PINT.volume_ml,
    "quart": JarSize.QUART.volume_ml,
    "half gallon": JarSize.HALF_GALLON.volume_ml,
    "gallon": units.ML_PER_GALLON,
    "litre": 1000.0,
    "half litre": 500.0,
}
_UNITS_ML = {
    "pint": units.ML_PER_PINT,
    "pt": units.ML_PER_PINT,
    "quart": units.ML_PER_QUART,
    "qt": units.ML_PER_QUART,
    "gallon": units.ML_PER_GALLON,
    "gal": units.ML_PER_GALLON,
    "cup": units.ML_PER_CUP,
    "oz": units.ML_PER_FLUID_OUNCE,
    "fl oz": units.ML_PER_FLUID_OUNCE,
    "ounce": units.ML_PER_FLUID_OUNCE,
    "fluid ounce": units.ML_PER_FLUID_OUNCE,
    "ml": 1.0,
    "millilitre": 1.0,
    "cl": 10.0,
    "centilitre": 10.0,
    "dl": 100.0,
    "l": 1000.0,
    "litre": 1000.0,
}
_NUMBER = re.compile(r"(\d+(?:\.\d+)?)(?:\s*/\s*(\d+))?\s*([a-z. ]+)")
_CAN_READ = "Give a name (half-pint, pint, quart, half-gallon) or a volume such as 1200 ml, 0.75 l or 12 fl oz."


@dataclass(frozen=True, slots=True)
class JarAsked:
    """A jar as the cook named it, and its nominal volume [ml]."""

    text: str
    volume_ml: float


def read_jar(text: str) -> JarAsked:
    """The jar meant by `text`; pints, quarts and ounces are US measures, ounces on a jar are fluid ounces."""
    spoken = _spoken(text)
    volume_ml = _NAMES_ML.get(spoken)
    if volume_ml is None:
        volume_ml = _measured_ml(spoken)
    if volume_ml is None:
        raise InputError(f"“{text}” is not a jar that can be read. {_CAN_READ}")
    if not SMALLEST_ML <= volume_ml <= LARGEST_ML:
        raise InputError(f"A jar of “{text}” would hold {volume_ml:g} ml; check the number. {_CAN_READ}")
    return JarAsked(text.strip(), volume_ml)


def jar_name(size: JarSize) -> str:
    """The size as a cook says it: "half-pint"."""
    return size.value.replace("_", "-")


def jar_of(size: JarSize) -> JarAsked:
    """The tested size itself, as a jar to ask for."""
    return JarAsked(jar_name(size), size.volume_ml)


def _spoken(text: str) -> str:
    """Lower case, one spelling, no "jar", no plural: "Half-Pint jars" -> "half pint"."""
    spoken = re.sub(r"(?<=[a-z0-9])[-_](?=[a-z])", " ", text.lower())
    spoken = spoken.replace("liter", "litre").replace("½", "1/2")
    spoken = re.sub(r"\b(\d+),(\d{3})\b", r"\1\2", spoken)
    spoken = re.sub(r"\b(jars?|us|a|an|one)\b", " ", spoken)
    spoken = re.sub(r"\b(pint|quart|gallon|cup|litre|ounce)s\b", r"\1", spoken)
    return " ".join(spoken.split())


def _measured_ml(spoken: str) -> float | None:
    match = _NUMBER.fullmatch(spoken)
    if match is None:
        return None
    number, divisor, unit = match.groups()
    per_unit_ml = _UNITS_ML.get(unit.replace(".", "").strip())
    if per_unit_ml is None or (divisor is not None and int(divisor) == 0):
        return None
    volume_ml = float(number) / int(divisor or 1) * per_unit_ml
    return volume_ml if math.isfinite(volume_ml) else None
