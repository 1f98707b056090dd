"""Syrup, boiling and gel points, acid for jars, vinegar."""

from __future__ import annotations

import math
import re
from typing import Any

from django import forms

from stillroom.errors import InputError
from stillroom.model.process import JarSize
from stillroom.process.jar_text import jar_name
from stillroom.quantities import acid, acid_estimate, amounts, gel_point, sugar_boiling, syrup
from stillroom.quantities.measured_text import read_percent, read_temp_c
from stillroom.tables.vocabulary import hear
from stillroom.units import celsius, fahrenheit, metres
from stillroom.web.bench.sums.shape import Answer, Figure, SumForm, asked, chosen, counted, grams
from stillroom.web.frame.forms import capital
from stillroom.web.kitchen import measures
from stillroom.web.kitchen.forms import house_altitude_m

_BAUME = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?°? ?b[eé]")
PRESERVES_NOT = "Syrup keeps shape and colour, it does not preserve; water or juice may replace it in the same process."
COLD_SPOON = "Pectin and acid decide too: test a spoonful on a cold plate, off the heat."


def degrees(temp_c: float) -> str:
    """ "104.5 °C (220 °F)"."""
    return f"{temp_c:.1f} °C ({fahrenheit(temp_c):.0f} °F)"


def read_strength(text: str) -> float:
    """Sugar by weight [-] from “35%” or from a hydrometer at 20 °C, “19 Be”."""
    match = _BAUME.fullmatch(text.strip().lower())
    return sugar_boiling.fraction_of_baume(float(match[1])) if match else read_percent(text)


class SyrupForm(SumForm):
    """A printed canning syrup for jars, or a strength by weight."""

    needed = ("quarts", "pints", "water", "total")
    kind = chosen("Syrup", [(name, name) for name in syrup.names()] + [("", "a strength by weight")], needed=False)
    quarts = counted("Quart jars")
    pints = counted("Pint jars")
    strength = asked("or a strength", read_strength, "Sugar, “35%”, or as a hydrometer shows, “19 Be”.")
    water = asked("with this water", lambda text: amounts.mass_g(text, "water"), "“2 l”")
    total = asked("or this whole syrup", amounts.weight_g, "“3 kg”")
    altitude = asked("Height", house_altitude_m, "Where it boils.")
    boiling = asked("Boiling water today", read_temp_c, "Better than the height: “97 C”, measured.")

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        if self.household.altitude_m is not None:
            self.fields["altitude"].initial = measures.altitude(self.household)(self.household.altitude_m)

    def clean(self) -> dict[str, Any]:
        """Jars for a printed syrup, a weight for a strength."""
        typed = super().clean() or self.cleaned_data
        if not typed.get("kind"):
            self.needs("strength", "Write the strength, “35%”.")
        elif not (typed.get("quarts") or typed.get("pints")):
            self.needs("quarts", "The printed syrups go by jars: write how many.")
        return typed

    def answer(self) -> Answer:
        """Water and sugar, what a hydrometer shows, where it boils."""
        typed = self.cleaned_data
        if typed["kind"]:
            made = syrup.for_jars(typed["kind"], quarts=self.got("quarts", 0), pints=self.got("pints", 0))
        else:
            water_g, total_g = self.got("water", 0.0), self.got("total", 0.0)
            made = syrup.by_weight(typed["strength"], water_g=water_g, total_g=total_g)
        known = sugar_boiling.syrup(made.real_fraction)
        volume_ml = (made.sugar_g + made.water_ml) / known.density_kg_m3 * 1000
        nominal = f"; printed as {made.row.nominal_percent:g}%" if made.row else ""
        cold = known.crystals_below_c
        return Answer(
            figures=(
                Figure("water", f"{made.water_ml:.0f} ml", f"{made.water_cups:.3g} US cups"),
                Figure("sugar", grams(made.sugar_g)),
                Figure("gives", f"{volume_ml:.0f} ml"),
            ),
            sentences=(
                f"{made.real_fraction:.1%} sugar by weight{nominal}.",
                f"A hydrometer shows {known.baume_deg:.1f} °Bé ({known.gravity:.3f}) at 20 °C.",
                *((f"Below {cold:.0f} °C sugar comes out sooner or later.",) if cold is not None else ()),
                *self._boils(made.real_fraction),
            ),
            cautions=(f"{PRESERVES_NOT} Its water activity is about {known.water_activity:.2f}.",),
            source=made.row.source if made.row else "by weight",
            evidence=str(made.row.evidence) if made.row else "",
        )

    def _boils(self, fraction: float) -> tuple[str, ...]:
        measured_c, altitude_m = self.cleaned_data["boiling"], self.cleaned_data["altitude"]
        if measured_c is None and altitude_m is None:
            return ()
        water = sugar_boiling.water_boils(altitude_m) if measured_c is None else sugar_boiling.measured(measured_c)
        boils = sugar_boiling.syrup_boils(fraction, water)
        if boils.low == boils.high:
            return (f"Boils at about {degrees(boils.middle)}.",)
        return (f"Boils at {degrees(boils.low)} to {degrees(boils.high)}.",)


