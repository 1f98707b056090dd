"""Finds a recipe in a web page or in JSON that uses the schema.org vocabulary (JSON-LD)."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from html.parser import HTMLParser

from stillroom.errors import InputError

_DEEPEST = 50  # nesting of a page that means no harm


@dataclass(frozen=True, slots=True)
class RecipeText:
    """A recipe as plain text: its name, its ingredient lines and its method."""

    name: str
    ingredients: tuple[str, ...]
    method: str


def recipe_of_page(html: str) -> RecipeText:
    """The first schema.org Recipe in the JSON-LD blocks of a page; InputError when there is none."""
    reader = _ScriptReader()
    reader.feed(html)
    reader.close()
    for block in reader.blocks:
        try:
            data = json.loads(block, strict=False)  # pages put bare line breaks into strings
        except (ValueError, RecursionError):
            continue
        found = _first_recipe(data)
        if found is not None:
            return found
    raise InputError("No recipe in the schema.org vocabulary (JSON-LD) is in this page. Write the recipe out as YAML.")


def recipe_of_json(text: str) -> RecipeText:
    """The recipe in JSON: schema.org, or {"name", "ingredients", "method"}; InputError when it is neither."""
    try:
        data = json.loads(text)
    except ValueError as error:
        raise InputError(f"This is no JSON that can be read: {error}.") from None
    except RecursionError:
        raise InputError("This JSON is nested too deeply to be a recipe.") from None
    return _first_recipe(data) or recipe_of_mapping(data)


def recipe_of_mapping(data: object) -> RecipeText:
    """A simple recipe: a mapping with `ingredients` (lines of text) and, if you like, `name` and `method`."""
    if not isinstance(data, dict) or not isinstance(data.get("ingredients"), list) or not data["ingredients"]:
        raise InputError(
            "A recipe needs a list “ingredients”, one line of text each, and may have “name” and “method”."
        )
    lines = data["ingredients"]
    for number, line in enumerate(lines, start=1):
        if not isinstance(line, str):
            raise InputError(f"Ingredient {number} is not a line of text: {line!r}.")
    return RecipeText(str(data.get("name", "")), tuple(lines), " ".join(_texts(data.get("method", ""), 0)))


def _first_recipe(data: object) -> RecipeText | None:
    for node in _nodes(data, 0):
        lines = node.get("recipeIngredient", node.get("ingredients"))
        if _is_recipe(node) and lines:
            ingredients = tuple(_texts(lines, 0))
            return RecipeText(
                str(node.get("name", "")), ingredients, " ".join(_texts(node.get("recipeInstructions"), 0))
            )
    return None


def _nodes(data: object, depth: int) -> Iterator[dict[str, object]]:
    """Every mapping in the data, outermost first: lists, @graph, mainEntity and so on."""
    if depth > _DEEPEST:
        return
    if isinstance(data, dict):
        yield data
        for value in data.values():
            yield from _nodes(value, depth + 1)
    elif isinstance(data, list):
        for value in data:
            yield from _nodes(value, depth + 1)


def _is_recipe(node: dict[str, object]) -> bool:
    kind = node.get("@type")
    kinds = kind if isinstance(kind, list) else [kind]
    return any(str(one).rsplit("/", 1)[-1] == "Recipe" for one in kinds)


def _texts(data: object, depth: int) -> Iterator[str]:
    """All text of instructions: plain, lists, HowToStep and HowToSection, without tags and with entities read."""
    if depth > _DEEPEST:
        return
    if isinstance(data, str):
        yield _plain(data)
    elif isinstance(data, list):
        for value in data:
            yield from _texts(value, depth + 1)
    elif isinstance(data, dict):
        for key in ("name", "text", "itemListElement", "steps"):
            yield from _texts(data.get(key), depth + 1)


def _plain(text: str) -> str:
    if "<" not in text and "&" not in text:
        return " ".join(text.split())
    reader = _TextReader()
    reader.feed(text)
    reader.close()
    return " ".join(" ".join(reader.parts).split())


class _TextReader(HTMLParser):
    """Collects the text between tags."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.parts: list[str] = []

    def handle_data(self, data: str) -> None:
        self.parts.append(data)


class _ScriptReader(HTMLParser):
    """Collects the contents of <script type="application/ld+json">."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.blocks: list[str] = []
        self._is_inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        kind = (dict(attrs).get("type") or "").split(";")[0].strip().lower()
        if tag == "script" and kind == "application/ld+json":
            self._is_inside = True
            self.blocks.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag == "script":
            self._is_inside = False

    def handle_data(self, data: str) -> None:
        if self._is_inside:
            self.blocks[-1] += data
