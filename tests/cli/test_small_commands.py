"""What all small commands have in common: they start fast, and an amount with a sign is told."""

from __future__ import annotations

import resource
import subprocess
import sys
from typing import Any

import pytest


@pytest.mark.parametrize(
    "arguments",
    [
        ("cure", "bacon", "4 kg", "--method", "dry", "--ppm", "120", "--mix", "6.25%", "--salt", "2.5%"),
        ("dough", "--flour", "1 kg", "--water", "65%", "--salt", "2%"),
        ("syrup", "light", "--quarts", "7"),
    ],
)
def test_small_commands_start_fast(arguments: tuple[str, ...]) -> None:
    """Under 0.4 s of processor time, start to end: the wall clock depends on who else is working."""
    best_s = 9.0
    for _ in range(3):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-m", "stillroom.cli", *arguments], capture_output=True, check=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        best_s = min(best_s, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    assert best_s < 0.4


def test_nothing_heavy_is_imported_by_a_small_command() -> None:
    """pydantic is left out: typer itself imports it."""
    program = (
        "import sys; sys.argv = ['stillroom', 'syrup', 'light', '--quarts', '7']\n"
        "from stillroom.cli.main import main\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "print(sorted({'ortools', 'yaml', 'stillroom.yaml_files'} & set(sys.modules)))"
    )
    answer = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert answer.stdout.splitlines()[-1] == "[]"


def test_an_amount_with_a_sign_is_told_in_a_sentence(run: Any) -> None:
    code, _, err = run("scale", "tomatoes_whole_jarred", "-20 lb")
    assert (code, "without a sign" in err) == (2, True)
    assert run("scale", "tomatoes_whole_jarred", "20 lb", "--jsn")[0] == 2
