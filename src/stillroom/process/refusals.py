"""Why there is no card: each rule of safety as one or two sentences for the cook."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.model.process import CannerKind, JarSize, ProcessRefusal, ProcessRow
from stillroom.process.altitude_bands import LAST_FT
from stillroom.process.jar_text import jar_name
from stillroom.process.question import Question
from stillroom.tables.constants import constant
from stillroom.tables.processes import NoProcess
from stillroom.tables.rules import rule

PRACTICE_LARGEST_ML = 1200.0  # the rule of thumb is told of jars of about 1.2 litres and of no larger ones


def no_process(question: Question, entry: NoProcess | None) -> ProcessRefusal:
    """The food as such, or this way of preparing it, has no tested home process."""
    if entry is None:
        reason = (
            f"There is no tested home-canning process for {question.food}. "
            "A missing process means no process: it can't be worked out from a similar food."
        )
        return ProcessRefusal(question.food, reason, "no tested process")
    what = f"{question.food} ({entry.preparation})" if entry.preparation else question.food
    instead = f" Instead: {entry.instead}." if entry.instead else ""
    reason = f"There is no tested home-canning process for {what}: {entry.reason.rstrip('.')}.{instead}"
    return ProcessRefusal(question.food, reason, "no tested process", source=entry.source)


def above_last_band(question: Question) -> ProcessRefusal:
    """No figure is printed, or sources disagree, above the last band."""
    why = (
        f"the pressure tables end at {LAST_FT:,} ft"
        if question.canner.is_pressure
        else f"above {LAST_FT:,} ft published boiling-water tables disagree, and the longer ones cover only some fruit"
    )
    reason = f"At {question.altitude_ft:,.0f} ft ({question.altitude_m:,.0f} m) there is no tested process: {why}."
    source = rule("N006").source if question.canner.is_pressure else ""
    return ProcessRefusal(question.food, reason, "above the last altitude band", source=source)


def gauge_too_far_off(question: Question) -> ProcessRefusal:
    """A dial that reads this wrong is not compensated but replaced."""
    limit_psi = constant("gauge_refuse_above_psi").value
    reason = (
        f"A dial that reads {abs(question.gauge.error_psi):g} psi wrong can't be trusted: beyond {limit_psi:g} psi "
        "it must be replaced before the canner is used."
    )
    return ProcessRefusal(question.food, reason, "gauge too far off", source=rule("R029").source)


def low_acid(question: Question, rows: Sequence[ProcessRow]) -> ProcessRefusal:
    """Boiling water and steam never make low-acid food safe."""
    kind = "food" if any(row.key.startswith("low_acid") for row in rows) else "mixture"
    reason = (
        f"{_capital(question.food)} is a low-acid {kind}: only a pressure canner gets hot enough to kill the spores "
        f"that cause botulism. No time in {_heat(question.canner)} is safe, however long."
    )
    return ProcessRefusal(question.food, reason, "low acid needs pressure", source=rule("R070").source)


def no_such_form(question: Question, rows: Sequence[ProcessRow]) -> ProcessRefusal:
    """The tables have the food, but not prepared like this."""
    listed = "; ".join(f"“{form}”" for form in dict.fromkeys(row.form for row in rows))
    reason = (
        f"There is no tested process for {question.food} as “{question.form}”. The tables have: {listed}. "
        "Another cut, thickness or mash heats differently."
    )
    return ProcessRefusal(question.food, reason, "no tested row")


def no_such_pack(question: Question, form: str, rows: Sequence[ProcessRow]) -> ProcessRefusal:
    """The form has a process, but not packed like this."""
    packs = tuple(dict.fromkeys(row.pack for row in rows))
    reason = (
        f"There is no tested process for {question.food}, {form}, packed {question.pack}: "
        f"the tables have it {' or '.join(packs)} packed only."
    )
    return ProcessRefusal(question.food, reason, "no tested row")


def no_row_for_method(question: Question, printed: Sequence[ProcessRow]) -> ProcessRefusal:
    """This form and pack has a process, but not in this kind of canner."""
    other = "boiling water" if question.canner.is_pressure else "a pressure canner"
    reason = (
        f"There is no tested process for {_what(question)} in {_heat(question.canner)}; "
        f"the tables have it for {other} only."
    )
    return ProcessRefusal(question.food, reason, "no tested row", source=printed[0].source if printed else "")


def only_from_memory(question: Question, rows: Sequence[ProcessRow]) -> ProcessRefusal:
    """Figures exist but nobody has seen them on a page."""
    reason = (
        f"A figure for {_what(question)} in {_heat(question.canner)} is known only from memory "
        f"({rows[0].guide_table}): it is not verified and is not offered as a tested process."
    )
    return ProcessRefusal(question.food, reason, "known only from memory")


def jar_too_large(
    question: Question, tested: Sequence[ProcessRow], same_method: Sequence[ProcessRow]
) -> ProcessRefusal:
    """No formula scales a process up to a larger jar (R043)."""
    largest = max((row.jar for row in tested), key=lambda size: size.volume_ml)
    reason = (
        f"A jar of {question.jar.text} ({question.jar.volume_ml:.0f} ml) is larger than the largest tested jar for "
        f"{_what(question)}: the {jar_name(largest)} ({largest.volume_ml:.0f} ml). "
        "There is no formula for scaling a process up to a larger jar."
    )
    if any(row.jar.volume_ml > largest.volume_ml for row in same_method):
        reason += " A figure for a larger jar is known only from memory and is not verified."
    return ProcessRefusal(
        question.food,
        reason,
        "jar too large",
        common_practice=_common_practice(question, tested),
        source=rule("R043").source,
    )


def not_for_this_gauge(question: Question, lines: Sequence[ProcessRow]) -> ProcessRefusal:
    """The printed line leaves this gauge or altitude out."""
    reason = f"The tables print no {question.canner} pressure for {_what(question)} at {question.altitude_ft:,.0f} ft."
    return ProcessRefusal(question.food, reason, "no tested row", source=lines[0].source)


def too_long_for_steam(question: Question, minutes: int) -> ProcessRefusal:
    """A steam canner's water can't be topped up under way (N020)."""
    limit_min = constant("steam_limit_min").value
    reason = (
        f"{_capital(_what(question))} needs {minutes} minutes at this altitude, and an atmospheric steam canner may be "
        f"used for {limit_min:g} minutes at most: it can't be topped up and would boil dry."
    )
    return ProcessRefusal(
        question.food, reason, "too long for steam", source=rule(constant("steam_limit_min").rule).source
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _what(question: Question) -> str:
    return f"{question.food} ({question.form}, {question.pack} pack)"


def _heat(canner: CannerKind) -> str:
    return "a pressure canner" if canner.is_pressure else str(canner)


def _common_practice(question: Question, tested: Sequence[ProcessRow]) -> str:
    """The fifth that some add to the quart time of low-acid food: told so that nobody trusts it."""
    quart = [row for row in tested if row.jar is JarSize.QUART and row.key.startswith("low_acid")]
    if not quart or question.jar.volume_ml > PRACTICE_LARGEST_ML:
        return ""
    quart_min = quart[0].minutes[0]
    more_min = round(quart_min * constant("untested_larger_jar_factor").value)
    return (
        f"Common practice (no source) adds 20 % to the quart time for a jar of about 1.2 litres: {quart_min} min would "
        f"become {more_min} min. No authority has tested that figure and it is not offered here: "
        "use pint or quart jars."
    )
