"""The role rule in code: the heat model may only add caution.

What leaves the model is a note. A note has no minutes, pressure, headspace or acid, so it can't be turned into a
process, and nothing that takes a card or a printed row can use it. A low note adds one warning to the card that it
belongs to and leaves everything else of the card alone; a high one changes nothing. Where there is no tested process,
what can be said travels together with the refusal, and only says by how much the jar lags behind a tested one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any, NoReturn, final

from stillroom.heat.curve import Curve
from stillroom.model.process import ProcessCard, ProcessRefusal
from stillroom.physics.band import Band
from stillroom.physics.lethality import Reference

ROLE = (
    "This is a model, for caution only. It can't shorten, lengthen, rescue or replace a process; the printed minutes "
    "and pressure are the process, whatever the band says."
)
CAUTION = "Heat model (caution only):"
NO_LAG = 80.0  # % of the tested jar: a band that begins there would only comfort


@dataclass(frozen=True, slots=True)
class Yardstick:
    """What lethality is measured in and how much of it is asked for: F0, 3 min."""

    reference: Reference
    asked_min: float
    source: str

    @property
    def name(self) -> str:
        """ "F0" or the name of the acid reference."""
        return self.reference.name

    def __str__(self) -> str:
        return f"{self.name}: minutes at {self.reference.temp_c:.1f} °C, z {self.reference.z_c:.1f} °C"


@final
@dataclass(frozen=True, slots=True)
class HeatNote:
    """What the model says of a jar that has a tested process: bands only. Low means below what authorities ask for."""

    about: str  # `about_card` of the card that it belongs to
    yardstick: Yardstick
    lethality: Band  # whole cycle
    from_heating: Band  # until the heat is turned off
    from_cooling: Band
    dominating: str  # the uncertain input that widens the band most
    assumed: tuple[str, ...]
    curve: Curve

    def __post_init__(self) -> None:
        for band in (self.lethality, self.from_heating, self.from_cooling):
            if type(band) is not Band or band.unit != "min" or not (band.low >= 0 and math.isfinite(band.high)):
                raise ValueError("a note is made of finite bands of minutes, none below zero")

    def __init_subclass__(cls, **_keywords: Any) -> NoReturn:
        raise TypeError("a note of the heat model can't be made into anything else")

    @property
    def is_low(self) -> bool:
        """Whether the band begins below what is asked for."""
        return self.lethality.low < self.yardstick.asked_min


@final
@dataclass(frozen=True, slots=True)
class LagNote:
    """How far a jar without a tested process lags behind: never how much lethality it would get.

    `share` is what its cold spot would get of what the tested jar gets, where the model says less than all of it;
    None where there is nothing tested to compare with, or where the model sees no lag beyond its own error, which
    proves nothing.
    """

    about: str
    heating_time: Band  # fh: minutes in which the gap between canner and cold spot shrinks to a tenth
    compared_with: str  # the tested jar, or ""
    share: Band | None  # % of the lethality of that jar, capped at 100

    def __post_init__(self) -> None:
        if self.heating_time.unit != "min" or not self.heating_time.low > 0:
            raise ValueError("a heating time is a band of minutes above zero")
        if self.share is not None and not (self.share.unit == "%" and self.share.low >= 0 and self.share.high <= 100):
            raise ValueError("a share is a band from 0 to 100 %")
        if self.share is not None and self.share.low >= NO_LAG:
            raise ValueError("a share that nearly reaches the tested jar would only comfort")

    def __init_subclass__(cls, **_keywords: Any) -> NoReturn:
        raise TypeError("a note of the heat model can't be made into anything else")


@final
@dataclass(frozen=True, slots=True)
class CardAndNote:
    """A tested card, warned where the note is low, and the note."""

    card: ProcessCard
    note: HeatNote

    def __post_init__(self) -> None:
        if with_caution(self.card, self.note) is not self.card:
            raise ValueError("the card must carry the caution of its note")
        if self.note.about != about_card(self.card):
            raise ValueError(f"a note about {self.note.about} says nothing of {about_card(self.card)}")


@final
@dataclass(frozen=True, slots=True)
class RefusalAndNote:
    """A refusal, and what the model can add to it; there is no way to have the second without the first."""

    refusal: ProcessRefusal
    note: LagNote

    def __post_init__(self) -> None:
        if type(self.refusal) is not ProcessRefusal:
            raise TypeError("what is said of a jar without a tested process carries its refusal")
        if type(self.note) is not LagNote:
            raise TypeError("a jar without a tested process has no lethality, only a lag")
        if not self.note.about.startswith(f"{self.refusal.food}, "):
            raise ValueError(f"a note about {self.note.about} says nothing of {self.refusal.food}")


def about_card(card: ProcessCard) -> str:
    """What tells a card from others: "beef, ground or chopped, hot pack, quart, dial gauge, 690 m"."""
    return f"{card.food}, {card.form}, {card.pack} pack, {card.jar_asked}, {card.canner.value}, {card.altitude_m:.0f} m"


def with_caution(card: ProcessCard, note: HeatNote) -> ProcessCard:
    """The card itself, or one like it in everything with one more warning where the note is low; one is enough."""
    if type(card) is not ProcessCard or type(note) is not HeatNote:
        raise TypeError("only a note of the heat model can caution, and only a tested card can be cautioned")
    if not note.is_low or any(warning.startswith(CAUTION) for warning in card.warnings):
        return card
    return replace(card, warnings=(*card.warnings, caution(note)))


def caution(note: HeatNote) -> str:
    """The warning that a low note adds; it asks for care and leaves the process as printed."""
    yardstick = note.yardstick
    return (
        f"{CAUTION} for the cold spot it gives {yardstick.name} {span(note.lethality)}, where "
        f"{yardstick.asked_min:g} min are usually asked for. Keep to the printed process to the letter: fill as warm "
        "and pack as loosely as its steps say, leave the headspace, count the time only at full pressure or full boil, "
        "let the canner cool by itself."
    )


def span(band: Band) -> str:
    """The band in words, two figures each, never a bare number: "2.1 to 6.4 min, about 3.8"."""
    low, middle, high = (figures(value) for value in (band.low, band.middle, band.high))
    if low == high:
        if band.high < 0.01:
            return f"{high} {band.unit}"
        return f"about {middle} {band.unit}, give or take"
    return f"{low} to {high} {band.unit}, about {middle}"


def figures(value: float) -> str:
    """Two significant figures without an exponent; "under 0.01" below a hundredth."""
    if value < 0.01:
        return "under 0.01"
    if value >= 10:
        return f"{round(value, 1 - math.floor(math.log10(value))):.0f}"
    return f"{value:.2g}"
