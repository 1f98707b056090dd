"""`stillroom process`: the examples of the job, exit codes, JSON keys, plain text, start-up."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

BEEF = ("process", "beef", "--form", "ground or chopped", "--pack", "hot", "--altitude", "2500 ft")
DIAL = (*BEEF, "--jar", "quart", "--canner", "dial")


def test_the_tested_process_as_json(run: Any) -> None:
    code, out, err = run(*DIAL, "--json")
    said = json.loads(out)
    assert (code, err) == (0, "")
    assert (said["tested"], said["minutes"], said["pressure_psi"]) == (True, 90, 12)
    assert said["pressure_kpa"] == pytest.approx(82.7, abs=0.05)
    assert (said["jar_counted_as"], said["headspace_in"], said["acidification"]) == ("quart", 1, None)
    assert said["evidence"] in ("two_pages", "page")
    assert said["source"]
    assert "authority" in said["caution"]


def test_the_tested_process_as_text(run: Any) -> None:
    code, out, _err = run(*DIAL)
    assert code == 0
    for part in (
        "TESTED",
        "90 min at 12 psi (83 kPa)",
        "Headspace 1 in (25 mm)",
        "Source: ",
        "authority",
        "No gauge test",
    ):
        assert part in out


def test_a_jar_too_large_is_refused_with_everything_the_cook_needs(run: Any) -> None:
    code, out, _err = run(*BEEF, "--jar", "1200ml", "--canner", "dial", "--json")
    said = json.loads(out)
    assert (code, said["tested"], said["rule"]) == (3, False, "jar too large")
    assert "108 min" in said["common_practice"]
    assert said["common_practice_tested"] is False
    jars = [(way["jar"], way["minutes"]) for way in said["alternatives"] if "jar" in way]
    assert jars == [("quart", 90), ("pint", 75)]
    text = run(*BEEF, "--jar", "1200ml", "--canner", "dial")[1]
    assert "REFUSED" in text
    assert "NOT TESTED: Common practice (no source)" in text


def test_boiling_water_is_refused(run: Any) -> None:
    code, out, _err = run(*BEEF, "--jar", "quart", "--canner", "boiling water")
    assert code == 3
    assert "low acid needs pressure" in out


def test_acid_other_lines_and_counted_jars_are_shown(run: Any) -> None:
    words = (
        "process",
        "tomatoes",
        "--form",
        "crushed",
        "--jar",
        "12 oz",
        "--canner",
        "weighted",
        "--altitude",
        "100 m",
    )
    code, out, _err = run(*words)
    assert code == 0
    assert "12 oz (counted as pint)" in out
    assert "acid: bottled lemon juice" in out
    assert "Or instead: 20 min at 5 psi" in out
    water = run(*words[:-4], "--canner", "boiling water", "--altitude", "0 m")[1]
    assert "35 min in boiling water" in water


def test_gauge_and_its_test(run: Any) -> None:
    code, out, _err = run(*DIAL, "--gauge-error", "1", "--gauge-tested", "2001-05-01", "--json")
    said = json.loads(out)
    assert (code, said["pressure_psi"], said["pressure_psi_printed"]) == (0, 13, 12)
    assert len(said["warnings"]) == 2
    code, _out, err = run(*DIAL, "--gauge-tested", "May 2001")
    assert code == 2
    assert "2026-06-30" in err


def test_jars_for_an_amount(run: Any) -> None:
    beans = ("process", "haricots verts", "--pack", "raw", "--jar", "quart", "--canner", "dial", "--altitude", "100 m")
    code, out, _err = run(*beans, "--amount", "14 lb")
    assert code == 0
    assert "have 7 ready, expect at least 7" in out
    assert json.loads(run(*beans, "--amount", "14 lb", "--json")[1])["jars_most"] == 7
    code, _out, err = run(*DIAL, "--amount", "10 lb")
    assert code == 2
    assert "leave --amount out" in err


def test_a_note_on_the_average_is_shown(run: Any) -> None:
    words = ("process", "beets", "--jar", "quart", "--canner", "dial", "--altitude", "100 m", "--amount", "21 lb")
    assert "(topped: without tops)" in run(*words)[1]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("process", "tomatto", "--jar", "quart", "--canner", "dial", "--altitude", "0 m"), "nearest"),
        (("process", "beef", "--jar", "quart", "--canner", "dial", "--altitude", "0 m"), "strips, cubes or chunks"),
        ((*BEEF, "--jar", "bucket", "--canner", "dial"), "half-pint, pint, quart"),
        ((*BEEF, "--jar", "quart", "--canner", "pressure"), "dial"),
        ((*BEEF[:-1], "2500", "--jar", "quart", "--canner", "dial"), "2500 ft"),
        ((*BEEF, "--jar", "quart", "--canner", "weighted", "--gauge-error", "1"), "only a dial"),
    ],
)
def test_bad_input_is_one_sentence_and_exit_code_2(run: Any, words: tuple[str, ...], says: str) -> None:
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert says in err
    assert err.count("\n") == 1


def test_the_look_up_loads_no_heavy_library() -> None:
    """A small command starts fast: its module pulls in neither solver, YAML, pydantic, rich nor numpy."""
    code = (
        "import sys; import stillroom.cli.process_command;"
        "print([m for m in ('ortools', 'yaml', 'pydantic', 'rich', 'numpy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_cards_and_refusals_are_wrapped_to_the_terminal(run: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "70")
    for words in (DIAL, (*BEEF, "--jar", "1200ml", "--canner", "dial")):
        lines = run(*words)[1].splitlines()
        assert max(len(line) for line in lines if "http" not in line) <= 70
    steps = [at for at, line in enumerate(run(*DIAL)[1].splitlines()) if line.startswith("  1. ")]
    assert run(*DIAL)[1].splitlines()[steps[0] + 1].startswith("     ")


def test_control_characters_of_a_page_or_a_name_never_reach_the_terminal(run: Any) -> None:
    code, out, err = run("process", "be\x1b[2Jef\u202e", "--jar", "quart", "--canner", "dial", "--altitude", "0 m")
    assert (code, out) == (2, "")
    assert "be[2Jef" in err
    assert not {"\x1b", "\u202e"} & set(err)
    code, _out, err = run("process", "beef", "--jar", "\x1b]0;x\x07", "--canner", "dial", "--altitude", "0 m")
    assert (code, "\x1b" in err) == (2, False)
