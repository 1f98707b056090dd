"""How many tasks have to move on days that went badly: `python benchmarks/replan_moves.py TASKS [seconds] [days]`.

The days of `replan_days.py` on which the answer of a second moves more than a fifth of the open tasks. For each, the
least number of tasks that move by more than 5 min in any new plan that is at most as late as the answer, as far as
CP-SAT gets in so many seconds: the least found, and the number below which it is proved that there is none.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "timetable"))

from kitchen_days import kitchen_day
from ortools.sat.python import cp_model
from unlucky import unlucky

from stillroom.timetable.constraints import Constraints
from stillroom.timetable.near import FAR_MIN
from stillroom.timetable.problem import Placed, Timetable
from stillroom.timetable.replan import Replanned, replan
from stillroom.timetable.variables import Variables
from stillroom.timetable.ways import ways

DAYS = {160: 2}
TOLD_SHARE = 0.2


def main() -> None:
    """A row for each bad day."""
    tasks = int(sys.argv[1])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 60.0
    for seed in range(int(sys.argv[3]) if len(sys.argv) > 3 else 10):
        day = kitchen_day(seed, tasks, DAYS.get(tasks, 1))
        seen = unlucky(day.problem, day.witness, seed)
        found = replan(day.problem, day.witness, seen)
        moved = sum(abs(item.after.start - item.before.start) > FAR_MIN for item in found.moved)
        many = len(found.open_keys)
        if moved > TOLD_SHARE * many:
            least, bound = fewest_moves(found, day.witness, seconds)
            late = sum(found.late_min.values())
            print(f"| {tasks}, day {seed} | {many} | {late} min | {moved} | {least} | {bound} |", flush=True)


def fewest_moves(found: Replanned, before: Timetable, seconds: float) -> tuple[int | None, int]:
    """The fewest moves found, and a bound below them, of plans that are at most as late."""
    problem, model = found.problem, cp_model.CpModel()
    variables = Variables(model, problem, ways(problem))
    Constraints(problem, variables).add()
    answer = {item.task: item for item in found.timetable.placed}
    hint = dict(variables.values(answer))
    late = []
    for task in problem.tasks:
        if task.due is not None:
            over = model.new_int_var(0, max(0, variables.last_end(task.key) - task.due), "late")
            model.add(over >= variables.end(task.key) - task.due)
            hint[over.index] = max(0, answer[task.key].end - task.due)
            late.append(over)
    model.add(cp_model.LinearExpr.sum(late) <= sum(found.late_min.values()))
    far = [_far(model, variables, item, answer, hint) for item in before.placed if item.task in found.open_keys]
    model.minimize(cp_model.LinearExpr.sum(far))
    for index, value in hint.items():
        model.add_hint(model.get_int_var_from_proto_index(index), value)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    outcome = solver.solve(model)
    least = round(solver.objective_value) if outcome in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return least, round(solver.best_objective_bound)


def _far(
    model: cp_model.CpModel, variables: Variables, item: Placed, answer: dict[str, Placed], hint: dict[int, int]
) -> cp_model.IntVar:
    """Whether a task moves by more than is told to nobody."""
    far = model.new_bool_var("far")
    start = variables.start(item.task)
    model.add(start <= item.start + FAR_MIN).only_enforce_if(~far)
    model.add(start >= item.start - FAR_MIN).only_enforce_if(~far)
    hint[far.index] = int(abs(answer[item.task].start - item.start) > FAR_MIN)
    return far


if __name__ == "__main__":
    main()
