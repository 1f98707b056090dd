"""Drying, and how many jars go into a canner."""

from __future__ import annotations

from typing import Any

from django import forms

from stillroom.errors import InputError
from stillroom.household.jars_on_shelf import jar_size
from stillroom.model.kitchen import Canner, JarKind
from stillroom.model.process import CannerKind
from stillroom.process.capacity import capacity, loads
from stillroom.process.jar_text import read_jar
from stillroom.quantities import amounts
from stillroom.quantities.drying import Dryer, Kind, kind_of
from stillroom.quantities.drying_answer import meat_keys, meat_text, plant_keys, plant_text
from stillroom.quantities.measured_text import read_length_mm, read_percent, read_temp_c
from stillroom.tables.vocabulary import hear
from stillroom.web.bench.sums.shape import Answer, Figure, SumForm, asked, counted, grams, ticked
from stillroom.web.frame.forms import capital
from stillroom.web.kitchen import measures


class DryForm(SumForm):
    """Hours, weight when done, water activity: estimates."""

    needed = ("food",)
    more = {"Dryer and room": ("air", "room", "humidity", "still", "solid")}
    food = forms.CharField(label="Food", max_length=80, help_text="“apples”, “mushrooms”, “venison”")
    thick = asked("Pieces are thick", read_length_mm, "“6 mm”; leaves 1 mm.", needed=True)
    amount = forms.CharField(label="On the trays", max_length=60, required=False, help_text="Prepared, “2 kg”.")
    now = asked("It weighs now", amounts.weight_g, "“600 g”, without the trays.")
    air = asked("Air of the dryer", read_temp_c, usual="60 C", needed=True)
    room = asked("Room", read_temp_c, needed=True)
    humidity = asked("Humidity of the room", read_percent, usual="50%", needed=True)
    still = ticked("No fan moves the air")
    solid = ticked("Solid trays: air reaches one face only")

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["room"].initial = measures.temperature(self.household)(self.household.room_c)

    def clean(self) -> dict[str, Any]:
        """A known food, its amount, and what it weighs now only beside that."""
        typed = super().clean() or self.cleaned_data
        try:
            if typed.get("food"):
                typed["known"] = hear(typed["food"]).food
        except InputError as error:
            self.add_error("food", capital(str(error)))
            return typed
        try:
            if typed.get("amount") and "known" in typed:
                typed["fresh_g"] = amounts.mass_g(typed["amount"], typed["known"].key)
        except InputError as error:
            self.add_error("amount", capital(str(error)))
        if typed.get("now") is not None:
            self.needs("amount", "What it weighs now says nothing alone: write what was laid on the trays.")
        return typed

    def answer(self) -> Answer:
        """For plants hours; for meat what comes first, and no hours."""
        typed = self.cleaned_data
        known, fresh_g = typed["known"], typed.get("fresh_g")
        if kind_of(known) is Kind.MEAT:
            told = meat_keys(known, typed["thick"], fresh_g)
            lines = meat_text(told)
        else:
            dryer = Dryer(
                typed["air"],
                typed["room"],
                typed["humidity"],
                has_fan=not typed["still"],
                is_mesh=not typed["solid"],
            )
            told = plant_keys(known, typed["thick"], dryer, fresh_g, typed["now"])
            lines = plant_text(told)
        said = [line.strip() for line in lines.splitlines()[1:]]
        hours = told["hours"]
        figures = [Figure("hours", f"{hours['low']:.0f} to {hours['high']:.0f}", "estimate")] if hours else []
        if told["done_g"]:
            figures.append(Figure("done at", grams(told["done_g"])))
        return Answer(
            figures=tuple(figures),
            sentences=tuple(line for line in said if not line.startswith(("!", "Source:", "Hours in one layer"))),
            cautions=tuple(told["cautions"]),
            source=told["source"],
        )


class LoadForm(SumForm):
    """How many jars of a kind stand in a canner, and how many loads a number of jars makes."""

    needed = ("jar",)
    canner = forms.ChoiceField(label="Canner")
    jar = asked("Jar", read_jar, "“quart”, “pint”, “750 ml”", needed=True)
    across = asked("Jar, outside width", read_length_mm, "Where none is published, or yours differs: “95 mm”.")
    high = asked("Jar, outside height", read_length_mm)
    jars = counted("Jars to process")

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        choices = [(str(one.pk), one.name) for one in self.household.canners.all()]
        self.fields["canner"].choices = choices
        self.fields["canner"].initial = choices[0][0] if choices else ""

    def answer(self) -> Answer:
        """Jars in one load and in one layer; loads."""
        typed = self.cleaned_data
        own = self.household.canners.get(pk=typed["canner"])
        canner = Canner(own.name, CannerKind(own.kind), own.inside_diameter_mm, own.inside_height_mm)
        try:
            size = jar_size(self.text("jar"), *self._measured())
        except InputError as error:
            raise InputError(capital(str(error))) from None
        found = capacity(canner, JarKind(self.text("jar"), *size, 0, 0))
        figures = [
            Figure("in one load", str(found.jars), f"{found.layers} layer{'s' if found.layers != 1 else ''}"),
            Figure("side by side", str(found.per_layer)),
        ]
        sentences = []
        if typed["jars"] and found.jars:
            made = loads(typed["jars"], found)
            figures.append(Figure("loads", str(made.loads), f"the last of {made.last_load_jars}"))
            if made.water_jars:
                plural = "jar" if made.water_jars == 1 else "jars"
                sentences.append(f"Fill up the last layer with {made.water_jars} {plural} of hot water.")
        if not found.jars:
            sentences.append("No such jar stands in this canner.")
        return Answer(
            figures=tuple(figures),
            sentences=tuple(sentences),
            cautions=("Worked out from the measures; go by what the maker of the canner says where it is less.",),
            source="circles in a circle; two layers: rules of canners; clearances are common practice, no source",
        )

    def _measured(self) -> tuple[float | None, float | None]:
        own = self.household.jars.filter(kind__iexact=self.text("jar")).first()
        across, high = self.cleaned_data["across"], self.cleaned_data["high"]
        return (across or (own.diameter_mm if own else None)), (high or (own.height_mm if own else None))
