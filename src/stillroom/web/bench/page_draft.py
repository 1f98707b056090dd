"""A recipe page or file from elsewhere, screened, and brought into our text as far as it can be read."""

from __future__ import annotations

from dataclasses import dataclass

import yaml

from stillroom.errors import InputError
from stillroom.process.ingredient_lines import read_line
from stillroom.process.recipe_page import RecipeText, recipe_of_json, recipe_of_page
from stillroom.process.screen import Screening, screen
from stillroom.quantities.amounts import mass_g
from stillroom.web.bench.sums.shape import grams

MOST_BYTES = 4_000_000


@dataclass(frozen=True, slots=True)
class FromElsewhere:
    """What was read, what the screen says of it, and our text to go on from."""

    read: RecipeText
    screening: Screening
    draft: str
    not_understood: tuple[str, ...]


def from_elsewhere(name: str, content: bytes) -> FromElsewhere:
    """The recipe in a saved page (schema.org) or JSON file; InputError says what is wrong with it."""
    if len(content) > MOST_BYTES:
        raise InputError("This file is larger than any recipe: save only the recipe.")
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        raise InputError("This is not text in UTF-8: save the page as UTF-8.") from None
    read = recipe_of_json(text) if name.lower().endswith(".json") else recipe_of_page(text)
    draft, left = _draft(read)
    return FromElsewhere(read, screen(read.ingredients, read.method, name=read.name), draft, left)


def _draft(read: RecipeText) -> tuple[str, tuple[str, ...]]:
    """Our text, and the ingredient lines that could not be read."""
    known, left, together_g = [], [], 0.0
    for line in read.ingredients:
        try:
            heard = read_line(line)
            weighs_g = mass_g(heard.amount, heard.foods[0].food.key) if heard.foods else 0.0
        except InputError:
            weighs_g = 0.0
        if weighs_g:
            known.append({"food": heard.foods[0].food.key, "amount": heard.amount, "preparation": _one_line(line)})
            together_g += weighs_g
        else:
            left.append(_one_line(line))
    name = _one_line(read.name) or "Recipe from a page"
    written = {
        "name": name,
        "use": "eat now",
        "summary": "From a page; look through it.",
        "unit": "the amount of the page",
        "batch": {"smallest": 0.5, "largest": 4, "because": "not tried yet"},
        "ingredients": known,
        "steps": [{"key": "make", "do": _one_line(read.method) or "as written", "minutes": 60, "attention": "hands"}],
        "products": [
            {
                "name": name,
                "container": "plate",
                "place": "counter",
                "amount": grams(together_g or 1000.0),
                "keeps days": 0,
                "source": "eaten at once",
            }
        ],
        "source": "a page from elsewhere, not tested here",
    }
    head = "".join(f"# not understood, write it below with a weight: {line}\n" for line in left)
    return head + yaml.safe_dump(written, allow_unicode=True, sort_keys=False, width=100), tuple(left)


def _one_line(text: str) -> str:
    return " ".join(text.split())
