"""What is typed about a lot."""

from __future__ import annotations

import re
from typing import Any

from django import forms

from stillroom.errors import StillroomError, UnknownFood
from stillroom.household import written_words as words
from stillroom.household.bundles import read_bundle
from stillroom.household.clock import check_stored
from stillroom.model.household import Place
from stillroom.tables.vocabulary import hear
from stillroom.web.frame.forms import capital
from stillroom.web.frame.seen import SeenForm
from stillroom.web.larder.actions import WHY
from stillroom.web.larder.models import Lot

_DAY = {"widget": forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d")}

_IN_STORE = re.compile(r",? (?:in jars|in the (?:freezer|fridge|cellar))$", re.IGNORECASE)  # says no food


class LotForm(SeenForm):
    """All of a lot, field by field; `lot` gets what was typed and is not saved here."""

    product = forms.CharField(label="What it is", max_length=80, help_text="Green beans in jars · stew · potatoes")
    food = forms.CharField(
        label="Which food", max_length=80, required=False, help_text="Only where the name does not say it."
    )
    amount = forms.CharField(
        label="Amount", max_length=80, help_text="9 quart jars of 900 g · 2 packs of 1.7 kg · 25 kg"
    )
    place = forms.ChoiceField(label="Where it is", choices=[(place.value, place.value) for place in Place])
    made_on = forms.DateField(label="Made on", **_DAY)
    best_by = forms.DateField(label="Best by", **_DAY)

    def __init__(self, *args: Any, lot: Lot, **rest: Any) -> None:
        self.lot = self.about = lot
        initial: dict[str, Any] = {"made_on": lot.household.today, "place": lot.place or Place.SHELF.value}
        if lot.pk:
            initial = {name: getattr(lot, name) for name in self.base_fields}
        super().__init__(*args, initial=initial, **rest)

    def clean(self) -> dict[str, Any]:
        """Reads food, amount and dates together, as the file of a household folder is read."""
        typed = super().clean() or self.cleaned_data
        if self.errors:
            return typed
        try:
            food = hear(typed["food"] or _IN_STORE.sub("", typed["product"])).food
        except UnknownFood as error:
            self.add_error("food", str(error))
            return typed
        try:
            bundle = read_bundle(typed["amount"], food.key)
        except StillroomError as error:
            self.add_error("amount", capital(str(error)))
            return typed
        made_on, best_by = typed["made_on"], typed["best_by"]
        if made_on > self.lot.household.today:
            self.add_error("made_on", "That is still to come: what is expected stands under Arrivals.")
        elif best_by < made_on:
            self.add_error("best_by", f"{best_by} is before it was made on {made_on}.")
        else:
            try:
                check_stored(food, Place(typed["place"]), bundle.piece, (best_by - made_on).days)
            except StillroomError as error:
                self.add_error("best_by", capital(str(error)))
        if not self.errors:
            lot = self.lot
            lot.product, lot.food, lot.place = typed["product"], food.key, typed["place"]
            lot.count, lot.container, lot.mass_g = bundle.count, bundle.piece, bundle.mass_g
            lot.made_on, lot.best_by = made_on, best_by
        return typed


class TakeOutForm(forms.Form):
    """How much leaves the larder and why; `part` is (containers, grams)."""

    part = forms.CharField(max_length=80)
    why = forms.ChoiceField(label="What became of it", choices=[(why, why) for why in WHY])

    def __init__(self, *args: Any, lot: Lot, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self._lot = lot
        self.fields["part"].label = f"How many of {lot.containers}" if lot.container else "How much"
        self.fields["part"].help_text = "A number, or “all”." if lot.container else "500 g · 2 lb · half · all"

    def clean_part(self) -> tuple[int, float]:
        """A number of containers, or a mass of what lies loose."""
        text, lot = self.cleaned_data["part"].strip().lower(), self._lot
        if lot.container:
            if text == "all":
                return lot.count, lot.mass_g
            if not text.isascii() or not text.isdigit() or len(text) > 6:
                raise forms.ValidationError(f"Write how many of the {lot.containers}, like 1, or “all”.")
            return int(text), 0.0
        share = {"all": 1.0, "half": 0.5}.get(text)
        try:
            return 0, read_bundle(f"{words.number(lot.mass_g * share)} g" if share else text, lot.food).mass_g
        except StillroomError as error:
            raise forms.ValidationError(capital(str(error))) from None
