"""Why a timetable can't be, in words that a cook can check, and what it would take."""

from __future__ import annotations

import time
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

from stillroom.timetable.changes import bare_question
from stillroom.timetable.components import restricted
from stillroom.timetable.core import Core, core
from stillroom.timetable.longer import Longer, longer
from stillroom.timetable.overload import Of, Overload, largest_overload, load_of_hands, shortest_min
from stillroom.timetable.problem import Outcome, Problem
from stillroom.timetable.proof import ONE_TRY_SECONDS, Prover
from stillroom.timetable.rules import Kind, Rule, with_blocks
from stillroom.timetable.way_out import Question, WayOut, WaysOut
from stillroom.timetable.words import (
    Names,
    amount,
    listed,
    longer_words,
    overload_words,
    rule_words,
    work_names,
)

# Of counted work; on a machine at rest such small questions take two thirds of what they are charged.
WHY_SECONDS = 0.45
LONGER_SECONDS = 0.15
WAYS_SECONDS = 1.4
WAYS_WANTED = 3
TRY_SECONDS = 0.15  # for one proof: many are wanted
MOST_WORK = 6
TELLING_SHARE = 0.6
_SORTS = {
    (Kind.WAIT,): "Nothing waits longer than it may",
    (Kind.PLACES, Kind.SETTING): "Equipment has so many places",
    (Kind.MEAL,): "Meals have their hour",
    (Kind.HOURS,): "People have their hours",
    (Kind.BEGIN, Kind.END, Kind.LINK): "Some steps have their own time",
}
MOST_RULES = 5  # more than that nobody keeps in mind
MOST_OF_A_SORT = 4  # told by name


@dataclass(frozen=True, slots=True)
class WhyNot:
    """Why work can't all be done.

    `sentence` says it in one; `rules` are the rules that stand in the way, a sentence each, at most five: where there
    are more, or time was short to try them one by one, a sentence for all of a sort; none when there was no time to
    prove even of the sorts that each matters. `work` is what can't be done together
    under them. `core` has both for machines: that it can't be kept is proved, and, if `core.is_smallest`, that it could
    without any single block or rule. `overload` has the numbers where adding up is enough, `short_by` the minutes that
    the day is too short by where it is not.
    `outcome` INFEASIBLE: proved; OUT_OF_TIME: nothing was found and nothing proved; FEASIBLE: it can be kept.
    """

    outcome: Outcome
    sentence: str
    work: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    core: Core | None = None
    overload: Overload | None = None
    short_by: Longer | None = None
    ways_out: tuple[WayOut, ...] = ()
    why_seconds: float = 0.0
    ways_seconds: float = 0.0


def why_not(
    asked: Problem | Question[Any],
    *,
    why_seconds: float = WHY_SECONDS,
    ways_seconds: float = WAYS_SECONDS,
    prover: Prover | None = None,
) -> WhyNot:
    """Why a problem can't be kept, within about `why_seconds` [s], and ways out within `ways_seconds` [s] more.

    A question brings its own names and changes; of a bare problem work is left out, people are there longer, or what is
    due comes later. A `prover` that is handed over remembers what it knows of other days.
    """
    begun = time.perf_counter()
    question: Question[Any] = bare_question(asked) if isinstance(asked, Problem) else asked
    problem, names, own = question.problem_of(question.state), question.names, question.own
    prover = prover or Prover(seconds=TRY_SECONDS)
    deadline = prover.clock.now_s + why_seconds
    verdict = prover.verdict(problem, ONE_TRY_SECONDS)
    if verdict.outcome is not Outcome.INFEASIBLE:
        can = (
            "It can be done." if verdict.outcome is Outcome.FEASIBLE else "No way was found in time; none is ruled out."
        )
        return WhyNot(verdict.outcome, can, why_seconds=time.perf_counter() - begun)
    whole = largest_overload(problem)
    found = core(problem, prover, deadline, own=own, asked=question.asked, likely=_groups(problem, whole))
    assert found is not None
    short_by = None
    if whole is None:
        until = prover.clock.now_s + LONGER_SECONDS
        short_by = longer(problem, found, prover, until, own=own, asked=question.asked)
    overload = _larger(whole, largest_overload(with_blocks(problem, found.blocks, own)))
    told = _told(found) if found.is_smallest_by_kind else []
    told = told if len(told) <= MOST_RULES else []
    why = _Words(problem, names, own)
    work = work_names(found.blocks, names)
    sentence = why.sentence(found, work, overload, short_by, is_short=bool(told))
    whys = time.perf_counter() - begun
    ways = WaysOut(question, prover, prover.clock.now_s + ways_seconds).search(found, WAYS_WANTED)
    rules = tuple(why.rule(rules) for rules in told)
    total = time.perf_counter() - begun
    return WhyNot(Outcome.INFEASIBLE, sentence, work, rules, found, overload, short_by, ways, whys, total - whys)


