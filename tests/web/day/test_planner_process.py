"""The real planner in its own process on a real file: it works, it ends with the server, the next one goes on."""

import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from stillroom.web.day.planner_process import planner_beside, start_planner

SET_UP = """
from stillroom.web.serve import set_up
set_up()
from django.utils import timezone
from stillroom.web.day.actions import ask_for_plan
from stillroom.web.kitchen.models import Household
home = Household.objects.get()
home.arrivals.exclude(food="green bean").delete()
home.plan_days = {days}
home.save()
ask_for_plan(home, at=timezone.now(), seconds={seconds})
"""
PATIENCE_S = 120.0  # this machine may be busy


@pytest.fixture
def data(own_data_dir: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    own_data_dir.mkdir()
    monkeypatch.delenv("STILLROOM_DATABASE_URL", raising=False)  # the file is what is looked at here
    monkeypatch.setenv("DJANGO_SETTINGS_MODULE", "stillroom.web.settings")
    return own_data_dir


def set_up(days: int, seconds: float) -> None:
    subprocess.run([sys.executable, "-c", SET_UP.format(days=days, seconds=seconds)], check=True)


def job(data: Path) -> tuple[str, int, int]:
    """State, tries and lines of the one job."""
    with sqlite3.connect(data / "stillroom.sqlite3", timeout=20) as file:
        state, tries, lines = file.execute("select state, tries, json_array_length(lines) from day_planjob").fetchone()
    file.close()
    return state, tries, lines


def wait_for(is_so: Callable[[], bool]) -> None:
    end = time.monotonic() + PATIENCE_S
    while not is_so():
        assert time.monotonic() < end, "it never came"
        time.sleep(0.05)


def test_it_works(data: Path) -> None:
    set_up(days=1, seconds=1.0)
    with planner_beside():
        wait_for(lambda: job(data)[0] == "done")
    with sqlite3.connect(data / "stillroom.sqlite3") as file:
        assert file.execute("select count(*) from day_madeplan").fetchone() == (1,)
    file.close()


def test_a_plan_in_hand_when_the_server_ends_is_begun_again_by_the_next(data: Path) -> None:
    set_up(days=2, seconds=PATIENCE_S)
    first = start_planner()
    assert first.stdin is not None
    wait_for(lambda: job(data)[2] > 0)
    assert job(data)[0] == "running"
    first.stdin.close()
    assert first.wait(timeout=20) == 0
    assert job(data)[:2] == ("waiting", 1)
    second = start_planner()
    assert second.stdin is not None
    wait_for(lambda: job(data)[:2] == ("running", 2))
    second.stdin.close()
    second.wait(timeout=20)
