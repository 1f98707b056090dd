"""The recipes of the bench: ours, and the household's own with what the screen says of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

from stillroom.errors import InputError
from stillroom.household.own_recipes import screening_of, why_left_out
from stillroom.model.recipe import Recipe
from stillroom.process.screening_rules import Finding
from stillroom.recipes.reader import all_recipes, parse_recipe
from stillroom.tables.spelling import folded, plain
from stillroom.web.kitchen.models import Household, OwnRecipe


@dataclass(frozen=True, slots=True)
class OnShelf:
    """A recipe in the list: `own` is its row where it is the household's, `fault` why its text can't be read."""

    recipe: Recipe | None
    name: str
    own: OwnRecipe | None = None
    why_not: str = ""  # left out of every plan, because
    findings: tuple[Finding, ...] = ()
    fault: str = ""

    @property
    def words(self) -> str:
        """What is searched."""
        made = self.recipe
        said = [self.name]
        if made is not None:
            said += [made.summary, made.use.value, *(food for item in made.ingredients for food in item.foods)]
        return f" {folded(plain(' '.join(said)))} "


def own_on_shelf(row: OwnRecipe) -> OnShelf:
    """A recipe of the household, read and screened."""
    return _with_row(_screened(row.text, row.key), row)


def on_shelf(household: Household) -> list[OnShelf]:
    """All recipes, the household's own first."""
    own = [own_on_shelf(row) for row in household.recipes.all()]
    return own + [OnShelf(recipe, recipe.name) for recipe in all_recipes()]


def matching(shelf: list[OnShelf], text: str, use: str) -> list[OnShelf]:
    """Those of one use that hold every word of `text` as the beginning of a word."""
    wanted = [f" {word}" for word in folded(plain(text)).split()]
    return [
        one
        for one in shelf
        if all(word in one.words for word in wanted) and (not use or (one.recipe is not None and one.recipe.use == use))
    ]


COLUMNS = ("key", "name", "use", "unit", "smallest", "largest", "own", "not planned with because", "source", "summary")


def rows(shelf: list[OnShelf]) -> Iterator[Sequence[object]]:
    """The recipes as a table for a spreadsheet."""
    for one in shelf:
        key = one.own.key if one.own else one.recipe.key if one.recipe else ""
        whose, why = "yes" if one.own else "no", one.fault or one.why_not
        if one.recipe is None:
            yield key, one.name, None, None, None, None, whose, why, None, None
        else:
            it = one.recipe
            yield key, it.name, it.use.value, it.unit, it.smallest, it.largest, whose, why, it.source, it.summary


def ours(key: str) -> Recipe | None:
    """A recipe that comes with the program."""
    return next((recipe for recipe in all_recipes() if recipe.key == key), None)


def text_of_ours(key: str) -> str:
    """Its file, to begin an own one from."""
    return (Path(str(files("stillroom.recipes"))) / "data" / f"{key}.yaml").read_text(encoding="utf-8")


@lru_cache(maxsize=256)
def _screened(text: str, key: str) -> OnShelf:
    """Read and screened once for the same text."""
    try:
        recipe = parse_recipe(text, key)
    except InputError as error:
        return OnShelf(None, key.replace("_", " "), fault=str(error))
    why = why_left_out(recipe)
    said = screening_of(recipe) if why and recipe.process is not None else None
    return OnShelf(recipe, recipe.name, why_not=why, findings=said.findings if said else ())


def _with_row(screened: OnShelf, row: OwnRecipe) -> OnShelf:
    return OnShelf(
        screened.recipe,
        screened.name,
        own=row,
        why_not=screened.why_not,
        findings=screened.findings,
        fault=screened.fault,
    )
