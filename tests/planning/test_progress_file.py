"""The file that says how far the day has come."""

from __future__ import annotations

from pathlib import Path

import pytest
from kept_day import kept_day

from stillroom.errors import FileError, Refusal
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.progress_file import read_progress
from stillroom.timetable.problem import Span
from stillroom.timetable.progress import Progress

# The numbers are those of the plan as printed: 1 trim, 2 boil, 3 fill, 4 heat, 5 cut, 6 cook, 7 cool, 8 sweep.


@pytest.fixture
def kept() -> KeptPlan:
    return kept_day()


def read(text: str, kept: KeptPlan, tmp_path: Path) -> Progress:
    path = tmp_path / "progress.yaml"
    path.write_text(text, encoding="utf-8")
    return read_progress(path, kept)


def test_it_works(kept: KeptPlan, tmp_path: Path) -> None:
    seen = read(
        """
now: 2027-04-09 16:50
finished:
  - {task: 1, began: 16:05, at: 16:40, by: B}
started:
  - {task: 2, at: 2027-04-09 16:42, left: 20 min}
""",
        kept,
        tmp_path,
    )
    assert seen == Progress(1010, {"trim": Span(965, 1000)}, {"boil": Span(1002, 1030)}, {"trim": "B"})


def test_what_was_over_by_then_is_done_as_planned_unless_it_is_named(kept: KeptPlan, tmp_path: Path) -> None:
    seen = read("now: 2027-04-09 17:10\ndone until: 16:50\nnot begun: [2]\n", kept, tmp_path)
    assert seen.finished == {"trim": Span(960, 990)}
    assert seen.going_on == {}


def test_days_before_are_done_and_today_is_open(kept: KeptPlan, tmp_path: Path) -> None:
    assert read("now: 2027-04-09 17:10\n", kept, tmp_path).finished == {}
    assert set(read("now: 2027-04-10 07:00\n", kept, tmp_path).finished) == {
        item.task for item in kept.worked_out.timetable.placed
    }


def test_what_must_come_before_something_begun_is_done(kept: KeptPlan, tmp_path: Path) -> None:
    seen = read("now: 2027-04-09 17:00\nstarted: [{task: 3, at: 16:44}]\n", kept, tmp_path)
    assert seen.finished == {"trim": Span(960, 990), "boil": Span(990, 1004)}
    assert seen.going_on["fill"].start == 1004


def test_when_nobody_said_when_something_ended_it_ended_in_time(kept: KeptPlan, tmp_path: Path) -> None:
    """Heating began half an hour late and nobody wrote down the filling: no clock is said to be broken."""
    seen = read("now: 2027-04-09 17:40\nstarted: [{task: 4, at: 17:30}]\n", kept, tmp_path)
    assert 1050 - 10 <= seen.finished["fill"].end <= 1050


@pytest.mark.parametrize(
    "text",
    [
        "now: 2027-04-09 17:40\nfinished: [{task: 4, began: 17:00, at: 17:34}]",
        "now: 2027-04-09 17:10\nstarted: [{task: 4, at: 17:00, left: 20 min}]",
    ],
)
def test_a_process_that_is_cut_short_is_refused(text: str, kept: KeptPlan, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="35 min: a process that was cut short is done again in full"):
        read(text, kept, tmp_path)


def test_a_load_that_heats_up_quickly_is_none_that_is_cut_short(kept: KeptPlan, tmp_path: Path) -> None:
    seen = read("now: 2027-04-09 17:40\nfinished: [{task: 4, began: 17:00, at: 17:35}]", kept, tmp_path)
    assert seen.finished["heat"] == Span(1020, 1055)


def test_nobody_sits_down_before_dinner_is_done(kept: KeptPlan, tmp_path: Path) -> None:
    late = read("now: 2027-04-09 18:40\nstarted: [{task: 6, at: 18:10}]\n", kept, tmp_path)
    assert not {"A", "B"} & {*late.going_on, *late.finished}
    done = read("now: 2027-04-09 18:40\nfinished: [{task: 6, at: 18:30}]\n", kept, tmp_path)
    assert done.going_on["A"] == Span(1110, 1140)


@pytest.mark.parametrize(
    ("text", "place", "sentence"),
    [
        ("now: 16:50", "line 1: now", "“now” with its date"),
        ("now: soon", "line 1: now", "“soon” can't be read"),
        ("now: 2027-04-31 16:50", "line 1: now", "can't be read"),
        ("now: 2027-06-01 10:00", "line 1: now", "not within this plan"),
        ("now: 2026-04-09 10:00", "line 1: now", "not within this plan"),
        ("finished: []", "now", "needed"),
        ("now: 2027-04-09 16:50\nfinished: [{task: 9, at: 16:10}]", "line 2: finished.1.task", "tasks 1 to 8"),
        ("now: 2027-04-09 16:50\nfinished: [{task: 0, at: 16:10}]", "line 2: finished.1.task", "tasks 1 to 8"),
        ("now: 2027-04-09 16:50\nfinished: [{task: 1, at: 16:51}]", "line 2: finished.1.at", "later than the time"),
        ("now: 2027-04-09 16:50\nfinished: [{task: 1, began: 16:20, at: 16:10}]", "began", "after it ended"),
        ("now: 2027-04-09 16:50\nfinished: [{task: 1, at: 16:10, by: C}]", "finished.1.by", "there are A, B"),
        ("now: 2027-04-09 16:50\nstarted: [{task: 1, at: 16:10, left: soon}]", "started.1.left", "like “25 min”"),
        ("now: 2027-04-09 16:50\nstarted: [{task: 1, at: 16:10, left: 0}]", "started.1.left", "from 1"),
        (
            "now: 2027-04-09 16:50\nfinished: [{task: 1, at: 16:10}]\nstarted: [{task: 1, at: 16:10}]",
            "line 3: started.1.task",
            "twice",
        ),
        ("now: 2027-04-09 16:50\nnot begun: [12]", "not begun.1", "tasks 1 to 8"),
        ("now: 2027-04-09 16:50\ndone until: 17:00", "line 2: done until", "later than the time it is"),
        ("now: 2027-04-09 16:50\nbegun: []", "begun", "no such field"),
    ],
)
def test_what_is_wrong_is_said_with_its_line(
    text: str, place: str, sentence: str, kept: KeptPlan, tmp_path: Path
) -> None:
    with pytest.raises(FileError) as found:
        read(text, kept, tmp_path)
    assert place in str(found.value)
    assert sentence in str(found.value)
