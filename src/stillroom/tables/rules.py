"""Cross-cutting rules of home preservation, each with its source and how it was seen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from stillroom.errors import SourceError
from stillroom.tables.csv_rows import DATA, read_csv

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
