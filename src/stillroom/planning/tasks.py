"""Batches of the split as tasks by the clock."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from stillroom.model.household import Meal
from stillroom.model.kitchen import Kitchen
from stillroom.model.recipe import After, Step, Use
from stillroom.model.work import Attention
from stillroom.planning.crew import Crew
from stillroom.planning.equipment import canner_heating, modes_of, resources
from stillroom.planning.slips import may_slip
from stillroom.planning.supply import DAY_MIN, open_min
from stillroom.planning.variants import JarWork, Variant
from stillroom.timetable.problem import Demand, Lag, Mode, Problem, Task
from stillroom.timetable.spread import SIGMA, Spread, usual

JARS_MAY_WAIT_MIN = (0, 15, 30)  # in the canner, until somebody has hands (R020: not left in it to cool slowly)
LIFT_OUT_MIN = 10  # for the jars of the other food (common practice, no source)
SERVE_WINDOW_MIN = 15  # a dish is done at most so long before the meal (common practice, no source)
DAYS_AFTER = 2  # free tasks (drying, proving) may run on after the last day


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch of a run: a pot, a bowl, one canner load; each goes through all the steps of its recipe.

    A guest rides in the canner load of its `host`, which stands before it and has the longer process.
    """

    key: str
    run: tuple[str, int]  # activity and day
    day: int
    units: float
    variant: Variant
    meal_min: int | None = None  # when its dish must be on the table
    feeds: tuple[str, ...] = ()  # keys of batches that use what it makes
    guest: Batch | None = None
    host: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """Where a task comes from: for printing it later; no run is the household's own work, such as washing up."""

    run: tuple[str, int] | None
    batch: str
    text: str
    step: tuple[str, str] | None = None  # recipe and step, of what people do at their own pace
    hold: str = ""  # how the food stands while it waits for this: "hot", "fridge", "canner"
    recipe_min: int = 0  # by the recipe, whatever the pace
    sigma: float | None = None  # spread of the household's own times, if known
    exact_min: int = 0  # of them a process, which nobody makes longer or shorter


def timetable_problem(
    batches: Sequence[Batch], kitchen: Kitchen, meals: Sequence[Meal], start: date, days: int
) -> tuple[Problem, Mapping[str, Piece]]:
    """The batches as one timetable problem, and the origin of each task; sitting down to a meal has none."""
    crew = Crew(kitchen, start)
    writer = _Writer(kitchen, crew, start, days)
    for batch in batches:
        writer.add(batch)
    for batch in batches:
        for fed in batch.feeds:
            writer.link(batch.key, fed)
    busy = {batch.day + step.day for batch in batches for step in batch.variant.recipe.steps}
    busy |= {day + 1 for day in busy}
    household = crew.washing_up({batch.key: at for batch in batches if (at := batch.meal_min)}.values(), start, meals)
    pieces = {**writer.pieces, **{task.key: Piece(None, "", task.label) for task in household}}
    tasks = (*writer.tasks, *household, *crew.pauses(meals, start, busy))
    return Problem(tasks, tuple(writer.lags), crew.workers, resources(kitchen)), pieces


def spreads(problem: Problem, pieces: Mapping[str, Piece]) -> Mapping[str, Spread]:
    """The spread of each task: the household's own where it is known; the minutes of a process have none."""
    return {task.key: _spread(task, pieces.get(task.key)) for task in problem.tasks}


def _spread(task: Task, piece: Piece | None) -> Spread:
    if piece is not None and piece.exact_min:
        return Spread(SIGMA, piece.exact_min)
    return usual(task) if piece is None or piece.sigma is None else Spread(piece.sigma)


