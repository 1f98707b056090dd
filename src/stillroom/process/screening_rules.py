"""What may never go into a jar for the shelf, by kind of food, by word and by method."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from stillroom.process.ingredient_lines import NO_FOOD, Line, read_line
from stillroom.tables.spelling import plain
from stillroom.tables.vocabulary import Food

_FORBIDS = re.compile(r"\b(?:not|never|n't|don't|without|instead of|rather than|no)\b")
_ON_OPENING = re.compile(
    r"^\s*(?:to )?serv(?:e|ing)\b"
    r"|\b(?:on|after|before|when|once)\b.{0,20}\b(?:open\w*|serv\w*|eat\w*)\b"
)
_TAKES_OFF = re.compile(r"\b(?:skim\w*|trim\w*|remov\w*|discard\w*|drain\w*|tak\w+|cut\w* (?:off|away)|pour\w* off)\b")
_NAMED_BY_DISH = frozenset({"dish", "stock and soup", "pickle and sauce"})  # “ladle the soup” is no ingredient
SCREENING_CSV = Path(__file__).with_name("data") / "screening.csv"


@dataclass(frozen=True, slots=True)
class ScreeningRule:
    """One rule: it forbids a food key, a food group, a word in a line, a turn in the method, a word in the name."""

    kind: str  # "key", "group", "word", "method", "name"
    pattern: re.Pattern[str]
    name: str
    reason: str
    instead: str
    source: str


@dataclass(frozen=True, slots=True)
class Finding:
    """What stands against a shelf-stable jar: the ingredient or turn as written, the rule, and what to do instead."""

    ingredient: str  # the line, or the words of the method
    food: str  # what it was heard as, or ""
    rule: str  # short stable name: "thickener", "dairy", ...
    reason: str
    instead: str
    source: str
    in_method: bool = False

    def sentence(self) -> str:
        """One sentence for the cook."""
        where = "The method or the name says" if self.in_method else "Ingredient"
        return f"{where} “{self.ingredient}” ({self.rule}): {self.reason}. {_capital(self.instead)}."


@cache
def screening_rules() -> tuple[ScreeningRule, ...]:
    """The rules in the order of the table: keys before groups before words."""
    with SCREENING_CSV.open(encoding="utf-8", newline="") as file:
        return tuple(
            ScreeningRule(
                line["kind"],
                re.compile(_pattern(line["kind"], line["matches"])),
                line["rule"],
                line["reason"],
                line["instead"],
                line["source"],
            )
            for line in csv.DictReader(file)
        )


def findings_in(line: Line, *, has_low_acid: bool) -> tuple[Finding, ...]:
    """Every rule that the line breaks, its foods first, then words that are no food."""
    found = [finding for heard in line.foods if (finding := _against_food(heard.food, line)) is not None]
    return (*found, *_against_words(line, has_low_acid=has_low_acid))


def findings_in_text(text: str, kind: str, *, has_low_acid: bool) -> tuple[Finding, ...]:
    """Every rule of a kind, "method" or "name", that the text breaks; a purée matters where food is low in acid."""
    text = said_plainly(text)
    found = []
    for rule in _applicable(kind, has_low_acid=has_low_acid):
        said = next((match[0] for match in rule.pattern.finditer(text) if not is_taken_back(text, match)), None)
        if said is not None:
            found.append(Finding(said, "", rule.name, rule.reason, rule.instead, rule.source, in_method=True))
    return tuple(found)


def findings_in_method(method: str) -> tuple[Finding, ...]:
    """Foods that the list forbids and only the method names (“stir in a pound of butter”)."""
    said = said_plainly(method)
    found = []
    for clause in re.split(r"[.;,:]", said):
        if _FORBIDS.search(clause) or _ON_OPENING.search(clause) or _TAKES_OFF.search(clause):
            continue
        line = read_line(NO_FOOD.sub(" ", clause))
        foods = [heard.food for heard in line.foods if heard.food.group not in _NAMED_BY_DISH]
        against = (_against_food(food, line) for food in foods)
        found += [replace(one, ingredient=clause.strip(), in_method=True) for one in against if one is not None]
    return tuple(found)


def said_plainly(text: str) -> str:
    """Lower case, plain quotes, single spaces; punctuation stays, because it ends clauses."""
    return " ".join(text.lower().replace("é", "e").replace("’", "'").split())


def is_taken_back(text: str, match: re.Match[str]) -> bool:
    """Whether the same clause forbids the words (“never mashed”) or leaves them for the day the jar is opened."""
    before = re.split(r"[.,;:]", text[: match.start()])[-1]
    after = re.split(r"[.,;:]", text[match.end() :])[0]
    return bool(_FORBIDS.search(before) or _ON_OPENING.search(f"{before} {after}"))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _against_food(food: Food, line: Line) -> Finding | None:
    for rule in (*_of_kind("key"), *_of_kind("group")):
        if rule.pattern.fullmatch(food.key if rule.kind == "key" else food.group):
            return Finding(line.text, food.key, rule.name, rule.reason, rule.instead, rule.source)
    return None


def _against_words(line: Line, *, has_low_acid: bool) -> Iterator[Finding]:
    for rule in _applicable("word", has_low_acid=has_low_acid):
        match = rule.pattern.search(plain(line.left_over))
        if match is not None:
            yield Finding(line.text, match[0], rule.name, rule.reason, rule.instead, rule.source)


def _of_kind(kind: str) -> tuple[ScreeningRule, ...]:
    return tuple(rule for rule in screening_rules() if rule.kind == kind)


def _applicable(kind: str, *, has_low_acid: bool) -> tuple[ScreeningRule, ...]:
    return tuple(rule for rule in _of_kind(kind) if has_low_acid or rule.name != "low-acid puree")


def _pattern(kind: str, matches: str) -> str:
    return rf"\b(?:{matches})" + ("" if kind == "method" else r"\b") if kind in ("word", "method", "name") else matches
