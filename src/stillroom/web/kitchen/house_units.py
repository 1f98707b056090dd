"""Our sentences in the measures of a household: its own first, the printed figure in brackets.

Printed figures are those of US guides. None is replaced: a figure that was tested stays beside what it comes to, and
that is rounded to the safe side where one side is (acid, up).
"""

from __future__ import annotations

import math
import re

from stillroom import units
from stillroom.model.process import JarSize
from stillroom.process.jar_text import jar_name

_NUMBER = r"\d+(?:[.,]\d+)?(?:[–-]\d+(?:\.\d+)?)?"
_US_FIRST = re.compile(rf"({_NUMBER}) (in|°?F) \(({_NUMBER}) (mm|cm|°?C)\)")
_METRIC_FIRST = re.compile(rf"({_NUMBER}) °C \(({_NUMBER}) °F\)")
_POUNDS = re.compile(r"(?<![\d.(])(\d+(?:\.\d+)?) lb\b(?! \d| \()")
_INCHES = re.compile(r"(?<![\d./–-])(\d+(?:\.\d+)?|1/[248]|3/4) in\b(?=[;,.]|$| slices| cubes| pieces)")
_SPOONS_ML = {"tbsp": units.ML_PER_TABLESPOON, "tsp": units.ML_PER_TEASPOON, "cup": units.ML_PER_CUP}
_SPOONS = re.compile(r"(\d+(?:\.\d+)?) (?:US )?(tbsp|tsp|cup)s?\b(?! \()")
_A_GALLON = re.compile(r"\ba gallon\b")
_JARS_ML = {jar_name(size): size.volume_ml for size in JarSize}
_JAR = re.compile(r"(?<![-\w])(?<!imp )(half-pint|pint|quart|half-gallon)(s?)\b(?! \(|-)", re.IGNORECASE)


def in_house_units(text: str, *, is_us: bool) -> str:
    """`text` for a metric household or one of pounds and inches."""
    if is_us:
        return _METRIC_FIRST.sub(r"\2 °F (\1 °C)", text)
    text = _US_FIRST.sub(_turned, text)
    text = _POUNDS.sub(lambda found: f"{float(found[1]) * units.G_PER_LB / 1000:.2g} kg ({found[0]})", text)
    text = _INCHES.sub(lambda found: f"{_inches(found[1]) * units.MM_PER_IN:.0f} mm ({found[0]})", text)
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


def _inches(text: str) -> float:
    above, _, below = text.partition("/")
    return float(above) / float(below or 1)


def _with_ml(found: re.Match[str]) -> str:
    exact_ml = float(found[1]) * _SPOONS_ML[found[2]]
    step = 0.5 if exact_ml < 10 else 5 if exact_ml < 1000 else 10
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
