"""`stillroom screen RECIPE`: does a tested process cover this recipe? From YAML, JSON or a web page (schema.org)."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated, Any

import typer

from stillroom.cli.our_recipes import is_ours_unchanged, our_recipe_path
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.model.process import JarSize
from stillroom.process.heating import heat_of
from stillroom.process.jar_text import jar_name
from stillroom.process.recipe_page import RecipeText, recipe_of_json, recipe_of_mapping, recipe_of_page
from stillroom.process.screen import Screening, of_tested_recipe, screen, tested_rows
from stillroom.process.steps import CAUTION

REFUSED = 3
LARGEST_BYTES = 5_000_000  # a recipe page is far smaller


def screen_command(
    recipe: Annotated[Path, typer.Argument(help="A .yaml, .json or saved .html recipe, or the key of one of ours.")],
    *,
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Screen a recipe ingredient by ingredient; exit code 3 when no tested process covers it as it is written."""
    path = recipe if recipe.suffix or recipe.exists() else our_recipe_path(str(recipe))
    ours = _ours(path)
    if ours is not None:
        name, answer = ours
    else:
        text = read_recipe_text(path)
        name, answer = text.name or path.stem, screen(text.ingredients, text.method, name=text.name)
    print(_json(name, answer) if as_json else wrapped(_text(name, answer)))
    if not answer.is_tested:
        raise typer.Exit(REFUSED)


def _ours(path: Path) -> tuple[str, Screening] | None:
    """Name and answer for one of our own jar recipes, unchanged: its proportions are those of its tested process."""
    if path.suffix.lower() not in (".yaml", ".yml") or not path.is_file() or path.stat().st_size > LARGEST_BYTES:
        return None
    if not is_ours_unchanged(path.read_bytes()):
        return None
    from stillroom.recipes.reader import read_recipe

    recipe = read_recipe(path)
    if recipe.process is None:
        raise InputError(f"“{recipe.name}” makes no jars for the shelf, so there is nothing to screen.")
    return recipe.name, of_tested_recipe(recipe.process, recipe.cautions)


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
    steps = steps if isinstance(steps, list) else [steps or ""]
    texts = [str(step.get("do", "") if isinstance(step, dict) else step) for step in steps]
    method = data.get("method") or texts + _canners(data.get("process"))
    return {**data, "ingredients": [_line_of(entry) for entry in data["ingredients"]], "method": method}


def _canners(process: object) -> list[str]:
    """The canners that our own format names, as the method's last sentence."""
    kinds = process.get("canners") if isinstance(process, dict) else None
    return [f". Process in: {', '.join(map(str, kinds))}."] if isinstance(kinds, list) else []


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
        "heat": heat_of(match.process_food, match.form) if match else None,
        "lacks": list(answer.lacks),
        "look_up": look_up(answer) if match else None,
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
        head = "NOT YET COVERED" if answer.lacks else "COVERED"
        lines = [f"{head}  {name}", f"  {answer.reason}"]
        lines.append(f"  Source: {answer.match.source}")
        lines.append("  Its minutes, with your own jar, canner and altitude put in:")
        lines.append(f"    {look_up(answer)}")
    else:
        lines = [f"REFUSED  {name}: no tested process covers this recipe"]
        lines += [f"  - {finding.sentence()} [{finding.source}]" for finding in answer.findings]
        lines += ["  Possible:"] if answer.possible else []
        lines += [f"  - {way.what}" for way in answer.possible]
    return "\n".join([*lines, f"  {CAUTION}"])


def look_up(answer: Screening) -> str:
    """The command that looks up the minutes; the altitude has to be filled in, so that no sea level slips through."""
    assert answer.match is not None  # asked only of what is covered
    rows = tested_rows(answer.match)
    jar = max((row.jar for row in rows), key=lambda size: (size.volume_ml <= JarSize.QUART.volume_ml, size.volume_ml))
    canner = "dial" if all(row.is_pressure for row in rows) else "boiling water"
    words = [f'stillroom process "{answer.food}"']
    words += [f'--form "{answer.match.form}"'] if answer.match.form else []
    words += [f"--pack {answer.match.pack}"] if answer.match.pack else []
    return " ".join([*words, f'--jar {jar_name(jar)} --canner "{canner}" --altitude "YOUR ALTITUDE m"'])
