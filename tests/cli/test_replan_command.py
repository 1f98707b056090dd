"""`stillroom replan PLAN PROGRESS`, run as a person runs it."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "planning"))

from kept_day import kept_day

from stillroom.planning.kept_plan import read_plan_file, write_plan_file

Run = Callable[..., tuple[int, str, str]]
LATE = "now: 2027-04-09 18:20\nfinished: [{task: 5, at: 17:50}]\nstarted: [{task: 6, at: 18:10}]\n"


@pytest.fixture
def day(tmp_path: Path) -> tuple[str, str]:
    write_plan_file(tmp_path / "plan.json", kept_day())
    (tmp_path / "progress.yaml").write_text(LATE, encoding="utf-8")
    return str(tmp_path / "plan.json"), str(tmp_path / "progress.yaml")


def test_it_works(day: tuple[str, str], run: Run) -> None:
    code, out, err = run("replan", *day)
    assert (code, err) == (0, "")
    assert out.startswith("It is Friday 9 April, 18:20")
    assert "Dinner at 18:30 is ready at 18:50: 20 min late." in out
    assert "Going on" in out
    assert "The rest of the day" in out
    assert "local food-safety authority" in " ".join(out.split())
    assert "\x1b[" not in out


def test_it_is_printed_for_machines(day: tuple[str, str], run: Run) -> None:
    code, out, _ = run("replan", *day, "--json")
    assert code == 0
    answer = json.loads(out)
    assert answer["late"][0]["ready"] == "2027-04-09 18:50:00"
    assert {"broken", "moves", "going_on", "to_come"} <= answer.keys()


def test_the_new_plan_can_be_kept(day: tuple[str, str], run: Run, tmp_path: Path) -> None:
    after = tmp_path / "after.json"
    assert run("replan", *day, "--keep", str(after))[0] == 0
    kept = read_plan_file(after)
    assert next(item.end for item in kept.worked_out.timetable.placed if item.task == "cook") == 18 * 60 + 50
    assert run("replan", str(after), day[1])[0] == 0


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("missing.json", "{progress}"), "missing.json can't be read"),
        (("{progress}", "{progress}"), "plan again"),
        (("{plan}", "missing.yaml"), "there is no such file"),
        (("{plan}", "{progress}", "--seconds", "61"), "0 to 60 seconds"),
        (("{plan}", "{progress}", "--keep", "no/such/folder/plan.json"), "can't be written"),
    ],
)
def test_what_is_wrong_is_one_sentence(words: tuple[str, ...], sentence: str, day: tuple[str, str], run: Run) -> None:
    code, out, err = run("replan", *(word.format(plan=day[0], progress=day[1]) for word in words))
    assert code == 2
    assert sentence in err
    assert out == ""


def test_a_file_that_is_no_text_is_no_plan(day: tuple[str, str], run: Run, tmp_path: Path) -> None:
    (tmp_path / "picture").write_bytes(b"\xff\xfe\x00")
    code, _, err = run("replan", str(tmp_path / "picture"), day[1])
    assert code == 2
    assert "holds no plan" in err
