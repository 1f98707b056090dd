"""Plans are asked for once, worked off one at a time, and survive the end of their planner."""

from datetime import time, timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from stillroom.errors import InputError, SourceError
from stillroom.planning.kept_plan import fingerprint, read_plan
from stillroom.planning.settling import NoPlan
from stillroom.web.day import planner
from stillroom.web.day.actions import ask_for_plan
from stillroom.web.day.changed import changed_since
from stillroom.web.day.current import current_plan
from stillroom.web.day.models import MadePlan, PlanJob
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household

NOW = timezone.now()
State = PlanJob.State


def ask(household: Household) -> PlanJob:
    return ask_for_plan(household, at=NOW, seconds=1.0)


def take() -> PlanJob:
    job = planner.take_job(at=timezone.now())
    assert job is not None
    return job


@pytest.fixture
def fails(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Lets the planner end with an error."""

    def with_error(error: Exception) -> None:
        def fail(*_: Any, **__: Any) -> None:
            raise error

        monkeypatch.setattr(planner, "work_out", fail)

    return with_error


@pytest.mark.django_db(transaction=True)  # the planner's sign of life comes from another thread
def test_it_works(small: Household) -> None:
    ask(small)
    job = take()
    planner.work_off(job)
    job.refresh_from_db()
    assert (job.state, job.tries) == (State.DONE, 1)
    assert job.lines[0].startswith("splitting the food")
    assert job.ended_at is not None
    plan = read_plan(job.made.kept).worked_out.plan
    assert {taken.origin for run in plan.runs for taken in run.taken} & {a.key for a in folder_of(small).arrivals}
    assert planner.take_job(at=timezone.now()) is None


@pytest.mark.django_db(transaction=True)
def test_in_the_evening_nothing_is_planned_for_the_morning(small: Household) -> None:
    Household.objects.update(minutes_ahead=small.minutes_ahead + 11 * 60 + 18)  # loaded at six: 17:18
    ask(small)
    planner.work_off(take())
    small.refresh_from_db()
    current = current_plan(small)
    assert current is not None
    assert current.kept.folder.begins == time(17, 20)
    assert current.plan.start == small.today
    assert min(task.start for task in current.plan.tasks).time() >= time(17, 20)
    assert changed_since(current, small) == ()
    Household.objects.update(minutes_ahead=small.minutes_ahead + 60)
    small.refresh_from_db()
    assert changed_since(current, small) == ()  # later in the evening nothing has changed


def test_asking_twice_is_asking_once(small: Household) -> None:
    assert ask(small) == ask(small)
    running = take()
    assert running.state == State.RUNNING
    PlanJob.objects.update(made_for=fingerprint(folder_of(small)))
    assert ask(small) == running


def test_what_changed_meanwhile_is_planned_after(small: Household) -> None:
    first = ask(small)
    take()
    small.arrivals.update(mass_g=5000)
    second = ask(small)
    assert second != first
    assert planner.take_job(at=timezone.now()) is None  # one at a time
    assert ask(small) == second


def test_a_silent_planner_is_followed_by_another(small: Household) -> None:
    ask(small)
    take()
    later = timezone.now() + timedelta(seconds=planner.SILENT_S + 1)
    again = planner.take_job(at=later)
    assert again is not None
    assert again.tries == 2


def test_twice_is_enough(small: Household) -> None:
    ask(small)
    for number in range(2):
        take_at = timezone.now() + number * timedelta(seconds=planner.SILENT_S + 1)
        assert planner.take_job(at=take_at) is not None
    end = timezone.now() + timedelta(seconds=3 * planner.SILENT_S)
    assert planner.take_job(at=end) is None
    job = PlanJob.objects.get()
    assert job.state == State.FAILED
    assert "failed twice" in job.said


def test_an_abandoned_job_gives_way_to_a_newer_one(small: Household) -> None:
    first = ask(small)
    take()
    small.arrivals.update(mass_g=5000)
    second = ask(small)
    planner.let_go(PlanJob.objects.get(pk=first.pk), at=timezone.now())
    assert take() == second


@pytest.mark.django_db(transaction=True)
def test_a_sentence_says_why_there_is_none(small: Household, browser: Client, fails: Any) -> None:
    fails(NoPlan("No way was found to split the food; add hours, jars or days."))
    ask(small)
    planner.work_off(take())
    text = browser.get("/split/").content.decode()
    assert "No plan was found" in text
    assert "add hours, jars or days" in text


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("error", [SourceError("a broken table"), RuntimeError("a fault")])
def test_a_fault_of_ours_is_not_hidden_and_the_job_waits_again(small: Household, fails: Any, error: Exception) -> None:
    fails(error)
    ask(small)
    with pytest.raises(type(error)):
        planner.work_off(take())
    assert PlanJob.objects.get().state == State.WAITING


def test_what_has_to_be_mended_first_is_said_at_once(small: Household) -> None:
    Household.objects.filter(pk=small.pk).update(altitude_m=None)
    with pytest.raises(InputError, match="how high the kitchen lies"):
        ask(Household.objects.get(pk=small.pk))
    assert not PlanJob.objects.exists()


def test_old_plans_go(made: MadePlan, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planner, "KEPT_PLANS", 3)
    household = made.household
    for _ in range(4):
        MadePlan.objects.create(household=household, made_at=NOW, kept=made.kept)
    planner.forget_old(household)
    assert household.made_plans.count() == 3
    assert not MadePlan.objects.filter(pk=made.pk).exists()
