"""What is typed about the kitchen; each field is named as that of its row."""

from __future__ import annotations

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.db.models import Model

from stillroom.errors import InputError, StillroomError
from stillroom.household import written_words as words
from stillroom.household.folder import MOST_DAYS
from stillroom.household.kitchen_file import HIGHEST_M
from stillroom.household.measure_text import gauge_error_psi, length_mm, room_c, volume_l
from stillroom.model.process import CannerKind
from stillroom.process.altitude_text import altitude_ft, read_altitude
from stillroom.quantities.amounts import mass_g
from stillroom.tables.vocabulary import hear
from stillroom.web.frame.forms import ReadField, RowForm, capital
from stillroom.web.kitchen import measures
from stillroom.web.kitchen.models import METRIC, US, Household

_MEASURE = "Measure it: “318 mm” or “12.5 in”."
_COMMON_SIZE = "A common size of such a pot, not yours: measure it, “318 mm” or “12.5 in”."
_LARGEST_CANNER_MM, _SMALLEST_CANNER_MM = 1000, 100


def house_altitude_m(text: str) -> float:
    """Altitude of a kitchen [m], with its unit."""
    altitude_m = read_altitude(text)
    altitude_ft(altitude_m)
    if altitude_m > HIGHEST_M:
        raise InputError(f"nobody keeps house at {altitude_m:.0f} m: check the number and its unit.")
    return altitude_m


class HouseRowForm(RowForm):
    """A form about a row of a household, whose units it writes; what few people need is folded away."""

    rarer: tuple[str, ...] = ()
    rarer_words = ""

    def __init__(self, *args: Any, row: Model, household: Household, **rest: Any) -> None:
        super().__init__(*args, row=row, **rest)
        self.household = household

    @property
    def rarer_fields(self) -> list[Any]:
        """What few people need."""
        return [self[name] for name in self.rarer]

    @property
    def rarer_errors(self) -> bool:
        """Whether one of them is wrong."""
        return any(name in self.errors for name in self.rarer)

    def visible_fields(self) -> list[Any]:
        """All but what few people need."""
        return [field for field in super().visible_fields() if field.name not in self.rarer]

    def _write(self, **writers: measures.Write) -> None:
        for name, write in writers.items():
            self.fields[name].write = write

    def _unlike_others(self, field: str, others: Any, what: str) -> Any:
        """The value typed, unless another row of the household has it."""
        value = self.cleaned_data[field]
        if others.exclude(pk=self.row.pk).filter(**{f"{field}__iexact": value}).exists():
            raise forms.ValidationError(f"There is a {what} “{value}” already: give this one its own name.")
        return value


class PlaceForm(HouseRowForm):
    """Where the kitchen lies."""

    rarer = ("place", "room_c", "plan_days", "time_zone")
    rarer_words = "Place, warmth, days ahead, time zone"

    name = forms.CharField(label="Name of the household", max_length=80)
    place = forms.CharField(label="Place", max_length=80, required=False)
    units = forms.ChoiceField(
        label="Weigh and measure in",
        choices=[(METRIC, "kg, litres, °C, metres"), (US, "lb, cubic feet, °F, feet")],
        widget=forms.RadioSelect,
    )
    altitude_m = ReadField(
        label="Height above the sea",
        read=house_altitude_m,
        required=False,
        help_text="With its unit, “690 m” or “2264 ft”, from a map. It sets the pressure of every canner.",
    )
    boiling = ReadField(
        label="Or: where water boils in your kitchen",
        read=measures.altitude_by_boiling_m,
        required=False,
        help_text="“97 °C” or “206 °F”, in a full boil. Half a degree is taken off for caution; a map is better.",
    )
    room_c = ReadField(
        label="Warmth of the kitchen", read=room_c, help_text="“18 °C” or “64 °F”: how fast dough rises."
    )
    plan_days = forms.IntegerField(label="Plan ahead, days", min_value=1, max_value=MOST_DAYS)
    time_zone = forms.CharField(label="Time zone", max_length=60, help_text="As in “Australia/Hobart”.")

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["altitude_m"].is_either = self.fields["boiling"].is_either = True
        self._write(altitude_m=measures.altitude(self.household), room_c=measures.temperature(self.household))

    def clean_name(self) -> str:
        """Its own name."""
        return self._unlike_others("name", Household.objects.all(), "household")

    def clean_time_zone(self) -> str:
        """A zone that is known."""
        name: str = self.cleaned_data["time_zone"].strip()
        if name not in available_timezones():
            raise forms.ValidationError(f"“{name}” is no time zone: write one like “Australia/Hobart”.")
        return name

    def clean(self) -> dict[str, Any]:
        """The height by either way; one of the two is needed."""
        typed = super().clean() or self.cleaned_data
        boiling_m = typed.get("boiling")
        if boiling_m is not None and "altitude_m" not in self.changed_data:
            self.changed_data.append("altitude_m")
            typed["altitude_m"] = boiling_m
        elif boiling_m is not None and typed.get("altitude_m") is not None:
            self.add_error("boiling", "Write the height or where water boils, not both.")
        elif typed.get("altitude_m") is None and not self.errors:
            self.add_error("altitude_m", "Write how high the kitchen lies, or where water boils there.")
        return typed


