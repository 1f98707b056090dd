"""A plan food by food, as the page of the split shows it: every lump and where its parts go."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import count

from stillroom.allocation.problem import made_by
from stillroom.allocation.reasons import name_of
from stillroom.model.plan import Left, Plan, PlannedRun, RefusedJar
from stillroom.model.recipe import Use
from stillroom.planning.by_hand import DONE_WORDS
from stillroom.planning.kept_plan import KeptPlan
from stillroom.tables.vocabulary import food as vocabulary

GIVEN, LOST, KEPT = "given", "lost", "kept"  # looks of what no run takes
LOOKS = {
    Use.JAR: "jarred",
    Use.FREEZE: "frozen",
    Use.STOCK: "frozen",
    Use.EAT_NOW: "eaten",
    Use.BAKE: "eaten",
    Use.DRY: "dried",
    Use.CURE: "cured",
    Use.FERMENT: "cured",
    Use.KEEP_FRESH: "cured",
    Use.BREAK_DOWN: "cut",
}


@dataclass(frozen=True, slots=True)
class Load:
    """One canner load: jars with food, and places that jars of water fill."""

    filled: int
    places: int


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a lump and what becomes of it; `run` is empty for what no run takes.

    `loads` stand beside the part of which a run takes most, so that they are drawn once.
    """

    number: int
    mass_g: float
    look: str
    words: str
    day: date | None = None
    run: PlannedRun | None = None
    loads: tuple[Load, ...] = ()
    reasons: tuple[str, ...] = ()
    or_else: str = ""  # what it would have become otherwise
    then: tuple[Lump, ...] = ()  # what is made of it, in turn

    @property
    def is_cut(self) -> bool:
        """Whether its own parts are what counts."""
        return self.look == LOOKS[Use.BREAK_DOWN] and bool(self.then)


@dataclass(frozen=True, slots=True)
class Lump:
    """Food of one kind and origin."""

    food: str  # vocabulary key
    name: str
    mass_g: float
    parts: tuple[Part, ...]
    day: date | None = None  # when it comes
    last_day: date | None = None
    note: str = ""

    @property
    def sums(self) -> tuple[Part, ...]:
        """Its leaves by what they become, largest first; each with its grams and words alone."""
        found: dict[tuple[str, str], float] = defaultdict(float)
        for leaf in self.leaves:
            words = DONE_WORDS[leaf.run.use] if leaf.run else leaf.words
            found[leaf.look, words] += leaf.mass_g
        parts = (Part(0, grams, look, words) for (look, words), grams in found.items())
        return tuple(sorted(parts, key=lambda part: -part.mass_g))

    @property
    def leaves(self) -> tuple[Part, ...]:
        """Its parts, those of a carcass instead of the carcass: what the jar is filled with."""
        return tuple(
            leaf
            for part in self.parts
            for leaf in ([inner for lump in part.then for inner in lump.leaves] if part.is_cut else [part])
        )


@dataclass(frozen=True, slots=True)
class RefusedHere:
    """What has no tested process in one jar and canner, all for the same reason."""

    jar: str
    canner: str
    entries: tuple[RefusedJar, ...]


