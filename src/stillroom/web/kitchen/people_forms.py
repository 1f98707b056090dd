"""What is typed about people and meals."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.db.models import Model

from stillroom.errors import InputError
from stillroom.household.hours_text import read_appointment, read_hours
from stillroom.household.household_file import ROLES
from stillroom.model.kitchen import is_too_young
from stillroom.model.recipe import Use
from stillroom.web.frame.forms import ReadField
from stillroom.web.kitchen.forms import HouseRowForm
from stillroom.web.kitchen.models import DAY_NAMES, Household


def _exceptions(text: str) -> dict[str, str]:
    """{"2027-04-14": "none"} from a line for each day."""
    found: dict[str, str] = {}
    for line in filter(None, map(str.strip, text.splitlines())):
        day, colon, hours = line.partition(":")
        try:
            date.fromisoformat(day.strip())
        except ValueError:
            colon = ""
        if not colon:
            raise InputError(f"“{line}” can't be read: write a day and its hours, like “2027-04-14: 16:15-20:15”.")
        read_hours(hours.strip())
        found[day.strip()] = hours.strip()
    return found


def _appointments(text: str) -> list[str]:
    """The lines, once each can be read."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    for line in lines:
        read_appointment(line)
    return lines


def _lines(value: dict[str, str] | list[str]) -> str:
    return "\n".join(f"{day}: {hours}" for day, hours in value.items()) if isinstance(value, dict) else "\n".join(value)


class PersonForm(HouseRowForm):
    """One who eats, or helps, or both."""

    rarer = ("exceptions", "appointments", "leaves")
    rarer_words = "Single days, appointments, work left to others"

    name = forms.CharField(label="Name", max_length=60)
    age_years = forms.IntegerField(
        label="Age, for a child", min_value=0, max_value=120, required=False, help_text="Empty for an adult."
    )
    appetite = forms.ChoiceField(label="Appetite", choices=[(word, word) for word in ("small", "usual", "large")])
    eats = forms.BooleanField(label="Eats here", required=False)
    helps = forms.BooleanField(label="Helps in the kitchen", required=False)
    is_child = forms.BooleanField(
        label="Helps as a child",
        required=False,
        help_text="No blade, heat or raw meat, and only beside an adult. Always so below 14 years.",
    )

    exceptions = ReadField(
        label="Other hours on single days",
        read=_exceptions,
        write=_lines,
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="A line for each day: “2027-04-14: 16:15-20:15”, “2027-04-15: none”.",
    )
    appointments = ReadField(
        label="Appointments",
        read=_appointments,
        write=_lines,
        max_length=2000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text="A line for each: “2027-04-14 10:00-11:30 dentist”.",
    )
    leaves = forms.MultipleChoiceField(
        label="Leaves to others",
        choices=[(use.value, use.value) for use in Use],
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        for day in DAY_NAMES:
            self.fields[day] = ReadField(
                label=day.capitalize(), read=_hours, required=False, initial=self.row.hours.get(day, "")
            )
            self.fields[day].is_short = True

    @property
    def hour_fields(self) -> list[Any]:
        """The hours of each day, shown after the rest."""
        return [self[day] for day in DAY_NAMES]

    def visible_fields(self) -> list[Any]:
        """All but the hours and what few people need."""
        return [field for field in super().visible_fields() if field.name not in DAY_NAMES]

    def clean_name(self) -> str:
        """Its own name."""
        return self._unlike_others("name", self.household.people, "person")

    def clean(self) -> dict[str, Any]:
        """Somebody who neither eats nor helps is not of the household."""
        typed = super().clean() or self.cleaned_data
        if not typed.get("eats") and not typed.get("helps"):
            self.add_error("eats", "Say that this person eats here, or helps, or both.")
        if typed.get("helps") and is_too_young(typed.get("age_years")):
            typed["is_child"] = True
        if not self.errors:
            self._check_some_are_left(typed)
        return typed

    def _check_some_are_left(self, typed: dict[str, Any]) -> None:
        others = self.household.people.exclude(pk=self.row.pk)
        if not typed["eats"] and not others.filter(eats=True).exists():
            self.add_error("eats", "Somebody has to eat here.")
        if not typed["helps"] and not others.filter(helps=True).exists():
            self.add_error("helps", "Somebody has to work in the kitchen.")

    def apply(self) -> Model:
        """Also the hours of the week."""
        person = super().apply()
        person.hours = {day: self.cleaned_data[day] or "" for day in DAY_NAMES}
        person.exceptions = self.cleaned_data["exceptions"] or {}
        person.appointments = self.cleaned_data["appointments"] or []
        return person


def _hours(text: str) -> str:
    """The hours as typed, once they can be read; "none" is empty."""
    return text.strip() if read_hours(text) else ""


class MealForm(HouseRowForm):
    """A meal on some days of the week."""

    name = forms.CharField(label="Meal", max_length=40)
    days = forms.MultipleChoiceField(
        label="On", choices=[(day, day.capitalize()) for day in DAY_NAMES], widget=forms.CheckboxSelectMultiple
    )
    at = forms.TimeField(label="At", widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"))
    roles = forms.MultipleChoiceField(
        label="With", choices=[(role, role) for role in ROLES], widget=forms.CheckboxSelectMultiple
    )
    eaters = forms.TypedMultipleChoiceField(
        label="For",
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="Nobody ticked: for everybody.",
    )

    def __init__(self, *args: Any, row: Any, household: Household, **rest: Any) -> None:
        super().__init__(*args, row=row, household=household, initial={"days": row.day_names}, **rest)
        self.fields["eaters"].choices = [(p.pk, p.name) for p in household.people.filter(eats=True)]

    def clean_days(self) -> str:
        """As the row keeps them."""
        return ", ".join(self.cleaned_data["days"])

    def clean(self) -> dict[str, Any]:
        """Two meals of one name on one day could not be told apart."""
        typed = super().clean() or self.cleaned_data
        for other in self.household.meal_times.exclude(pk=self.row.pk).filter(name__iexact=typed.get("name", "")):
            shared = [day for day in other.day_names if day in typed.get("days", "")]
            if shared:
                self.add_error("days", f"There is a {other.name} on {shared[0].capitalize()} already.")
        return typed
