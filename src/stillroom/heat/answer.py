"""The answer: a tested card with its note, or a refusal with what the model adds to it; never a note alone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from stillroom.heat.canner_run import setting_for, surroundings_for
from stillroom.heat.canner_times import OwnCanner
from stillroom.heat.pack import Filling, Pack, filling_of, pack_of
from stillroom.heat.question import HeatQuestion
from stillroom.heat.role import NO_LAG, CardAndNote, HeatNote, LagNote, RefusalAndNote, about_card, with_caution
from stillroom.heat.sampled import Sampled, heating_times_min, sample
from stillroom.heat.yardstick import yardstick_for
from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal
from stillroom.physics.band import Band
from stillroom.physics.history import FloatArray
from stillroom.physics.uncertainty import band_of
from stillroom.process.form_choice import forms_matching, read_pack
from stillroom.process.jar_text import jar_name, read_jar
from stillroom.tables.vocabulary import hear

SAMPLES, SEED = 2000, 1
USUAL_HEADSPACE_IN = 1.0  # of most low-acid packs


@dataclass(frozen=True, slots=True)
class _Effort:
    samples: int
    seed: int


def answer(question: HeatQuestion, *, samples: int = SAMPLES, seed: int = SEED) -> CardAndNote | RefusalAndNote:
    """What the tables say and what the model adds to it.

    Raises what the look-up raises: UnknownFood, InputError, AmbiguousRequest. The same question and seed give the same
    answer.
    """
    found = question.look_up()
    effort = _Effort(samples, seed)
    if isinstance(found, ProcessCard):
        return _tested(question, found, effort)
    return RefusalAndNote(found, _lag(question, found, effort))


def in_own_canner(
    question: HeatQuestion, found: CardAndNote, own: OwnCanner, *, samples: int = SAMPLES, seed: int = SEED
) -> CardAndNote:
    """The card with the note of the household's own canner as its logs show it.

    A warning of the card stays: a log may add caution, never take it away.
    """
    note = _note(question, found.card, _Effort(samples, seed), own)
    return CardAndNote(with_caution(found.card, note), note)


def _tested(question: HeatQuestion, card: ProcessCard, effort: _Effort) -> CardAndNote:
    note = _note(question, card, effort)
    return CardAndNote(with_caution(card, note), note)


def _note(question: HeatQuestion, card: ProcessCard, effort: _Effort, own: OwnCanner | None = None) -> HeatNote:
    yardstick = yardstick_for(card.row.food)
    pack = asked_pack(question, card)
    surroundings = surroundings_for(
        pack,
        card.canner,
        gauge_error_psi=question.gauge_error_psi,
        is_gauge_tested=question.gauge_tested_on is not None,
    )
    setting = setting_for(card)
    if own is not None:
        setting = replace(setting, timing=own.timing)
        surroundings = replace(
            surroundings,
            cooling_time_constant_min=own.cooling_time_constant_min or surroundings.cooling_time_constant_min,
        )
    sampled = sample(pack, surroundings, setting, yardstick.reference, samples=effort.samples, seed=effort.seed)
    return HeatNote(
        about=about_card(card),
        yardstick=yardstick,
        lethality=sampled.band(),
        from_heating=sampled.band("heating"),
        from_cooling=sampled.band("cooling"),
        dominating=sampled.dominating(),
        assumed=(f"heats {pack.heats}", *pack.assumed),
        curve=sampled.curve(),
    )


def asked_pack(question: HeatQuestion, card: ProcessCard) -> Pack:
    """The pack of the card in the jar that is asked for."""
    jar_ml = read_jar(question.jar).volume_ml
    return pack_of(filling_of(card, jar_ml, card.canner, inside_diameter_mm=question.inside_diameter_mm))


def _lag(question: HeatQuestion, refusal: ProcessRefusal, effort: _Effort) -> LagNote:
    """How the refused jar lags behind the largest tested jar among the ways out, if there is one."""
    jar = read_jar(question.jar)
    cards = [way.card for way in refusal.alternatives if way.card is not None]
    card = max(cards, key=lambda each: each.jar_counted_as.volume_ml, default=None)
    pack = pack_of(_refused_filling(question, card, jar.volume_ml))
    slowness = band_of(heating_times_min(pack, samples=effort.samples, seed=effort.seed), "min")
    about = f"{refusal.food}, {jar.text}"
    if card is None:
        return LagNote(about, slowness, "", None)
    size = card.jar_counted_as
    behind = f"the tested {jar_name(size)} in a {card.canner} canner"
    return LagNote(about, slowness, behind, _share(question, card, pack, effort))


def _refused_filling(question: HeatQuestion, card: ProcessCard | None, jar_ml: float) -> Filling:
    """As the tested way out where the form asked for is its form; of any other form nobody knows how it heats."""
    heard = hear(question.food)
    form = question.form or heard.form
    if card is not None and forms_matching((card.form,), form):
        return filling_of(card, jar_ml, question.canner, inside_diameter_mm=question.inside_diameter_mm)
    pack = read_pack(question.pack) if question.pack else "hot"
    is_in_steam = question.canner is not CannerKind.BOILING_WATER
    return Filling(
        heard.food.key, "", form or "", pack, jar_ml, USUAL_HEADSPACE_IN, is_in_steam, question.inside_diameter_mm
    )


def _share(question: HeatQuestion, card: ProcessCard, pack: Pack, effort: _Effort) -> Band | None:
    """What the refused jar gets in its own canner of what the tested jar gets, both for the minutes of the card [%].

    None where the model sees no lag, or one within its own error: that proves nothing.
    """
    tested_pack = pack_of(filling_of(card, card.jar_counted_as.volume_ml, card.canner))
    reference = yardstick_for(card.row.food).reference
    gauge = surroundings_for(pack, question.canner, gauge_error_psi=question.gauge_error_psi, is_gauge_tested=True)
    if card.pressure_psi is not None and gauge.gauge_error_psi.high >= card.pressure_psi:
        return None  # no pressure at all would be left
    error_psi = question.gauge_error_psi if card.canner is question.canner else 0.0
    tested_gauge = surroundings_for(tested_pack, card.canner, gauge_error_psi=error_psi, is_gauge_tested=True)
    asked_run = setting_for(card, canner=question.canner)
    asked = sample(pack, gauge, asked_run, reference, samples=effort.samples, seed=effort.seed)
    tested = sample(tested_pack, tested_gauge, setting_for(card), reference, samples=effort.samples, seed=effort.seed)
    share = 100 * _ratios(asked, tested)
    return None if np.quantile(share, 0.05) >= NO_LAG else band_of(np.minimum(share, 100.0), "%")


def _ratios(asked: Sampled, tested: Sampled) -> FloatArray:
    """Jar by jar, as both were drawn from one seed; where they heat in different ways, each way against each."""
    is_alike = len(asked.ways) == len(tested.ways)
    pairs = zip(asked.ways, tested.ways, strict=True) if is_alike else product(asked.ways, tested.ways)
    return np.concatenate([one.lethality.total_min / other.lethality.total_min for one, other in pairs])
