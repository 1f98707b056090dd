"""A tiny sweep of real questions: the same lines in this process and on a local cluster of two workers."""

from __future__ import annotations

import csv
import socket
import subprocess
import sys
from itertools import islice
from pathlib import Path

import pytest

from stillroom.errors import InputError
from stillroom.heat.sweep import Case, sweep
from stillroom.heat.sweep_cases import answer_cases, every_case
from stillroom.model.process import CannerKind
from stillroom.tables.processes import rows

FEW = [
    Case(food, form, pack, jar, CannerKind.DIAL.value, altitude_m, 0.0, samples=60)
    for food, form, pack in (("green bean", "whole", "raw"), ("beef", "ground or chopped", "hot"))
    for jar in ("pint", "1200 ml")
    for altitude_m in (0.0, 1500.0, 2500.0)
]


def lines(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_real_answers_in_this_process(tmp_path: Path) -> None:
    found = lines(sweep(FEW, tmp_path, answer_cases, chunk_cases=5))
    assert len(found) == len(FEW)
    assert {line["tested"] for line in found if line["jar"] == "1200 ml"} == {"False"}
    assert {line["refused_by"] for line in found if line["altitude_m"] == "2500.0"} == {"above the last altitude band"}
    for line in found:
        if line["tested"] == "True":
            assert 0 < float(line["low"]) <= float(line["middle"]) <= float(line["high"])
            assert line["measure"] == "F0"
        elif line["low"]:
            assert line["measure"].startswith("% of the tested")
            assert float(line["high"]) <= 100


def test_a_local_cluster_of_two_workers_gives_the_same_file(tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed")
    alone = sweep(FEW, tmp_path / "alone", answer_cases, chunk_cases=3)
    told: list[tuple[int, int]] = []
    with (
        distributed.LocalCluster(
            n_workers=2, threads_per_worker=1, dashboard_address=None, processes=True, memory_limit=None
        ) as cluster,
        distributed.Client(cluster) as client,
        client.get_executor() as executor,
    ):
        together = sweep(
            FEW,
            tmp_path / "together",
            answer_cases,
            chunk_cases=3,
            executor=executor,
            progress=lambda done, of: told.append((done, of)),
        )
    assert together.read_bytes() == alone.read_bytes()
    assert told == [(done, 4) for done in range(5)]


def test_every_case_asks_every_printed_food_that_can_be_asked() -> None:
    cases = list(every_case(jars=("quart",), altitudes_m=(0.0,)))
    assert len({(case.food, case.form, case.pack) for case in cases}) == len(
        {(row.food, row.form, row.pack) for row in rows()}
    )
    assert {case.canner for case in cases} == {kind.value for kind in CannerKind}
    assert {case.gauge_error_psi for case in cases if case.canner != CannerKind.DIAL.value} == {0.0}
    whole = sum(1 for _case in every_case())
    assert whole > 50_000
    assert len(list(islice(every_case(), 3))) == 3


def test_a_case_that_can_not_be_read_names_itself() -> None:
    with pytest.raises(InputError, match="no-such-food"):
        answer_cases((Case("no-such-food", "", "hot", "pint", CannerKind.DIAL.value, 0.0),))


def test_the_heat_model_needs_no_dask() -> None:
    """The optional extra may be missing: the sweep itself runs without it."""
    code = (
        "import sys; sys.modules['dask'] = None; sys.modules['distributed'] = None;"
        "from stillroom.heat.sweep_cases import answer_cases; from stillroom.heat.sweep import Case;"
        "case = Case('carrot', 'sliced or diced', 'raw', 'pint', 'weighted gauge', 0.0, 0.0, 50);"
        "print(answer_cases((case,))[0].tested)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "True"


def test_no_network_is_touched(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_arguments: object, **_keywords: object) -> None:
        raise AssertionError("a connection was opened")

    monkeypatch.setattr(socket.socket, "connect", never)
    assert answer_cases(tuple(FEW[:1]))[0].tested
