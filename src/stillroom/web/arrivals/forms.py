"""What is typed about an arrival."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django import forms
from django.http import QueryDict
from django.urls import reverse_lazy

from stillroom.errors import InputError, StillroomError, UnknownFood
from stillroom.household import written_words as words
from stillroom.household.bundles import read_bundle
from stillroom.household.clock import State, clock
from stillroom.household.measure_text import keep_days
from stillroom.model.household import Place
from stillroom.tables.vocabulary import hear
from stillroom.web.arrivals.line import ClockWanted, Line, read_line
from stillroom.web.arrivals.line_ways import Way, short_words, ways
from stillroom.web.arrivals.models import PLACES, Arrival
from stillroom.web.frame.forms import ReadField, capital
from stillroom.web.frame.seen import SeenForm
from stillroom.web.kitchen.models import US, Household

_USUAL_FOODS = (
    *("tomatoes", "apples", "green beans", "cucumbers", "plums", "carrots", "cabbage", "potatoes", "onions"),
    *("pork carcass", "beef stewing meat", "whole chickens", "trout", "milk", "eggs"),
)
_MOST_FOODS = 18
CLOCKS = ("1 day", "2 days", "3 days", "5 days", "1 week", "2 weeks")


_UNDERSTOOD = {  # with JavaScript, what is understood stands below while one types
    "hx-get": reverse_lazy("arrivals:understood"),
    "hx-trigger": "input changed delay:400ms",
    "hx-target": "#understood",
}


class LineForm(forms.Form):
    """One line; the clock is asked for only where nobody publishes it."""

    line = forms.CharField(
        label="What comes in?",
        max_length=200,
        widget=forms.TextInput(
            attrs={"placeholder": "9 kg tomatoes, ripe, Saturday", "autocomplete": "off", **_UNDERSTOOD}
        ),
    )
    clock = ReadField(label="How long will it wait?", read=keep_days, write=words.days, required=False)

    def __init__(self, *args: Any, household: Household, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self._household = household
        self.wants_clock = False
        self.ways: tuple[Way, ...] = ()  # whole lines to tap, where this one is not understood

    def clean(self) -> dict[str, Any]:
        """`understood`: the Line; a complaint stands beside the field it is about."""
        cleaned = super().clean() or self.cleaned_data
        if "line" not in cleaned or "clock" not in cleaned:
            self.wants_clock = "clock" in self.errors
            return cleaned
        try:
            cleaned["understood"] = read_line(cleaned["line"], self._household.today, cleaned["clock"])
        except ClockWanted as error:
            self.wants_clock = self.fields["clock"].required = True
            self.add_error("clock", str(error))
        except InputError as error:
            in_pounds = self._household.units == US
            self.ways = ways(cleaned["line"], error, self._household.today, in_pounds=in_pounds)
            self.add_error("line", short_words(error) if self.ways else str(error))
        return cleaned

    @property
    def understood(self) -> Line:
        """What was understood, once the form is valid."""
        line: Line = self.cleaned_data["understood"]
        return line


@dataclass(frozen=True, slots=True)
class Taps:
    """What may be tapped instead of typed: foods that came before, units, days and places."""

    foods: tuple[str, ...]
    units: tuple[str, ...]
    days: tuple[tuple[str, str], ...]  # (word for the line, word on the button)
    places: tuple[str, ...]


def taps(household: Household) -> Taps:
    """The choices for this household today, foods that came before first."""
    came = household.arrivals.order_by("-day").values_list("name", flat=True)[:100]
    days = [household.today + timedelta(days=ahead) for ahead in range(7)]
    near = {0: "today", 1: "tomorrow"}
    return Taps(
        foods=tuple(dict.fromkeys((*came, *_USUAL_FOODS)))[:_MOST_FOODS],
        units=("lb", "kg", "bushel") if household.units == US else ("kg", "g", "lb", "bushel"),
        days=tuple((day.isoformat(), near.get(ahead, f"{day:%A}")) for ahead, day in enumerate(days)),
        places=tuple(place.value for place in PLACES),
    )


def tapped_line(sent: QueryDict) -> str:
    """The line that was tapped together: "9 kg tomatoes, 2027-04-10, counter"; "" when nothing was."""
    if not sent.get("food"):
        return ""
    amount = " ".join(filter(None, (sent.get("number", "").strip(), sent.get("unit", ""))))
    parts = (f"{amount} {sent['food']}", sent.get("day", ""), sent.get("place", ""))
    return ", ".join(filter(None, parts))


class ArrivalForm(SeenForm):
    """All of an arrival, field by field."""

    name = forms.CharField(label="Food", max_length=80)
    amount = forms.CharField(label="Amount", max_length=80, help_text="9 kg · 20 lb · 1 bushel · 6 birds of 2.2 kg")
    day = forms.DateField(label="Day", widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    place = forms.ChoiceField(label="Where it waits")
    state = forms.ChoiceField(label="State", choices=[(state.value, state.value) for state in State])
    clock = ReadField(
        label="Clock of your own",
        read=keep_days,
        write=words.days,
        required=False,
        help_text="Empty: the published keeping time. Or “3 days”, “2 weeks”.",
    )
    note = forms.CharField(label="Note", max_length=200, required=False)

    def __init__(self, *args: Any, arrival: Arrival, **rest: Any) -> None:
        self._arrival = self.about = arrival
        initial = {
            "name": arrival.name,
            "amount": arrival.amount,
            "day": arrival.day,
            "place": arrival.place,
            "state": arrival.state,
            "clock": arrival.given_days,
            "note": arrival.note,
        }
        super().__init__(*args, initial=initial, **rest)
        self.fields["place"].choices = Arrival._meta.get_field("place").choices

    def clean(self) -> dict[str, Any]:
        """Food, amount and clock are read together."""
        typed = super().clean() or self.cleaned_data
        if self.errors:
            return typed
        try:
            heard = hear(typed["name"])
        except UnknownFood as error:
            self.add_error("name", str(error))
            return typed
        try:
            bundle = read_bundle(typed["amount"], heard.food.key)
        except StillroomError as error:
            self.add_error("amount", capital(str(error)))
            return typed
        try:
            clock(heard.food, heard.form, State(typed["state"]), Place(typed["place"]), typed["clock"])
        except StillroomError as error:
            self.add_error("clock", capital(str(error)))
            return typed
        return typed | {"food": heard.food.key, "bundle": bundle}

    def apply(self) -> Arrival:
        """The row with what was typed, not saved."""
        row, typed = self._arrival, self.cleaned_data
        row.name, row.food = typed["name"], typed["food"]
        row.mass_g, row.count, row.piece = typed["bundle"].mass_g, typed["bundle"].count, typed["bundle"].piece
        row.day, row.place, row.state = typed["day"], typed["place"], typed["state"]
        row.given_days, row.note = typed["clock"], typed["note"]
        return row


class AmountForm(forms.Form):
    """A part of an arrival."""

    amount = forms.CharField(label="How much of it", max_length=80)

    def __init__(self, *args: Any, arrival: Arrival, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.arrival = arrival

    def clean_amount(self) -> Any:
        """A Bundle; "all" and "half" of what is left are understood too."""
        text = self.cleaned_data["amount"].strip()
        share = {"all": 1.0, "half": 0.5}.get(text.lower())
        if share is not None:
            text = f"{words.number(self.arrival.left_g * share)} g"
        try:
            return read_bundle(text, self.arrival.food)
        except StillroomError as error:
            raise forms.ValidationError(capital(str(error))) from None


class DivideForm(AmountForm):
    """The part that goes somewhere else or has a clock of its own."""

    place = forms.ChoiceField(label="Where the part waits")
    clock = ReadField(label="Its own clock", read=keep_days, write=words.days, required=False)
    note = forms.CharField(label="Note", max_length=200, required=False)

    def __init__(self, *args: Any, arrival: Arrival, **rest: Any) -> None:
        rest["initial"] = {"place": arrival.place, "clock": arrival.given_days, "note": arrival.note}
        super().__init__(*args, arrival=arrival, **rest)
        self.fields["place"].choices = Arrival._meta.get_field("place").choices


class TakeForm(AmountForm):
    """What became of a part."""

    why = forms.ChoiceField(
        label="What became of it", choices=[(why, why) for why in ("eaten", "given away", "put up", "spoilt")]
    )
