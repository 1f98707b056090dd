"""Rules, overloads and work in words. What the work is called, and the days, comes from whoever asks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from stillroom.timetable.overload import Of, Overload
from stillroom.timetable.problem import Problem, Span
from stillroom.timetable.rules import DAY_MIN, Block, Kind, Rule

if TYPE_CHECKING:
    from stillroom.timetable.longer import Longer

LABEL_LETTERS = 70


def _day(day: int) -> str:
    return f"day {day + 1}"


@dataclass(frozen=True, slots=True)
class Names:
    """What groups and days are called, and what is due at a minute ("dinner at 18:30 on Friday")."""

    groups: Mapping[str, str] = field(default_factory=dict)
    day: Callable[[int], str] = _day
    due: Mapping[int, str] = field(default_factory=dict)

    def clock(self, minute: int) -> str:
        """18:30 on Friday."""
        return f"{hour(minute)} on {self.day(minute // DAY_MIN)}"

    def between(self, begin: int, end: int) -> str:
        """between 16:15 and 20:15 on Friday."""
        if begin // DAY_MIN == (end - 1) // DAY_MIN:
            last = "24:00" if end % DAY_MIN == 0 else hour(end)
            return f"between {hour(begin)} and {last} on {self.day(begin // DAY_MIN)}"
        return f"between {self.clock(begin)} and {self.clock(end)}"


def hour(minute: int) -> str:
    """The time of day of a minute."""
    return f"{minute % DAY_MIN // 60:02d}:{minute % 60:02d}"


def amount(minutes: int) -> str:
    """2.5 h, or 45 min below two hours."""
    return f"{minutes} min" if minutes < 120 else f"{minutes / 60:.1f} h".replace(".0 h", " h")


def _apart(more: int, less: int) -> tuple[str, str]:
    """Two amounts, to the minute where they would look alike."""
    if amount(more) != amount(less):
        return amount(more), amount(less)
    return f"{more // 60} h {more % 60} min", f"{less // 60} h {less % 60} min"


def listed(words: Sequence[str]) -> str:
    """a, b and c."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""


def work_names(blocks: Iterable[Block], names: Names) -> tuple[str, ...]:
    """Each block by the name of its group, several batches of one name together."""
    counted = Counter(names.groups.get(block.group, block.group) for block in blocks)
    return tuple(name if count == 1 else f"{name} ({count} batches)" for name, count in counted.items())


def rule_words(rule: Rule, problem: Problem, names: Names) -> str:
    """One sentence for a rule."""
    words = _WORDS[rule.kind](rule, problem, names)
    return f"{words[0].upper()}{words[1:]}{' (for safety)' if rule.is_safety else ''}."


def overload_words(overload: Overload, problem: Problem, names: Names, own: Collection[str] = ()) -> str:
    """What is wanted and what is there, in hours; `own` are the groups that are the household's own."""
    within = names.between(overload.begin, overload.end)
    first = f"{within[0].upper()}{within[1:]}"
    needed, there = _apart(overload.needed_min, overload.there_min)
    eaten = any(task.key in overload.keys and task.group in own for task in problem.tasks)
    among = " (meals and rests among it)" if eaten else ""
    if overload.of is Of.HANDS:
        return f"{first} {needed} of hands are wanted{among}, and {there} are there."
    if overload.of is Of.PERSON:
        is_there = "are there" if " and " in overload.subject else "is there"
        return f"{first} {needed} of work{among} are for {overload.subject} alone, who {is_there} for {there}."
    if overload.of is Of.NEAR:
        return (
            f"{first} what somebody has to mind takes {needed}, and there is room for {there}: at most "
            f"{overload.subject} such things at once while somebody is in the kitchen."
        )
    if overload.of is Of.PLACES:
        return f"The {overload.subject} is wanted for {needed} {within}, where there is room for {there}."
    group = next(task.group for task in problem.tasks if task.key == overload.keys[-1])
    return (
        f"From its first step to its last {names.groups.get(group, group)} takes {needed}; {within} there are {there}."
    )


