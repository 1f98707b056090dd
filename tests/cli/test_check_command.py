"""`stillroom check FOLDER`."""

import json
import subprocess
import sys
from pathlib import Path

DEMO = Path(__file__).parents[2] / "examples" / "demo"


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "stillroom.cli", "check", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_it_works() -> None:
    answer = run(str(DEMO))
    assert (answer.returncode, answer.stderr) == (0, "")
    lines = answer.stdout.splitlines()
    assert lines[0].endswith("(invented)")
    assert any("24.0 kg  tomato, counter, until Mon 12 Apr" in line for line in lines)
    assert any("only 33 lids" in line for line in lines)
    assert "freezer 220 L, 55 L free" in answer.stdout


def test_json_says_the_same() -> None:
    answer = run(str(DEMO), "--days", "2", "--json")
    assert answer.returncode == 0
    said = json.loads(answer.stdout)
    assert (said["invented"], said["days"], said["altitude_m"], said["freezer_free_l"]) == (True, 2, 690, 55)
    assert {arrival["day"] for arrival in said["arrivals"]} == {"2027-04-09", "2027-04-10"}
    tomato = next(arrival for arrival in said["arrivals"] if arrival["food"] == "tomato")
    assert (tomato["mass_g"], tomato["until"]) == (24_000, "2027-04-12")
    assert {"kind": "quart", "count": 36, "lids": 33} in said["jars"]
    assert all(meal["key"].startswith(("2027-04-09", "2027-04-10")) for meal in said["meals"])
    assert len(said["warnings"]) >= 2


def test_every_wrong_file_is_told_with_exit_code_2(tmp_path: Path) -> None:
    for file in DEMO.glob("*.yaml"):
        text = file.read_text(encoding="utf-8").replace("burners: 4", "burners: all").replace("age: 12", "age: young")
        (tmp_path / file.name).write_text(text, encoding="utf-8")
    answer = run(str(tmp_path))
    assert (answer.returncode, answer.stdout) == (2, "")
    first, second = answer.stderr.splitlines()
    assert "household.yaml, line" in first
    assert "eaters.3.age" in first
    assert "kitchen.yaml, line" in second
    assert "burners" in second


def test_no_folder_is_exit_code_2(tmp_path: Path) -> None:
    answer = run(str(tmp_path / "nowhere"))
    assert answer.returncode == 2
    assert "is not a folder" in answer.stderr
