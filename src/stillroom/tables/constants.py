"""Published numbers that the program acts on, each bound to the rule that carries its source and evidence."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache

from stillroom.errors import SourceError
from stillroom.tables.csv_rows import DATA
from stillroom.tables.rules import rules


@dataclass(frozen=True, slots=True)
class Constant:
    """A value in its printed unit; `rule` is the id of the row of the rules table behind it."""

    value: float
    unit: str
    rule: str
    note: str


@cache
def constants() -> dict[str, Constant]:
    """All constants by name."""
    path = DATA / "constants.toml"
    known = {row.id for row in rules()}
    found: dict[str, Constant] = {}
    for name, entry in tomllib.loads(path.read_text(encoding="utf-8")).items():
        try:
            constant = Constant(float(entry["value"]), entry["unit"], entry["rule"], entry.get("note", ""))
        except (KeyError, TypeError, ValueError) as problem:
            raise SourceError(
                f"{path.name}, row {name}: value, unit or rule is missing or wrong ({problem})."
            ) from None
        if constant.rule not in known:
            raise SourceError(f"{path.name}, row {name}, column rule: no rule is called “{constant.rule}”.")
        found[name] = constant
    return found


def constant(name: str) -> Constant:
    """The constant of this name; SourceError when there is none."""
    try:
        return constants()[name]
    except KeyError:
        raise SourceError(f"constants.toml: no constant is called “{name}”.") from None
