"""`stillroom heat`: card or refusal first, bands only, exit codes of `stillroom process`, chart, log, start-up."""

from __future__ import annotations

import json
import math
import os
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from chemicals.vapor_pressure import Psat_IAPWS

BEEF = ("beef", "--form", "ground or chopped", "--altitude", "2500 ft", "--gauge-tested", "2026-05-01")
DIAL = (*BEEF, "--jar", "quart", "--canner", "dial")
RAW_CHICKEN = ("chicken", "--form", "with bones", "--pack", "raw", "--jar", "quart", "--altitude", "100 m",
               "--canner", "weighted")  # fmt: skip


@cache
def stillroom(*words: str) -> subprocess.CompletedProcess[str]:
    wide = {**os.environ, "COLUMNS": "5000"}
    command = [sys.executable, "-m", "stillroom.cli", *words]
    return subprocess.run(command, capture_output=True, text=True, check=False, env=wide)


def heat(*words: str) -> subprocess.CompletedProcess[str]:
    return stillroom("heat", *words)


def test_a_tested_card_comes_first_and_unchanged() -> None:
    process, said = stillroom("process", *DIAL), heat(*DIAL)
    assert (process.returncode, said.returncode, said.stderr) == (0, 0, "")
    assert said.stdout.startswith(process.stdout.rstrip("\n"))
    note = said.stdout[len(process.stdout) :]
    assert note.startswith("HEAT MODEL")
    for part in (
        "for caution only",
        "can't shorten, lengthen, rescue or replace",
        "F0",
        "while cooling",
        "at least 3 min",
    ):
        assert part in note
    assert "authority" in said.stdout


def test_every_lethality_is_a_band() -> None:
    note = heat(*DIAL).stdout.partition("HEAT MODEL")[2]
    for found in re.findall(r"(?:F0|while heating|while cooling) (.{0,12})", note):
        assert re.match(r"(under )?[\d.]+ to ", found), found


def test_a_low_band_adds_one_warning_to_the_card_and_nothing_else() -> None:
    process = json.loads(stillroom("process", *RAW_CHICKEN, "--json").stdout)
    said = json.loads(heat(*RAW_CHICKEN, "--json").stdout)
    assert said["heat"]["is_low"] is True
    assert len(said["warnings"]) == len(process["warnings"]) + 1
    for key, value in process.items():
        if key != "warnings":
            assert said[key] == value
    text = heat(*RAW_CHICKEN).stdout
    assert "  ! Heat model (caution only)" in text
    assert "process stands as printed" in text


def test_json_of_a_tested_card() -> None:
    process = json.loads(stillroom("process", *DIAL, "--json").stdout)
    said = json.loads(heat(*DIAL, "--json").stdout)
    heat_keys = said.pop("heat")
    assert said == process
    for key in ("lethality", "while_heating", "while_cooling"):
        band = heat_keys[key]
        assert band["low"] < band["middle"] < band["high"]
        assert band["unit"] == "min"
    assert len({len(series) for series in heat_keys["curve"].values()}) == 1
    assert not {"minutes", "pressure_psi", "process"} & set(heat_keys)


@pytest.mark.parametrize(
    "words", [("--jar", "1200ml", "--canner", "dial"), ("--jar", "quart", "--canner", "boiling water")]
)
def test_a_refusal_comes_first_and_whole(words: tuple[str, ...], tmp_path: Path) -> None:
    picture = tmp_path / "none.svg"
    process, said = stillroom("process", *BEEF, *words), heat(*BEEF, *words, "--svg", str(picture))
    if "boiling" in words[-1]:
        process = stillroom("process", *BEEF[:-2], *words)
        said = heat(*BEEF[:-2], *words, "--svg", str(picture))
    assert (process.returncode, said.returncode) == (3, 3)
    assert said.stdout.startswith(process.stdout.rstrip("\n"))
    assert said.stdout.startswith("REFUSED")
    note = said.stdout.partition("HEAT MODEL")[2]
    assert "No lethality is worked out" in note
    assert "as little as" in note
    assert not re.search(r"\bF0\b|\d+ min(utes)? (at|in|more)", note)
    assert not picture.exists()


def test_json_of_a_refusal_has_no_lethality() -> None:
    said = heat(*BEEF, "--jar", "1200ml", "--canner", "dial", "--json")
    keys = json.loads(said.stdout)
    assert said.returncode == 3
    assert next(iter(keys)) == "tested"
    assert keys["tested"] is False
    assert keys["heat"]["lethality"] is None
    assert keys["heat"]["share_of_tested"]["low"] < 100


