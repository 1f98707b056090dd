"""Many questions at once: every printed row × jar × altitude × gauge error, on one core, on two or on a cluster.

The same function runs with no executor, with `concurrent.futures`, or with `distributed.Client.get_executor()`.
Finished chunks stand in the folder as CSV and are skipped when the sweep is started again; at most a few chunks are
out at any time, so that memory does not grow with the sweep.
"""

from __future__ import annotations

import csv
import hashlib
import json
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, wait
from dataclasses import asdict, dataclass, fields
from itertools import islice
from pathlib import Path
from typing import TypedDict

from stillroom.errors import InputError

Progress = Callable[[int, int], None]  # chunks done, chunks in all
CHUNKS_OUT = 4  # enough that no worker waits for the next chunk on a small machine


@dataclass(frozen=True, slots=True)
class Case:
    """One question of a sweep, in words and numbers that travel to another machine."""

    food: str
    form: str
    pack: str
    jar: str
    canner: str
    altitude_m: float
    gauge_error_psi: float = 0.0
    samples: int = 1000
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Outcome:
    """One line of the result: the question, whether a process was tested, and the band."""

    food: str
    form: str
    pack: str
    jar: str
    canner: str
    altitude_m: float
    gauge_error_psi: float
    tested: bool
    refused_by: str  # rule of the refusal; empty for a tested process
    measure: str  # what the band is of; empty where there is none
    low: float | None
    middle: float | None
    high: float | None
    dominating: str
    warned: bool


Answering = Callable[[tuple[Case, ...]], list[Outcome]]


def sweep(
    cases: Sequence[Case],
    folder: Path,
    answer: Answering,
    *,
    chunk_cases: int = 200,
    executor: Executor | None = None,
    progress: Progress | None = None,
) -> Path:
    """Answers all cases chunk by chunk into `folder` and returns the path of the joined CSV.

    Raises InputError when the folder holds chunks of another sweep. A chunk that fails ends the sweep with its
    error; what was finished stays.
    """
    if not cases:
        raise InputError("Nothing is asked in this sweep. Name at least one food that has a process.")
    chunks = -(-len(cases) // chunk_cases)
    _claim(folder, cases, chunk_cases)
    missing = [number for number in range(chunks) if not _chunk_path(folder, number).exists()]
    asked = ((number, tuple(cases[number * chunk_cases : (number + 1) * chunk_cases])) for number in missing)
    done = chunks - len(missing)
    _tell(progress, done, chunks)
    for number, outcomes in _answered(asked, answer, executor):
        _write(_chunk_path(folder, number), outcomes)
        done += 1
        _tell(progress, done, chunks)
    return _joined(folder, chunks)


class Counts(TypedDict):
    """How many cases have a tested process, how many of them the model warns of, and refusals by their rule."""

    tested: int
    warned: int
    refused: dict[str, int]


def counted(outcomes: Path) -> Counts:
    """What a finished sweep holds, by its joined CSV."""
    with outcomes.open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    return Counts(
        tested=sum(line["tested"] == "True" for line in lines),
        warned=sum(line["warned"] == "True" for line in lines),
        refused=dict(Counter(line["refused_by"] for line in lines if line["refused_by"]).most_common()),
    )


def _tell(progress: Progress | None, done: int, chunks: int) -> None:
    if progress is not None:
        progress(done, chunks)


def _answered(
    numbered: Iterator[tuple[int, tuple[Case, ...]]], answer: Answering, executor: Executor | None
) -> Iterator[tuple[int, list[Outcome]]]:
    """Chunks as they are finished, in any order."""
    if executor is None:
        for number, chunk in numbered:
            yield number, answer(chunk)
        return
    out: dict[Future[list[Outcome]], int] = {}
    try:
        for number, chunk in islice(numbered, CHUNKS_OUT):
            out[executor.submit(answer, chunk)] = number
        while out:
            finished, _still = wait(out, return_when=FIRST_COMPLETED)
            for future in sorted(finished, key=_has_failed):
                yield out.pop(future), future.result()
            for number, chunk in islice(numbered, CHUNKS_OUT - len(out)):
                out[executor.submit(answer, chunk)] = number
    finally:
        for future in out:
            future.cancel()


def _has_failed(future: Future[list[Outcome]]) -> bool:
    """Failures come last, so that what was finished beside them is kept."""
    return future.exception() is not None


def _claim(folder: Path, cases: Iterable[Case], chunk_cases: int) -> None:
    """Marks the folder with what is swept, so that a restart never mixes two sweeps."""
    digest = hashlib.sha256(str(chunk_cases).encode())
    for case in cases:
        digest.update(json.dumps(asdict(case), sort_keys=True).encode())
    mark = digest.hexdigest()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise InputError(f"{folder} can't be a folder for the sweep ({problem.strerror}); name another.") from None
    path = folder / "sweep.txt"
    if path.exists() and path.read_text(encoding="utf-8").strip() != mark:
        raise InputError(
            f"{folder} holds chunks of another sweep. Give an empty folder, or repeat that sweep as it was."
        )
    path.write_text(mark + "\n", encoding="utf-8")


def _chunk_path(folder: Path, number: int) -> Path:
    return folder / f"chunk-{number:06d}.csv"


def _write(path: Path, outcomes: Iterable[Outcome]) -> None:
    """Whole or not at all: a chunk that was cut off by a power failure must not count as finished."""
    names = [field.name for field in fields(Outcome)]
    half = path.with_suffix(".half")
    with half.open("w", encoding="utf-8", newline="") as file:
        lines = csv.DictWriter(file, names)
        lines.writeheader()
        lines.writerows(asdict(outcome) for outcome in outcomes)
    half.replace(path)


def _joined(folder: Path, chunks: int) -> Path:
    """All chunks in their order, under one header."""
    half, whole = folder / "outcomes.half", folder / "outcomes.csv"
    with half.open("w", encoding="utf-8", newline="") as file:
        for number in range(chunks):
            with _chunk_path(folder, number).open(encoding="utf-8", newline="") as part:
                header = part.readline()
                if number == 0:
                    file.write(header)
                file.writelines(part)
    half.replace(whole)
    return whole