class GelForm(SumForm):
    """Where jelly sets."""

    needed = ("altitude", "boiling")
    boiling = asked("Boiling water today", read_temp_c, "“97 C”, with the thermometer you use: the better way.")
    altitude = asked("or the height", house_altitude_m, "“690 m” or “2000 ft”")

    def answer(self) -> Answer:
        """By the water of the day, else by the printed line."""
        typed = self.cleaned_data
        if typed["boiling"] is not None:
            found, band = gel_point.from_boiling(typed["boiling"]), sugar_boiling.jelly_sets(typed["boiling"])
            more: tuple[str, ...] = (f"Soft from {degrees(band.low)}, firm at {degrees(band.high)}.",)
        else:
            found, more = gel_point.at_altitude(typed["altitude"]), ()
        lines = tuple(
            f"Printed at {row.altitude_ft:,.0f} ft ({metres(row.altitude_ft):,.0f} m): {degrees(celsius(row.temp_f))}."
            for row in found.lines
        )
        figures = (Figure("sets at", degrees(found.temp_c)),) if found.temp_c is not None else ()
        between = () if figures else ("No line is printed for this height, and nothing printed is ever interpolated.",)
        how = f"{found.how[:1].upper()}{found.how[1:]}."
        return Answer(
            figures=figures, sentences=(*between, *lines, how, *more), cautions=(COLD_SPOON,), source=found.source
        )


class AcidForm(SumForm):
    """Bottled lemon juice, citric acid or vinegar for all the jars."""

    needed = ("food",)
    food = forms.CharField(label="In the jars", max_length=80, help_text="“tomatoes”, “figs”, “asian pears”")
    quarts = counted("Quart jars")
    pints = counted("Pint jars")
    half_pints = counted("Half-pint jars")

    def clean(self) -> dict[str, Any]:
        """At least one jar, of a food that is known."""
        typed = super().clean() or self.cleaned_data
        if not any(typed.get(name) for name in ("quarts", "pints", "half_pints")):
            self.needs("quarts", "Write how many jars.")
        if typed.get("food"):
            try:
                typed["known"] = hear(typed["food"]).food
            except InputError as error:
                self.add_error("food", str(error))
        return typed

    def answer(self) -> Answer:
        """Each way alone is enough."""
        typed = self.cleaned_data
        sizes = ((JarSize.QUART, "quarts"), (JarSize.PINT, "pints"), (JarSize.HALF_PINT, "half_pints"))
        jars = {size: typed[name] for size, name in sizes if typed[name]}
        name = typed["known"].process_food or typed["known"].key
        acid.refuse_low_acid(name)
        needs = acid.for_jars(name, jars)
        each = [
            ", ".join(f"{row.amount:g} {row.unit} per {jar_name(jar)}" for jar, row in need.per_jar) for need in needs
        ]
        ways = zip(needs, each, strict=True)
        return Answer(
            figures=tuple(
                Figure(need.agent, words, f"{math.ceil(need.total_ml - 0.1)} ml in all") for need, words in ways
            ),
            sentences=(f"For {name}: one of these, straight into each jar.",),
            cautions=(acid.MEASURE, "Bottled lemon juice, not fresh. The acid belongs there under pressure, too."),
            source=needs[0].per_jar[0][1].source,
            evidence=needs[0].per_jar[0][1].evidence,
        )


