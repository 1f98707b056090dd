"""A process card as a page shows it; the heat model is asked once for the same question."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from stillroom.heat.answer import answer
from stillroom.heat.question import HeatQuestion
from stillroom.heat.role import CardAndNote, HeatNote, RefusalAndNote
from stillroom.model.process import Alternative, ProcessCard
from stillroom.process.form_choice import AmbiguousRequest
from stillroom.process.jar_text import jar_name
from stillroom.process.jars_needed import JarsNeeded, jars_needed
from stillroom.quantities.amounts import mass_g

_NOT_VERIFIED = " (not verified)"


@lru_cache(maxsize=128)
def answered(question: HeatQuestion) -> CardAndNote | RefusalAndNote:
    """What tables and model say; the same question is worked out once."""
    return answer(question)


@lru_cache(maxsize=64)
def drawn(question: HeatQuestion) -> str:
    """The chart of a tested card as SVG; "" for what has no process, which is never drawn."""
    found = answered(question)
    if isinstance(found, RefusalAndNote):
        return ""
    from stillroom.heat.chart import chart_spec, svg
    from stillroom.heat.note_words import chart_words

    note: HeatNote = found.note
    return svg(chart_spec(note.curve, title=f"Inside the jar: {note.about}", said=chart_words(note)))


@dataclass(frozen=True, slots=True)
class AskedBack:
    """A form or pack that has to be named: each choice, and whether its figures were read on a page."""

    what: str
    sentence: str
    choices: tuple[tuple[str, bool], ...]


def asked_back(question: AmbiguousRequest) -> AskedBack:
    """The question to the cook, with what can be answered."""
    choices = ((one.removesuffix(_NOT_VERIFIED), not one.endswith(_NOT_VERIFIED)) for one in question.choices)
    sentence = str(question).partition(" The tables have:")[0]
    return AskedBack(question.what, sentence, tuple(choices))


def jars_for(card: ProcessCard, amount: str) -> JarsNeeded | None:
    """Jars to have ready for raw food as bought; None where no average is published."""
    return jars_needed(card.row.food, card.form, mass_g(amount, card.food), card.jar_counted_as)


def ways_out(found: RefusalAndNote) -> Iterable[tuple[Alternative, dict[str, str]]]:
    """Each verified way out, with the address of its card where it is a jar."""
    for way in found.refusal.alternatives:
        card = way.card
        if card is None:
            yield way, {}
        else:
            asks = {"food": card.food, "form": card.form, "pack": card.pack, "jar": jar_name(card.jar_counted_as)}
            yield way, asks | {"kind": card.canner.value}
