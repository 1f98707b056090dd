"""The look-up: food, form, pack, jar, canner and altitude in; a tested process card or a refusal out.

Never interpolates, never extrapolates: a missing row means that no process was tested.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from stillroom.errors import InputError
from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal, ProcessRow
from stillroom.process import refusals
from stillroom.process.alternatives import with_alternatives
from stillroom.process.altitude_text import altitude_ft
from stillroom.process.decide import decide, refuse_whatever_the_form
from stillroom.process.form_choice import choose_form, choose_pack
from stillroom.process.gauge import Gauge, check_gauge_fits
from stillroom.process.jar_text import read_jar
from stillroom.process.no_process_match import warning_for
from stillroom.process.question import Question
from stillroom.process.row_choice import for_method, is_tested, size_for
from stillroom.tables.processes import rows_for
from stillroom.tables.vocabulary import Heard, ask_back, hear


def find(  # noqa: PLR0913 - the question has this many parts
    food: str,
    *,
    form: str | None = None,
    pack: str | None = None,
    jar: str,
    canner: CannerKind,
    altitude_m: float,
    gauge_error_psi: float = 0.0,
    gauge_tested_on: date | None = None,
    today: date | None = None,
) -> ProcessCard | ProcessRefusal:
    """The tested process for one canner load, or why there is none and what to do instead.

    `jar` is a name or a volume ("quart", "1200ml"); `form` and `pack` may be left out where only one exists.
    Raises UnknownFood, InputError for what can't be read, AmbiguousRequest where a form or pack must be named.
    """
    if form is None:
        ask_back(food)
    heard = hear(food)
    gauge = Gauge(gauge_error_psi, gauge_tested_on, today)
    check_gauge_fits(canner, gauge)
    question = Question(
        food=heard.food.key,
        process_food=heard.food.process_food or "",
        form=_form_asked(heard, form),
        pack=pack,
        jar=read_jar(jar),
        canner=canner,
        altitude_m=altitude_m,
        altitude_ft=altitude_ft(altitude_m),
        gauge=gauge,
    )
    rows = rows_for(question.process_food)
    answer = _answer(question, rows)
    return answer if isinstance(answer, ProcessCard) else with_alternatives(answer, question, rows)


def _answer(question: Question, rows: tuple[ProcessRow, ...]) -> ProcessCard | ProcessRefusal:
    warning = warning_for(question.food, question.process_food or None, question.form)
    if not rows or warning is not None:
        return refusals.no_process(question, warning)
    refused = refuse_whatever_the_form(question, rows)
    if refused is not None:
        return refused
    form = choose_form(rows, question.food, question.form, _usable(question, rows))
    if form is None:
        return refusals.no_such_form(question, rows)
    of_form = [row for row in rows if row.form == form]
    pack = choose_pack(for_method(of_form, question.canner) or of_form, question.food, question.pack)
    if pack is None:
        return refusals.no_such_pack(question, form, of_form)
    return decide(question.with_choice(form, pack), rows)


def _usable(question: Question, rows: Sequence[ProcessRow]) -> tuple[ProcessRow, ...]:
    """The tested rows for this canner, in the size that the jar counts as for their form and pack."""
    found: list[ProcessRow] = []
    for form, pack in dict.fromkeys((row.form, row.pack) for row in rows):
        tested = [
            row for row in for_method(rows, question.canner) if (row.form, row.pack) == (form, pack) and is_tested(row)
        ]
        size = size_for(tested, question.jar)
        found += [row for row in tested if row.jar is size]
    return tuple(found)


def _form_asked(heard: Heard, form: str | None) -> str | None:
    """The form the cook named, or the one the food's name implies; both must mean the same."""
    if form is None or heard.form is None:
        return form or heard.form
    implied_rows = [row for row in rows_for(heard.food.process_food or "") if row.form == heard.form]
    if implied_rows and choose_form(implied_rows, heard.food.key, form) is None:
        raise InputError(
            f"“{heard.food.key}” means “{heard.form}”, but the form asked for is “{form}”. "
            "Name the food more broadly, or leave the form out."
        )
    return heard.form
