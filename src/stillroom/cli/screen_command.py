"""`stillroom screen RECIPE`: does a tested process cover this recipe? From YAML, JSON or a web page (schema.org)."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from stillroom.errors import InputError
from stillroom.process.recipe_page import RecipeText, recipe_of_json, recipe_of_mapping, recipe_of_page
from stillroom.process.screen import Screening, screen
from stillroom.process.steps import CAUTION

REFUSED = 3
LARGEST_BYTES = 5_000_000  # a recipe page is far smaller


def screen_command(
    recipe: Annotated[Path, typer.Argument(help="A recipe: .yaml, .json or a saved .html page.")],
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Screen a recipe ingredient by ingredient; exit code 3 when no tested process covers it."""
    text = read_recipe_text(recipe)
    answer = screen(text.ingredients, text.method, name=text.name)
    name = text.name or recipe.stem
    print(_json(name, answer) if as_json else _text(name, answer))
    if not answer.is_tested:
        raise typer.Exit(REFUSED)


def read_recipe_text(path: Path) -> RecipeText:
    """The recipe in a file, told by its ending; InputError names the file and what is wrong."""
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise InputError(f"{path} is larger than any recipe; save only the recipe.")
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        raise InputError(f"{path} can't be read: {error.strerror}.") from None
    except UnicodeDecodeError:
        raise InputError(f"{path} is not text in UTF-8; save it as UTF-8.") from None
    readers = {".json": recipe_of_json, ".html": recipe_of_page, ".htm": recipe_of_page}
    readers |= {".yaml": _recipe_of_yaml, ".yml": _recipe_of_yaml}
    reader = readers.get(path.suffix.lower())
    if reader is None:
        raise InputError(f"{path.name}: a recipe is read from a .yaml, .json or .html file.")
    try:
        return reader(text)
    except InputError as error:
        raise InputError(f"{path}: {error}") from None


def _recipe_of_yaml(text: str) -> RecipeText:
    """Our own recipe format, or a simple {name, ingredients, method}; imported late, because YAML is slow to load."""
    import yaml

    try:
        data = yaml.safe_load(text)
    except yaml.YAMLError as error:
        raise InputError(f"this is no YAML that can be read: {' '.join(str(error).split())}") from None
    except RecursionError:
        raise InputError("this YAML is nested too deeply to be a recipe.") from None
    return recipe_of_mapping(_plain_lines(data))


def _plain_lines(data: object) -> object:
    """Our own format brought to lines of text: what is written of each ingredient, and the texts of the steps."""
    if not isinstance(data, dict) or not isinstance(data.get("ingredients"), list):
        return data
    steps = data.get("steps")
    texts = [str(step.get("do", "")) for step in steps if isinstance(step, dict)] if isinstance(steps, list) else []
    method = data.get("method") or texts
    return {**data, "ingredients": [_line_of(entry) for entry in data["ingredients"]], "method": method}


def _line_of(entry: object) -> object:
    """An ingredient of our own format as one line: all foods that will do, its amount and preparation."""
    if not isinstance(entry, dict):
        return entry
    foods = entry.get("foods", entry.get("food", ""))
    named = " or ".join(map(str, foods)) if isinstance(foods, list) else str(foods)
    line = " ".join(str(part) for part in (entry.get("amount"), named) if part)
    return f"{line}; {entry['preparation']}" if entry.get("preparation") else line


def _json(name: str, answer: Screening) -> str:
    match = answer.match
    keys: dict[str, Any] = {
        "tested": answer.is_tested,
        "name": name,
        "process_food": match.process_food if match else None,
        "form": match.form if match else None,
        "conditions": list(match.conditions) if match else [],
        "source": match.source if match else None,
        "reason": answer.reason,
        "findings": [
            {
                "ingredient": finding.ingredient,
                "food": finding.food,
                "rule": finding.rule,
                "reason": finding.reason,
                "instead": finding.instead,
                "source": finding.source,
            }
            for finding in answer.findings
        ],
        "alternatives": [{"what": way.what, "source": way.source} for way in answer.possible],
        "caution": CAUTION,
    }
    return json.dumps(keys, ensure_ascii=False, indent=2)


def _text(name: str, answer: Screening) -> str:
    if answer.match is not None:
        lines = [f"COVERED  {name}", f"  {answer.reason}", f"  Source: {answer.match.source}"]
        lines.append("  Look the time up for your jar, canner and altitude with: stillroom process")
    else:
        lines = [f"REFUSED  {name}: no tested process covers this recipe"]
        lines += [f"  - {finding.sentence()} [{finding.source}]" for finding in answer.findings]
        lines += ["  Possible:"] if answer.possible else []
        lines += [f"  - {way.what}" for way in answer.possible]
    return "\n".join([*lines, f"  {CAUTION}"])
