"""Every published table as rows that can be read, searched and traced to their source."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cache

from stillroom.errors import InputError
from stillroom.tables.spelling import folded, plain
from stillroom.tables.vocabulary import hear
from stillroom.web.sources.evidence import Seen, seen


@dataclass(frozen=True, slots=True)
class Row:
    """One printed line: its name, what it says as (label, value), and where it stands."""

    name: str
    facts: tuple[tuple[str, str], ...]
    note: str
    source: str
    addresses: tuple[str, ...]
    evidence: str
    seen: Seen
    words: str  # what is searched, folded

    @property
    def how_seen_more(self) -> str:
        """What the evidence column says beyond its first word."""
        return self.evidence if " " in self.evidence else ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table: what it holds, what to beware of when reading it, and its rows."""

    key: str
    title: str
    about: str
    read: Callable[[], tuple[Row, ...]] = field(repr=False)
    caution: str = ""

    @property
    def rows(self) -> tuple[Row, ...]:
        """All rows in printed order; read once."""
        return self.read()

    @property
    def unverified(self) -> int:
        """How many rows are not verified."""
        return sum(not row.seen.is_verified for row in self.rows)


def make_row(name: str, facts: Iterable[tuple[str, str]], **cells: str) -> Row:
    """A row; `cells` are note, source, url and evidence as printed."""
    told = tuple((label, value) for label, value in facts if value)
    said = " ".join((name, *(value for _, value in told), cells.get("note", ""), cells["source"]))
    addresses = tuple(part.strip() for part in cells.get("url", "").split(" ; ") if part.strip())
    return Row(
        name=name,
        facts=told,
        note=cells.get("note", ""),
        source=cells["source"],
        addresses=addresses,
        evidence=cells["evidence"],
        seen=seen(cells["evidence"]),
        words=f" {folded(plain(said))} ",
    )


def matching(rows: Iterable[Row], text: str, *, only_unverified: bool = False) -> list[Row]:
    """The rows that hold every word of `text` as the beginning of a word, or the food that `text` is a name of."""
    found = [row for row in rows if not (only_unverified and row.seen.is_verified)]
    wanted = _readings(text)
    return [row for row in found if any(all(word in row.words for word in words) for words in wanted)]


@cache
def _readings(text: str) -> tuple[tuple[str, ...], ...]:
    """What may be meant: the words themselves, and the food they name under its key and in the process tables."""
    said = [text]
    try:
        food = hear(text).food
    except InputError:
        pass
    else:
        said += [food.key, food.process_food or food.key]
    return tuple(dict.fromkeys(tuple(f" {word}" for word in folded(plain(one)).split()) for one in said))
