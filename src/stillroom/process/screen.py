"""Screens a recipe that a cook brings along: does a tested process cover it, and if not, why and what then?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from stillroom.errors import SourceError
from stillroom.model.process import Alternative, ProcessRequest, ProcessRow
from stillroom.process.acid_in_recipe import lacks_acid
from stillroom.process.heating import against_heating, heat_of, lacks_pressure
from stillroom.process.ingredient_lines import Line, measured_in, read_line
from stillroom.process.mixtures import (
    LIQUIDS,
    MADE_OF,
    NO_SEASONING,
    SQUASH_NEEDS_OTHERS,
    SUMMER_SQUASH,
    Match,
    is_a_recipe_of_its_own,
    is_low_acid,
    is_seasoning,
    is_vinegar,
    match_mixture,
    process_food_of,
    solids,
)
from stillroom.process.no_process_match import warning_for
from stillroom.process.packing import against_packing, form_named, pack_named
from stillroom.process.row_choice import is_tested
from stillroom.process.screen_ways_out import base_of, can_the_base, freeze_it, tested_namesakes
from stillroom.process.screening_rules import Finding, findings_in, findings_in_method, findings_in_text
from stillroom.process.seasoning_limits import too_much_seasoning
from stillroom.process.tested_recipes import match_jam, match_salsa, match_tomatoes_with_vegetable
from stillroom.tables.processes import rows_for
from stillroom.tables.spelling import plain
from stillroom.tables.vocabulary import Food

_NO_SOURCE = "no row in the process tables"


@dataclass(frozen=True, slots=True)
class Screening:
    """Whether a tested process covers the recipe (`match`), what stands against it, and what is possible instead."""

    match: Match | None
    findings: tuple[Finding, ...]
    reason: str
    possible: tuple[Alternative, ...]
    lacks: tuple[str, ...] = ()  # what has to be added before the match covers it: acid, the pressure canner
    food: str = ""  # what to look up: the food itself, or the process food of a mixture

    @property
    def is_tested(self) -> bool:
        """Whether a shelf-stable jar of this, as it is written, is possible by a printed process."""
        return self.match is not None and not self.findings and not self.lacks


def screen(ingredients: Sequence[str], method: str, *, name: str = "") -> Screening:
    """Screen ingredient lines and the text of the method; `name` only helps to tell what the dish is."""
    lines = tuple(read_line(text) for text in ingredients if text.strip())
    says = plain(f"{name} {method}")
    answer = _of_its_name(_covered(lines, says, method), name, lines)
    if isinstance(answer, Match) and _is_fruit_puree(answer, lines, name, method):
        answer = (_fruit_puree(name or method, answer),)
    if isinstance(answer, Match):
        answer = _against_match(answer, lines, name, method) or answer
    if isinstance(answer, Match):
        answer = _as_named(answer, lines, name, method)
        lacks = _lacking(answer, lines, name, method)
        kinds = solids(lines)
        food = kinds[0].key if len(kinds) == 1 and kinds[0].process_food == answer.process_food else answer.process_food
        return Screening(answer, (), _covered_reason(answer, lacks), (), lacks, food)
    return Screening(None, answer, _refused_reason(answer), _possible(lines, answer, says, name))


def of_tested_recipe(asked: ProcessRequest, cautions: Sequence[str]) -> Screening:
    """One of our own jar recipes, unchanged: it is bound to a row, whose proportions it keeps; raises SourceError."""
    match = Match(asked.food, asked.form, (), "", asked.pack)
    rows = tested_rows(match)
    if not rows:
        raise SourceError(f"A recipe of ours names no tested process: {asked.food}, {asked.form}, {asked.pack}.")
    conditions = ("Made exactly as the recipe is written.", *cautions)
    match = replace(match, conditions=conditions, source=rows[0].source)
    return Screening(match, (), _covered_reason(match, ()), (), (), asked.food)


def tested_rows(match: Match) -> tuple[ProcessRow, ...]:
    """The tested rows that the match leaves to choose from."""
    return tuple(
        row
        for row in rows_for(match.process_food)
        if is_tested(row) and match.form in (None, row.form) and match.pack in (None, row.pack)
    )


def _against_match(match: Match, lines: Sequence[Line], name: str, method: str) -> tuple[Finding, ...]:
    """What stands against the process that the ingredients have: how they are packed and how the jars are heated."""
    return (
        *against_heating(match.process_food, match.form, f"{name}. {method}"),
        *against_packing(match.process_food, match.form, lines, name, method),
    )


def _as_named(match: Match, lines: Sequence[Line], name: str, method: str) -> Match:
    """The match with the form and pack that the recipe names, where it names one of the tested ones."""
    form = match.form or form_named(match.process_food, lines, method)
    return replace(match, form=form, pack=pack_named(f"{name}. {method}"))


def _lacking(match: Match, lines: Sequence[Line], name: str, method: str) -> tuple[str, ...]:
    """What the recipe leaves out that the process can't do without."""
    said = (
        lacks_acid(match.process_food, lines, method),
        lacks_pressure(match.process_food, match.form, f"{name}. {method}"),
    )
    return tuple(filter(None, said))


