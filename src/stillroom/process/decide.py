"""The decision for one printed form and pack: a card, or a refusal without its alternatives yet."""

from __future__ import annotations

import math
from collections.abc import Sequence

from stillroom.model.process import CannerKind, Evidence, JarSize, ProcessCard, ProcessRefusal, ProcessRow
from stillroom.process import refusals
from stillroom.process.altitude_bands import is_above_last_band, minutes_at, pressure_at_psi
from stillroom.process.gauge import gauge_warnings, is_too_far_off, shown_psi
from stillroom.process.jar_text import jar_name
from stillroom.process.question import Question
from stillroom.process.row_choice import default_line, for_method, is_tested, is_weighted_recalled, size_for
from stillroom.process.steps import steps_for
from stillroom.tables.acids import acids
from stillroom.tables.constants import constant


def refuse_whatever_the_form(question: Question, rows: Sequence[ProcessRow]) -> ProcessRefusal | None:
    """The rules that hold for every form and pack of the food: place, gauge, method."""
    if is_above_last_band(question.altitude_ft):
        return refusals.above_last_band(question)
    if question.canner is CannerKind.DIAL and is_too_far_off(question.gauge):
        return refusals.gauge_too_far_off(question)
    if not question.canner.is_pressure and not for_method(rows, question.canner):
        return refusals.low_acid(question, rows)
    return None


def decide(question: Question, rows: Sequence[ProcessRow]) -> ProcessCard | ProcessRefusal:
    """Answer a question whose form and pack are printed ones, from the rows of its food."""
    refused = refuse_whatever_the_form(question, rows)
    if refused is not None:
        return refused
    printed = [row for row in rows if row.form == question.form and row.pack == question.pack]
    same_method = for_method(printed, question.canner)
    if not same_method:
        return refusals.no_row_for_method(question, printed)
    tested = [row for row in same_method if is_tested(row)]
    if not tested:
        return refusals.only_from_memory(question, same_method)
    size = size_for(tested, question.jar)
    if size is None:
        return refusals.jar_too_large(question, tested, same_method)
    return _card_or_refusal(question, [row for row in tested if row.jar is size], same_method)


def _card_or_refusal(
    question: Question, lines: Sequence[ProcessRow], same_method: Sequence[ProcessRow]
) -> ProcessCard | ProcessRefusal:
    if question.canner.is_pressure:
        usable = [r for r in lines if pressure_at_psi(r, question.canner, question.altitude_ft) is not None]
        if not usable:
            return refusals.not_for_this_gauge(question, lines)
        return _card(question, default_line(usable), usable, same_method)
    row = lines[0]
    minutes = minutes_at(row, question.altitude_ft)
    if question.canner is CannerKind.STEAM and minutes > constant("steam_limit_min").value:
        return refusals.too_long_for_steam(question, minutes)
    return _card(question, row, lines, same_method)


def _card(
    question: Question, row: ProcessRow, lines: Sequence[ProcessRow], same_method: Sequence[ProcessRow]
) -> ProcessCard:
    minutes = minutes_at(row, question.altitude_ft)
    printed_psi = pressure_at_psi(row, question.canner, question.altitude_ft) if row.is_pressure else None
    held_psi = None if printed_psi is None else shown_psi(printed_psi, question.gauge)
    sterilise = not row.is_pressure and minutes < constant("sterilise_below_min").value
    return ProcessCard(
        food=question.food,
        form=row.form,
        pack=row.pack,
        jar_asked=question.jar.text,
        jar_counted_as=row.jar,
        canner=question.canner,
        altitude_m=question.altitude_m,
        minutes=minutes,
        pressure_psi=held_psi,
        pressure_psi_printed=printed_psi,
        headspace_in=row.headspace_in,
        acidification=row.acidification,
        sterilise_jars=sterilise,
        row=row,
        choices=tuple(_choice(line, question) for line in lines if line is not row),
        steps=steps_for(row, question.canner, minutes, held_psi, sterilise=sterilise),
        warnings=(
            *_size_warnings(question, row, same_method),
            *_recalled_line_warnings(question, lines),
            *gauge_warnings(question.canner, question.gauge),
        ),
    )


def _choice(line: ProcessRow, question: Question) -> tuple[int, int]:
    """Another full process for the same jar: minutes and whole psi on this gauge, rounded up."""
    printed_psi = pressure_at_psi(line, question.canner, question.altitude_ft)
    assert printed_psi is not None  # the caller keeps only lines for this gauge
    return minutes_at(line, question.altitude_ft), math.ceil(shown_psi(printed_psi, question.gauge))


def _size_warnings(question: Question, row: ProcessRow, same_method: Sequence[ProcessRow]) -> tuple[str, ...]:
    if abs(question.jar.volume_ml - row.jar.volume_ml) < 1:
        return ()
    counted = jar_name(row.jar)
    acid = f" It gets all the acid of a {counted}, too." if acids(row.food) else ""
    skipped = [r for r in same_method if r.evidence is Evidence.MEMORY and _fits_between(question, r.jar, row.jar)]
    if skipped:
        return (f"A figure for a smaller jar is known only from memory and is not used; the {counted} time is.{acid}",)
    return (f"This jar is smaller than a tested {counted} and takes the full {counted} time.{acid}",)


def _recalled_line_warnings(question: Question, lines: Sequence[ProcessRow]) -> tuple[str, ...]:
    """For a weighted gauge: that the page named shows the dial figures only."""
    if question.canner is not CannerKind.WEIGHTED or not any(map(is_weighted_recalled, lines)):
        return ()
    return (
        "The weighted figures of this line were not read on the page named; they are the common line of the guide's "
        "tables.",
    )


def _fits_between(question: Question, smaller: JarSize, counted: JarSize) -> bool:
    return question.jar.volume_ml <= smaller.volume_ml + 1 < counted.volume_ml