class _Writer:
    """Writes tasks and lags of one batch after another."""

    def __init__(self, kitchen: Kitchen, crew: Crew, start: date, days: int) -> None:
        self._kitchen, self._crew, self._start, self._days = kitchen, crew, start, days
        self.tasks: list[Task] = []
        self.lags: list[Lag] = []
        self.pieces: dict[str, Piece] = {}
        self._cycles: dict[str, tuple[str, str]] = {}  # batch -> heating and cooling of its load
        self._ends: dict[str, list[str]] = {}  # batch -> its last tasks
        self._starts: dict[str, list[str]] = {}

    def add(self, batch: Batch) -> None:
        """All tasks of a batch and the lags between them."""
        first: dict[str, str] = {}
        last: dict[str, str] = {}
        steps = batch.variant.recipe.steps
        for step in steps:
            first[step.key], last[step.key] = self._step(batch, step)
            for after in step.after:
                lag = _lag(after, last[after.step], first[step.key])
                if batch.variant.jar_work is not None and _empties_the_canner(steps, step):
                    # The canner stays taken until the jars are out: how long they wait in it is a mode of the cooling.
                    # What rode along is lifted out after the rest.
                    lag = replace(lag, min_lag=0, max_lag=LIFT_OUT_MIN if batch.host else 0)
                self.lags.append(lag)
        followed = {after.step for step in steps for after in step.after}
        self._starts[batch.key] = [first[step.key] for step in steps if not step.after]
        self._ends[batch.key] = [last[step.key] for step in steps if step.key not in followed]

    def link(self, before: str, after: str) -> None:
        """The batch `after` uses what `before` makes."""
        for end in self._ends[before]:
            for begin in self._starts[after]:
                self.lags.append(Lag(end, begin, 0, None, "it uses what this makes"))

    def _step(self, batch: Batch, step: Step) -> tuple[str, str]:
        """Writes the task or tasks of a step; returns the keys of its first and last task."""
        key = f"{batch.key}:{step.key}"
        jar_work = batch.variant.jar_work
        if step.is_canner_cycle and jar_work is not None:
            return self._canner_cycle(batch, step, jar_work, key)
        holds_canner = jar_work is not None and _empties_the_canner(batch.variant.recipe.steps, step)
        modes = modes_of(step, batch.units, batch.variant, self._kitchen, holds_canner=holds_canner)
        self._write(batch, step, key, step.text, modes, step.attention)
        return key, key

    def _canner_cycle(self, batch: Batch, step: Step, work: JarWork, key: str) -> tuple[str, str]:
        """Heating to the end of the process under watch, then cooling with the canner still taken."""
        if batch.host:
            return self._cycles[batch.host]
        canner = Demand(work.canner.name, 1)
        heat, cool = f"{key}:heat", f"{key}:cool"
        text = f"{work.canner.name}: {_load_words(batch, work)}; {process_words(work)}{_guest_words(batch.guest)}"
        heating = (Mode(work.cycle.attended_min, canner_heating(work, self._kitchen)),)
        self._write(batch, step, heat, text, heating, Attention.NEAR)
        guest = batch.guest.variant.jar_work if batch.guest else None
        rest = max(each.cycle.total_min - each.cycle.attended_min for each in (work, guest) if each)
        modes = tuple(Mode(rest + wait, (canner,)) for wait in JARS_MAY_WAIT_MIN)
        self._write(batch, step, cool, cooling_words(work), modes, Attention.FREE)
        self.lags.append(Lag(heat, cool, 0, 0, "cooling is part of the process", is_safety=True))
        self._cycles[batch.key] = heat, cool
        return heat, cool

    def _write(
        self,
        batch: Batch,
        step: Step,
        key: str,
        text: str,
        modes: tuple[Mode, ...],
        attention: Attention,
    ) -> None:
        earliest, latest = self._window(batch, step, attention)
        due = None
        if batch.meal_min is not None and _is_last(batch.variant.recipe.steps, step):
            latest, due = min(latest, batch.meal_min), batch.meal_min
            if batch.variant.recipe.use is Use.EAT_NOW:
                earliest = max(earliest, batch.meal_min - SERVE_WINDOW_MIN - modes[0].minutes)
        allowed = () if attention is Attention.FREE else self._crew.may_do(step, batch.variant.recipe.use)
        modes = tuple(replace(mode, workers=allowed) for mode in modes)
        self.tasks.append(Task(key, text, batch.key, modes, attention, earliest, latest, due))
        self.pieces[key] = Piece(
            batch.run,
            batch.key,
            text,
            step=None if attention is Attention.FREE or step.is_canner_cycle else (batch.variant.recipe.key, step.key),
            hold=next((after.hold for after in step.after if after.max_lag_min is not None), ""),
            recipe_min=max(1, math.ceil((step.fixed_min + step.per_unit_min * batch.units) / step.pace - 1e-6)),
            sigma=step.sigma,
            exact_min=batch.variant.jar_work.cycle.process_min
            if step.is_canner_cycle and batch.variant.jar_work is not None
            else 0,
        )

    def _window(self, batch: Batch, step: Step, attention: Attention) -> tuple[int, int]:
        """The hours of its day; what nobody needs to watch may run on through the night."""
        day = batch.day + step.day
        opened = open_min(self._kitchen, self._start, day) or (day * DAY_MIN, day * DAY_MIN)
        if attention is Attention.FREE:
            return opened[0], (self._days + DAYS_AFTER) * DAY_MIN
        last = opened[1]
        if day + 1 < self._days and may_slip(batch.variant.recipe.steps, step):
            tomorrow = open_min(self._kitchen, self._start, day + 1)
            last = tomorrow[1] if tomorrow else last
        return opened[0], last