def _possible(lines: Sequence[Line], findings: Sequence[Finding], says: str, name: str) -> tuple[Alternative, ...]:
    base = base_of(lines, findings)
    match = _covered(base, says, "") if base else None
    found = can_the_base(lines, base, findings, match) if isinstance(match, Match) else ()
    return (*found, *tested_namesakes(name), *freeze_it(lines))


def _covered(lines: Sequence[Line], says: str, method: str) -> Match | tuple[Finding, ...]:
    """The process that covers the lines, or everything that stands against one."""
    if not solids(lines) and not any(line.unread or not line.foods for line in lines):
        return (_nothing_to_can(),)
    has_low_acid = _has_low_acid(lines)
    findings = [finding for line in lines for finding in findings_in(line, has_low_acid=has_low_acid)]
    findings += findings_in_text(method, "method", has_low_acid=has_low_acid)
    findings += [one for one in findings_in_method(method) if one.rule not in {other.rule for other in findings}]
    findings += too_much_seasoning(lines)
    findings += _unlisted(lines, method, findings)
    if not findings:
        tested = match_salsa(lines, says) or match_tomatoes_with_vegetable(lines) or match_jam(lines)
        if isinstance(tested, Finding):
            return (tested,)
        if tested is not None and not _unknown(lines, ()):
            return tested
    findings += [*_unknown(lines, findings), *_without_process(lines, findings), *_pickled(lines)]
    if findings:
        return _each_once(findings)
    return match_mixture(lines, says) or (_no_mixture(lines),)


def _of_its_name(answer: Match | tuple[Finding, ...], name: str, lines: Sequence[Line]) -> Match | tuple[Finding, ...]:
    """The answer, seen by what the dish is called: a butter, a stew, a ketchup is not its ingredients."""
    found = list(findings_in_text(name, "name", has_low_acid=_has_low_acid(lines)))
    for food in (heard.food for heard in read_line(name).foods):
        if isinstance(answer, Match) and food.process_food in MADE_OF:
            if MADE_OF[food.process_food] == answer.process_food:
                answer = replace(answer, process_food=food.process_food)
        elif isinstance(answer, Match) and is_a_recipe_of_its_own(food) and food.process_food != answer.process_food:
            found.append(_own_recipe(name, food))
    if not found:
        return answer
    return (*(answer if isinstance(answer, tuple) else ()), *found)


def _is_fruit_puree(match: Match, lines: Sequence[Line], name: str, method: str) -> bool:
    """Whether fruit that has a process in pieces is to be made into a purée or a butter."""
    if match.form is not None or match.process_food in MADE_OF:
        return False
    said = (*findings_in_text(name, "name", has_low_acid=True), *findings_in_text(method, "method", has_low_acid=True))
    return bool(said) and all(food.group == "fruit" for food in solids(lines))


def _fruit_puree(said: str, match: Match) -> Finding:
    return Finding(
        said,
        match.process_food,
        "fruit puree",
        f"the process for {match.process_food} is for pieces, and a purée or butter heats differently",
        "look up “fruit puree”, which leaves some fruits out, or make the tested sauce or butter of that fruit",
        rows_for("fruit puree")[0].source,
        in_method=True,
    )


def _own_recipe(name: str, food: Food) -> Finding:
    entry = warning_for(food.key, food.process_food, None)
    why = f"{food.key} is a dish of its own; the process of its ingredients is not its process"
    return Finding(
        name,
        food.key,
        "made dish",
        entry.reason if entry else why,
        entry.instead if entry else "make it by its tested recipe where one exists, or freeze it",
        entry.source if entry else _NO_SOURCE,
        in_method=True,
    )


