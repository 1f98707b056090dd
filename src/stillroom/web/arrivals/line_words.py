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
_HARMLESS_WORDS = (  # these change neither what the food is nor how long it keeps
    "organic local british english scottish irish welsh french italian spanish dutch australian american large small "
    "big medium free range red yellow black purple brown nice lovely cheap homegrown gift from for the "
    "our my own of and some a"
)
_HARMLESS = frozenset(_HARMLESS_WORDS.split())
_OF_FRESH_TOO = (
    "fresh raw chilled clean sound whole bruised marked scarred muddy sweet sour tart early "
    "late first last bramley cox gala fuji braeburn russet roma piper maris king edward desiree conference bartlett "
    "williams victoria hass charlotte nantes"
)
_OF_TOMATO = frozenset(("split",))  # a split melon or pumpkin is cut open
_OF_MEAT_CHILLED = "fresh raw chilled gutted cleaned plucked skinned grass fed wild farmed"
_PURPOSE = re.compile(r"for (?:the |a |my |our )?[a-z]+(?: (?:and|or|of) [a-z]+| [a-z]+)?")
_TO_BE = re.compile(r"to be (?:cut up|cut|jointed|butchered|canned|dried|bottled|shared|given away)(?: on [a-z]+day)?")
_SOURCE_WORDS = (
    "market garden allotment farm shop store neighbour neighbours neighbor neighbors orchard butcher fishmonger friend "
    "friends mother father sister brother aunt uncle grandmother grandfather school church village mill"
)
_SOURCES = frozenset(_SOURCE_WORDS.split())
_ROTTEN = re.compile(
    r"\b(rotten|rotting|rotted|mou?ldy|spoilt|spoiled|slimy|putrid|rancid|(?:gone|going) (?:bad|off))\b"
)
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
_VESSEL_WORDS = "tin tins can cans jar jars bottle bottles packet packets carton cartons pot pan freezer"
_VESSELS = frozenset(_VESSEL_WORDS.split())
_ROUGHLY = re.compile(
    r"^(?:about|approx\.?|approximately|around|roughly|circa|ca\.?|c\.|some|~)\s*(?=\d|an? |half )", re.I
)
_DAY_NAMES = r"(?:week|weekend|fortnight|month|(?:mon|tues|wednes|thurs|fri|satur|sun)day)s?"
_A_DAY = re.compile(
    rf"\b(?:{_DAY_NAMES}|days?|weeks?|hours?|ago|today|tomorrow|yesterday|nights?|mornings?|old|older|since|mon|tues?|wed|"
    r"thu|thurs?|fri|sat|sun|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?|"
    r"jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|use by|used by|best before|"
    r"sell by|bbe|expir[a-z]*)\b|\d"
)
_PAST = re.compile(
    r"\b(?:ago|old|older|since|yesterday|nights?|bought|caught|killed|slaughtered|picked|gutted|by|before)\b"
)
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


def speaks_of_the_past(note: str) -> bool:
    """Whether it may say that the food is older than today, or when it must be used."""
    return _PAST.search(note.lower()) is not None or any(figure.isdigit() for figure in note)


def rotten_word(text: str) -> str:
    """The word that says that some of it is spoilt; "" for none."""
    match = _ROTTEN.search(text.lower())
    return match[1] if match else ""


def is_plan(note: str) -> bool:
    """Whether a note says what is still to be done with it, not what was done: “to be cut up on Saturday”."""
    return _TO_BE.fullmatch(note.lower()) is not None


def not_understood(note: str, food: Food) -> str:
    """The first word of a note that may say something of how long the food keeps; "" where each is known not to."""
    said = note.lower().replace("-", " ")
    if is_plan(said):
        return ""
    if _PURPOSE.fullmatch(said):
        return next((word for word in said.split() if word.endswith("ed") or word in ("water", "oil")), "")
    allowed = _HARMLESS | _DESCRIBING.get(food.group, frozenset())
    if food.group in FRESH_GROUPS:
        allowed |= frozenset(_OF_FRESH_TOO.split()) | (_OF_TOMATO if food.key == "tomato" else frozenset())
    elif food.group in MEAT_GROUPS:
        allowed |= frozenset(_OF_MEAT_CHILLED.split())
    is_source = said.startswith("from ")
    for word in note.replace("-", " ").split():
        bare = word.lower().removesuffix("’s").removesuffix("'s")
        is_named = is_source and (bare in _SOURCES or (word[0].isupper() and _is_plain_name(word)))
        if bare not in allowed and not is_named:
            return word
    return ""


def _is_plain_name(word: str) -> bool:
    said = plain(word)
    return said not in _OTHER_FOOD | _CUT_OPEN | _VESSELS and known(word) is None


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
