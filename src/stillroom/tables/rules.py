"""Cross-cutting rules of home preservation, each with its source and how it was seen.

A rule has a code, which stands in the table and in our own files and comments; a cook is told it in words.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from stillroom.errors import SourceError
from stillroom.tables.csv_rows import DATA, read_csv

_CODE = r"[RN]\d{3}"
_CODES = re.compile(rf"(?:\brules? )?\b{_CODE}(?:(?:, | and | to ){_CODE})*\b")
COLUMNS = ("id", "section", "rule", "value", "source", "url", "evidence")


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: what it is about, what it says, where that is printed. Evidence words are those of the row."""

    id: str
    section: str
    rule: str
    value: str
    source: str
    url: str
    evidence: str


@cache
def _by_id() -> dict[str, Rule]:
    found: dict[str, Rule] = {}
    for row in read_csv(DATA / "rules.csv", COLUMNS):
        if row.text("id") in found:
            raise row.broken("id", f"“{row.cells['id']}” is there twice")
        found[row.text("id")] = Rule(
            row.text("id"),
            row.text("section"),
            row.text("rule"),
            row.text("value"),
            row.text("source"),
            row.cells["url"],
            row.text("evidence"),
        )
    return found


def rules() -> tuple[Rule, ...]:
    """All rules in printed order."""
    return tuple(_by_id().values())


def rule(rule_id: str) -> Rule:
    """The rule with this id, “R029”; SourceError when there is none."""
    try:
        return _by_id()[rule_id]
    except KeyError:
        raise SourceError(f"rules.csv: no rule is called “{rule_id}”.") from None


def in_words(text: str) -> str:
    """A source line with its codes said in words: “rules R124, R126; yields” is “rules of freezing; yields”."""
    return _CODES.sub(_said, text)


def _said(found: re.Match[str]) -> str:
    codes = re.findall(_CODE, found[0])
    if not _by_id().keys() >= set(codes):
        return found[0]  # something else that looks like a code
    sections = dict.fromkeys(rule(code).section.split(",")[0].lower() for code in codes)
    return f"{'rule' if len(codes) == 1 else 'rules'} of {' and '.join(sections)}"