def _lag(after: After, before: str, first: str) -> Lag:
    reason = after.reason or (f"held {after.hold}" if after.hold else "")
    is_safety = after.max_lag_min is not None and bool(reason)
    return Lag(before, first, after.min_lag_min, after.max_lag_min, reason, is_safety)


def _load_words(batch: Batch, work: JarWork) -> str:
    """Jars of the load, and jars of water that fill up the layer that was begun (R036)."""
    jars, guest = round(batch.units * work.jars_per_unit), batch.guest
    if guest is None or guest.variant.jar_work is None:
        return f"{jars} jars" + _water_words(jars, work)
    ride = guest.variant.jar_work
    more, name = round(guest.units * ride.jars_per_unit), guest.variant.recipe.name
    if ride.jar == work.jar:
        return f"{jars} jars and {more} of {name}" + _water_words(jars + more, work)
    return f"{jars} jars{_water_words(jars, work)}, and in the other layer {more} of {name}{_water_words(more, ride)}"


def _water_words(jars: int, work: JarWork) -> str:
    water = -jars % work.jars_per_layer
    return f" and {water} of water" if water else ""


def _guest_words(guest: Batch | None) -> str:
    """How much longer than it needs the food is heated that shares the load."""
    work = guest.variant.jar_work if guest else None
    if guest is None or work is None:
        return ""
    return f" (one time for the load: alone {guest.variant.recipe.name} needs {work.card.minutes} min and stays firmer)"


def process_words(work: JarWork) -> str:
    """What to do from heat-on to heat-off, in one line (rules R002, R006, R008, R074, R075)."""
    psi, minutes = work.card.pressure_psi, work.card.minutes
    if psi is None:
        return f"bring to a full boil, then {minutes} min; if it stops boiling, start the {minutes} min again"
    return (
        f"steam, vent {work.cycle.vent_min:g} min, close, bring to {psi:g} psi, then {minutes} min; "
        f"if it falls below, start the {minutes} min again"
    )


def cooling_words(work: JarWork) -> str:
    """What to do from heat-off to lid-off (rules R013, R018, R076)."""
    wait = f"{work.cycle.wait_min:g} min"
    if work.card.pressure_psi is None:
        return f"{work.canner.name}: heat off, lid off, wait {wait}"
    return f"{work.canner.name}: heat off, let it fall to zero by itself, weight off, wait {wait}"


def _empties_the_canner(steps: Sequence[Step], step: Step) -> bool:
    """Whether it takes the jars out: the step straight after the cycle."""
    cycles = {other.key for other in steps if other.is_canner_cycle}
    return any(after.step in cycles for after in step.after)


def _is_last(steps: Sequence[Step], step: Step) -> bool:
    return all(step.key != after.step for other in steps for after in other.after)
