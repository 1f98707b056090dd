"""A process card as a page shows it; the heat model is asked once for the same question."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from stillroom.heat.answer import answer
from stillroom.heat.question import HeatQuestion
from stillroom.heat.role import CardAndNote, HeatNote, RefusalAndNote
from stillroom.model.process import Alternative, ProcessCard, ProcessRefusal
from stillroom.process.form_choice import AmbiguousRequest
from stillroom.process.jar_text import jar_name
from stillroom.process.jars_needed import JarsNeeded, jars_needed
from stillroom.quantities.amounts import mass_g
from stillroom.web.kitchen.models import Household

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


def badge(refused: ProcessRefusal, question: HeatQuestion) -> str:
    """What it is that has no process: the food, only its jar or its form, or only the canner that was asked for."""
    cards = [way.card for way in refused.alternatives if way.card is not None]
    if any(card.canner is question.canner for card in cards):
        return "no tested process like this"
    return "not in this canner" if cards else "no tested process"


def elsewhere(refused: ProcessRefusal, question: HeatQuestion, household: Household) -> str:
    """The canners that have a tested process where only the canner is wrong, and which of them is in the house."""
    if badge(refused, question) != "not in this canner":
        return ""
    kinds = dict.fromkeys(way.card.canner for way in refused.alternatives if way.card is not None)
    own = household.canners.filter(kind__in=[kind.value for kind in kinds])
    ours = " and ".join(f"“{canner.name}”" for canner in own)
    named = " or ".join(f"a {kind.value} canner" for kind in kinds)
    return f"A tested process exists in {named}: {f'yours is {ours}' if ours else 'there is none in your kitchen'}."


def ways_out(found: RefusalAndNote) -> Iterable[tuple[Alternative, dict[str, str]]]:
    """Each verified way out, with the address of its card where it is a jar."""
    for way in found.refusal.alternatives:
        card = way.card
        if card is None:
            yield way, {}
        else:
            asks = {"food": card.food, "form": card.form, "pack": card.pack, "jar": jar_name(card.jar_counted_as)}
            yield way, asks | {"kind": card.canner.value}
