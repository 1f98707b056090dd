"""A plan that was kept is the plan that was made, or is said to be of another version."""

import json

import pytest

from stillroom.errors import InputError
from stillroom.planning.kept_plan import KeptPlan, fingerprint, read_plan
from stillroom.planning.pipeline import WorkedOut
from stillroom.timetable.check import check
from stillroom.web.day.models import MadePlan
from stillroom.web.exchange.folder import folder_of


def test_it_works(made: MadePlan) -> None:
    kept = read_plan(made.kept)
    assert isinstance(kept.worked_out, WorkedOut)
    again = KeptPlan(folder=kept.folder, worked_out=kept.worked_out).as_text()
    assert read_plan(again) == kept
    assert kept.worked_out.plan.runs
    # Nothing is lost that the check without the solver looks at.
    assert check(kept.worked_out.problem, kept.worked_out.timetable) == ()


def test_every_task_of_the_plan_is_one_of_the_timetable(made: MadePlan) -> None:
    worked_out = read_plan(made.kept).worked_out
    placed = {place.task: place for place in worked_out.timetable.placed}
    for task in worked_out.plan.tasks:
        assert task.text == worked_out.pieces[task.key].text
        assert (task.end - task.start).total_seconds() / 60 == placed[task.key].end - placed[task.key].start


def test_no_path_of_the_machine_is_kept(made: MadePlan) -> None:
    assert json.loads(made.kept)["folder"]["path"] == "."


@pytest.mark.parametrize("text", ["", "{}", '{"version": 1}', "not json"])
def test_a_text_that_is_no_plan_is_told(text: str) -> None:
    with pytest.raises(InputError, match="plan again"):
        read_plan(text)


def test_a_later_version_is_told(made: MadePlan) -> None:
    later = json.loads(made.kept) | {"version": 999}
    with pytest.raises(InputError, match="another version"):
        read_plan(json.dumps(later))


def test_the_fingerprint_follows_what_is_in_the_house(made: MadePlan) -> None:
    before = fingerprint(folder_of(made.household))
    assert before == fingerprint(folder_of(made.household))
    made.household.arrivals.update(mass_g=1234)
    assert before != fingerprint(folder_of(made.household))