def _groups(problem: Problem, overload: Overload | None) -> set[str]:
    keys = overload.keys if overload is not None else ()
    return {task.group for task in problem.tasks if task.key in keys}


def _larger(whole: Overload | None, part: Overload | None) -> Overload | None:
    """Of all the work, where hands or places are short by most; else of the part that can't be done together."""
    found = [over for over in (whole, part) if over is not None and (over is part or over.of is not Of.TIME)]
    return max(found, key=lambda over: over.needed_min - over.there_min, default=None)


def _told(found: Core) -> list[list[Rule]]:
    """Rules as they are told: where there are many, or only sorts were tried, all of one sort in one sentence."""
    told = [[rule] for rule in found.rules]
    for sort in _SORTS:
        alike = [rule for rule in found.rules if rule.kind in sort]
        if (len(told) > MOST_RULES or not found.is_smallest) and len(alike) > 1:
            told = [alike, *(each for each in told if each[0] not in alike)]
    return told


class _Words:
    def __init__(self, problem: Problem, names: Names, own: Collection[str]) -> None:
        self._problem, self._names, self._own = problem, names, own

    def sentence(
        self, found: Core, work: Sequence[str], overload: Overload | None, short_by: Longer | None, *, is_short: bool
    ) -> str:
        if overload is not None:
            return overload_words(overload, self._problem, self._names, self._own)
        if not work:
            return "Meals, rests and washing up by themselves do not fit into the hours."
        told = work if len(work) <= MOST_WORK else (*work[-MOST_WORK:], f"{len(work) - MOST_WORK} other things")
        together = f"{listed(told)} can't be done" + (" together" if len(work) > 1 else "")
        more = f" {longer_words(short_by, self._names)}" if short_by is not None else ""
        if is_short and len(found.rules) <= MOST_RULES:
            return f"{together} under the rules below{self._how_long(found)}.{more}"
        return f"{together}: {self._how_full(found, is_short=is_short)}{more}"

    def rule(self, rules: Sequence[Rule]) -> str:
        """One rule, or all of a sort."""
        words = [rule_words(rule, self._problem, self._names) for rule in rules]
        if len(words) == 1:
            return words[0]
        sort = next(words for sort, words in _SORTS.items() if rules[0].kind in sort)
        named = [f"{word[0].lower()}{word[1:-1]}" for word in words[:MOST_OF_A_SORT]]
        more = [f"and {len(words) - MOST_OF_A_SORT} more"] if len(words) > MOST_OF_A_SORT else []
        return f"{sort}: {'; '.join((*named, *more))}."

    def _how_long(self, found: Core) -> str:
        """What one run takes at least, everything else set aside."""
        if len(found.blocks) > 1:
            return ""
        least = shortest_min(with_blocks(self._problem, found.blocks))
        return f": it takes at least {amount(least)} from first step to last" if least > 0 else ""

    def _how_full(self, found: Core, *, is_short: bool) -> str:
        """Hands that the work wants and that are there within its hours, where that says something."""
        load = load_of_hands(with_blocks(self._problem, found.blocks))
        if load is not None:  # and what people do for themselves in those hours
            inside = (t.earliest >= load.begin and t.latest_end <= load.end for t in self._problem.tasks)
            own = {
                t.key for t, is_in in zip(self._problem.tasks, inside, strict=True) if is_in and t.group in self._own
            }
            work = {key for block in found.blocks for key in block.keys}
            load = load_of_hands(restricted(self._problem, work | own))
        if load is None or load.needed_min < TELLING_SHARE * load.there_min:
            return "no order of the steps keeps all of it" + (" under the rules below." if is_short else ".")
        within = self._names.between(load.begin, load.end)
        needed, there = amount(load.needed_min), amount(load.there_min)
        return (
            f"with meals and rests they take {needed} of the {there} of hands {within}, and no order of the steps fits."
        )
