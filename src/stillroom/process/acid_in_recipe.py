"""Whether a recipe holds the acid that its process asks for in every jar."""

from __future__ import annotations

import re
from collections.abc import Sequence

from stillroom.errors import InputError, SourceError
from stillroom.model.process import JarSize
from stillroom.process.ingredient_lines import Line
from stillroom.process.jars_needed import jars_needed
from stillroom.process.screening_rules import is_taken_back, said_plainly
from stillroom.process.tested_recipes import acid_agent, is_weak
from stillroom.quantities.amounts import mass_g, volume_ml
from stillroom.quantities.unit_words import MILLILITRES, UNIT_WORDS
from stillroom.tables.acids import Acid, acids
from stillroom.tables.processes import rows_for

_PER_JAR = re.compile(
    r"\b(?:per|each|every|to a|a) (?:\w+[- ]){0,2}(?:jar|pint|quart)s?\b|\bin(?:to)? (?:the|each) jars?\b"
)
_IN_METHOD = re.compile(
    r"\b(?:add\w*|put\w*|spoon\w*|pour\w*|stir\w*|with)\b[^.;]{0,60}\b(bottled lemon juice|citric acid|vinegar)\b"
)
_ACID = re.compile(r"\b(?:lemon juice|citric acid|vinegar|acid)\b")
_WIPES = re.compile(r"\b(?:rims?|wip\w+|clean\w*)\b")
ROUNDING = 0.95  # of a spoon; and weights are rounded


def lacks_acid(process_food: str, lines: Sequence[Line], method: str) -> str:
    """What is missing where the tables ask for acid in every jar and the recipe has none or too little; or ""."""
    printed = _printed(process_food)
    if not printed:
        return ""
    said = [(line, agent) for line in lines if (agent := _agent(line))]
    if not said:
        return "" if _in_method(method) else f"AS WRITTEN IT LACKS ACID: add to every jar {printed}"
    sentences = [sentence for sentence in re.split(r"[.;]", said_plainly(method)) if _ACID.search(sentence)]
    if any(_PER_JAR.search(text) for text in (*(line.text.lower() for line, _ in said), *sentences)):
        return ""
    share = _share_of_need(process_food, lines, said)
    if share is not None and share < ROUNDING:
        return f"AS WRITTEN IT HAS TOO LITTLE ACID for its jars: put into every jar {printed}"
    return ""


def _printed(process_food: str) -> str:
    """The acid of the rows in their own words; "" where none is added jar by jar."""
    texts = {row.acidification for row in rows_for(process_food) if row.acidification}
    said = sorted(text for text in texts if re.search(r"lemon juice|citric acid", text))
    return said[0] if acids(process_food) and said else ""


def _agent(line: Line) -> str | None:
    """The printed agent that a line is; None for fresh juice and weak vinegar, whose strength nobody knows."""
    if is_weak(line):
        return None
    return next((agent for heard in line.foods if (agent := acid_agent(heard.food))), None)


def _in_method(method: str) -> bool:
    said = said_plainly(method)
    return any(
        not is_taken_back(said, match) and not _WIPES.search(re.split(r"[.;,]", said[: match.end()])[-1])
        for match in _IN_METHOD.finditer(said)
    )


def _share_of_need(process_food: str, lines: Sequence[Line], said: Sequence[tuple[Line, str]]) -> float | None:
    """Acid of the recipe over what its quarts need [-], summed over agents; None where something can't be weighed."""
    quarts = _quarts(process_food, lines)
    by_agent = {acid.agent: acid for acid in acids(process_food) if acid.jar is JarSize.QUART}
    if quarts is None:
        return None
    share = 0.0
    for line, agent in said:
        one = _share(line, by_agent[agent]) if agent in by_agent else None
        if one is None:
            return None
        share += one / quarts
    return share


def _share(line: Line, acid: Acid) -> float | None:
    try:
        return volume_ml(line.amount) / (acid.amount * MILLILITRES[UNIT_WORDS[acid.unit]])
    except InputError:
        return None


def _quarts(process_food: str, lines: Sequence[Line]) -> float | None:
    """The fewest quarts that the food fills by the published averages."""
    total_g = 0.0
    for line in lines:
        for heard in line.foods:
            if heard.food.process_food == process_food:
                try:
                    total_g += mass_g(line.amount, heard.food.key)
                except (InputError, SourceError):
                    return None
    form = rows_for(process_food)[0].form
    needed = jars_needed(process_food, form, total_g, JarSize.QUART) if total_g else None
    return needed.fewest if needed else None
