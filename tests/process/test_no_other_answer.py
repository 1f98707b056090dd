"""Thousands of other combinations never give a tested answer without a printed row that supports it."""

from __future__ import annotations

import math

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from printed_rows import JAR_ML, PRINTED, PROCESS_FOOD_OF, TESTED, figure, supported

from stillroom import units
from stillroom.errors import InputError
from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal
from stillroom.process.find import find
from stillroom.process.form_choice import AmbiguousRequest

KEYS = sorted(PROCESS_FOOD_OF)
WITH_PROCESS = sorted(key for key in KEYS if PROCESS_FOOD_OF[key])
FORMS_OF: dict[str, list[str]] = {}
for row in PRINTED:
    FORMS_OF.setdefault(row.food, []).append(row.form)
ALL_FORMS = sorted({row.form for row in PRINTED})
ODD_FORMS = ["pureed", "mashed", "whole", "with bones", "sugar added", "in", "1", "", "raw", "thick", "smoked"]
CANNERS = [kind.value for kind in CannerKind]
JARS_ML = st.one_of(
    st.sampled_from(
        [100.0, 236.0, 237.0, 238.0, 350.0, 473.0, 474.0, 500.0, 710.0, 946.0, 947.0, 1000.0, 1200.0, 1893.0]
    ),
    st.floats(min_value=30, max_value=4000, allow_nan=False),
)
ALTITUDES_FT = st.one_of(
    st.sampled_from([-1000, 0, 1000, 1000.4, 1001, 2000, 2000.4, 3000.2, 4000.4, 6000, 6000.4, 8000, 8000.4, 9000]),
    st.floats(min_value=-1400, max_value=15000, allow_nan=False),
)


@st.composite
def questions(draw: st.DrawFn) -> tuple[str, str | None, str | None, float, str, float, float]:
    food = draw(st.one_of(st.sampled_from(WITH_PROCESS), st.sampled_from(KEYS)))
    own = FORMS_OF.get(PROCESS_FOOD_OF[food], ALL_FORMS)
    form = draw(
        st.one_of(st.sampled_from(own), st.sampled_from(own), st.sampled_from(ALL_FORMS + ODD_FORMS), st.none())
    )
    pack = draw(st.sampled_from(["hot", "raw", None]))
    canner = draw(st.sampled_from(CANNERS))
    error_psi = (
        draw(st.sampled_from([0.0, 0.0, 0.0, 0.5, 1.0, 2.0, 2.1, -1.5, -3.0])) if canner == "dial gauge" else 0.0
    )
    return food, form, pack, draw(JARS_ML), canner, draw(ALTITUDES_FT), error_psi


def answer_to(question: tuple[str, str | None, str | None, float, str, float, float]) -> ProcessCard | ProcessRefusal:
    food, form, pack, jar_ml, canner, altitude_ft, error_psi = question
    return find(
        food,
        form=form,
        pack=pack,
        jar=f"{jar_ml:.3f} ml",
        canner=CannerKind(canner),
        altitude_m=units.metres(altitude_ft),
        gauge_error_psi=error_psi,
    )


def check_card(card: ProcessCard, food: str, jar_ml: float, altitude_ft: float, error_psi: float) -> None:
    """The card is one of the printed lines that support it, pressure raised where the dial reads high."""
    canner = card.canner.value
    rows = supported(food, card.form, card.pack, jar_ml, canner, altitude_ft)
    printed = {figure(row, "boiling water" if canner == "steam" else canner, altitude_ft) for row in rows}
    assert (card.minutes, card.pressure_psi_printed) in printed
    assert {row.jar for row in rows} == {card.jar_counted_as.value}
    assert jar_ml <= JAR_ML[card.jar_counted_as.value] + 0.5
    assert abs(error_psi) <= 2
    if card.pressure_psi_printed is not None:
        assert card.pressure_psi == card.pressure_psi_printed + max(0.0, error_psi)
    raised = {(minutes, psi and math.ceil(psi + max(0.0, error_psi))) for minutes, psi in printed}
    assert set(card.choices) <= raised


@settings(max_examples=3000, deadline=None, suppress_health_check=list(HealthCheck))
@given(questions())
def test_only_printed_rows_are_answered(
    question: tuple[str, str | None, str | None, float, str, float, float],
) -> None:
    food, form, _pack, jar_ml, _canner, altitude_ft, error_psi = question
    try:
        answer = answer_to(question)
    except AmbiguousRequest as asked_back:
        assert asked_back.choices
        return
    except InputError:
        assert form is not None
        return
    if isinstance(answer, ProcessCard):
        check_card(answer, food, jar_ml, altitude_ft, error_psi)
        return
    assert answer.reason.endswith(".")
    for way in answer.alternatives:
        assert way.what
        assert way.source
        if way.card is not None:
            asked_gauge = way.card.canner is CannerKind(_canner)
            way_ml = min(jar_ml, JAR_ML[way.card.jar_counted_as.value])
            check_card(way.card, food, way_ml, altitude_ft, error_psi if asked_gauge else 0.0)


@settings(max_examples=1000, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.sampled_from(TESTED), JARS_ML, st.sampled_from(CANNERS), ALTITUDES_FT)
def test_what_the_rows_support_is_answered(row: object, jar_ml: float, canner: str, altitude_ft: float) -> None:
    """The other direction: an exact form and pack is refused only where no row supports it."""
    food, form, pack = row.food, row.form, row.pack  # type: ignore[attr-defined]
    key = next(key for key in WITH_PROCESS if PROCESS_FOOD_OF[key] == food)
    try:
        answer = answer_to((key, form, pack, jar_ml, canner, altitude_ft, 0.0))
    except InputError:
        return
    expected = bool(supported(key, form, pack, jar_ml, canner, altitude_ft))
    assert isinstance(answer, ProcessCard) is expected
