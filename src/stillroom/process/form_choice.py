"""Which printed form and pack a cook means; never a guess."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from stillroom.errors import InputError
from stillroom.model.process import Evidence, ProcessRow

_NEGATIONS = frozenset({"no", "not", "never", "without", "less"})
_SAY_NOTHING = frozenset({"a", "and", "as", "at", "in", "of", "or", "such", "the", "to", "with"})
_SAME_WORDS = (
    (r"\bbone ?less\b", "without bones"),
    (r"\bbone in\b", "with bones"),
    (r"\b(minced?|grind)\b", "ground"),
    (r"\bdice\b", "diced"),
    (r"\bchunk\b", "chunks"),
    (r"\bcube\b", "cubes"),
    (r"\bhalf\b", "halved"),
    (r"\bhalves\b", "halved"),
    (r"\bslice\b", "slices"),
)


class AmbiguousRequest(InputError):  # noqa: N818 - a question to the cook, not a fault
    """Several forms or packs exist and the cook named none, or a part that fits several."""

    def __init__(self, food: str, what: str, choices: Sequence[str], more: str = "") -> None:
        self.what = what
        self.choices = tuple(choices)
        listed = "; ".join(f"“{choice}”" for choice in choices)
        super().__init__(f"Which {what} of {food}? The tables have: {listed}.{more} Name one with --{what}.")


def choose_form(
    rows: Sequence[ProcessRow], food: str, asked: str | None, usable: Sequence[ProcessRow] = ()
) -> str | None:
    """The printed form meant by `asked`, or None when the tables have no such form.

    Matching is exact, or by whole words that occur in one form only. Left out, the only form is taken; forms that are
    known from memory count here too, so that nobody is given the neighbour's process by default. `usable` are the
    tested rows for the jar and canner of the question: where there are some, only their forms are listed, and a part
    of a name that fits one of them and otherwise only forms without any figure for that size is taken.
    Raises AmbiguousRequest.
    """
    matching = forms_matching(_distinct(row.form for row in rows), asked)
    if len(matching) <= 1:
        return matching[0] if matching else None
    sizes = {row.jar for row in usable}
    listed = [form for form in matching if any(row.form == form for row in usable)]
    of_size = [form for form in matching if any(row.form == form and row.jar in sizes for row in rows)]
    if asked is not None and len(listed) == 1 and of_size == listed:
        return listed[0]
    if not listed:
        raise AmbiguousRequest(food, "form", [_marked(form, rows) for form in matching])
    more = " Other forms have no verified figure for this jar and canner." if len(listed) < len(matching) else ""
    raise AmbiguousRequest(food, "form", listed, more)


def forms_matching(forms: Sequence[str], asked: str | None) -> tuple[str, ...]:
    """All printed forms that `asked` could mean; all of them when nothing is asked."""
    if asked is None:
        return tuple(forms)
    words = _words(asked)
    exact = tuple(form for form in forms if _words(form) == words)
    if exact:
        return exact
    found = [form for form in forms if _start_in(words, _words(form)) is not None]
    if len(found) == 1 and _is_negated(words, _words(found[0])):
        return ()
    return tuple(found)


def choose_pack(rows: Sequence[ProcessRow], food: str, asked: str | None) -> str | None:
    """The pack meant, or None when these rows have no such pack; left out, the only pack is taken."""
    packs = _distinct(row.pack for row in rows)
    if asked is not None:
        word = read_pack(asked)
        return word if word in packs else None
    if len(packs) > 1:
        raise AmbiguousRequest(food, "pack", packs)
    return packs[0] if packs else None


def read_pack(text: str) -> str:
    """ "hot" or "raw"; anything else is InputError."""
    word = re.sub(r"[\s-]*pack(ed)?$", "", text.strip().lower())
    if word in ("raw", "cold"):
        return "raw"
    if word == "hot":
        return "hot"
    raise InputError(f"“{text}” is not a way to pack that is known here. Write “raw” or “hot”.")


def _distinct(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))


def _marked(form: str, rows: Sequence[ProcessRow]) -> str:
    is_tested = any(row.form == form and row.evidence is not Evidence.MEMORY for row in rows)
    return form if is_tested else f"{form} (not verified)"


def _words(text: str) -> tuple[str, ...]:
    plain = text.lower().replace("-", " ")
    for pattern, same in _SAME_WORDS:
        plain = re.sub(pattern, same, plain)
    return tuple(re.findall(r"[a-z0-9/]+", plain))


def _start_in(words: tuple[str, ...], form: tuple[str, ...]) -> int | None:
    """Where the asked words stand side by side in the form, or None."""
    if all(word in _SAY_NOTHING or word.isdigit() for word in words):
        return None
    for start in range(len(form) - len(words) + 1):
        if form[start : start + len(words)] == words:
            return start
    return None


def _is_negated(words: tuple[str, ...], form: tuple[str, ...]) -> bool:
    """Whether the words are what the form says it is *not*: "sugar added" in "no sugar added"."""
    start = _start_in(words, form)
    before = form[max(0, (start or 0) - 2) : start]
    return bool(_NEGATIONS & set(before)) and not _NEGATIONS & set(words)
