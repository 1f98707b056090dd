"""Freezing, thawing, jars that wait."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django import forms

from stillroom.heat.pack import jar_geometry
from stillroom.household.measure_text import volume_l
from stillroom.process.hot_packs import check_hot_pack
from stillroom.process.jar_text import read_jar
from stillroom.process.other_ways import freeze_food
from stillroom.quantities.cold_text import hours_words
from stillroom.quantities.freezing import Cold, PackKind
from stillroom.quantities.freezing_answer import freeze, freezing_cautions, freezing_sources
from stillroom.quantities.measured_text import read_length_mm, read_sides_mm, read_temp_c, read_time_min
from stillroom.quantities.thawing import ThawPlace, thaw_time, thawing_cautions, thawing_sources
from stillroom.quantities.waiting import Jar, Start, waiting, waiting_cautions, waiting_sources
from stillroom.web.bench.sums.about_food import FoodForm, amount_field, food_field
from stillroom.web.bench.sums.shape import Answer, Figure, asked, chosen, ticked
from stillroom.web.kitchen import measures

LONGEST_COOKING_MIN = 24 * 60


class FreezeForm(FoodForm):
    """Hours by shape, litres, and over how many days."""

    more = {"Bags and boxes; temperatures": ("bag", "boxed", "start", "freezer_temp")}
    food = food_field("“pork”, “tomatoes”, “chicken stock”")
    amount = amount_field("“23 kg”, in all")
    packs = forms.CharField(label="In one pack", max_length=60, required=False, help_text="“500 g”")
    thick = asked("A flat pack is thick", read_length_mm, "“3 cm”")
    freezer = asked("Freezer holds", volume_l, "Load for each day.")
    used = asked("in it now", volume_l, "Whether it fits.")
    bag = asked("or a bag laid flat", read_sides_mm, "Its sides, “20 x 25 cm”.")
    boxed = ticked("In boxes or loose bags, not wrapped tight")
    start = asked("It goes in at", read_temp_c, usual="4 C", needed=True)
    freezer_temp = asked("Freezer has", read_temp_c, usual="-18 C", needed=True)

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        write = measures.volume(self.household)
        self.fields["freezer"].initial = write(self.household.freezer_capacity_l)
        self.fields["used"].initial = write(self.household.freezer_used_l)

    def clean(self) -> dict[str, Any]:
        """One way to say how thick; a freezer for what is in it."""
        typed = super().clean() or self.cleaned_data
        if typed.get("thick") is not None and typed.get("bag") is not None:
            self.add_error("bag", "Write how thick it is or the bag, not both: a bag is as thick as its food makes it.")
        if typed.get("used") is not None:
            self.needs("freezer", "Write what the freezer holds, too.")
        return typed

    def answer(self) -> Answer:
        """Everything of one freezing."""
        typed, parts = self.cleaned_data, self.parts
        bag = typed["bag"]
        found = freeze(
            parts,
            typed["amount_kg"],
            pack_kg=typed.get("packs_kg") or 0.0,
            thickness_m=self.got("thick", 0.0) / 1000,
            bag_m=(bag[0] / 1000, bag[1] / 1000) if bag else None,
            cold=Cold(typed["start"], typed["freezer_temp"], typed["boxed"]),
            freezer_l=(typed["freezer"], typed["used"]) if typed["freezer"] else None,
        )
        keeps = tuple(f"{way.what} ({way.source})" for way in freeze_food(parts.food))
        days = (Figure("put in over", _days(len(found.load.loads_kg))),) if found.load else ()
        return Answer(
            figures=(Figure("packs", str(found.packs), f"of {found.pack_kg:.3g} kg"), *days),
            sentences=(*found.sentences, *keeps),
            cautions=freezing_cautions(found.cold),
            source=f"{freezing_sources()} Worked out from {parts.basis}.",
        )


class ThawForm(FoodForm):
    """How long, where, and when to take it out."""

    food = food_field("“mince”, “chicken”, “salmon”")
    amount = amount_field("One pack or piece, “500 g”.")
    thick = asked("How thick", read_length_mm, "“3 cm”; empty: a lump or a bird.")
    place = chosen("Thaw in the", [(one.value, one.value) for one in (ThawPlace.FRIDGE, ThawPlace.WATER)])
    place_temp = asked("which has", read_temp_c, "Else 4 °C, or 12 °C for water.")
    meal = forms.DateTimeField(
        label="On the table",
        required=False,
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
    )
    cooking = asked("Cooking takes", read_time_min, "“45 min”, from thawed to the table.", usual="0 min")

    def clean_cooking(self) -> float:
        """A day at the most."""
        found: float = self.cleaned_data["cooking"] or 0.0
        if found > LONGEST_COOKING_MIN:
            raise forms.ValidationError("A day of cooking at the most.")
        return found

    def answer(self) -> Answer:
        """Hours by rule and band, and the moment."""
        typed, parts = self.cleaned_data, self.parts
        thick_mm = self.got("thick", 0.0)
        kind = PackKind.FLAT if thick_mm else PackKind.ODD
        place = ThawPlace(typed["place"])
        found = thaw_time(
            parts, kind, typed["amount_kg"], thickness_m=thick_mm / 1000, place=place, place_c=typed["place_temp"]
        )
        figures = [Figure("allow", f"{found.allow_h:.3g} h")]
        if typed["meal"]:
            cook_at = typed["meal"].replace(tzinfo=None) - timedelta(minutes=typed["cooking"])
            figures.insert(
                0, Figure("take it out by", _moment(found.take_out(cook_at)), f"cook from {_moment(cook_at)}")
            )
        return Answer(
            figures=tuple(figures),
            sentences=found.sentences,
            cautions=thawing_cautions(),
            source=f"{thawing_sources()} Worked out from {parts.basis}.",
        )


class WaitForm(FoodForm):
    """How warm filled jars still are that stand before the canner."""

    food = food_field("“tomatoes”, “beef”")
    jar = asked("Jar", read_jar, "“quart”, “pint”, “750 ml”", usual="quart", needed=True)
    minutes = asked("They wait", read_time_min, usual="10 min", needed=True)
    filled = asked("Food was", read_temp_c, usual="90 C", needed=True)
    jar_was = asked("Empty jar was", read_temp_c, usual="60 C", needed=True)
    room = asked("Kitchen", read_temp_c, needed=True)
    draughty = ticked("By an open window or a fan")

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["room"].initial = measures.temperature(self.household)(self.household.room_c)

    def answer(self) -> Answer:
        """The band after the wait, the cold side to act on."""
        typed, parts = self.cleaned_data, self.parts
        jar_ml, wait_min = typed["jar"].volume_ml, typed["minutes"]
        check_hot_pack(self.text("food"), typed["jar"])
        known = jar_geometry(jar_ml)
        jar = Jar(jar_ml, 2 * (known.radius_mm + known.wall_mm), known.height_mm + known.wall_mm)
        found = waiting(
            parts, jar, wait_min, Start(typed["filled"], typed["jar_was"], typed["room"], typed["draughty"])
        )
        return Answer(
            figures=(
                Figure(f"after {wait_min:.0f} min", f"{found.after.low:.0f} to {found.after.high:.0f} °C"),
                Figure(f"above {found.mark_c:.0f} °C for", hours_words(found.until_mark.in_units(1 / 60, "h"))),
            ),
            sentences=found.sentences(wait_min),
            cautions=waiting_cautions(),
            source=f"{waiting_sources()} Worked out from {parts.basis}.",
        )


def _days(count: int) -> str:
    return f"{count} day" if count == 1 else f"{count} days"


def _moment(at: datetime) -> str:
    return f"{at:%A} {at.day} {at:%B %H:%M}"
