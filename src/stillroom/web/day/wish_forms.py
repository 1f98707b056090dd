"""What may be wished of a food."""

from __future__ import annotations

from functools import partial
from typing import Any

from django import forms

from stillroom.model.recipe import Use
from stillroom.model.wish import Wish, WishKind
from stillroom.planning.by_hand import DONE_WORDS
from stillroom.quantities.amounts import mass_g
from stillroom.web.frame.forms import ReadField

_USES = [(use, words) for use, words in DONE_WORDS.items() if use != Use.BREAK_DOWN]


class FoodWishForm(forms.Form):
    """At least so much of a food for a use; without an amount nothing of it."""

    use = forms.ChoiceField(label="What", choices=_USES)

    def __init__(self, *args: Any, food: str, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self._food = food
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