def test_a_food_without_any_process_is_refused() -> None:
    said = heat("leek", "--jar", "pint", "--canner", "dial", "--altitude", "100 m")
    assert said.returncode == 3
    assert said.stdout.startswith("REFUSED")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("tomatto", "--jar", "quart", "--canner", "dial", "--altitude", "0 m"), "nearest"),
        (("beef", "--jar", "quart", "--canner", "dial", "--altitude", "0 m"), "strips, cubes or chunks"),
        ((*BEEF, "--jar", "bucket", "--canner", "dial"), "half-pint, pint, quart"),
        ((*DIAL, "--log", "no-such-log.csv"), "no-such-log.csv"),
        ((*DIAL, "--svg", "/no-such-folder/chart.svg"), "Name another file"),
        ((*DIAL, "--gauge-tested", "May"), "2026-06-30"),
        ((*DIAL, "--amount", "10 lb"), "leave --amount out"),
    ],
)
def test_bad_input_is_one_sentence_and_exit_code_2(words: tuple[str, ...], says: str) -> None:
    said = heat(*words)
    assert (said.returncode, said.stdout) == (2, "")
    assert says in said.stderr
    assert said.stderr.count("\n") == 1


def test_jars_for_an_amount_as_in_process() -> None:
    beans = ("haricots verts", "--pack", "raw", "--jar", "quart", "--canner", "dial", "--altitude", "100 m")
    assert "have 7 ready" in heat(*beans, "--amount", "14 lb").stdout


def test_the_chart(tmp_path: Path) -> None:
    path = tmp_path / "beef.svg"
    said = heat(*DIAL, "--svg", str(path))
    assert said.returncode == 0
    root = ElementTree.parse(path).getroot()
    assert root[0].text is not None
    assert root[0].text.startswith("Inside the jar: beef")
    assert "printed process stands" in (root[1].text or "")


def test_options_are_those_of_process() -> None:
    def options(command: str) -> set[str]:
        return set(re.findall(r"^ +(--[a-z-]+)", stillroom(command, "--help").stdout, flags=re.MULTILINE))

    assert options("process") < options("heat")
    assert options("heat") - options("process") == {"--svg", "--log", "--inside"}


# Logs, made up: a canner that heats in 22 min, holds 115.7 °C for 90 min and cools; a jar that follows with one lag.


def canner_c(minute: float) -> float:
    if minute < 25:
        return 60 + (115.7 - 60) * minute / 25
    return 115.7 if minute <= 115 else 22 + 93.7 * math.exp(-(minute - 115) / 250)


def written(path: Path, fh_min: float, start_c: float) -> Path:
    temp_c, lines = start_c, ["minutes,jar_c,canner_c"]
    for step in range(0, 1801):
        minute = step / 10
        if step % 20 == 0:
            lines.append(f"{minute:.0f},{temp_c:.2f},{canner_c(minute):.2f}")
        temp_c += (canner_c(minute) - temp_c) * math.log(10) / fh_min / 10
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def test_a_log_as_expected(tmp_path: Path) -> None:
    path = written(tmp_path / "probe.csv", 45.0, 80.0)
    keys: dict[str, Any] = json.loads(heat(*DIAL, "--log", str(path), "--json").stdout)["logs"][0]
    assert keys["fh"]["low"] < 45.0 < keys["fh"]["high"]
    assert keys["fh"]["middle"] == pytest.approx(45.0, rel=0.03)
    assert keys["hold_c"] == pytest.approx(115.7, abs=0.01)
    text = heat(*DIAL, "--log", str(path)).stdout
    assert "LOG  probe.csv" in text
    assert "makes no process" in text
    assert "more slowly than expected" not in text
    assert "not processed in full" not in text
    assert "without a break for 90 to 94 min" in text


def test_a_slow_log_is_warned_of(tmp_path: Path) -> None:
    path = written(tmp_path / "probe.csv", 160.0, 60.0)
    process = stillroom("process", *DIAL)
    said = heat(*DIAL, "--log", str(path))
    assert said.returncode == 0
    assert "more slowly than expected" in said.stdout
    assert said.stdout.startswith(process.stdout.rstrip("\n"))


