"""Words beside the amount and the food of a line: what they say of the food, and what they must not be taken for."""

from __future__ import annotations

import re

from stillroom.household.clock import State
from stillroom.tables.spelling import plain
from stillroom.tables.vocabulary import Food, known

MEAT_GROUPS = frozenset(("beef", "pork", "lamb and game", "poultry", "fish"))
FRESH_GROUPS = frozenset(("vegetable", "fruit", "herb"))

# These say nothing of what the food is, so they become its note. No colour, no age, no way of keeping is among them:
# a green tomato, an unripe mango and a smoked trout are other foods with other processes.
_OF_MEAT = (
    "lean stewing braising roasting diced cubed cubes boneless boned out bone in skin on skinless trimmed dressed"
)
_OF_MEAT_TOO = "large small big medium free range"
_OF_FRESH = "ripe very windfall windfalls garden big small large medium young local washed unwashed firm"
_DESCRIBING = {group: frozenset(f"{_OF_MEAT} {_OF_MEAT_TOO}".split()) for group in MEAT_GROUPS}
_DESCRIBING |= {group: frozenset(_OF_FRESH.split()) for group in FRESH_GROUPS}
DESCRIBING = frozenset().union(*_DESCRIBING.values())

_COOKED_WORDS = "roast roasted boiled fried baked grilled braised stewed poached leftover leftovers"
_OTHER_WORDS = (
    "smoked cured salted salt corned brined pickled dried canned tinned jarred bottled minced mince ground marinated "
    "stuffed breaded battered pureed puree mashed juiced juice rendered candied fermented sausage sausages jerky "
    "oil brine syrup pie soup patties burgers kebabs"
)
_COOKED = frozenset(_COOKED_WORDS.split())
_OTHER_FOOD = _COOKED | frozenset(_OTHER_WORDS.split())
_CUT_OPEN = frozenset(
    ("cut", "sliced", "chopped", "diced", "cubed", "grated", "shredded", "peeled", "halved", "shelled", "podded")
)
_ROUGHLY = re.compile(
    r"^(?:about|approx\.?|approximately|around|roughly|circa|ca\.?|c\.|some|~)\s*(?=\d|an? |half )", re.I
)
_DAY_NAMES = r"(?:week|weekend|fortnight|month|(?:mon|tues|wednes|thurs|fri|satur|sun)day)s?"
_A_DAY = re.compile(rf"\b{_DAY_NAMES}\b")
_ONLY_A_DAY = re.compile(rf"(?:(?:this|next|last|on|at|over|the|in|a) )*{_DAY_NAMES}(?: \w+)?")
_NUMBERS = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
}
_NUMBERS |= {"eleven": 11, "twelve": 12, "a couple of": 2, "a pair of": 2, "a brace of": 2}
_IN_WORDS = re.compile(rf"^({'|'.join(_NUMBERS)})\s+", re.I)
_TIMES = re.compile(r"^(\d+)\s*[x×]\s*(\d[\d.]*\s*(?:kg|g|lbs?|oz)\b)\s+(?:of\s+)?", re.I)
_DOZENS = re.compile(r"^(\d+|a)\s+(?:dozen|doz\.?)\s+(?=(?:ears?|heads?|bunch|bunches|small|large|medium)\b)", re.I)


def spelt_out(head: str) -> str:
    """The first part of a line in words that the parser of amounts reads: “about two chickens” is “2 chickens”."""
    head = _ROUGHLY.sub("", head)
    head = _IN_WORDS.sub(lambda match: f"{_NUMBERS[match[1].lower()]} ", head)
    head = _DOZENS.sub(lambda match: f"{12 * (1 if match[1].lower() == 'a' else int(match[1]))} ", head)
    return _TIMES.sub(lambda match: f"{match[1]} pieces of {match[2]} ", head)


def makes_another_food(note: str, food: Food) -> str:
    """The word of a note that would make another food of this one (“smoked”); "" for a plain note."""
    if note.lower().startswith("for "):  # a purpose, not yet done
        return ""
    said = plain(note).split()
    known = set(plain(food.key).split())
    words = _OTHER_FOOD | (_CUT_OPEN if food.group in FRESH_GROUPS else frozenset())
    return next((word for word in said if word in words and word not in known), "")


def without_describing(name: str, food: Food | None = None) -> tuple[str, str]:
    """The name without the words that only describe it, and those words; of `food` where that is known by now."""
    allowed = DESCRIBING if food is None else _DESCRIBING.get(food.group, frozenset())
    words = name.replace("-", " ").split()
    kept = [word for word in words if word.lower() not in allowed]
    return " ".join(kept), " ".join(word for word in words if word.lower() in allowed)


def state_said(word: str) -> State | None:
    """The state that a word names; leftovers are cooked."""
    if word in ("leftover", "leftovers"):
        return State.COOKED
    return next((state for state in State if state.value == word), None)


def sounds_like_a_day(note: str) -> bool:
    """Whether a note speaks of a day that was not understood: it must not be dropped."""
    return _A_DAY.search(note.lower()) is not None


def is_some_day(words: str) -> bool:
    """Whether the words are of a day and of nothing else."""
    return _ONLY_A_DAY.fullmatch(words.lower()) is not None


def kept_otherwise(name: str) -> tuple[str, str]:
    """The word that makes a name another food (“smoked”), and the kind it is said of; "" where there is none."""
    said = plain(name).split()
    word = next((word for word in said if word in _OTHER_FOOD | _CUT_OPEN), "")
    heard = known(" ".join(other for other in said if other != word)) if word else None
    kind = heard.food.group if heard else ""
    return ("", "") if word not in _OTHER_FOOD and kind not in FRESH_GROUPS else (word, kind)


def uncooked(name: str) -> str:
    """The name without the words that say it is cooked: “leftover roast beef” is of beef."""
    return " ".join(word for word in name.split() if word.lower() not in _COOKED)
