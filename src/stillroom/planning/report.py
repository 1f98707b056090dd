"""The answer of the solvers as a plan for people."""

from __future__ import annotations

from datetime import timedelta

from stillroom.allocation.reasons import reasons
from stillroom.allocation.returns import came_back
from stillroom.household.folder import Folder, warnings
from stillroom.model.plan import Effort, Plan
from stillroom.planning.advice import Hours, advised
from stillroom.planning.clock import planned_meals, planned_tasks
from stillroom.planning.larder_after import freezer_after, larder_after
from stillroom.planning.left_over import bottlenecks, left_over
from stillroom.planning.ready import have_ready, spare
from stillroom.planning.runs import planned_run
from stillroom.planning.settling import Settled
from stillroom.planning.split import Split
from stillroom.planning.sureness import sureness


def report(folder: Folder, task: Split, found: Settled, effort: Effort) -> Plan:
    """Everything a person needs to act on the plan."""
    allocation, clock = found.allocation, (found.secured.problem, found.pieces, found.secured.timetable)
    lots = {lot.key: lot for lot in task.problem.lots}
    hours = Hours(clock[0], clock[2], folder.start)
    why = reasons(task.problem, allocation, lambda day: f"{folder.start + timedelta(days=day):%A}")
    done = tuple(
        (
            task.variants[run.activity],
            advised(
                planned_run(run, task.variants[run.activity], lots, folder.start, why.of_run(run)),
                run,
                task.variants[run.activity],
                folder,
                hours,
            ),
        )
        for run in sorted(allocation.runs, key=lambda run: (run.day, run.activity))
        if run.activity in task.variants
    )
    left = left_over(task, allocation, why, folder)
    larder = larder_after(folder.larder, done, folder.start + timedelta(days=task.problem.days))
    here = {a.key for a in folder.arrivals if a.day <= folder.start} | {lot.key for lot in folder.larder}
    back = {pool: by_day[-1] for pool, by_day in came_back(task.problem, allocation.runs).items()}
    tasks = planned_tasks(*clock, folder.start)
    return Plan(
        household=folder.household.name,
        invented=folder.household.invented,
        start=folder.start,
        days=task.problem.days,
        runs=tuple(sorted((run for _, run in done), key=lambda run: (run.day, run.key))),
        tasks=tasks,
        meals=planned_meals(folder, task, allocation, tasks, found.secured.chances.meals),
        ready=have_ready(folder.kitchen, done, spare(left, larder, here), back),
        left=left,
        refused=task.refused,
        larder=larder,
        freezer=freezer_after(folder.kitchen, task.problem, allocation, done),
        bottlenecks=bottlenecks(task, allocation, folder.start),
        did_not_fit=found.did_not_fit,
        warnings=warnings(folder),
        sureness=sureness(
            found.secured,
            found.pieces,
            {run.key: run.name for _, run in done},
            _left_out(found, task, folder),
            folder.start,
        ),
        effort=effort,
    )


def _left_out(found: Settled, task: Split, folder: Folder) -> tuple[str, ...]:
    labels = {activity.key: activity.label for activity in task.problem.activities}
    return tuple(f"{labels[run.activity]} ({folder.start + timedelta(days=run.day):%A})" for run in found.left_out)