def test_a_hold_cut_short_is_told(tmp_path: Path) -> None:
    path = written(tmp_path / "probe.csv", 45.0, 80.0)
    text = path.read_text(encoding="utf-8")
    path.write_text(re.sub(r"(\n60,[\d.]+),[\d.]+", r"\1,112.0", text), encoding="utf-8")
    said = heat(*DIAL, "--log", str(path))
    assert said.returncode == 0
    assert "not processed in full" in said.stdout


def test_a_log_tells_the_times_of_the_canner_and_a_vent_cut_short(tmp_path: Path) -> None:
    for vent_min, is_told in ((10, False), (4, True)):
        path = tmp_path / f"vent-{vent_min}.csv"
        ends = [0, 14, 14 + vent_min, 18 + vent_min, 108 + vent_min, 148 + vent_min]
        canner = np.interp(range(ends[-1]), ends, [60, 97.4, 97.4, 115.7, 115.7, 94.0])
        rows = [f"{minute},{117 - 50 * 10 ** (-minute / 60):.2f},{c:.2f}" for minute, c in enumerate(canner)]
        path.write_text("\n".join(["minutes,jar_c,canner_c", *rows]), encoding="utf-8")
        said = heat(*DIAL, "--log", str(path))
        assert "The canner, to the boil:" in said.stdout
        assert ("at the boil too briefly" in said.stdout) == is_told
        canner_keys = json.loads(heat(*DIAL, "--log", str(path), "--json").stdout)["logs"][0]["canner"]
        truth = {"heat_up": 14, "vent": vent_min, "come_up": 4}
        for name, minutes in truth.items():
            assert canner_keys[name]["low"] <= minutes <= canner_keys[name]["high"]


def test_a_gauge_log_and_two_runs_teach_the_canner(tmp_path: Path) -> None:
    """Two runs of a canner that loses pressure in 20 and 22 min; the second is read from its gauge."""
    rows, psi_rows = [], []
    for step in range(0, 1800, 10):
        minute = step / 10
        jar_c = 117 - 50 * 10 ** (-minute / 50) if minute < 116 else 22 + 94.5 * math.exp(-(minute - 116) / 300)
        temp_c = canner_c(minute)
        psi = max((Psat_IAPWS(temp_c + 273.15) - 92510) / 6894.757, 0.0)  # 92.5 kPa of air at 762 m
        rows.append(f"{minute},{jar_c:.2f},{temp_c:.2f}")
        psi_rows.append(f"{minute},{jar_c:.2f},{psi:.2f}")
    probe, gauge = tmp_path / "probe.csv", tmp_path / "gauge.csv"
    probe.write_text("\n".join(["minutes,jar_c,canner_c", *rows]), encoding="utf-8")
    gauge.write_text("\n".join(["minutes,jar_c,canner_psi", *psi_rows]), encoding="utf-8")
    said = json.loads(heat(*DIAL, "--log", str(probe), "--log", str(gauge), "--json").stdout)
    one, other = said["logs"]
    assert (one["name"], other["name"]) == ("probe.csv", "gauge.csv")
    assert other["hold_c"] == pytest.approx(one["hold_c"], abs=0.2)
    assert other["canner"]["heat_up"] is None
    assert one["canner"]["heat_up"] is not None
    assert other["canner"]["cooling_to_no_pressure"]["middle"] == pytest.approx(
        one["canner"]["cooling_to_no_pressure"]["middle"], rel=0.15
    )
    own, usual = said["in_own_canner"], said["heat"]
    assert own["runs"] == 2
    assert own["while_cooling"]["high"] / own["while_cooling"]["low"] < (
        usual["while_cooling"]["high"] / usual["while_cooling"]["low"]
    )
    text = heat(*DIAL, "--log", str(probe), "--log", str(gauge)).stdout
    assert text.count("LOG  ") == 2
    assert "YOUR CANNER  by 2 runs" in text
    assert "never takes one away" in text
    twice = heat(*DIAL, "--log", str(probe), "--log", str(probe))
    assert (twice.returncode, "named twice" in twice.stderr) == (2, True)