class Split:
    """Reads a plan by its food."""

    def __init__(self, kept: KeptPlan, names: Mapping[str, str]) -> None:
        """`names` are what the cook calls the arrivals, by their key."""
        self._plan, self._folder, self._names = kept.worked_out.plan, kept.folder, names
        self._taken: dict[str, list[tuple[PlannedRun, str, float]]] = defaultdict(list)
        for run in self._plan.runs:
            for taken in run.taken:
                self._taken[taken.origin].append((run, taken.food, taken.mass_g))
        self._left: dict[str, list[Left]] = defaultdict(list)
        for left in self._plan.left:
            self._left[_origin(left)].append(left)

    def arrivals(self) -> tuple[Lump, ...]:
        """What comes in within the plan, the shortest clock first."""
        lumps = []
        for arrival in self._folder.arrivals:
            parts = self._parts(self._taken[arrival.key], self._left[arrival.key])
            last_day = arrival.day + timedelta(days=arrival.keep_days)
            if parts:
                name = self._names.get(arrival.key, arrival.food)
                lump = Lump(arrival.food, name, arrival.mass_g, parts, arrival.day, last_day, arrival.note)
                lumps.append(_numbered(lump, count(1)))
        return tuple(sorted(lumps, key=lambda lump: (lump.last_day or date.max, lump.name)))

    def stores(self) -> tuple[Lump, ...]:
        """What is taken out of the larder."""
        return tuple(
            _numbered(
                Lump(lot.food, lot.product, lot.mass_g, self._parts(self._taken[lot.key], ()), last_day=lot.best_by),
                count(1),
            )
            for lot in self._folder.larder
            if self._taken.get(lot.key)
        )

    def from_cupboard(self) -> tuple[PlannedRun, ...]:
        """What is made of flour and the like alone."""
        return tuple(run for run in self._plan.runs if not run.taken)

    def _parts(self, taken: Iterable[tuple[PlannedRun, str, float]], left: Iterable[Left]) -> tuple[Part, ...]:
        parts = [
            Part(
                0,
                grams,
                LOOKS[run.use],
                run.name,
                run.day,
                run,
                loads=self._loads(run, grams),
                reasons=_brief(run),
                or_else=run.next_best.words if run.next_best else "",
                then=self._then(run),
            )
            for run, _, grams in sorted(taken, key=lambda entry: (entry[0].day, -entry[2]))
        ]
        for each in left:
            or_else = each.next_best.words if each.next_best else ""
            parts.append(Part(0, each.mass_g, _look(each), _fate(each), reasons=(each.reason,), or_else=or_else))
        return tuple(parts)

    @staticmethod
    def _loads(run: PlannedRun, grams: float) -> tuple[Load, ...]:
        if not run.jars_per_load or grams < max(taken.mass_g for taken in run.taken):
            return ()
        return tuple(Load(sheet.jars, run.jars_per_load) for sheet in run.sheets for _ in range(sheet.count))

    def _then(self, run: PlannedRun) -> tuple[Lump, ...]:
        """What is made of the product of a run, by food; the parts of a carcass one by one."""
        by_food: dict[str, list[tuple[PlannedRun, str, float]]] = defaultdict(list)
        for entry in self._taken[run.key]:
            by_food[entry[1]].append(entry)
        left: dict[str, list[Left]] = defaultdict(list)
        for each in self._left[run.key]:
            left[each.food].append(each)
        lumps = []
        for food in dict.fromkeys((*by_food, *left)):
            parts = self._parts(by_food[food], left[food])
            lumps.append(Lump(name_of(food), name_of(food), sum(part.mass_g for part in parts), parts))
        return tuple(sorted(lumps, key=lambda lump: -lump.mass_g))


def refusals(plan: Plan) -> tuple[RefusedHere, ...]:
    """Refusals by jar, canner and rule, the most frequent first."""
    found: dict[tuple[str, str, str], list[RefusedJar]] = defaultdict(list)
    for entry in plan.refused:
        found[entry.jar, entry.canner, entry.refusal.rule].append(entry)
    groups = [RefusedHere(jar, canner, tuple(entries)) for (jar, canner, _), entries in found.items()]
    return tuple(sorted(groups, key=lambda group: (-len(group.entries), group.jar, group.canner)))


def refusals_of(kept: KeptPlan, food: str) -> tuple[RefusedJar, ...]:
    """Refusals of jars that speak of a food, or of what the process tables count it as."""
    under = vocabulary(food).process_food
    return tuple(e for e in kept.worked_out.plan.refused if e.refusal.food in (food, under))


def loads_by_day(plan: Plan) -> tuple[tuple[date, Mapping[str, int]], ...]:
    """Canner loads of each day that has some."""
    found: dict[date, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for run in plan.runs:
        if run.loads:
            found[run.day][run.canner] += run.loads
    return tuple((day, dict(found[day])) for day in sorted(found))


def by_day(plan: Plan) -> tuple[tuple[date, Sequence[PlannedRun]], ...]:
    """Runs of each day."""
    found: dict[date, list[PlannedRun]] = defaultdict(list)
    for run in plan.runs:
        found[run.day].append(run)
    return tuple((day, found[day]) for day in sorted(found))


def _numbered(lump: Lump, numbers: Iterator[int]) -> Lump:
    """The lump with its leaves numbered as they are listed."""
    parts = []
    for part in lump.parts:
        if part.is_cut:
            parts.append(replace(part, then=tuple(_numbered(inner, numbers) for inner in part.then)))
        else:
            parts.append(replace(part, number=next(numbers)))
    return replace(lump, parts=tuple(parts))


def _brief(run: PlannedRun) -> tuple[str, ...]:
    """The first reason that says something of its own, and why it is not more; the run's page has all."""
    told = [reason for reason in run.reasons if not reason.startswith("uses ")]
    return (*told[:1], *(reason for reason in told[1:] if reason.startswith("not more")))


def _origin(left: Left) -> str:
    """The arrival, or the run that makes it."""
    if not left.origin.startswith("run:"):
        return left.origin
    activity, day, _ = made_by(left.origin)
    return f"{activity}@{day}"


def _look(left: Left) -> str:
    return LOST if left.is_lost else GIVEN if left.is_given_away else KEPT


def _fate(left: Left) -> str:
    return {LOST: "lost", GIVEN: "given away", KEPT: "kept for later"}[_look(left)]
