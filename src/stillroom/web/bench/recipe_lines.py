"""A recipe in plain fields (a line for each ingredient and step) and our text of it, one made from the other."""

from __future__ import annotations

from typing import Any

import yaml

from stillroom.errors import InputError, StillroomError
from stillroom.model.work import Attention
from stillroom.quantities.amounts import mass_g
from stillroom.recipes.reader import parse_recipe
from stillroom.recipes.step_text import read_need, read_wait_min
from stillroom.tables.vocabulary import hear

FOLLOWS = {"at most": "30 min", "why": "one step follows the other"}
_UNIT, _SMALLEST, _BECAUSE = "the amounts as written", 0.5, "more does not fit at once"
_OPTIONAL, _AT_ONCE = "optional", "eaten at once"
Written = dict[str, Any]


def text_of(fields: Written) -> str:
    """Our text of a recipe; InputError names the line that can't be read."""
    product: Written = {
        "name": fields["name"],
        "container": fields["container"],
        "place": fields["place"],
        "amount": fields["amount"],
        "keeps days": fields["keeps_days"],
        "source": fields["keeps_source"] or _AT_ONCE,
    }
    if fields["meal"]:
        product |= {"portions": fields["portions"], "meal": fields["meal"]}
    written = {
        "name": fields["name"],
        "use": fields["use"],
        "summary": fields["summary"] or fields["name"],
        "unit": _UNIT,
        "batch": {"smallest": _SMALLEST, "largest": fields["largest"], "because": _BECAUSE},
        "ingredients": [_ingredient(line, not place) for place, line in enumerate(_lines(fields["ingredients"]))],
        "steps": [_step(line, place) for place, line in enumerate(_lines(fields["steps"]), start=1)],
        "products": [product],
    }
    return yaml.safe_dump(written, allow_unicode=True, sort_keys=False, width=100)


def fields_of(text: str) -> Written | None:
    """The fields of our text; None where it says more than they can hold, or can't be read."""
    try:
        written = yaml.load(text, Loader=yaml.BaseLoader)
        product, steps = written["products"][0], written["steps"]
        fields = {
            "name": written["name"],
            "use": written["use"],
            "summary": written["summary"],
            "largest": float(written["batch"]["largest"]),
            "ingredients": "\n".join(_ingredient_line(line) for line in written["ingredients"]),
            "steps": "\n".join(_step_line(step) for step in steps),
            "container": product["container"],
            "place": product["place"],
            "amount": product["amount"],
            "keeps_days": int(product["keeps days"]),
            "keeps_source": product["source"],
            "portions": float(product.get("portions", 0)),
            "meal": product.get("meal", ""),
        }
        is_whole = parse_recipe(text_of(fields), "recipe") == parse_recipe(text, "recipe")
    except (yaml.YAMLError, StillroomError, LookupError, TypeError, ValueError, AttributeError):
        return None
    return fields if is_whole else None


def _lines(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]


def _ingredient(line: str, is_main: bool) -> Written:
    """ "1 kg apples, in pieces": amount, food, and how it is prepared; “optional” is a part of its own."""
    parts = [part.strip() for part in line.split(",") if part.strip()]
    for used in range(min(3, len(parts)), 0, -1):
        words = ", ".join(parts[:used]).split()
        for place in range(1, len(words)):
            amount, food = " ".join(words[:place]), " ".join(words[place:]).removeprefix("of ")
            if _can_be_weighed(amount, food):
                rest = [part for part in parts[used:] if part != _OPTIONAL]
                kind = "main" if is_main else _OPTIONAL if _OPTIONAL in parts[used:] else "cupboard"
                return {"food": food, "amount": amount, "kind": kind, "preparation": ", ".join(rest)}
    raise InputError(
        f"“{line}” can't be read: write an amount with its unit and a food, like “1 kg apples, in pieces”."
    )


def _can_be_weighed(amount: str, food: str) -> bool:
    try:
        return mass_g(amount, hear(food).food.key) > 0
    except InputError:
        return False


def _ingredient_line(line: Written) -> str:
    food = line["food"] if isinstance(line["food"], str) else line["food"][0]
    kind = _OPTIONAL if line.get("kind") == _OPTIONAL else ""
    return ", ".join(filter(None, (f"{line['amount']} {food}", line.get("preparation", ""), kind)))


def _step(line: str, number: int) -> Written:
    """ "Cook until soft, 20 min, near, 1 burner": what, how long, whom it takes, what it stands on."""
    needs: list[str] = []
    parts, attention, minutes = line.split(", "), Attention.HANDS.value, 0
    while len(parts) > 1 and not minutes:
        part = parts.pop().rstrip(".")
        if part in [one.value for one in Attention]:
            attention = part
        elif _reads(read_need, part):
            needs.insert(0, part)
        elif _reads(read_wait_min, part):
            minutes = read_wait_min(part)
        else:
            break
    if not minutes:
        raise InputError(
            f"“{line}” has no length that can be read: write it like “Cook until soft, 20 min, near, 1 burner”."
        )
    step: Written = {
        "key": f"step {number}",
        "do": ", ".join(parts),
        "minutes": minutes,
        "attention": attention,
        "needs": needs,
    }
    return step if number == 1 else step | {"after": [{"step": f"step {number - 1}", **FOLLOWS}]}


def _reads(read: Any, text: str) -> bool:
    try:
        read(text)
    except ValueError:
        return False
    return True


def _step_line(step: Written) -> str:
    return ", ".join((step["do"], f"{step['minutes']} min", step["attention"], *step.get("needs", ())))
