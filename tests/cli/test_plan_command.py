"""`stillroom plan FOLDER`, run as a person runs it."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

DEMO = Path(__file__).parents[2] / "examples" / "demo"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "stillroom.cli", "plan", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def shown() -> subprocess.CompletedProcess[str]:
    return run(str(DEMO))


def test_it_works(shown: subprocess.CompletedProcess[str]) -> None:
    assert shown.returncode == 0
    for heading in (
        "What becomes of the food",
        "Process cards",
        "Refused for safety",
        "What to have ready",
        "Friday 9 April by the clock",
        "What is left over",
        "Larder and freezer afterwards",
        "Where it is tight",
        "Cautions",
    ):
        assert heading in shown.stdout
    assert "invented" in shown.stdout.splitlines()[0]
    assert "at 12.5 psi" in shown.stdout
    assert "\x1b[" not in shown.stdout  # no colour codes into a file


def test_progress_is_told_apart_from_the_plan(shown: subprocess.CompletedProcess[str]) -> None:
    assert "splitting the food" in shown.stderr
    assert "splitting the food" not in shown.stdout


def test_cautions_are_on_every_plan(shown: subprocess.CompletedProcess[str]) -> None:
    assert "local food-safety authority" in " ".join(shown.stdout.split())


def test_json_for_machines() -> None:
    answer = run(str(DEMO), "--days", "2", "--from", "17:20", "--json", "--seconds", "4")
    assert answer.returncode == 0
    plan = json.loads(answer.stdout)
    assert (plan["days"], plan["start"], plan["invented"]) == (2, "2027-04-09", True)
    assert {run["day"] for run in plan["runs"]} <= {"2027-04-09", "2027-04-10"}
    assert all({"start", "end", "text", "person"} <= task.keys() for task in plan["tasks"])
    assert min(task["start"] for task in plan["tasks"]) >= "2027-04-09 17:20"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ((str(DEMO), "--days", "0"), "1 to 14 days"),
        ((str(DEMO), "--days", "15"), "1 to 14 days"),
        ((str(DEMO), "--seconds", "1"), "2 to 600 seconds"),
        ((str(DEMO), "--from", "half past five"), "give --from one like 17:30"),
        ((str(DEMO / "nowhere"),), "is not a folder"),
        ((str(DEMO / "kitchen.yaml"),), "is not a folder"),
    ],
)
def test_bad_input_is_one_sentence_and_exit_code_2(arguments: tuple[str, ...], words: str) -> None:
    answer = run(*arguments)
    assert answer.returncode == 2
    assert answer.stdout == ""
    assert len(answer.stderr.strip().splitlines()) == 1
    assert words in answer.stderr


def test_a_broken_file_names_its_line_and_nothing_is_planned(tmp_path: Path) -> None:
    for file in DEMO.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    arrivals = tmp_path / "arrivals.yaml"
    arrivals.write_text(arrivals.read_text(encoding="utf-8").replace("food: tomatoes", "food: tomatonium"), "utf-8")
    answer = run(str(tmp_path))
    assert answer.returncode == 2
    assert "arrivals.yaml, line 3" in answer.stderr
    assert "tomatonium" in answer.stderr
    assert answer.stdout == ""


def test_what_if_shows_two_plans_side_by_side() -> None:
    answer = run(str(DEMO), "--days", "1", "--seconds", "2", "--what-if", "+1 burner", "--what-if", "freezer +100 L")
    assert answer.returncode == 0
    words = " ".join(answer.stdout.split())
    assert "There are 5 burners." in words
    assert "The freezer holds 320 L." in words
    assert "now then difference" in words
    assert "freezer planned up to, L 187 272 +85" in words
    assert "first the plan as things are (about 2 s)" in answer.stderr


def test_what_if_for_machines() -> None:
    answer = run(str(DEMO), "--days", "1", "--seconds", "2", "--what-if", "no tomatoes", "--json")
    found = json.loads(answer.stdout)
    assert found["changes"] == ["there is no tomato"]
    assert found["now"]["worth_in"] > found["then"]["worth_in"]
    assert found["plan_then"]["start"] == "2027-04-09"


def test_a_what_if_that_can_not_be_read_is_refused_before_planning() -> None:
    answer = run(str(DEMO), "--what-if", "freezer bigger")
    assert answer.returncode == 2
    assert answer.stdout == ""
    assert len(answer.stderr.strip().splitlines()) == 1
    assert "This can be asked: freezer +100 L" in answer.stderr


def test_why_not_is_answered_after_the_plan() -> None:
    answer = run(str(DEMO), "--days", "1", "--seconds", "2", "--why-not", "sourdough on friday")
    assert answer.returncode == 0
    assert "Why not Sourdough on Friday?" in answer.stdout.split("You asked")[1]


def test_what_can_not_be_doubted_is_refused_before_planning() -> None:
    answer = run(str(DEMO), "--why-not", "unicorn on friday")
    assert (answer.returncode, answer.stdout) == (2, "")
    assert "no one recipe “unicorn”" in answer.stderr
    both = run(str(DEMO), "--why-not", "sourdough on friday", "--what-if", "+1 burner")
    assert both.returncode == 2
    assert "either --what-if or --why-not" in both.stderr
