"""Brings the ways a food can be written to one: case, accents, plurals, hyphens, spellings."""

from __future__ import annotations

import re
import unicodedata
from functools import cache

_NOT_WORD = re.compile(r"[^a-z0-9%]+")
_APOSTROPHES = str.maketrans("", "", "'’‘`")
_IRREGULAR = {"leaves": "leaf", "loaves": "loaf", "halves": "half", "chilli": "chili", "chile": "chili"}
_IRREGULAR |= {"chillies": "chili", "chilis": "chili", "chiles": "chili", "chilies": "chili", "chillis": "chili"}
_IRREGULAR |= {"yoghurt": "yogurt", "geese": "goose", "sloes": "sloe"}


@cache
def singular(word: str) -> str:
    """An English plural brought to its singular; applied to both sides, so it need only be consistent."""
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("oes", "shes", "ches", "sses", "xes")):
        return word[:-2]
    if word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def plain(text: str) -> str:
    """Lower case ASCII words with single spaces: “Haricots-verts” → “haricots verts”."""
    if not text.isascii():
        text = unicodedata.normalize("NFKD", text).translate(_APOSTROPHES).encode("ascii", "ignore").decode()
    return _NOT_WORD.sub(" ", text.lower().translate(_APOSTROPHES).replace("&", " and ")).strip()


def folded(plain_text: str) -> str:
    """Plain words, each brought to its singular."""
    return " ".join(map(singular, plain_text.split()))


def turned(name: str) -> str:
    """A name written noun first, turned as it is spoken: “pork, ground” → “ground pork”."""
    return " ".join(reversed(name.split(", ")))
