"""What is typed about a meal."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from django import forms
from django.template.defaultfilters import floatformat

from stillroom.errors import InputError
from stillroom.household.household_file import MOST_GUESTS, YOUNGEST
from stillroom.quantities.portions import ADULT_AGE
from stillroom.web.frame.forms import ReadField
from stillroom.web.frame.seen import SeenForm
from stillroom.web.table.leftovers import usually_left
from stillroom.web.table.meals import TableMeal


def _ages(text: str) -> list[int]:
    """Ages in years; InputError for what is no age of a child."""
    words = text.replace(",", " ").split()
    if len(words) > MOST_GUESTS:
        raise InputError(f"Up to {MOST_GUESTS} children can be guests.")
    for word in words:
        if not word.isascii() or not word.isdigit() or not YOUNGEST <= int(word[:3]) < ADULT_AGE:
            raise InputError(
                f"“{word[:20]}” is no age of a child from {YOUNGEST} to {ADULT_AGE - 1} years: write 4, 9."
            )
    return [int(word) for word in words]


def _written(ages: Sequence[int]) -> str:
    return ", ".join(map(str, ages))


class MealDayForm(SeenForm):
    """What is different about a meal on its day."""

    at = forms.TimeField(label="At", widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"))
    eaters = forms.TypedMultipleChoiceField(
        label="For",
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="Nobody ticked: as usual.",
    )
    guests = forms.IntegerField(
        label="Guests", min_value=0, max_value=MOST_GUESTS, help_text="Each eats an adult portion."
    )
    child_guests = ReadField(
        label="Ages of visiting children",
        read=_ages,
        write=_written,
        required=False,
        help_text=f"Like 4, 9. Under {ADULT_AGE} a child eats by its age.",
    )

    def __init__(self, *args: Any, meal: TableMeal, **rest: Any) -> None:
        initial = {"at": meal.at.time(), "eaters": [one.pk for one in meal.eaters], "guests": meal.row.guests}
        initial["child_guests"] = meal.row.child_guests or None
        super().__init__(*args, initial=initial, **rest)
        self.meal, self.about = meal, meal.row if meal.row.pk else None
        self._usual = set(meal.usual.eaters)
        people = meal.usual.household.people.filter(eats=True)
        self._all = {person.pk for person in people}
        self.fields["eaters"].choices = [(person.pk, person.name) for person in people]

    def clean_child_guests(self) -> list[int]:
        """Empty where none is typed."""
        return self.cleaned_data["child_guests"] or []

    def clean_eaters(self) -> list[int]:
        """Empty where the same people eat as usual."""
        ticked = self.cleaned_data["eaters"]
        return [] if set(ticked) == (self._usual or self._all) else ticked


class EatenForm(forms.Form):
    """How many portions of each dish are left, and whether they were put into the cold in time."""

    is_chilled = forms.BooleanField(required=False)

    def __init__(self, *args: Any, meal: TableMeal, is_late: bool, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self._dishes = meal.dishes
        for number, dish in enumerate(meal.dishes):
            self.fields[f"left_{number}"] = forms.IntegerField(
                label=f"Portions left of {dish.run.name}",
                min_value=0,
                max_value=max(0, math.ceil(dish.portions)),
                initial=usually_left(dish, meal),
                required=False,
                help_text=f"It makes {floatformat(dish.portions, -1)} portions.",
            )
        if is_late and meal.dishes:
            self.fields["is_chilled"].label = "What is left stood in the fridge within two hours"
            self.order_fields([*(name for name in self.fields if name != "is_chilled"), "is_chilled"])
        else:
            del self.fields["is_chilled"]

    @property
    def left(self) -> list[int]:
        """Portions left of each dish, in the order of the dishes."""
        return [self.cleaned_data[f"left_{number}"] or 0 for number in range(len(self._dishes))]