class VinegarForm(SumForm):
    """A vinegar brought to a strength, never below that of tested recipes."""

    needed = ("volume",)
    volume = asked("How much", amounts.volume_ml, "“1 l” or “3 cups”", needed=True)
    stronger = asked("Strong vinegar has", read_percent, "From its bottle, “25%”.", needed=True)
    weaker = asked("mixed with", read_percent, "0% is water.", usual="0%", needed=True)
    wanted = asked("Strength wanted", read_percent, "Not below 5%.", usual="5%", needed=True)

    def answer(self) -> Answer:
        """Rounded so that the mixture is never weaker than asked."""
        typed = self.cleaned_data
        acid.check_strength(typed["stronger"])
        made = acid.blend(typed["volume"], typed["wanted"], typed["stronger"], typed["weaker"])
        other = "water" if typed["weaker"] == 0 else f"vinegar of {100 * typed['weaker']:g}%"
        return Answer(
            figures=(
                Figure(f"vinegar of {100 * typed['stronger']:g}%", f"{math.ceil(made.stronger_ml - 1e-6)} ml"),
                Figure(other, f"{math.floor(made.weaker_ml + 1e-6)} ml"),
            ),
            sentences=(f"Together {made.strength:.2%} acid.",),
            cautions=acid.cautions(max(typed["stronger"], typed["weaker"])),
            source="by volume; 5 % is what tested recipes count on",
        )


class LiquidForm(SumForm):
    """Vinegar, water and dry acid together: acid, and an estimate of pH that always says “measure”."""

    needed = ("vinegar", "citric", "lactic")
    vinegar = asked("Vinegar", amounts.volume_ml, "“500 ml”")
    strength = asked("which has", read_percent, "From its bottle.", usual="5%")
    water = asked("Water", amounts.volume_ml, "“500 ml”")
    citric = asked("Citric acid", amounts.weight_g, "“10 g”")
    lactic = asked("Lactic acid", amounts.weight_g, "“10 g”")

    def clean(self) -> dict[str, Any]:
        """Dry acid is dissolved in something, vinegar has a strength."""
        typed = super().clean() or self.cleaned_data
        if typed.get("vinegar") is not None:
            self.needs("strength", "Write the strength of the vinegar, from its bottle.")
        elif not self.errors:
            self.needs("water", "An acid alone has no pH: write what it is dissolved in.")
        return typed

    def answer(self) -> Answer:
        """The parts as the estimate reads them."""
        typed = self.cleaned_data
        parts = [f"vinegar {100 * typed['strength']:g}%={typed['vinegar']:g} ml"] if typed["vinegar"] else []
        parts += [f"water={typed['water']:g} ml"] if typed["water"] else []
        dry = (("citric acid", typed["citric"]), ("lactic acid", typed["lactic"]))
        parts += [f"{name}={mass_g:g} g" for name, mass_g in dry if mass_g]
        found = acid_estimate.mixture(parts)
        estimate = str(found.estimate)
        return Answer(
            figures=(
                Figure("together", f"{found.volume_ml:.0f} ml"),
                *(Figure(name, f"{grams_l:.3g} g", "in a litre") for name, grams_l in found.acids_g_l.items()),
            ),
            sentences=(f"{capital(estimate)}.",),
            cautions=(acid_estimate.NO_PROCESS,),
            source="dissociation of weak acids; charge balance at 25 °C, an ideal solution",
        )
