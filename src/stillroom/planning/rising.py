"""When a dough of the plan is ready in this kitchen, beside the hours of its recipe and those that the plan leaves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from stillroom.errors import InputError
from stillroom.model.recipe import After, Recipe, Use
from stillroom.planning.held import Held
from stillroom.quantities.dough_readiness import COLD_C, KnownRise, Stand, fridge_first_h, place_c, ready

LONG_MIN = 240  # a rise of so many hours is told of; a shorter one only where the plan leaves it too little
SHORTEST_MIN = 30
DOUGH_G = 1000.0  # begun as warm as its place, so that its size plays no part
NEAREST_MIN = 5
NEARLY = 0.85  # of the time that it needs: nearer than that the model can't tell
HOTTEST_PLACE_C = 28.0  # a house seldom has a warmer place for a night
IN_THE_KITCHEN = ("room", "proof")
WATCH = "Watch the dough, not the clock: this is a model of yeast."


@dataclass(frozen=True, slots=True)
class _Rise:
    """A rise of the plan: its recipe's window, and the same window in this kitchen [h from its beginning]."""

    held: Held
    hold: str
    first: KnownRise
    last: KnownRise
    room_c: float
    from_h: float
    until_h: float

    @property
    def left_h(self) -> float:
        """What the plan leaves it."""
        return (self.held.then - self.held.end) / timedelta(hours=1)

    @property
    def window(self) -> str:
        """When it is ready in the kitchen, beside the recipe."""
        return (
            f"between {_moment(self.held.end, self.from_h)} and {_moment(self.held.end, self.until_h)} at "
            f"{self.room_c:.0f} °C ({self.first.hours:g} to {self.last.hours:g} h at {self.first.temp_c:.0f} °C in the "
            "recipe)"
        )


def rising_advice(recipe: Recipe, held: Sequence[Held], room_c: float) -> tuple[str, ...]:
    """One sentence for each rise outside the cold; the lags of the recipe stand, whatever the model says."""
    if recipe.use is not Use.BAKE:
        return ()
    pairs = ((each, after) for each in held if (after := _after(recipe, each)))
    rises = (rise for each, after in pairs if (rise := _rise(each, after, room_c)))
    return tuple(dict.fromkeys(words for rise in rises if (words := _words(rise))))


def _after(recipe: Recipe, held: Held) -> After | None:
    """What follows the step, where the dough rises meanwhile and its recipe says how warm."""
    for step in recipe.steps:
        for after in step.after:
            is_warm = after.hold_c is not None and after.hold_c >= COLD_C
            if after.step == held.step.key and is_warm and after.min_lag_min >= SHORTEST_MIN and after.max_lag_min:
                return after
    return None


def _rise(held: Held, after: After, room_c: float) -> _Rise | None:
    """None in a kitchen too cold or too hot for any dough."""
    assert after.hold_c is not None
    assert after.max_lag_min is not None
    try:
        first, last = (KnownRise(minutes / 60, after.hold_c) for minutes in (after.min_lag_min, after.max_lag_min))
        from_h, until_h = (ready(DOUGH_G, room_c, [Stand(room_c)], rise).middle for rise in (first, last))
    except InputError:
        return None
    return _Rise(held, after.hold, first, last, room_c, from_h, until_h)


def _words(rise: _Rise) -> str:
    if rise.last.hours * 60 < LONG_MIN:
        return _short(rise)
    if not math.isfinite(rise.until_h):
        return f"In a kitchen of {rise.room_c:.0f} °C this dough may not rise: stand it where it is warmer. {WATCH}"
    goes_on = f"the plan goes on at {rise.held.then:%H:%M}"
    if not rise.hold.startswith(IN_THE_KITCHEN):
        return f"In the kitchen the dough would be ready {rise.window}, and {goes_on}: {_elsewhere(rise)}. {WATCH}"
    line = f"Begun on {rise.held.end:%A %H:%M}, the dough is ready {rise.window}"
    if rise.left_h < rise.from_h:
        return f"{line}, but {goes_on}: {_warmer(rise)}. {WATCH}"
    if rise.left_h > rise.until_h:
        return f"{line}, but {goes_on}: {_cooler(rise)}. {WATCH}"
    return f"{line}; {goes_on}. {WATCH}"


def _short(rise: _Rise) -> str:
    """A last rise that would need clearly more time in this kitchen than the plan leaves it."""
    if rise.left_h >= NEARLY * rise.from_h:
        return ""
    needs = f"about {60 * rise.from_h:.0f} min" if math.isfinite(rise.from_h) else "for ever"
    known_c, may_wait = rise.first.temp_c, rise.from_h <= rise.last.hours  # dough with egg and milk may not
    return (
        f"A rise of {60 * rise.first.hours:.0f} min at {known_c:.0f} °C takes {needs} at {rise.room_c:.0f} °C, and the "
        f"plan leaves it {60 * rise.left_h:.0f}: stand it where it is {known_c:.0f} °C, as a closed oven with a bowl "
        f"of hot water{', or wait for it' if may_wait else ''}. {WATCH}"
    )


def _elsewhere(rise: _Rise) -> str:
    """The place of the recipe, and what to do in a house without one."""
    keep = f"keep it at {rise.first.temp_c:.0f} °C"
    return f"{keep}, or {_cooler(rise)}" if rise.left_h > rise.until_h else keep


def _warmer(rise: _Rise) -> str:
    found_c = place_c(DOUGH_G, rise.room_c, rise.left_h, rise.first)
    if found_c is None or found_c > HOTTEST_PLACE_C:
        return "it needs a warm place from the beginning, or more time"
    return f"stand it where it is {math.ceil(found_c)} °C"


def _cooler(rise: _Rise) -> str:
    """The fridge first, so that the middle of the window falls on the hour of the plan."""
    middle = KnownRise(math.sqrt(rise.first.hours * rise.last.hours), rise.first.temp_c)
    cold_h = fridge_first_h(DOUGH_G, rise.room_c, rise.left_h, middle, room_c=rise.room_c)
    if cold_h is not None:
        return f"in the fridge until {_moment(rise.held.end, cold_h)}, then out"
    return "in the fridge, and out for the last hours"


def _moment(begun: datetime, hours: float) -> str:
    """Sunday 07:40."""
    at = begun + timedelta(hours=hours)
    at -= timedelta(minutes=at.minute % NEAREST_MIN)
    return f"{at:%A %H:%M}"