class EquipmentForm(HouseRowForm):
    """Stove, oven, freezer, fridge, dryer, mixer."""

    burners = forms.IntegerField(label="Burners, big and small", min_value=0, max_value=20)
    small_burners = forms.IntegerField(
        label="of which small", min_value=0, max_value=20, help_text="No canner and no large pot stands on one."
    )
    oven_trays = forms.IntegerField(label="Oven trays at once", min_value=0, max_value=20)
    freezer_capacity_l = ReadField(label="Freezer: holds", read=volume_l, help_text="“220 L” or “7.8 cu ft”.")
    freezer_used_l = ReadField(label="Freezer: in it now", read=volume_l)
    fridge_free_l = ReadField(label="Fridge: free for food at work", read=volume_l)
    dryer_trays = forms.IntegerField(label="Dryer trays", min_value=0, max_value=60, help_text="0 if there is none.")
    has_mixer = forms.BooleanField(label="A mixer that kneads", required=False)

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        write = measures.volume(self.household)
        self._write(freezer_capacity_l=write, freezer_used_l=write, fridge_free_l=write)

    def clean(self) -> dict[str, Any]:
        """Small burners are some of the burners, and a freezer holds what is in it."""
        typed = super().clean() or self.cleaned_data
        if typed.get("small_burners", 0) > typed.get("burners", 20):
            self.add_error("small_burners", "There can't be more small burners than burners: count again.")
        if (typed.get("freezer_used_l") or 0) > (typed.get("freezer_capacity_l") or 1e9):
            self.add_error("freezer_used_l", "More is in the freezer than it holds: measure one of them again.")
        return typed


class CannerForm(HouseRowForm):
    """A canner and its gauge."""

    name = forms.CharField(label="Name", max_length=60)
    kind = forms.ChoiceField(label="Kind", choices=[(kind.value, kind.value) for kind in CannerKind])
    inside_diameter_mm = ReadField(label="Inside, across", read=length_mm, help_text=_MEASURE)
    inside_height_mm = ReadField(label="Inside, high", read=length_mm, help_text=_MEASURE)
    gauge_error_psi = ReadField(
        label="Dial gauge: shows",
        read=gauge_error_psi,
        write=words.gauge,
        required=False,
        help_text="What its last test found: “0.5 psi high”, “1 psi low”, “0 psi”. Only for a dial.",
    )
    gauge_tested_on = forms.DateField(
        label="Dial gauge: tested on",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        help_text="A dial wants a test every year.",
    )

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        write = measures.length(self.household)
        self._write(inside_diameter_mm=write, inside_height_mm=write)
        for name in ("inside_diameter_mm", "inside_height_mm"):
            if name in (rest.get("initial") or {}):
                self.fields[name].help_text = _COMMON_SIZE

    def clean_name(self) -> str:
        """Its own name."""
        return self._unlike_others("name", self.household.canners, "canner")

    def clean(self) -> dict[str, Any]:
        """A size a canner can have; a gauge only where there is a dial."""
        typed = super().clean() or self.cleaned_data
        for field in ("inside_diameter_mm", "inside_height_mm"):
            if field in typed and not _SMALLEST_CANNER_MM <= typed[field] <= _LARGEST_CANNER_MM:
                self.add_error(field, "No canner is of that size inside: it must be between 100 and 1000 mm.")
        if typed.get("kind") != CannerKind.DIAL:
            for field in ("gauge_error_psi", "gauge_tested_on"):
                if typed.get(field) is not None:
                    self.add_error(field, f"A {typed.get('kind')} canner has no dial to be wrong: leave this empty.")
        tested = typed.get("gauge_tested_on")
        if tested is not None and tested > self.household.today:
            self.add_error("gauge_tested_on", "This day is still to come: write the day of the last test.")
        return typed


class FoodMassForm(HouseRowForm):
    """A food and how much of it: in the pantry, or wanted in store."""

    food = forms.CharField(label="Food", max_length=80)
    mass_g = forms.CharField(label="Amount", max_length=80, help_text="“2 kg”, “5 lb”, “3 cups”, “5 L” for a liquid.")

    def __init__(self, *args: Any, row: Any, household: Household, others: Any, **rest: Any) -> None:
        shown = {"mass_g": measures.mass(household)(row.mass_g)} if row.mass_g else {}
        super().__init__(*args, row=row, household=household, initial=shown, **rest)
        self._others = others

    def clean_food(self) -> str:
        """The key of a known food, that has no row yet."""
        try:
            key = hear(self.cleaned_data["food"]).food.key
        except StillroomError as error:
            raise forms.ValidationError(str(error)) from None
        if self._others.exclude(pk=self.row.pk).filter(food=key).exists():
            raise forms.ValidationError(f"There is a line for {key} already: change that one.")
        return key

    def clean(self) -> dict[str, Any]:
        """The mass of that food."""
        typed = super().clean() or self.cleaned_data
        if "food" in typed and "mass_g" in typed:
            try:
                typed["mass_g"] = mass_g(typed["mass_g"], typed["food"])
            except StillroomError as error:
                self.add_error("mass_g", capital(str(error)))
        return typed


class DislikesForm(HouseRowForm):
    """What is not eaten here."""

    dislikes = forms.CharField(
        label="Not eaten here", required=False, max_length=500, help_text="Foods with commas between: “liver, kale”."
    )

    def __init__(self, *args: Any, row: Any, household: Household, **rest: Any) -> None:
        super().__init__(*args, row=row, household=household, initial={"dislikes": "; ".join(row.dislikes)}, **rest)

    def clean_dislikes(self) -> list[str]:
        """Keys of known foods; a name that has a comma itself needs a semicolon between foods."""
        text: str = self.cleaned_data["dislikes"]
        parts = text.split(";") if ";" in text else self._by_comma(text)
        try:
            return list(dict.fromkeys(hear(part).food.key for part in parts if part.strip()))
        except StillroomError as error:
            raise forms.ValidationError(str(error)) from None

    def _by_comma(self, text: str) -> list[str]:
        try:
            hear(text)
        except StillroomError:
            return text.split(",")
        return [text]
