"""How a figure was seen, in words; the words of the tables differ a little and mean one of these."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Seen:
    """Words for how a figure was seen, and the look of their tag; `is_verified` False: never act on it as tested."""

    words: str
    look: str
    is_verified: bool


TWO_PAGES = Seen("read on two pages", "calm", True)
PAGE = Seen("read on a page", "calm", True)
PARTLY = Seen("read in part, the rest from memory", "soon", False)
WORKED_OUT = Seen("worked out from what was read", "", True)
DOUBTFUL = Seen("doubtful: the source contradicts itself", "soon", False)
PRACTICE = Seen("common practice, no source", "soon", False)
DISAGREE = Seen("read on a page; sources disagree", "soon", True)
LOW_STANDING = Seen("read on a page of low standing", "soon", True)
MEMORY = Seen("not verified: from memory only", "stop", False)
JUDGEMENT = Seen("our judgement, no source", "soon", False)


_BY_WORD = (  # the first word that the evidence holds decides
    ("doubtful", DOUBTFUL),
    ("common practice", PRACTICE),
    ("memory", MEMORY),
    ("not cited", PARTLY),
    ("judgement", JUDGEMENT),
    ("disagree", DISAGREE),
    ("informal", LOW_STANDING),
    ("forum", LOW_STANDING),
)
_BY_BEGINNING = (
    ("two_pages", TWO_PAGES),
    (("derived", "computed", "arithmetic", "general"), WORKED_OUT),
    (("seen", "page", "figure seen"), PAGE),
)


def seen(evidence: str) -> Seen:
    """What the evidence column of a row means; anything not known here counts as not verified."""
    said = evidence.lower()
    for word, meaning in _BY_WORD:
        if word in said:
            return PARTLY if meaning is MEMORY and not said.startswith("memory") else meaning
    return next((meaning for words, meaning in _BY_BEGINNING if said.startswith(words)), MEMORY)
