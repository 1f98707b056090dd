"""What may never go into a jar for the shelf, by kind of food, by word and by method."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from stillroom.process.ingredient_lines import Line
from stillroom.tables.spelling import plain
from stillroom.tables.vocabulary import Food

_FORBIDS = re.compile(r"\b(?:not|never|n't|don't|without|instead of|rather than|no)\b")
_ON_OPENING = re.compile(r"\b(?:on|after|before|when|once)\b.{0,20}\b(?:open\w*|serv\w*|eat\w*)\b")
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
    text = " ".join(text.lower().replace("é", "e").replace("’", "'").split())
    found = []
    for rule in _applicable(kind, has_low_acid=has_low_acid):
        said = next((match[0] for match in rule.pattern.finditer(text) if not _is_taken_back(text, match)), None)
        if said is not None:
            found.append(Finding(said, "", rule.name, rule.reason, rule.instead, rule.source, in_method=True))
    return tuple(found)


def _is_taken_back(text: str, match: re.Match[str]) -> bool:
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
