"""Dough: what to weigh, how warm the water, when it is ready where it stands."""

from __future__ import annotations

from typing import Any

from stillroom.errors import InputError
from stillroom.quantities import amounts
from stillroom.quantities.bench import mass_text
from stillroom.quantities.dough import DoughAmounts, Formula, Preferment, unusual
from stillroom.quantities.dough_ready_answer import WATCH, Asked, read_clock, read_stands, ready_answer, ready_words
from stillroom.quantities.dough_temperature import DoughWater, dough_water, friction_k, water_temp_c
from stillroom.quantities.measured_text import read_difference_k, read_percent, read_temp_c, read_time_min
from stillroom.units import fahrenheit
from stillroom.web.bench.sums.shape import Answer, Figure, SumForm, asked, grams
from stillroom.web.kitchen import measures

SOURCE = "rules of bread: baker's percentages, water temperature, rising time (rule of thumb)"


def read_others(text: str) -> dict[str, float]:
    """“butter 10%, milk 5%” as shares of the flour."""
    found = {}
    for part in text.split(","):
        name, _, share = part.strip().rpartition(" ")
        if not name.strip():
            raise InputError(f"“{part.strip()}” can't be read: write “butter 10%, milk 5%”.")
        found[name.strip()] = read_percent(share)
    return found


