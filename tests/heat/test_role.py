"""The role rule, attacked: no note becomes a process, no note changes a card but by one warning more."""

from __future__ import annotations

import copy
import dataclasses
import inspect
import math
import pickle
import pkgutil
from collections.abc import Callable, Iterator
from datetime import date
from importlib import import_module
from typing import Any, get_type_hints

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from made_up import YARDSTICK, curve, note

import stillroom.process
from stillroom.heat.role import CardAndNote, HeatNote, LagNote, RefusalAndNote, figures, span, with_caution
from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal, ProcessRow
from stillroom.physics.band import Band
from stillroom.process.find import find

minutes = st.floats(0, 1e12)
PROCESS_WORDS = ("minutes", "min", "pressure", "psi", "kpa", "headspace", "acid", "acidification", "steps", "row")


def card() -> ProcessCard:
    found = find(
        "beef",
        form="ground or chopped",
        jar="quart",
        canner=CannerKind.DIAL,
        altitude_m=100.0,
        gauge_tested_on=date(2026, 5, 1),
        today=date(2026, 6, 1),
    )
    assert isinstance(found, ProcessCard)
    return found


def refusal() -> ProcessRefusal:
    found = find("beef", form="ground", jar="1200 ml", canner=CannerKind.DIAL, altitude_m=100.0)
    assert isinstance(found, ProcessRefusal)
    return found


CARD = card()
LAG = LagNote("beef, 1200 ml", Band(60, 80, 100, "min"), "the quart", Band(40, 60, 80, "%"))


@settings(max_examples=200)
@given(values=st.tuples(minutes, minutes, minutes))
def test_whatever_the_note_says_the_card_differs_by_one_warning_at_most(values: tuple[float, float, float]) -> None:
    said = note(*sorted(values))
    after = with_caution(CARD, said)
    for field in dataclasses.fields(ProcessCard):
        if field.name != "warnings":
            assert getattr(after, field.name) is getattr(CARD, field.name)
    assert after.warnings[: len(CARD.warnings)] == CARD.warnings
    assert len(after.warnings) - len(CARD.warnings) == (1 if said.is_low else 0)
    assert with_caution(after, said) is after


@given(values=st.tuples(minutes, minutes, minutes))
def test_a_high_note_gives_the_very_same_card(values: tuple[float, float, float]) -> None:
    low, middle, high = sorted(values)
    assume(low >= YARDSTICK.asked_min)
    assert with_caution(CARD, note(low, middle, high)) is CARD


@given(first=st.tuples(minutes, minutes, minutes), second=st.tuples(minutes, minutes, minutes))
def test_a_high_note_takes_no_warning_away(first: tuple[float, ...], second: tuple[float, ...]) -> None:
    once = with_caution(CARD, note(*sorted(first)))
    twice = with_caution(once, note(*sorted(second)))
    assert set(once.warnings) <= set(twice.warnings)


def test_the_warning_asks_for_care_and_names_no_other_process() -> None:
    warning = with_caution(CARD, note(0.5, 1.0, 2.0)).warnings[-1]
    assert "0.5 to 2 min, about 1" in warning
    assert "printed process" in warning
    for forbidden in ("longer", "shorter", "instead", "unsafe", "more minutes", str(CARD.minutes)):
        assert forbidden not in warning


@pytest.mark.parametrize(
    "values",
    [(-1.0, 1.0, 2.0), (0.0, 1.0, math.inf), (math.nan, 1.0, 2.0), (0.0, math.nan, 2.0), (2.0, 1.0, 3.0)],
)
def test_no_note_of_nonsense(values: tuple[float, float, float]) -> None:
    """A lethality that can't be trusted must not pass for a high one."""
    with pytest.raises(ValueError, match="band"):
        note(*values)


def test_replace_makes_no_bare_number_and_no_other_unit() -> None:
    for wrong in (Band(1, 2, 3, "psi"), 5.0, None, (1, 2, 3)):
        with pytest.raises((ValueError, AttributeError)):
            dataclasses.replace(note(), lethality=wrong)
    with pytest.raises(TypeError):
        dataclasses.replace(note(), minutes=10)


@pytest.mark.parametrize("said", [note(), LAG, CardAndNote(CARD, note(4, 5, 6)), RefusalAndNote(refusal(), LAG)])
def test_notes_can_be_neither_subclassed_nor_given_anything(said: Any) -> None:
    if isinstance(said, HeatNote | LagNote):
        with pytest.raises(TypeError):
            type("Process", (type(said),), {"minutes": 10})
    for name in ("minutes", "pressure_psi", "lethality", "anything"):
        with pytest.raises((AttributeError, TypeError)):
            setattr(said, name, 10)
        if not hasattr(said, name):
            with pytest.raises(AttributeError):
                object.__setattr__(said, name, 10)


@pytest.mark.parametrize("said", [note(), LAG])
def test_a_note_is_no_number_and_has_nothing_of_a_process(said: Any) -> None:
    for attempt in (
        float,
        int,
        math.ceil,
        round,
        abs,
        lambda n: n + 1,
        lambda n: 60 + n,
        lambda n: n * 2,
        lambda n: n < 3,
    ):
        with pytest.raises(TypeError):
            attempt(said)
    allowed = {"about", "yardstick", "lethality", "from_heating", "from_cooling", "dominating", "assumed", "curve"}
    allowed |= {"is_low", "heating_time", "compared_with", "share"}
    public = {name for name in dir(said) if not name.startswith("_")}
    assert public <= allowed
    assert not any(word in name.split("_") for name in public for word in PROCESS_WORDS)