def _each_once(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """One finding for each rule that a line breaks, however many of its foods break it."""
    return tuple({(finding.ingredient, finding.rule, finding.reason): finding for finding in findings}.values())


def _has_low_acid(lines: Sequence[Line]) -> bool:
    kinds = [process_food_of(food) for food in solids(lines) if food.key not in NO_SEASONING]
    return any(kind is None or is_low_acid(kind) for kind in kinds)


def _unknown(lines: Sequence[Line], findings: Sequence[Finding]) -> list[Finding]:
    """Lines that name no known food, or hold words nobody here knows: not knowing is no permission."""
    named = {finding.ingredient for finding in findings}
    found = []
    for line in lines:
        if (line.unread or not line.foods) and line.text not in named:
            what = ", ".join(f"“{word}”" for word in line.unread) or f"“{line.text}”"
            why = f"it can't be told what {what} is, so no process can be matched"
            found.append(Finding(line.text, "", "not understood", why, "name it plainly, or leave it out", _NO_SOURCE))
    return found


def _unlisted(lines: Sequence[Line], method: str, findings: Sequence[Finding]) -> list[Finding]:
    """Foods that the method measures out although the list doesn't have them: what is not listed was not screened."""
    named = {finding.food for finding in findings}
    listed: set[str | None] = {heard.food.process_food or heard.food.key for line in lines for heard in line.foods}
    return [
        Finding(
            words,
            food.key,
            "not in the list",
            f"the method puts in {food.key}, which the list does not have, and so its amount is unknown",
            "list every ingredient with its amount",
            _NO_SOURCE,
            in_method=True,
        )
        for words, food in measured_in(method)
        if not (listed | named | LIQUIDS) & {food.process_food, food.key} and not is_seasoning(food)
    ]


def _without_process(lines: Sequence[Line], findings: Sequence[Finding]) -> list[Finding]:
    """Ingredients without a tested process of their own, with the published reason where there is one."""
    named = {finding.food for finding in findings}
    kinds = {kind for food in solids(lines) if (kind := process_food_of(food)) is not None}
    found = []
    for line in lines:
        for food in (heard.food for heard in line.foods):
            if food.key in named | LIQUIDS or is_seasoning(food) or process_food_of(food) is not None:
                continue
            if food.key in SUMMER_SQUASH and len(kinds) >= SQUASH_NEEDS_OTHERS:
                continue
            found.append(_no_own_process(line, food, is_main=not kinds))
    return found


def _no_own_process(line: Line, food: Food, *, is_main: bool) -> Finding:
    entry = warning_for(food.key, food.process_food, None)
    if entry is not None:
        return Finding(line.text, food.key, "no tested process", entry.reason, entry.instead, entry.source)
    why = f"{food.key} has no tested process of its own, and every ingredient needs one"
    instead = "freeze it, or eat it fresh" if is_main else "leave it out and add it when the jar is opened"
    return Finding(line.text, food.key, "no tested process", why, instead, _NO_SOURCE)


def _pickled(lines: Sequence[Line]) -> list[Finding]:
    """Vinegar on low-acid food makes a pickle, whose safety lies in its proportions."""
    if not _has_low_acid(lines):
        return []
    return [
        Finding(
            line.text,
            "vinegar",
            "pickle of unknown acidity",
            "a pickle is safe only in the proportions of a tested recipe, and vinegar shortens no other process",
            "use a tested pickle recipe, or leave the vinegar out",
            "acid foods, notes on quick pickles; NCHFP",
        )
        for line in lines
        if any(is_vinegar(heard.food) for heard in line.foods)
    ]


def _nothing_to_can() -> Finding:
    return Finding("the list", "", "nothing to can", "no food was named that could be put up", "list it", _NO_SOURCE)


def _no_mixture(lines: Sequence[Line]) -> Finding:
    names = ", ".join(food.key for food in solids(lines))
    return Finding(
        names,
        "",
        "no tested mixture",
        "each has a process of its own, but no process was tested for them together",
        "can each by itself and mix them when the jars are opened, or freeze the mixture",
        _NO_SOURCE,
    )


def _covered_reason(match: Match, lacks: Sequence[str]) -> str:
    form = f", {match.form}" if match.form else ""
    first = "".join(f"{lack}. " for lack in lacks) + ("With that: " if lacks else "")
    heat = heat_of(match.process_food, match.form)
    said = (
        f"{first}the tested process for {match.process_food}{form} covers this {heat}, if it is kept to: "
        f"{' '.join(match.conditions)} Minutes on the page count for nothing: look the row up."
    )
    return said[:1].upper() + said[1:]


def _refused_reason(findings: Sequence[Finding]) -> str:
    return "No tested process covers this recipe. " + " ".join(finding.sentence() for finding in findings)
