"""What may be wished of a food: what the planner knows a way to do with it, and why not the rest."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Any

from django import forms

from stillroom.model.recipe import Use
from stillroom.model.wish import GIVE_AWAY, Wish, WishKind
from stillroom.planning.by_hand import DONE_WORDS
from stillroom.planning.items import FRESH, item
from stillroom.planning.kept_plan import read_plan
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.split import Split, split
from stillroom.quantities.amounts import mass_g
from stillroom.web.frame.forms import ReadField

_USES = {use: words for use, words in DONE_WORDS.items() if use != Use.BREAK_DOWN}
_REFUSED = "In jars: refused, since no tested process covers it here. Why, and what to do instead, stands below."
_NO_JAR = (
    "In jars: no tested process with the jars and canners of this kitchen; the process card on the bench says why."
)


@lru_cache(maxsize=4)  # the same plan is asked of many foods
def _split_of(kept: str) -> Split:
    """The split of a plan before any wish."""
    folder = read_plan(kept).folder
    return split(folder, known_recipes(folder), folder.days)


@dataclass(frozen=True, slots=True)
class Choices:
    """Uses that may be wished of a food, with their words, and why no others."""

    uses: Mapping[str, str]
    why_no_others: tuple[str, ...]


def choices(kept: str, food: str, name: str, *, is_jar_refused: bool) -> Choices:
    """What the planner has a way for. `kept` is the text of the plan, `name` what the food is called on the page."""
    task, fresh = _split_of(kept), item(food, FRESH)
    there = {str(a.use) for a in task.problem.activities if any(fresh in needed.items for needed in a.inputs)}
    uses = {use: words for use, words in _USES.items() if use in there}
    others = {use: words for use, words in _USES.items() if use not in uses}
    then = "; once cut up, the parts may be" if Use.BREAK_DOWN in there else ""
    in_jars = "" if then or fresh not in task.jarred_items else _REFUSED if is_jar_refused else _NO_JAR
    return Choices(uses, tuple(_why_not(others, name, in_jars, then)))


def _why_not(others: dict[str, str], name: str, in_jars: str, then: str) -> Iterator[str]:
    if in_jars and others.pop(Use.JAR.value, ""):
        yield in_jars
    if others.pop(GIVE_AWAY, ""):
        yield "Given away: it outlasts this plan, so none has to go."
    if others:
        yield f"{', '.join(others.values()).capitalize()}: no recipe here begins with {name}{then}."


class FoodWishForm(forms.Form):
    """At least so much of a food for a use; without an amount nothing of it."""

    use = forms.ChoiceField(label="What")

    def __init__(self, *args: Any, food: str, uses: Mapping[str, str], **rest: Any) -> None:
        super().__init__(*args, **rest)
        self._food = food
        self.fields["use"].choices = list(uses.items())
        self.fields["amount"] = ReadField(
            label="At least",
            read=partial(mass_g, food_key=food),
            required=False,
            help_text="5 kg, 10 lb, 1 bushel. Empty: nothing of it.",
        )

    def clean(self) -> dict[str, Any]:
        """An amount of nothing is no amount."""
        typed = super().clean() or self.cleaned_data
        if typed.get("amount") == 0:
            self.add_error("amount", "Leave it empty to have nothing of it.")
        return typed

    @property
    def wish(self) -> Wish:
        """What is wished, once the form is valid."""
        use, grams = self.cleaned_data["use"], self.cleaned_data["amount"]
        if grams is None:
            return Wish(WishKind.NO_USE, food=self._food, use=use)
        return Wish(WishKind.AT_LEAST, food=self._food, use=use, mass_g=grams)
