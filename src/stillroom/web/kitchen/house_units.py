"""Our sentences in the measures of a household: its own first, the printed figure in brackets.

Printed figures are those of US guides. None is replaced: a figure that was tested stays beside what it comes to, and
that is rounded to the safe side where one side is (acid, up).
"""

from __future__ import annotations

import math
import re
from fractions import Fraction

from stillroom import units
from stillroom.model.process import JarSize
from stillroom.process.jar_text import jar_name

_FRACTION = r"(?:1/2|1/3|2/3|1/4|3/4|[1357]/8)"
_ALONE = r"(?<![\d.,/–-])(?<!\d )"  # no part of "1 1/2", "10/15", "2–3"
_PLAIN = rf"{_ALONE}(\d+ {_FRACTION}|{_FRACTION}|\d+(?:\.\d+)?)"
_RANGE = rf"{_ALONE}(\d+ {_FRACTION}|{_FRACTION}|\d+(?:\.\d+)?(?:[–-]\d+(?:\.\d+)?)?)"
_METRIC = r"(\d+(?:\.\d+)?(?:[–-]\d+(?:\.\d+)?)?)"
_US_FIRST = re.compile(rf"{_RANGE} (in|°?F) \({_METRIC} (mm|cm|°?C)\)")
_METRIC_FIRST = re.compile(rf"{_ALONE}{_METRIC} °C \({_METRIC} °F\)")
_NO_MASS = re.compile(
    r"pressure|gauge|psi|process|weight|\bft\b", re.IGNORECASE
)  # there a pound is one per square inch
_POUNDS = re.compile(rf"(?<!\(){_PLAIN} lb\b(?! \d| \()")
_INCHES = re.compile(rf"{_PLAIN} in\b(?=[;,.]|$| slices| cubes| pieces)")
_SPOONS_ML = {"tbsp": units.ML_PER_TABLESPOON, "tsp": units.ML_PER_TEASPOON, "cup": units.ML_PER_CUP}
_SPOONS = re.compile(rf"{_PLAIN} (?:US )?(tbsp|tsp|cup)s?\b(?! \()")
_STEPS = ((1, 0.05), (10, 0.25), (20, 0.5), (100, 1), (1000, 5), (math.inf, 10))  # ml told in: (below, steps of)
_A_GALLON = re.compile(r"\ba gallon\b")
_JARS_ML = {jar_name(size): size.volume_ml for size in JarSize}
_JAR = re.compile(r"(?<![-\w])(?<!imp )(half-pint|pint|quart|half-gallon)(s?)\b(?! \(|-)", re.IGNORECASE)


def in_house_units(text: str, *, is_us: bool) -> str:
    """`text` for a metric household or one of pounds and inches."""
    if is_us:
        return _METRIC_FIRST.sub(r"\2 °F (\1 °C)", text)
    text = _US_FIRST.sub(_turned, text)
    if not _NO_MASS.search(text):
        text = _POUNDS.sub(_with_kg, text)
    text = _INCHES.sub(lambda found: f"{_number(found[1]) * units.MM_PER_IN:.0f} mm ({found[0]})", text)
    text = _SPOONS.sub(_with_ml, text)
    text = _A_GALLON.sub(f"a gallon ({units.ML_PER_GALLON / 1000:.1f} L)", text)
    return _with_jar_ml(text)


def jar_ml(name: str) -> str:
    """ "946 ml" of a tested size by its name, "" of another."""
    volume_ml = _JARS_ML.get(name)
    return "" if volume_ml is None else f"{volume_ml:.0f} ml"


def _turned(found: re.Match[str]) -> str:
    us, metric = (unit if unit[0] in "°imc" else f"°{unit}" for unit in (found[2], found[4]))
    return f"{found[3]} {metric} ({found[1]} {us})"


def _number(text: str) -> float:
    """ "1 1/2", "3/4" or "0.5"."""
    return float(sum(Fraction(part) for part in text.split()))


def _with_kg(found: re.Match[str]) -> str:
    kg = _number(found[1]) * units.G_PER_LB / 1000
    return f"{kg:.2g} kg ({found[0]})" if kg < 100 else f"{kg:.0f} kg ({found[0]})"


def _with_ml(found: re.Match[str]) -> str:
    exact_ml = _number(found[1]) * _SPOONS_ML[found[2]]
    step = next(step for most, step in _STEPS if exact_ml < most)
    return f"{found[0]} ({math.ceil(exact_ml / step - 1e-9) * step:g} ml)"


def _with_jar_ml(text: str) -> str:
    """The first time each size is named."""
    told: set[str] = set()

    def tell(found: re.Match[str]) -> str:
        size = found[1].lower()
        if size in told:
            return found[0]
        told.add(size)
        return f"{found[0]} ({jar_ml(size)})"

    return _JAR.sub(tell, text)
