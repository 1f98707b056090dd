"""Changing the split by hand: wished by one tap, taken back by another, kept by the next plan or answered."""

from collections.abc import Callable
from typing import Any
from urllib.parse import quote

import pytest
from django.test import Client
from django.utils import timezone

from stillroom.model.plan import PlannedRun
from stillroom.model.recipe import Use
from stillroom.model.wish import WishKind
from stillroom.planning.kept_plan import read_plan
from stillroom.web.day import planner
from stillroom.web.day.actions import ask_for_plan
from stillroom.web.day.models import MadePlan, Wish
from stillroom.web.day.wish_actions import wishes_of
from stillroom.web.kitchen.models import Household

Press = Callable[..., Any]


@pytest.fixture
def run(made: MadePlan) -> PlannedRun:
    """A run of the plan that takes food that came in."""
    return next(run for run in read_plan(made.kept).worked_out.plan.runs if run.jars)


@pytest.fixture
def wish_of_run(run: PlannedRun, press: Press) -> Press:
    def send(what: str, **fields: object) -> Any:
        address = quote(run.key)
        return press(f"/split/wish/run/{address}", {"what": what, **fields}, page=f"/split/run/{address}", again=True)

    return send


def text(browser: Client, address: str = "/split/") -> str:
    return browser.get(address).content.decode()


def test_it_works(made: MadePlan, press: Press, browser: Client) -> None:
    answer = press("/split/food/tomato", {"use": "dry", "amount": "2 kg"}, again=True)
    assert answer["Location"] == "/split/"
    wish = Wish.objects.get()
    assert (wish.kind, wish.food, wish.use, wish.mass_g) == ("at least", "tomato", "dry", 2000)
    shown = text(browser)
    assert "At least 2 kg tomato dried" in shown
    assert "not in this plan yet" in shown
    assert "Since then your wishes changed: plan again" in shown


def test_an_empty_amount_is_nothing_of_it(made: MadePlan, press: Press) -> None:
    press("/split/food/tomato", {"use": "jar", "amount": ""})
    assert Wish.objects.get().words == "no tomato in jars"


@pytest.mark.parametrize(
    "use, amount, sentence",
    [("jar", "some", "can’t be read"), ("eat raw", "1 kg", "eat raw"), ("jar", "0 kg", "empty")],
)
def test_what_can_not_be_read_is_told_beside_it(
    made: MadePlan, press: Press, use: str, amount: str, sentence: str
) -> None:
    answer = press("/split/food/tomato", {"use": use, "amount": amount})
    assert answer.status_code == 422
    assert sentence in answer.content.decode().replace("&#x27;", "’").replace("'", "’")
    assert not Wish.objects.exists()


def test_the_last_word_on_a_thing_holds(made: MadePlan, press: Press, browser: Client) -> None:
    press("/split/food/tomato", {"use": "jar", "amount": "5 kg"})
    press("/split/food/tomato", {"use": "dry", "amount": "2 kg"})
    press("/split/food/tomato", {"use": "jar", "amount": ""})
    assert [wish.words for wish in Wish.objects.all()] == ["at least 2 kg tomato dried", "no tomato in jars"]
    browser.post(f"/frame/undo/{_last_change()}", {"back": "/split/"})
    assert {wish.words for wish in Wish.objects.all()} == {"at least 2 kg tomato dried", "at least 5 kg tomato in jars"}


def _last_change() -> int:
    from stillroom.web.frame.models import Change

    return Change.objects.first().pk


def test_no_longer_wished(made: MadePlan, press: Press) -> None:
    press("/split/food/tomato", {"use": "jar", "amount": "5 kg"})
    press(f"/split/wish/{Wish.objects.get().pk}/drop", {}, page="/split/", again=True)
    assert not Wish.objects.exists()


def test_a_run_is_kept_as_it_is(run: PlannedRun, wish_of_run: Press) -> None:
    wish_of_run("keep")
    wish = Wish.objects.get()
    assert (wish.kind, wish.recipe, wish.day) == ("on", run.recipe, run.day)
    assert wish.mass_g == pytest.approx(sum(taken.mass_g for taken in run.taken))


def test_a_run_is_moved(made: MadePlan, run: PlannedRun, wish_of_run: Press) -> None:
    plan = read_plan(made.kept).worked_out.plan
    other = next(day for day in (plan.start, plan.start.replace(day=plan.start.day + 1)) if day != run.day)
    wish_of_run("move", day=other.isoformat())
    assert {(wish.kind, wish.day) for wish in Wish.objects.all()} == {("not on", run.day), ("on", other)}


def test_a_run_is_not_done_on_its_day_or_at_all(run: PlannedRun, wish_of_run: Press) -> None:
    wish_of_run("not on")
    assert [wish.kind for wish in Wish.objects.all()] == ["not on"]
    wish_of_run("never")
    assert [wish.kind for wish in Wish.objects.all()] == ["no recipe"]


@pytest.mark.parametrize("what, day", [("eat it", ""), ("move", "2031-01-01"), ("move", "soon")])
def test_another_thing_is_refused(wish_of_run: Press, what: str, day: str) -> None:
    assert wish_of_run(what, day=day).status_code == 400
    assert not Wish.objects.exists()


def test_what_is_not_there_is_told(made: MadePlan, browser: Client, press: Press) -> None:
    assert browser.get("/split/food/unicorn").status_code == 404
    assert press("/split/wish/run/none@0", {"what": "keep"}, page="/split/").status_code == 404


def test_a_wish_ends_with_its_plan(made: MadePlan, press: Press) -> None:
    press("/split/food/tomato", {"use": "jar", "amount": "5 kg"})
    assert wishes_of(made.household)
    Household.objects.update(minutes_ahead=made.household.minutes_ahead + 2 * 24 * 60)
    assert not wishes_of(Household.objects.get())


@pytest.mark.django_db(transaction=True)
def test_the_next_plan_keeps_it_or_says_why_not(small: Household, browser: Client) -> None:
    last = small.today.replace(day=small.today.day + 1)
    for kind, food, use, grams in (
        (WishKind.NO_USE, "tomato", "jar", 0.0),
        (WishKind.AT_LEAST, "green bean", "freeze", 1500.0),
        (WishKind.AT_LEAST, "green bean", "cure", 1500.0),
    ):
        Wish.objects.create(
            household=small, kind=kind.value, food=food, use=use, mass_g=grams, until=last, words=f"{food} {use}"
        )
    ask_for_plan(small, at=timezone.now(), seconds=4.0)
    job = planner.take_job(at=timezone.now())
    assert job is not None
    planner.work_off(job)
    plan = read_plan(MadePlan.objects.get().kept).worked_out.plan
    assert not [run for run in plan.runs if run.use is Use.JAR and any(t.food == "tomato, fresh" for t in run.taken)]
    assert [answer.is_kept for answer in plan.wishes] == [True, True, False]
    shown = text(browser)
    assert shown.count(">kept<") == 2
    assert "No recipe here has green bean cured" in shown
    assert "Since then" not in shown
