"""`stillroom sweep FOLDER`: the heat model asked every printed row, jar, altitude and gauge error."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from stillroom.cli.sums_output import print_json
from stillroom.errors import InputError

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from stillroom.heat.sweep import Case

LONGEST_WAIT_S = 20


def sweep_command(
    folder: Annotated[Path, typer.Argument(help="Where the chunks and outcomes.csv go; an old sweep goes on.")],
    *,
    food: Annotated[list[str] | None, typer.Option("--food", help="Only this food of the tables; repeat.")] = None,
    every: Annotated[int, typer.Option("--every", min=1, help="Only one case in so many, for a quick look.")] = 1,
    samples: Annotated[int, typer.Option("--samples", min=20, max=100_000, help="Jars drawn for each case.")] = 300,
    workers: Annotated[int, typer.Option("--workers", min=0, max=512, help="Processes here; 0 is this one alone.")] = 0,
    scheduler: Annotated[str, typer.Option("--scheduler", help="Instead: address of a running cluster.")] = "",
    as_json: Annotated[bool, typer.Option("--json", help="Print for machines.")] = False,
) -> None:
    """Ask the heat model every case of the tables: for judging the model, never for a process."""
    from stillroom.heat.sweep import counted, sweep
    from stillroom.heat.sweep_cases import answer_cases

    if workers and scheduler:
        raise InputError("Give --workers or --scheduler, one of them.")
    cases = _cases(food or [], every, samples)
    with _executor(workers, scheduler) as executor:
        path = sweep(cases, folder, answer_cases, executor=executor, progress=_tell)
    counts = counted(path)
    if as_json:
        print_json({"outcomes": str(path), "cases": len(cases), **counts})
        return
    print(f"{len(cases)} cases in {path}")
    print(f"  tested {counts['tested']}, of them with a warning of the model {counts['warned']}")
    for rule, count in counts["refused"].items():
        print(f"  refused {count}: {rule}")
    print("  This judges the model. It is no process and makes none.")


def _cases(foods: list[str], every: int, samples: int) -> list[Case]:
    from stillroom.heat.sweep_cases import every_case
    from stillroom.tables.vocabulary import hear

    cases = list(every_case(samples=samples))
    if foods:
        wanted = {heard.process_food or heard.key for heard in (hear(name).food for name in foods)}
        cases = [case for case in cases if hear(case.food).food.process_food in wanted]
    if not cases:
        raise InputError(f"No process is printed for {' or '.join(foods)}, so there is nothing to ask.")
    return cases[::every]


@contextmanager
def _executor(workers: int, scheduler: str) -> Iterator[Executor | None]:
    """None for this process alone; else a cluster of our own, or one that runs already."""
    if not (workers or scheduler):
        yield None
        return
    with _client(workers, scheduler) as client, client.get_executor() as executor:
        yield executor


def _client(workers: int, scheduler: str) -> Any:
    """A client of dask; closing it closes the cluster that it began itself."""
    try:
        import distributed
    except ImportError:
        raise InputError("Workers need dask: pip install 'stillroom[sweep]', or leave --workers out.") from None
    begin: Any = distributed.Client  # dask has no types
    if not scheduler:
        return begin(n_workers=workers, threads_per_worker=1, dashboard_address=None)
    try:
        return begin(scheduler, timeout=LONGEST_WAIT_S)
    except (OSError, ValueError) as problem:
        hint = "give its address as tcp://host:port"
        raise InputError(f"No cluster answers at {scheduler} ({problem}); {hint}.") from None


def _tell(done: int, chunks: int) -> None:
    print(f"… {done} of {chunks} chunks", file=sys.stderr, flush=True)
