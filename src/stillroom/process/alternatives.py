"""Ways out of a refusal: each is looked up itself before it is shown."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stillroom import units
from stillroom.model.process import Alternative, CannerKind, JarSize, ProcessCard, ProcessRefusal, ProcessRow
from stillroom.process.decide import decide
from stillroom.process.form_choice import forms_matching
from stillroom.process.gauge import Gauge
from stillroom.process.jar_text import JarAsked, jar_name, jar_of
from stillroom.process.other_ways import other_ways
from stillroom.process.question import Question

MOST_CARDS = 6  # more would hide the nearest ones


def with_alternatives(refusal: ProcessRefusal, question: Question, rows: Sequence[ProcessRow]) -> ProcessRefusal:
    """The refusal with its ways out: the tested jars nearest to what was asked, then freezing and drying."""
    cards = tuple(Alternative(_sentence(card), card, card.row.source) for card in _nearest_cards(question, rows))
    return replace(refusal, alternatives=cards + other_ways(question.food, question.altitude_ft))


def _nearest_cards(question: Question, rows: Sequence[ProcessRow]) -> list[ProcessCard]:
    """Tested cards that differ from the question in as few things as possible (form, pack, jar, canner)."""
    found: dict[tuple[object, ...], tuple[int, ProcessCard]] = {}
    for candidate, changes in _candidates(question, rows):
        answer = decide(candidate, rows)
        if isinstance(answer, ProcessCard):
            same = (answer.form, answer.pack, answer.jar_counted_as, answer.canner)
            found.setdefault(same, (changes, answer))
    fewest = min((changes for changes, _ in found.values()), default=0)
    return [card for changes, card in found.values() if changes == fewest][:MOST_CARDS]


def _candidates(question: Question, rows: Sequence[ProcessRow]) -> Iterator[tuple[Question, int]]:
    """Every printed form and pack in the asked or a smaller tested jar in each canner, with what it changes."""
    forms = tuple(dict.fromkeys(row.form for row in rows))
    asked_forms = forms_matching(forms, question.form)
    for form, pack in dict.fromkeys((row.form, row.pack) for row in rows):
        for jar in _jars(question.jar):
            for canner in _canners(question.canner):
                changes = (
                    (form not in asked_forms)
                    + (question.pack not in (None, pack))
                    + (jar is not question.jar)
                    + (canner is not question.canner)
                )
                gauge = question.gauge if canner is question.canner else Gauge()
                yield replace(question.with_choice(form, pack), jar=jar, canner=canner, gauge=gauge), changes


def _jars(asked: JarAsked) -> tuple[JarAsked, ...]:
    """The asked jar, then the tested sizes below it, the largest first."""
    smaller = [size for size in reversed(JarSize) if size.volume_ml < asked.volume_ml - 1]
    return (asked, *(jar_of(size) for size in smaller))


def _canners(asked: CannerKind) -> tuple[CannerKind, ...]:
    """The asked kind, then the others; steam is never recommended over what was asked."""
    others = [kind for kind in CannerKind if kind not in (asked, CannerKind.STEAM)]
    return (asked, *others)


def _sentence(card: ProcessCard) -> str:
    pressure = ""
    if card.pressure_psi is not None:
        pressure = f" at {card.pressure_psi:g} psi ({units.kpa(card.pressure_psi):.0f} kPa)"
    name = card.food[:1].upper() + card.food[1:]
    return (
        f"{name}, {card.form}, {card.pack} pack, in {jar_name(card.jar_counted_as)} jars: "
        f"{card.minutes} min{pressure} in a {card.canner} canner."
    )
