"""The one vocabulary of foods: what a cook may call a food, and which printed process its name reaches.

A food carries a `process_food` only where the publication names it, in the food's name, its form text or a row
note, or where the name is a true synonym or an obvious kind of it (a fresh boned cut of the animal). Everything
else has none, and so no tested process: wild mushrooms, summer squash, edible-pod peas, white-flesh peaches, liver,
ground poultry, cured meat and all cooked states among them. Where a name means two foods, it stands for the one with
the longer process (“butter bean” is the dry seed), or for none at all
(“squash” is asked back). A look-up without a form asks back for all of them (`ask_back`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from stillroom.errors import SourceError, UnknownFood
from stillroom.tables.csv_rows import DATA, read_csv
from stillroom.tables.spelling import folded, plain, turned

FOOD_COLUMNS = ("key", "group", "process_food", "form", "composition", "mapped_because", "source", "evidence")
MEANING_COLUMNS = ("name", "choices", "source", "evidence")
SYNONYM_COLUMNS = ("name", "key", "form", "source", "evidence")
_SAYS_NOTHING = frozenset(("fresh", "raw", "organic", "homegrown"))


@dataclass(frozen=True, slots=True)
class Food:
    """A food by its key; `composition` is its name in the composition table, `process_food` in the process tables."""

    key: str
    group: str
    process_food: str | None
    composition: str | None
    synonyms: tuple[str, ...]
    form: str | None = None  # the form of the process tables that the name itself implies


@dataclass(frozen=True, slots=True)
class Heard:
    """The food meant, and the form its name implies (“mince” is beef, ground or chopped)."""

    food: Food
    form: str | None


@dataclass(frozen=True, slots=True)
class _Synonym:
    name: str
    key: str
    form: str | None


class SeveralMeanings(UnknownFood):
    """The name can mean foods with different processes; `choices` says how to name each."""

    def __init__(self, heard: str, choices: str) -> None:
        super().__init__(heard, ())
        self.choices = choices
        self.args = (f"“{heard}” does not tell which process is meant. Write instead: {choices}.",)


@cache
def _several_meanings() -> dict[str, str]:
    rows = read_csv(DATA / "several_meanings.csv", MEANING_COLUMNS)
    return {folded(plain(row.text("name"))): row.text("choices") for row in rows}


def ask_back(text: str) -> None:
    """Raises SeveralMeanings where a name must not be read one way, because the other way has another process."""
    choices = _several_meanings().get(folded(plain(text)))
    if choices is not None:
        raise SeveralMeanings(text.strip(), choices)


@cache
def _synonyms() -> tuple[_Synonym, ...]:
    return tuple(
        _Synonym(row.text("name"), row.text("key"), row.cells["form"] or None)
        for row in read_csv(DATA / "synonyms.csv", SYNONYM_COLUMNS)
    )


@cache
def _by_key() -> dict[str, Food]:
    names: dict[str, list[str]] = {}
    for synonym in _synonyms():
        names.setdefault(synonym.key, []).append(synonym.name)
    found: dict[str, Food] = {}
    for row in read_csv(DATA / "vocabulary.csv", FOOD_COLUMNS):
        key, cells = row.text("key"), row.cells
        if key in found:
            raise row.broken("key", f"“{key}” is there twice")
        found[key] = Food(
            key=key,
            group=row.text("group"),
            process_food=cells["process_food"] or None,
            composition=key if cells["composition"] else None,
            synonyms=tuple(names.pop(key, ())),
            form=cells["form"] or None,
        )
    if names:
        raise SourceError(f"synonyms.csv, column key: “{next(iter(names))}” is not a food of vocabulary.csv.")
    return found


def foods() -> tuple[Food, ...]:
    """All foods of the vocabulary."""
    return tuple(_by_key().values())


def food(key: str) -> Food:
    """The food with exactly this key; UnknownFood otherwise."""
    try:
        return _by_key()[key]
    except KeyError:
        raise UnknownFood(key, _nearest(plain(key))) from None


def _spoken() -> Iterator[tuple[str, Heard]]:
    """Every way to say a food, the surest first: keys, synonyms, then keys and synonyms turned round."""
    heard_by_key = {key: Heard(known, known.form) for key, known in _by_key().items()}
    yield from heard_by_key.items()
    said = [(s.name, Heard(_by_key()[s.key], s.form or _by_key()[s.key].form)) for s in _synonyms()]
    yield from said
    for name, heard in heard_by_key.items():
        if ", " in name:
            yield turned(name), heard


@cache
def _as_written() -> dict[str, Heard]:
    index: dict[str, Heard] = {}
    for name, heard in _spoken():
        index.setdefault(plain(name), heard)
    return index


@cache
def _as_folded() -> dict[str, Heard]:
    index: dict[str, Heard] = {}
    for name, heard in _as_written().items():
        index.setdefault(folded(name), heard)
    return index


@cache
def _folded_names() -> dict[str, str]:
    return {folded(plain(name)): name for name, _ in reversed(tuple(_spoken()))}


def names() -> tuple[str, ...]:
    """Every way to say a food, in plain words (see `spelling.plain`), for finding foods in a line of text."""
    return tuple(_as_written())


def hear(text: str) -> Heard:
    """The food a cook means by `text`, whatever its case, number, hyphens or country; UnknownFood otherwise.

    A name of several meanings is SeveralMeanings where no reading is the cautious one; `ask_back` asks for the rest.
    """
    heard = known(text)
    if heard is not None:
        return heard
    ask_back(text)
    raise UnknownFood(text.strip(), _nearest(plain(text)))


def known(text: str) -> Heard | None:
    """The same without a search for the nearest names: None where `hear` complains."""
    said = plain(text)
    shorter = " ".join(word for word in said.split() if word not in _SAYS_NOTHING)
    for words in (said, shorter):
        heard = _as_written().get(words) or _as_folded().get(folded(words))
        if heard:
            return heard
    return None


@lru_cache(maxsize=256)
def _nearest(said: str) -> tuple[str, ...]:
    """Up to five known names that look or sound like it."""
    from difflib import get_close_matches

    folded_names = _folded_names()
    close = get_close_matches(folded(said), folded_names, n=5, cutoff=0.6)
    words = set(folded(said).split())
    sharing = [name for name in folded_names if words and words & set(name.split())]
    sharing.sort(key=lambda name: (len(name.split()), name))
    return tuple(dict.fromkeys(folded_names[name] for name in [*close[:3], *sharing[:3], *close[3:]]))[:5]
