"""When a dough is ready where it stands: read from what was written, said for people and machines."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from stillroom.errors import InputError
from stillroom.quantities.measured_text import read_temp_c, read_time_min
from stillroom.units import fahrenheit

if TYPE_CHECKING:
    from stillroom.physics.band import Band
    from stillroom.quantities.dough_readiness import Stand

WATCH = (
    "By a model of yeast: watch the dough, not the clock. Dough with egg, milk or cheese stands no longer than 2 h out "
    "of the cold."
)
NEAREST_MIN = 5  # the model knows no better
_STAND = re.compile(r"\s*(?:[a-z]+ +)?([-−]?[0-9.]+ *°? *[cf])(?:[ ,]+([0-9.]+ *(?:h|min)))?\s*", re.IGNORECASE)
_CLOCK = re.compile(r"\s*([01]?[0-9]|2[0-3]):([0-5][0-9])\s*")


@dataclass(frozen=True, slots=True)
class Asked:
    """The options as they were written."""

    known_time: str
    known_temp: str
    dough_temp: str
    room: str
    stands: tuple[str, ...]
    begun: str
    want: str

    @property
    def is_asked(self) -> bool:
        """Whether anything but the plain rise at one temperature is wanted."""
        return bool(self.stands or self.begun or self.want or (self.known_time and self.room))


@dataclass(frozen=True, slots=True)
class Ready:
    """Hours from mixing, when mixing was, and what would have it ready at the hour that is wanted."""

    hours: Band
    stands: tuple[Stand, ...]
    begun: datetime | None
    wanted_h: float | None
    place_c: float | None
    fridge_first_h: float | None


def ready_answer(asked: Asked, mass_g: float) -> Ready:
    """The answer; InputError says what is missing."""
    from stillroom.quantities import dough_readiness

    if not (asked.known_time and asked.known_temp and asked.dough_temp):
        raise InputError("When it is ready needs --known-time, --known-temp and --dough-temp: a rise that you know.")
    if asked.room and asked.stands:
        raise InputError("Give --room, or every place of it with --stand, not both.")
    if asked.want and not asked.begun:
        raise InputError("To be ready at an hour needs --begun, the hour it is mixed.")
    known = dough_readiness.KnownRise(read_time_min(asked.known_time) / 60, read_temp_c(asked.known_temp))
    start_c, stands = read_temp_c(asked.dough_temp), _stands(asked)
    begun = read_clock(asked.begun) if asked.begun else None
    hours = dough_readiness.ready(mass_g, start_c, stands, known)
    if begun is None or not asked.want:
        return Ready(hours, stands, begun, None, None, None)
    wanted_h = _hours_until(begun, read_clock(asked.want))
    cold_h = dough_readiness.fridge_first_h(mass_g, start_c, wanted_h, known, room_c=stands[-1].temp_c)
    place_c = dough_readiness.place_c(mass_g, start_c, wanted_h, known)
    return Ready(hours, stands, begun, wanted_h, place_c, cold_h)


def read_stands(written: Sequence[str]) -> tuple[Stand, ...]:
    """Places one after the other, “fridge 4 C 9 h”; the last one without a time, as it goes on until it is ready."""
    from stillroom.quantities.dough_readiness import Stand

    found = []
    for place, text in enumerate(written):
        match = _STAND.fullmatch(text)
        if match is None:
            raise InputError(f"“{text}” is not a place; write it as in “fridge 4 C 9 h”, the last one without a time.")
        is_last = place == len(written) - 1
        if bool(match[2]) == is_last:
            raise InputError("Every place but the last says how long; the last goes on until the dough is ready.")
        hours = math.inf if is_last else read_time_min(match[2].lower()) / 60
        found.append(Stand(read_temp_c(match[1]), hours))
    return tuple(found)


def read_clock(text: str) -> datetime:
    """An hour of any day, “20:30”."""
    match = _CLOCK.fullmatch(text)
    if match is None:
        raise InputError(f"“{text}” is not an hour; write it as in 20:30.")
    return datetime(2000, 1, 1, int(match[1]), int(match[2]))  # noqa: DTZ001 - an hour of any day


def _stands(asked: Asked) -> tuple[Stand, ...]:
    written = asked.stands or ((asked.room,) if asked.room else ())
    if not written:
        raise InputError("Say where it stands: --room “18 C”, or places one after the other, --stand “fridge 4 C 9 h”.")
    return read_stands(written)


def _hours_until(begun: datetime, wanted: datetime) -> float:
    """The next time that the clock shows it."""
    hours = (wanted - begun) / timedelta(hours=1)
    return hours if hours > 0 else hours + 24


def ready_keys(ready: Ready | None) -> dict[str, Any] | None:
    """For machines; infinite where it is not ready within four days."""
    if ready is None:
        return None
    band = ready.hours
    return {
        "low_h": _finite(band.low),
        "middle_h": _finite(band.middle),
        "high_h": _finite(band.high),
        "from": _moment(ready.begun, band.low),
        "about": _moment(ready.begun, band.middle),
        "until": _moment(ready.begun, band.high),
        "wanted_h": ready.wanted_h,
        "fridge_first_h": ready.fridge_first_h,
        "place_c": ready.place_c,
        "caution": WATCH,
    }


def ready_words(ready: Ready) -> tuple[str, ...]:
    """For people: when it is ready, and what would have it ready at the hour that is wanted."""
    return (_sentence(ready), *((_for_the_hour(ready),) if ready.wanted_h is not None else ()))


def ready_text(ready: Ready) -> str:
    """For a plain terminal."""
    return "\n".join([*(f"  {words}" for words in ready_words(ready)), f"  ! {WATCH}"])


def _sentence(ready: Ready) -> str:
    band, where = ready.hours, " then ".join(_place(stand) for stand in ready.stands)
    if math.isinf(band.low):
        return f"Not ready within four days: {where}"
    to = f"to {_figure(band.high)} h" if math.isfinite(band.high) else "h at the soonest, perhaps never,"
    about = f", about {_figure(band.middle)}" if math.isfinite(band.middle) else ""
    clock = ""
    if ready.begun is not None:
        clock = f"; from {_moment(ready.begun, band.low)}"
        clock += f", about {_moment(ready.begun, band.middle)}" if math.isfinite(band.middle) else ""
        clock += f", at the latest {_moment(ready.begun, band.high)}" if math.isfinite(band.high) else ""
    return f"Ready {_figure(band.low)} {to} after mixing{about}{clock}: {where}"


def _for_the_hour(ready: Ready) -> str:
    assert ready.wanted_h is not None
    at = _moment(ready.begun, ready.wanted_h)
    ways = []
    if ready.fridge_first_h is not None and ready.fridge_first_h > 0.2:
        until = _moment(ready.begun, ready.fridge_first_h)
        ways.append(f"in the fridge until {until}, then at {ready.stands[-1].temp_c:.0f} °C")
    if ready.place_c is not None:
        ways.append(f"in a place of {ready.place_c:.0f} °C ({fahrenheit(ready.place_c):.0f} °F) all the time")
    if not ways:
        return f"For {at} there is no way with this dough: use more or less yeast, and learn its rise"
    return f"To be ready at {at}: {', or '.join(ways)}"


def _place(stand: Stand) -> str:
    return f"at {stand.temp_c:.0f} °C" + (f" for {_figure(stand.hours)} h" if math.isfinite(stand.hours) else "")


def _moment(begun: datetime | None, hours: float) -> str | None:
    """07:10, or 07:10 the next day."""
    if begun is None or not math.isfinite(hours):
        return None
    at = begun + timedelta(minutes=NEAREST_MIN * round(60 * hours / NEAREST_MIN))
    days = (at.date() - begun.date()).days
    return f"{at:%H:%M}" + ("" if days == 0 else " the next day" if days == 1 else f" {days} days later")


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _figure(hours: float) -> str:
    return f"{hours:.1f}".removesuffix(".0") if hours < 10 else f"{hours:.0f}"