def longer_words(short_by: Longer, names: Names) -> str:
    """By how much a day is too short."""
    day, too_few, enough = names.day(short_by.day), amount(short_by.too_few_min), short_by.enough_min
    if enough is None:
        return f"Not even if everybody there at the end of {day} stayed {too_few} longer would it fit."
    first = f"It would fit if everybody there at the end of {day} stayed {amount(enough)} longer"
    return f"{first}; {too_few} longer would not do." if short_by.too_few_min else f"{first}."


def _places_words(rule: Rule, problem: Problem, names: Names) -> str:
    capacity = next(resource.capacity for resource in problem.resources if resource.name == rule.subject)
    if capacity < 2:
        return f"the {rule.subject} takes one thing at a time" if capacity else f"there is no {rule.subject}"
    return f"there are {capacity} places of the kind “{rule.subject}”"


def _hours_words(rule: Rule, problem: Problem, names: Names) -> str:
    day = rule.subject
    assert isinstance(day, int)
    there = []
    for worker in problem.workers:
        spans = [
            _within(span, day)
            for span in worker.presence
            if span.start < (day + 1) * DAY_MIN and span.end > day * DAY_MIN
        ]
        if spans:
            there.append(f"{worker.name} {', '.join(f'{hour(s.start)}–{hour(s.end)}' for s in spans)}")
    return f"on {names.day(day)} " + (
        f"these are in the kitchen: {'; '.join(there)}" if there else "nobody is in the kitchen"
    )


def _within(span: Span, day: int) -> Span:
    return Span(max(span.start, day * DAY_MIN), min(span.end, (day + 1) * DAY_MIN))


def _wait_words(rule: Rule, problem: Problem, names: Names) -> str:
    assert isinstance(rule.subject, tuple)
    reason, after, limit = rule.subject
    if not after:
        return f"within {amount(limit)}: {reason}"
    labels = {task.key: _short(task.label) for task in problem.tasks}
    return f"“{labels[after]}” begins within {amount(limit)} of “{labels[reason]}”"


def _link_words(rule: Rule, problem: Problem, names: Names) -> str:
    assert isinstance(rule.subject, tuple)
    labels = {task.key: _short(task.label) for task in problem.tasks}
    if rule.subject[1]:
        return f"“{labels[rule.subject[1]]}” waits for “{labels[rule.subject[0]]}”"
    return f"one waits for the other: {rule.subject[0]}"


def _short(label: str) -> str:
    return label if len(label) <= LABEL_LETTERS else label[:LABEL_LETTERS].rsplit(" ", 1)[0] + " …"


def _meal_words(rule: Rule, problem: Problem, names: Names) -> str:
    assert isinstance(rule.subject, int)
    due = names.due.get(rule.subject)
    return f"{due}, and what is served then is not done long before" if due else f"due at {names.clock(rule.subject)}"


def _begin_words(rule: Rule, problem: Problem, names: Names) -> str:
    assert isinstance(rule.subject, int)
    return f"“{_short(_label(rule, problem))}” can't begin before {names.clock(rule.subject)}"


def _end_words(rule: Rule, problem: Problem, names: Names) -> str:
    assert isinstance(rule.subject, int)
    return f"“{_short(_label(rule, problem))}” has to be over by {names.clock(rule.subject)}"


def _label(rule: Rule, problem: Problem) -> str:
    return next(task.label for task in problem.tasks if task.key == rule.keys[0])


_WORDS: Mapping[Kind, Callable[[Rule, Problem, Names], str]] = {
    Kind.BEGIN: _begin_words,
    Kind.END: _end_words,
    Kind.LINK: _link_words,
    Kind.WAIT: _wait_words,
    Kind.SETTING: lambda rule, problem, names: f"the {rule.subject} has one setting at a time",
    Kind.PLACES: _places_words,
    Kind.MEAL: _meal_words,
    Kind.HOURS: _hours_words,
    Kind.PEOPLE: lambda rule, problem, names: (
        f"each person does one thing at a time, and what cooks is minded, at most {problem.near_limit} things at once"
    ),
}