class DoughForm(SumForm):
    """Baker's percentages, water temperature and readiness."""

    needed = ("flour", "total")
    more = {
        "A preferment, other ingredients": ("add", "preferment", "preferment_water", "preferment_yeast"),
        "How warm the water": ("dough_temp", "flour_temp", "friction", "tap", "preferment_temp"),
        "Learn what kneading warms": ("reached", "water_was"),
        "When it is ready": ("known_time", "known_temp", "room", "stands", "begun", "want"),
    }
    flour = asked("All flour", lambda text: amounts.mass_g(text, "wheat flour, bread"), "“1 kg” or “8 cups”")
    total = asked("or the whole dough", amounts.weight_g, "“1.8 kg”")
    water = asked("Water", read_percent, "Shares are of all flour.", usual="65%", needed=True)
    salt = asked("Salt", read_percent, usual="2%", needed=True)
    yeast = asked("Instant yeast", read_percent, usual="0.5%")
    add = asked("More", read_others, "“butter 10%, milk 5%”")
    preferment = asked("Flour set beforehand", read_percent, "Its share of all flour, “20%”.")
    preferment_water = asked("Its water", read_percent, "Of its own flour.", usual="100%")
    preferment_yeast = asked("Its yeast", read_percent, "Of its own flour.", usual="0%")
    dough_temp = asked("Dough wanted", read_temp_c, "“25 C” or “77 F”, when it is mixed.")
    flour_temp = asked("Flour has", read_temp_c)
    friction = asked("Kneading warms it by", read_difference_k, "“5 F” by hand; measure yours.")
    tap = asked("Tap water has", read_temp_c, "Says how much ice.")
    preferment_temp = asked("Preferment has", read_temp_c)
    reached = asked("The dough reached", read_temp_c, "Measured after kneading.")
    water_was = asked("with water of", read_temp_c)
    known_time = asked("A rise you know takes", read_time_min, "“2 h”")
    known_temp = asked("with a dough of", read_temp_c)
    room = asked("Kitchen", read_temp_c)
    stands = asked("or it stands", lambda text: read_stands(text.split(",")), "“fridge 4 C 9 h, kitchen 20 C”")
    begun = asked("Mixed at", read_clock, "“20:30”")
    want = asked("Ready at", read_clock, "“7:00”")

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["room"].initial = measures.temperature(self.household)(self.household.room_c)

    def clean(self) -> dict[str, Any]:
        """What belongs together is asked for together."""
        typed = super().clean() or self.cleaned_data
        if typed.get("flour") is not None and typed.get("total") is not None:
            self.add_error("total", "Write the flour or the whole dough, not both.")
        if typed.get("reached") is not None:
            for field in ("water_was", "flour_temp"):
                self.needs(field, "What kneading warms is learned from the water, the flour and the dough reached.")
        elif self._is_mixed(typed):
            for field in ("dough_temp", "flour_temp", "friction"):
                self.needs(field, "The water temperature needs the dough wanted, the flour and what kneading warms.")
            if typed.get("preferment"):
                self.needs("preferment_temp", "A preferment is mixed in: write how warm it is.")
        if any(typed.get(name) for name in ("known_time", "known_temp", "begun", "want", "stands")):
            for field in ("known_time", "known_temp", "dough_temp"):
                self.needs(field, "When it is ready needs a rise that you know, and how warm the dough is when mixed.")
        if typed.get("want"):
            self.needs("begun", "To be ready at an hour, write the hour when it is mixed.")
        return typed

    @staticmethod
    def _is_mixed(typed: dict[str, Any]) -> bool:
        return any(typed.get(name) is not None for name in ("flour_temp", "friction", "tap"))

    def answer(self) -> Answer:
        """What to weigh, and what was asked of warmth and time."""
        typed = self.cleaned_data
        formula = Formula(
            water=typed["water"],
            salt=typed["salt"],
            yeast=self.got("yeast", 0.0),
            others=self.got("add", {}),
            preferment=self._preferment(),
        )
        dough = formula.from_flour(typed["flour"]) if typed["flour"] else formula.from_total(typed["total"])
        is_mixed = None not in (typed["dough_temp"], typed["flour_temp"], typed["friction"])
        water = self._water(dough) if is_mixed else None
        ready = self._ready(dough)
        figures = [Figure("whole dough", mass_text(round(dough.total_g)))]
        if water:
            ice = f"{grams(water.ice_g)} of it ice" if water.ice_g else water.note
            figures.append(Figure("water at", f"{water.temp_c:.0f} °C ({fahrenheit(water.temp_c):.0f} °F)", ice))
        return Answer(
            figures=tuple(figures),
            rows=_rows(dough),
            rows_title="Weigh",
            sentences=(*self._learned(), *ready),
            cautions=(*unusual(formula), *((WATCH,) if ready else ())),
            source=SOURCE,
        )

    def _preferment(self) -> Preferment | None:
        share = self.got("preferment")
        if share is None:
            return None
        return Preferment(share, self.got("preferment_water", 1.0), self.got("preferment_yeast", 0.0))

    def _water(self, dough: DoughAmounts) -> DoughWater:
        typed = self.cleaned_data
        room_c = self.got("room", self.household.room_c)
        preferment_c = typed["preferment_temp"] if dough.preferment_flour_g else None
        wanted_c = water_temp_c(typed["dough_temp"], typed["flour_temp"], room_c, typed["friction"], preferment_c)
        if typed["tap"] is None:
            return DoughWater(wanted_c, 0.0, dough.final_water_g, "write what the tap has to learn of ice")
        return dough_water(wanted_c, dough.final_water_g, typed["tap"])

    def _learned(self) -> tuple[str, ...]:
        """The friction of this kneading, from what went in."""
        typed = self.cleaned_data
        if typed["reached"] is None:
            return ()
        temps = [typed["flour_temp"], self.got("room", self.household.room_c), typed["water_was"]]
        temps += [typed["preferment_temp"]] if typed["preferment_temp"] is not None else []
        learned_k = friction_k(typed["reached"], tuple(temps))
        return (f"Your kneading warms it by {learned_k:.1f} °C ({learned_k * 1.8:.1f} °F): write it down.",)

    def _ready(self, dough: DoughAmounts) -> tuple[str, ...]:
        if not self.cleaned_data["known_time"]:
            return ()
        stands = self.text("stands").split(",") if self.text("stands") else ()
        asked_for = Asked(
            known_time=self.text("known_time"),
            known_temp=self.text("known_temp"),
            dough_temp=self.text("dough_temp"),
            room="" if stands else self.text("room"),
            stands=tuple(stands),
            begun=self.text("begun"),
            want=self.text("want"),
        )
        return ready_words(ready_answer(asked_for, dough.total_g))


def _rows(dough: DoughAmounts) -> tuple[tuple[str, str], ...]:
    first = (
        ("preferment: flour", dough.preferment_flour_g),
        ("preferment: water", dough.preferment_water_g),
        ("preferment: yeast", dough.preferment_yeast_g),
    )
    rest = (
        ("flour", dough.final_flour_g),
        ("water", dough.final_water_g),
        ("salt", dough.salt_g),
        ("yeast", dough.final_yeast_g),
        *dough.others_g.items(),
    )
    return tuple((name, grams(mass_g)) for name, mass_g in (*first, *rest) if mass_g > 0)
