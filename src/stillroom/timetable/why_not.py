"""Why a timetable can't be, in words that a cook can check, and what it would take."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from stillroom.timetable.changes import general_changes
from stillroom.timetable.components import restricted
from stillroom.timetable.core import Core, core
from stillroom.timetable.overload import Of, Overload, largest_overload, load_of_hands, shortest_min
from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.proof import ONE_TRY_SECONDS, Prover
from stillroom.timetable.rules import Kind, Rule
from stillroom.timetable.way_out import Question, WayOut, WaysOut
from stillroom.timetable.words import (
    Names,
    amount,
    listed,
    overload_words,
    rule_words,
    work_names,
)

S = TypeVar("S")
WHY_SECONDS = 0.3
WAYS_SECONDS = 1.0
WAYS_WANTED = 3
TRY_SECONDS = 0.4  # for one proof: many are wanted
MOST_WORK = 6
TELLING_SHARE = 0.6
MOST_RULES = 5  # more than that nobody keeps in mind


@dataclass(frozen=True, slots=True)
class WhyNot:
    """Why work can't all be done.

    `sentence` says it in one; `rules` are the rules that stand in the way, a sentence each, at most five, and none when
    there was no time to prove that each of them matters. `work` is what can't be done together under them. `core` has
    both for machines: that it can't be kept is proved, and, if `core.is_smallest`, that it could without any single
    block or rule. `overload` has the numbers where adding up is enough.
    `outcome` INFEASIBLE: proved; OUT_OF_TIME: nothing was found and nothing proved; FEASIBLE: it can be kept.
    """

    outcome: Outcome
    sentence: str
    work: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    core: Core | None = None
    overload: Overload | None = None
    ways_out: tuple[WayOut, ...] = ()
    why_seconds: float = 0.0
    ways_seconds: float = 0.0


def why_not(
    problem: Problem,
    *,
    names: Names | None = None,
    question: Question[S] | None = None,
    why_seconds: float = WHY_SECONDS,
    ways_seconds: float = WAYS_SECONDS,
    prover: Prover | None = None,
    asked: str = "",
) -> WhyNot:
    """Why the problem can't be kept, within about `why_seconds` [s], and ways out within `ways_seconds` [s] more.

    `question` brings changes of its own, of which `problem` is the timetable; without it work is left out, people are
    there longer, or what is due comes later. A `prover` that is handed over remembers what it knows of other days;
    `asked` is a group that the question is about.
    """
    names = names or Names()
    begun = time.perf_counter()
    prover = prover or Prover(seconds=TRY_SECONDS)
    verdict = prover.verdict(problem, ONE_TRY_SECONDS)
    if verdict.outcome is not Outcome.INFEASIBLE:
        can = (
            "It can be done." if verdict.outcome is Outcome.FEASIBLE else "No way was found in time; none is ruled out."
        )
        return WhyNot(verdict.outcome, can, why_seconds=time.perf_counter() - begun)
    found = core(problem, prover, begun + why_seconds, asked)
    assert found is not None
    overload = _overload(problem, found)
    told = _told(found.rules) if found.is_smallest else []
    why = _Words(problem, names)
    work = work_names(found.blocks, problem, names)
    sentence = why.sentence(found, work, overload, is_short=0 < len(told) <= MOST_RULES)
    whys = time.perf_counter() - begun
    ways = _ways_out(problem, names, question, prover, found, ways_seconds)
    rules = tuple(why.rule(rules) for rules in told[-MOST_RULES:])
    total = time.perf_counter() - begun
    return WhyNot(Outcome.INFEASIBLE, sentence, work, rules, found, overload, ways, whys, total - whys)


def _ways_out(
    problem: Problem, names: Names, question: Question[S] | None, prover: Prover, found: Core, seconds: float
) -> tuple[WayOut, ...]:
    deadline = time.perf_counter() + seconds
    if question is not None:
        return WaysOut(question, prover, deadline).search(found, WAYS_WANTED)
    bare = Question(problem, lambda state: state, partial(general_changes, names))
    return WaysOut(bare, prover, deadline).search(found, WAYS_WANTED)


def _overload(problem: Problem, found: Core) -> Overload | None:
    """Of all the work, where hands or places are short by most; else of what can't be done together."""
    keys = {key for block in found.blocks for key in block.keys}
    either = [largest_overload(problem), largest_overload(restricted(problem, keys))]
    whole = [over for over in either[:1] if over is not None and over.of is not Of.TIME]
    rest = [over for over in either[1:] if over is not None]
    return max([*whole, *rest], key=lambda over: over.needed_min - over.there_min, default=None)


def _told(rules: Sequence[Rule]) -> list[list[Rule]]:
    """Rules as they are told: where there are many, all limits on waiting in one."""
    waits = [rule for rule in rules if rule.kind is Kind.WAIT]
    if len(rules) <= MOST_RULES or len(waits) < 2:
        return [[rule] for rule in rules]
    return [waits, *([rule] for rule in rules if rule.kind is not Kind.WAIT)]


class _Words:
    def __init__(self, problem: Problem, names: Names) -> None:
        self._problem, self._names = problem, names

    def sentence(self, found: Core, work: Sequence[str], overload: Overload | None, *, is_short: bool) -> str:
        if overload is not None:
            return overload_words(overload, self._problem, self._names)
        told = work if len(work) <= MOST_WORK else (*work[-MOST_WORK:], f"{len(work) - MOST_WORK} other things")
        together = f"{listed(told)} can't be done" + (" together" if len(work) > 1 else "")
        if is_short:
            return f"{together} under the rules below{self._how_long(found)}."
        return f"{together}: {self._how_full(found)}"

    def rule(self, rules: Sequence[Rule]) -> str:
        """One rule, or all limits on waiting."""
        words = [rule_words(rule, self._problem, self._names) for rule in rules]
        return (
            words[0]
            if len(words) == 1
            else "Nothing waits longer than it may: " + "; ".join(w.rstrip(".") for w in words) + "."
        )

    def _how_long(self, found: Core) -> str:
        """What one run takes at least, everything else set aside."""
        runs = [block for block in found.blocks if not block.is_household]
        least = shortest_min(restricted(self._problem, set(runs[0].keys))) if len(runs) == 1 else 0
        return f": it takes at least {amount(least)} from first step to last" if least > 0 else ""

    def _how_full(self, found: Core) -> str:
        """Hands that the work wants and that are there within its hours, where that says something."""
        load = load_of_hands(restricted(self._problem, {key for block in found.blocks for key in block.keys}))
        if load is None or load.needed_min < TELLING_SHARE * load.there_min:
            return "that is proved, but there was no time to find out which rules stand in the way."
        within = self._names.between(load.begin, load.end)
        needed, there = amount(load.needed_min), amount(load.there_min)
        return f"they take {needed} of hands, of {there} that are there {within}, and no order of the steps fits."