def test_a_jar_that_thickens_is_warned_of(tmp_path: Path) -> None:
    path, temp_c, lines = tmp_path / "probe.csv", 60.0, ["minutes,jar_c,canner_c"]
    for step in range(0, 1801):
        minute = step / 10
        if step % 10 == 0:
            lines.append(f"{minute:.0f},{temp_c:.2f},{canner_c(minute):.2f}")
        temp_c += (canner_c(minute) - temp_c) * math.log(10) / (30.0 if minute < 36 else 110.0) / 10
    path.write_text("\n".join(lines), encoding="utf-8")
    said = heat(*DIAL, "--log", str(path))
    assert said.returncode == 0
    assert "The heating line breaks 3" in said.stdout
    assert "have no tested process" in said.stdout.partition("LOG")[2]
    keys = json.loads(heat(*DIAL, "--log", str(path), "--json").stdout)["logs"][0]
    assert keys["broken"]["fh_before"]["middle"] == pytest.approx(30, rel=0.1)
    assert keys["broken"]["fh_after"]["middle"] == pytest.approx(110, rel=0.1)
    assert keys["by_ball"] is None


def test_a_measured_jar(tmp_path: Path) -> None:
    said = heat(*DIAL, "--inside", "84 mm")
    assert "inside radius 41 to 43 mm (as measured)" in said.stdout
    assert said.stdout.startswith(stillroom("process", *DIAL).stdout.rstrip("\n"))
    wrong = heat(*DIAL, "--inside", "3 mm")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "measure it again" in wrong.stderr


def test_a_log_without_the_canner_says_what_it_can_not_tell(tmp_path: Path) -> None:
    path = written(tmp_path / "probe.csv", 45.0, 80.0)
    path.write_text(re.sub(r",[\d.]+$|,canner_c", "", path.read_text(encoding="utf-8"), flags=re.M), encoding="utf-8")
    said = heat(*DIAL, "--log", str(path))
    assert "No canner was logged" in said.stdout
    assert "The canner," not in said.stdout
    assert json.loads(heat(*DIAL, "--log", str(path), "--json").stdout)["logs"][0]["canner"] is None


def test_a_canner_that_never_came_up_is_told(tmp_path: Path) -> None:
    path = tmp_path / "probe.csv"
    rows = [f"{minute},{99 - 60 * 10 ** (-minute / 40):.2f},{min(60 + 3 * minute, 100)}" for minute in range(120)]
    path.write_text("\n".join(["minutes,jar_c,canner_c", *rows]), encoding="utf-8")
    said = heat(*DIAL, "--log", str(path)).stdout
    assert "The canner never stood at its mark" in said
    assert "not processed in full" in said
    assert "while cooling under 0.01 min" in said


def test_a_wrong_log_names_its_line(tmp_path: Path) -> None:
    path = written(tmp_path / "probe.csv", 45.0, 80.0)
    path.write_text(path.read_text(encoding="utf-8").replace("\n10,", "\nten,"), encoding="utf-8")
    said = heat(*DIAL, "--log", str(path))
    assert said.returncode == 2
    assert "line 7: minutes: “ten” is not a number" in said.stderr


def test_help_loads_no_heavy_library() -> None:
    code = (
        "import sys; import stillroom.cli.heat_command;"
        "print([m for m in ('ortools', 'yaml', 'pydantic', 'rich', 'numpy', 'scipy', 'altair') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_no_command_of_the_kitchen_loads_the_chart_or_the_cluster_library() -> None:
    code = (
        "import sys; from stillroom.heat.answer import answer; from stillroom.heat.question import HeatQuestion;"
        "from stillroom.model.process import CannerKind;"
        "answer(HeatQuestion('carrot', None, 'raw', 'pint', CannerKind.DIAL, 0.0));"
        "print([m for m in ('altair', 'vl_convert', 'dask', 'distributed', 'fluids', 'chemicals') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_boiling_water_canner_is_learnt_from_its_log(tmp_path: Path) -> None:
    """Made by hand: water from 60 °C to the boil in 40 min, then held; the jar follows it with an fh of 15 min."""
    lines, jar_c = ["minutes,jar_c,canner_c"], 55.0
    for minute in range(0, 101):
        canner_c = min(60 + minute, 100.0) if minute <= 80 else 100 - 1.5 * (minute - 80)
        lines.append(f"{minute},{jar_c:.2f},{canner_c:.2f}")
        jar_c += (canner_c - jar_c) * (1 - 10 ** (-1 / 15))
    log = tmp_path / "pears.csv"
    log.write_text("\n".join(lines))
    said = heat(
        "pears", "--jar", "quart", "--canner", "boiling water", "--altitude", "0 m", "--log", str(log), "--json"
    )
    assert said.returncode == 0, said.stderr
    answer = json.loads(said.stdout)
    found = answer["logs"][0]["canner"]["heat_up"]
    assert found["low"] <= 40 <= found["high"] + 1  # a probe within a degree of the boil counts as boiling
    assert answer["in_own_canner"] is not None
