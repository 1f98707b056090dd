"""`stillroom sweep`: a real small sweep, started twice, alone and with workers; one sentence for nonsense."""

from __future__ import annotations

import csv
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest


def sweep(*words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "stillroom.cli", "sweep", *words]
    return subprocess.run(command, capture_output=True, text=True, check=False, env={**os.environ, "COLUMNS": "5000"})


def test_a_small_sweep_and_its_restart(tmp_path: Path) -> None:
    words = (str(tmp_path), "--food", "green beans", "--every", "40", "--samples", "30")
    said = sweep(*words, "--json")
    assert said.returncode == 0, said.stderr
    keys = json.loads(said.stdout)
    with (tmp_path / "outcomes.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    assert keys["cases"] == len(lines) > 10
    assert {line["food"] for line in lines} == {"green bean"}
    assert keys["tested"] + sum(keys["refused"].values()) == len(lines)
    assert "1 of 1 chunks" in said.stderr
    before = (tmp_path / "chunk-000000.csv").stat().st_mtime_ns
    again = sweep(*words)
    assert "makes none" in again.stdout
    assert (tmp_path / "chunk-000000.csv").stat().st_mtime_ns == before
    other = sweep(*words[:-1], "40")
    assert (other.returncode, other.stdout) == (2, "")
    assert "another sweep" in other.stderr


def test_two_workers_give_the_same_file(tmp_path: Path) -> None:
    pytest.importorskip("distributed")
    words = ("--food", "carrots", "--every", "60", "--samples", "20")
    alone = sweep(str(tmp_path / "alone"), *words)
    together = sweep(str(tmp_path / "together"), *words, "--workers", "2")
    assert (alone.returncode, together.returncode) == (0, 0), together.stderr
    one, other = ((tmp_path / name / "outcomes.csv").read_bytes() for name in ("alone", "together"))
    assert one == other


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--food", "leek"), "nothing to ask"),
        (("--food", "blorp"), "blorp"),
        (("--workers", "2", "--scheduler", "tcp://127.0.0.1:1"), "one of them"),
        (("--every", "9000", "--scheduler", "nowhere"), "tcp://host:port"),
    ],
)
def test_nonsense_is_one_sentence(tmp_path: Path, words: tuple[str, ...], says: str) -> None:
    said = sweep(str(tmp_path / "out"), *words)
    assert (said.returncode, said.stdout) == (2, "")
    assert says in said.stderr
    assert "Traceback" not in said.stderr


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("kept", encoding="utf-8")
    said = sweep(str(tmp_path / "out"), "--food", "carrots", "--every", "60", "--samples", "20")
    assert (said.returncode, said.stdout) == (2, "")
    assert "name another" in said.stderr
    assert (tmp_path / "out").read_text(encoding="utf-8") == "kept"
