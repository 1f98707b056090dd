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
from stillroom.work_clock import PATIENCE, WorkClock

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


def test_work_is_counted_and_the_wall_only_pushes(monkeypatch: pytest.MonkeyPatch) -> None:
    wall_s = 100.0
    monkeypatch.setattr(time, "perf_counter", lambda: wall_s)
    clock = WorkClock()
    clock.charge(2.0)
    wall_s += 2.0 * PATIENCE
    assert clock.now_s == 2.0
    wall_s += PATIENCE
    assert clock.now_s == pytest.approx(3.0)
    clock.charge(0.5)
    assert clock.now_s == pytest.approx(3.5)
