"""Sweeps: the same lines from one core, from threads and after a restart; nothing done twice, nothing mixed."""

from __future__ import annotations

import csv
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from stillroom.errors import InputError
from stillroom.heat.sweep import CHUNKS_OUT, Case, Outcome, sweep

CASES = [Case("beef", "ground", "hot", "quart", "dial gauge", float(metre)) for metre in range(23)]


class Counting:
    """Answers made up from the question, and counts how often it is asked."""

    def __init__(self, *, fail_at_m: float | None = None) -> None:
        self.asked: list[Case] = []
        self.fail_at_m = fail_at_m

    def __call__(self, cases: tuple[Case, ...]) -> list[Outcome]:
        if any(case.altitude_m == self.fail_at_m for case in cases):
            raise InputError("made to fail")
        self.asked.extend(cases)
        return [
            Outcome(case.food, case.form, case.pack, case.jar, case.canner, case.altitude_m, case.gauge_error_psi,
                    True, "", "F0", 1.0, 2.0, 3.0 + case.altitude_m, "radius", True)
            for case in cases
        ]  # fmt: skip


def altitudes(path: Path) -> list[float]:
    with path.open(encoding="utf-8", newline="") as file:
        return [float(line["altitude_m"]) for line in csv.DictReader(file)]


def test_every_case_once_and_in_order(tmp_path: Path) -> None:
    answer, told = Counting(), []
    path = sweep(CASES, tmp_path / "out", answer, chunk_cases=5, progress=lambda done, of: told.append((done, of)))
    assert altitudes(path) == [case.altitude_m for case in CASES]
    assert answer.asked == CASES
    assert told == [(done, 5) for done in range(6)]


def test_an_executor_gives_the_same_file(tmp_path: Path) -> None:
    alone = sweep(CASES, tmp_path / "alone", Counting(), chunk_cases=3)
    with ThreadPoolExecutor(2) as executor:
        together = sweep(CASES, tmp_path / "together", Counting(), chunk_cases=3, executor=executor)
    assert together.read_bytes() == alone.read_bytes()


def test_a_restart_asks_only_what_is_missing(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="made to fail"):
        sweep(CASES, tmp_path, Counting(fail_at_m=12.0), chunk_cases=5)
    again = Counting()
    path = sweep(CASES, tmp_path, again, chunk_cases=5)
    assert [case.altitude_m for case in again.asked] == list(range(10, 23))
    assert altitudes(path) == [case.altitude_m for case in CASES]
    nothing = Counting()
    sweep(CASES, tmp_path, nothing, chunk_cases=5)
    assert nothing.asked == []


def test_a_chunk_cut_off_half_way_is_not_finished(tmp_path: Path) -> None:
    sweep(CASES, tmp_path, Counting(), chunk_cases=5)
    (tmp_path / "chunk-000001.csv").rename(tmp_path / "chunk-000001.half")
    again = Counting()
    sweep(CASES, tmp_path, again, chunk_cases=5)
    assert again.asked == CASES[5:10]


@pytest.mark.parametrize(
    "other", [CASES[:-1], [*CASES[:-1], Case("pork", "ground", "hot", "quart", "dial gauge", 22.0)]]
)
def test_two_sweeps_are_never_mixed(tmp_path: Path, other: list[Case]) -> None:
    sweep(CASES, tmp_path, Counting(), chunk_cases=5)
    with pytest.raises(InputError, match="another sweep"):
        sweep(other, tmp_path, Counting(), chunk_cases=5)
    with pytest.raises(InputError, match="another sweep"):
        sweep(CASES, tmp_path, Counting(), chunk_cases=4)


def test_a_failure_on_an_executor_keeps_what_is_done(tmp_path: Path) -> None:
    with ThreadPoolExecutor(1) as executor, pytest.raises(InputError, match="made to fail"):
        sweep(CASES, tmp_path, Counting(fail_at_m=22.0), chunk_cases=5, executor=executor)
    assert len(list(tmp_path.glob("chunk-*.csv"))) == 4


class Watching(ThreadPoolExecutor):
    """Notes how many tasks were ever out at once."""

    out, most = 0, 0

    def submit(self, *args: Any, **keywords: Any) -> Future[Any]:
        self.out += 1
        self.most = max(self.most, self.out)
        future = super().submit(*args, **keywords)
        future.add_done_callback(self.one_back)
        return future

    def one_back(self, _future: Future[Any]) -> None:
        self.out -= 1


def test_only_a_few_chunks_are_out_at_once(tmp_path: Path) -> None:
    with Watching(1) as executor:
        sweep(CASES, tmp_path, Counting(), chunk_cases=1, executor=executor)
    assert 1 < executor.most <= CHUNKS_OUT


def test_no_cases_is_bad_input(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="Nothing"):
        sweep([], tmp_path, Counting())