def test_only_a_true_note_cautions_a_true_card() -> None:
    class Lookalike:
        is_low = False

    @dataclasses.dataclass(frozen=True)
    class Forged(ProcessCard):
        pass

    forged = Forged(**{field.name: getattr(CARD, field.name) for field in dataclasses.fields(ProcessCard)})
    for wrong_card, wrong_note in ((CARD, Lookalike()), (forged, note()), (CARD, CARD), (CARD, LAG), (note(), note())):
        with pytest.raises(TypeError):
            with_caution(wrong_card, wrong_note)  # type: ignore[arg-type]


def test_a_low_note_can_not_travel_with_a_card_that_hides_it() -> None:
    with pytest.raises(ValueError, match="caution"):
        CardAndNote(CARD, note(0.5, 1.0, 2.0))
    warned = with_caution(CARD, note(0.5, 1.0, 2.0))
    with pytest.raises(ValueError, match="caution"):
        dataclasses.replace(CardAndNote(warned, note(0.5, 1.0, 2.0)), card=CARD)


def test_a_note_belongs_to_its_own_card() -> None:
    about = note(4, 5, 6).about
    CardAndNote(CARD, note(4, 5, 6))
    for other in (
        dataclasses.replace(CARD, jar_asked="pint"),
        dataclasses.replace(CARD, altitude_m=1500.0),
        dataclasses.replace(CARD, canner=CannerKind.WEIGHTED),
        dataclasses.replace(CARD, food="pork"),
    ):
        with pytest.raises(ValueError, match=f"a note about {about} says nothing of"):
            CardAndNote(other, note(4, 5, 6))
    with pytest.raises(ValueError, match="says nothing of beef"):
        RefusalAndNote(refusal(), dataclasses.replace(LAG, about="pork, 1200 ml"))


def test_what_is_said_of_an_untested_jar_carries_the_refusal() -> None:
    for wrong in (None, CARD, LAG, "refused"):
        with pytest.raises(TypeError):
            RefusalAndNote(wrong, LAG)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        RefusalAndNote(refusal(), note(9, 10, 11))  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        CardAndNote(refusal(), note())  # type: ignore[arg-type]


def test_a_lag_can_not_say_that_an_untested_jar_gets_more() -> None:
    for band in (Band(90, 100, 120, "%"), Band(95, 97, 99, "%"), Band(1, 2, 3, "min"), Band(-1, 2, 3, "%")):
        with pytest.raises(ValueError, match="share"):
            dataclasses.replace(LAG, share=band)
    with pytest.raises(ValueError, match="heating time"):
        dataclasses.replace(LAG, heating_time=Band(0, 1, 2, "min"))


def takers() -> Iterator[Callable[..., Any]]:
    """Every function below the heat model that takes a card or a printed row, looked up, not listed."""
    for module_info in pkgutil.iter_modules(stillroom.process.__path__):
        module = import_module(f"stillroom.process.{module_info.name}")
        for _name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ != module.__name__:
                continue
            hints = get_type_hints(function)
            first = next(iter(inspect.signature(function).parameters), None)
            if first is not None and hints.get(first) in (ProcessCard, ProcessRow):
                yield function


@pytest.mark.parametrize("function", list(takers()), ids=lambda function: function.__name__)
@pytest.mark.parametrize("said", [note(), LAG], ids=["note", "lag"])
def test_nothing_that_takes_a_card_or_row_takes_a_note(function: Callable[..., Any], said: Any) -> None:
    others = list(inspect.signature(function).parameters.values())[1:]
    positional = [CannerKind.DIAL for each in others if each.kind is each.POSITIONAL_OR_KEYWORD]
    keywords = {each.name: False for each in others if each.kind is each.KEYWORD_ONLY}
    with pytest.raises((AttributeError, TypeError)):
        function(said, *positional, **keywords)


def test_takers_are_found() -> None:
    assert {"cycle", "minutes_at", "is_tested", "steps_for"} <= {function.__name__ for function in takers()}


def test_copies_and_pickles_stay_what_they_are() -> None:
    low = note(0.5, 1.0, 2.0)
    for other in (copy.deepcopy(low), pickle.loads(pickle.dumps(low))):
        assert other == low
        assert with_caution(CARD, other).warnings == with_caution(CARD, low).warnings


@given(low=minutes, high=minutes)
def test_a_band_in_words_is_never_a_bare_number(low: float, high: float) -> None:
    low, high = sorted((low, high))
    said = span(Band(low, (low + high) / 2, high, "min"))
    assert " to " in said or "give or take" in said or (said == "under 0.01 min" and high < 0.01)
    assert "e+" not in said


def test_figures() -> None:
    assert [figures(value) for value in (0.0, 0.004, 0.05, 1.0, 2.345, 9.96, 12.3, 99.6, 1234.0)] == [
        "under 0.01", "under 0.01", "0.05", "1", "2.3", "10", "12", "100", "1200",
    ]  # fmt: skip


def test_the_curve_of_a_note_is_whole() -> None:
    for broken in ({"canner_c": (1.0,)}, {"time_min": tuple(reversed(curve().time_min))}):
        with pytest.raises(ValueError, match="curve"):
            dataclasses.replace(curve(), **broken)
