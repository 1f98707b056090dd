"""The same folder and seed have the same plan, whatever the machine and whatever else it does."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from stillroom import work_clock
from stillroom.household.folder import read_folder
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.pipeline import work_out
from stillroom.work_clock import LEAST_WALL_S, PATIENCE, WorkClock

DEMO = Path(__file__).parents[2] / "examples" / "demo"
DAYS, SECONDS = 2, 3.0
SLOWER = 3.0  # the machine of the second plan
FOREVER = 1000.0  # a test may run on a machine that is busier than a cook has patience for
ALONE = f"""
from stillroom import work_clock
from stillroom.cli.main import main

work_clock.PATIENCE = {FOREVER}
main()
"""
PROGRAMME = """
import hashlib, sys
from datetime import time
from pathlib import Path
from stillroom.allocation.solve import make_model
from stillroom.household.folder import read_folder
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.split import split

folder = read_folder(Path(sys.argv[1]), days=14).from_hour(time(int(sys.argv[2])))
model = make_model(split(folder, known_recipes(folder), 14).problem).model.export_model()
print(hashlib.sha256(model.SerializeToString(deterministic=True)).hexdigest())
"""


@pytest.fixture(scope="module")
def kept() -> str:
    with pytest.MonkeyPatch.context() as patch:
        return planned(patch)


def planned(patch: pytest.MonkeyPatch) -> str:
    patch.setattr(work_clock, "PATIENCE", FOREVER)
    folder = read_folder(DEMO, days=DAYS)
    return KeptPlan(folder=folder, worked_out=work_out(folder, days=DAYS, seconds=SECONDS, progress=str)).as_text()


def test_a_machine_that_is_three_times_slower_makes_the_same_plan(kept: str, monkeypatch: pytest.MonkeyPatch) -> None:
    begun, real = time.perf_counter(), time.perf_counter
    monkeypatch.setattr(time, "perf_counter", lambda: begun + SLOWER * (real() - begun))
    assert planned(monkeypatch) == kept


def test_another_process_makes_the_same_plan(kept: str, tmp_path: Path) -> None:
    """Sets of words have another order in it."""
    file = tmp_path / "plan.json"
    asked = ["plan", str(DEMO), "--days", str(DAYS), "--seconds", str(SECONDS), "--keep", str(file)]
    run = [sys.executable, "-c", ALONE, *asked]
    subprocess.run(run, check=True, capture_output=True, env={**os.environ, "PYTHONHASHSEED": "5"})
    assert file.read_text(encoding="utf-8") == kept


@pytest.mark.parametrize("begins", ["0", "12"])
def test_the_order_of_a_set_is_in_no_programme(begins: str) -> None:
    """A sum of floats in another order differs in its last digit, and the search then goes another way."""
    told = {
        subprocess.run(
            [sys.executable, "-c", PROGRAMME, str(DEMO), begins],
            check=True,
            capture_output=True,
            env={**os.environ, "PYTHONHASHSEED": salt},
        ).stdout
        for salt in ("1", "2", "3")
    }
    assert len(told) == 1


def test_work_is_counted_and_the_wall_only_pushes(monkeypatch: pytest.MonkeyPatch) -> None:
    wall_s = 100.0
    monkeypatch.setattr(time, "perf_counter", lambda: wall_s)
    clock = WorkClock()
    clock.charge(2.0)
    wall_s += LEAST_WALL_S + 2.0 * PATIENCE
    assert clock.now_s == 2.0
    wall_s += PATIENCE
    assert clock.now_s == pytest.approx(3.0)
    clock.charge(2.5)
    assert clock.now_s == 4.5  # a slow stretch that was caught up with leaves no trace
