"""A pot that cools."""

from __future__ import annotations

import math
from typing import Any

from django import forms

from stillroom.physics.pots import Pan
from stillroom.quantities import amounts, cooling
from stillroom.quantities.cold_text import temp_words
from stillroom.quantities.cooling_answer import cool, cooling_cautions, cooling_sources, pace_words
from stillroom.quantities.measured_text import read_length_mm, read_sides_mm, read_temp_c, read_time_min
from stillroom.web.bench.sums.about_food import FoodForm, amount_field, food_field
from stillroom.web.bench.sums.shape import Answer, Figure, asked, ticked
from stillroom.web.kitchen import measures

HOTTEST_C = 105.0
SHORTEST_SIDE_MM, LONGEST_SIDE_MM = 100, 1000


class CoolForm(FoodForm):
    """Will a pot cool in time as it is, in shallow pans, with ice."""

    more = {
        "Temperatures, ice stirred in": ("filled", "ice_in", "room", "tap"),
        "Two readings on the way": ("was", "later", "after", "around"),
    }
    food = food_field("“stew”, “chicken stock”, “cooked rice”")
    amount = amount_field("“8 l” or “5 kg”")
    pot = asked("Pot, inside width", read_length_mm, "“28 cm”: as it is.")
    pan = asked("Shallow pans", read_sides_mm, "Their sides.", usual="40 x 30 cm", needed=True)
    glass = ticked("Pot and pans are glass or earthenware")
    filled = asked("It is now", read_temp_c, usual="95 C", needed=True)
    room = asked("Kitchen", read_temp_c, needed=True)
    tap = asked("Cold tap", read_temp_c, usual="15 C", needed=True)
    ice_in = asked("Ice stirred into the food", amounts.weight_g, "“1 kg”; so much less water in the recipe.")
    was = asked("In the middle it had", read_temp_c, "“80 C”")
    later = asked("and later", read_temp_c, "“60 C”")
    after = asked("after", read_time_min, "“20 min”")
    around = asked("Around it stood", read_temp_c, "“0 C” is ice water.")

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["room"].initial = measures.temperature(self.household)(self.household.room_c)

    def clean_filled(self) -> float:
        """Cooling begins above the first mark of the rule."""
        found: float = self.cleaned_data["filled"]
        first_c = cooling.cooling_rule().first_c
        if not first_c < found <= HOTTEST_C:
            raise forms.ValidationError(
                f"Cooling begins between {first_c:.0f} and {HOTTEST_C:.0f} °C, not at {found:g}."
            )
        return found

    def clean_pan(self) -> tuple[float, float]:
        """A pan for a kitchen."""
        sides: tuple[float, float] = self.cleaned_data["pan"]
        if not (sides[1] >= SHORTEST_SIDE_MM and sides[0] <= LONGEST_SIDE_MM):
            raise forms.ValidationError("A shallow pan has sides of 10 cm to 1 m.")
        return sides

    def clean(self) -> dict[str, Any]:
        """All four of the readings, and ice that is less than the food."""
        typed = super().clean() or self.cleaned_data
        readings = ("was", "later", "after", "around")
        if any(typed.get(name) is not None for name in readings):
            for name in readings:
                self.needs(name, "Two readings need both, the time between them and what stood around the pot.")
        if (typed.get("ice_in") or 0.0) > 1000 * (typed.get("amount_kg") or math.inf):
            self.add_error("ice_in", "There is more ice than food: weigh it again.")
        return typed

    def answer(self) -> Answer:
        """The pot as it is, pans, ice; and the pace of two readings."""
        typed, parts = self.cleaned_data, self.parts
        longer_mm, shorter_mm = typed["pan"]
        pan = Pan(longer_mm / 1000, shorter_mm / 1000, 0.05, cooling.GLASS_M2_K_W if typed["glass"] else 0.0)
        around = cooling.Around(room_c=typed["room"], tap_c=typed["tap"])
        pot_m = self.got("pot", 0.0) / 1000
        mass_kg, from_c, ice_kg = typed["amount_kg"], typed["filled"], self.got("ice_in", 0.0) / 1000
        said = []
        if ice_kg:
            from_c, mass_kg = cooling.with_ice_c(parts, mass_kg, from_c, ice_kg), mass_kg + ice_kg
            said.append(f"With the ice stirred in it has {temp_words(from_c)}; the recipe gets so much less water.")
        if typed["was"] is not None:
            pace = cooling.pace(typed["was"], typed["later"], typed["after"], typed["around"])
            said.append(f"{pace_words(pace)}.")
        found = cool(parts, mass_kg, around, from_c=from_c, pot_m=pot_m, pan=pan)
        return Answer(
            figures=(Figure("to cool", f"{found.litres:.3g} l", f"{found.mass_kg:.3g} kg"),),
            sentences=(*said, *found.sentences),
            cautions=cooling_cautions(),
            source=f"{cooling_sources()} Worked out from {parts.basis}.",
        )
