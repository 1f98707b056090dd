"""The meals on the page: who eats when, what the plan has for them, and another way on one day."""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, time, timedelta
from types import SimpleNamespace

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from stillroom.web.day.current import current_plan
from stillroom.web.day.models import MadePlan
from stillroom.web.exchange.folder import folder_of
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import undo
from stillroom.web.kitchen.models import Household
from stillroom.web.table import views
from stillroom.web.table.ready import ready

Press = Callable[..., HttpResponse]
At = Callable[..., datetime]
ONE, CHANGE = "/table/2027-04-10/dinner", "/table/change/2027-04-10/dinner"


def dinner(household: Household) -> tuple[time, float]:
    meals = {meal.key: meal for meal in folder_of(household).household.meals}
    meal = meals["2027-04-10 dinner"]
    return meal.at, meal.portions


def test_it_works(browser: Client, household: Household, plan: MadePlan, clock: At) -> None:
    clock(12)
    text = browser.get("/table/").content.decode()
    assert "Dinner: Frozen stew, heated, Roast bird" in text
    assert "96 % on time" in text
    assert text.count("Lunch") == 2  # at the weekend
    assert "nothing planned" in text
    assert 'aria-current="page">Table<' in text


def test_one_meal_tells_its_dishes(browser: Client, household: Household, plan: MadePlan, clock: At) -> None:
    clock(12)
    text = browser.get("/table/2027-04-09/dinner").content.decode()
    assert "It uses up" in text
    assert "1.7 kg" in text and "stew, frozen" in text
    assert "home cook, away cook, eldest, middle one, youngest" in text
    assert 'id="eaten"' not in text  # six hours before


@pytest.mark.parametrize("page", ["/table/2027-04-12/lunch", "/table/2027-02-31/dinner", "/table/2027-04-10/supper"])
def test_a_meal_that_there_is_not(browser: Client, household: Household, clock: At, page: str) -> None:
    clock(12)
    assert browser.get(page).status_code == 404


def test_another_hour_fewer_eaters_and_guests(press: Press, household: Household, clock: At) -> None:
    """The away cook has a large appetite, 1.25 adult portions; two guests eat one each."""
    clock(12)
    person = household.people.get(name="away cook")
    fields = {"at": "19:15", "eaters": [str(person.pk)], "guests": "2"}
    assert press(CHANGE, fields, page=ONE, again=True).status_code == 302
    assert dinner(household) == (time(19, 15), pytest.approx(3.25))
    assert Change.objects.count() == 1
    undo(Change.objects.get(), at=clock(12, 5))
    assert dinner(household) == (time(18, 30), pytest.approx(4.25))


def test_children_who_are_guests(press: Press, browser: Client, household: Household, clock: At) -> None:
    """1400 and 1700 of 2500 kcal at four and nine years (Dietary Guidelines for Americans 2015-2020, table A2-1)."""
    clock(12)
    press(CHANGE, {"at": "18:30", "guests": "1", "child_guests": "4, 9"}, page=ONE, again=True)
    assert dinner(household) == (time(18, 30), pytest.approx(4.25 + 1 + 0.56 + 0.68))
    assert household.meal_days.get().child_guests == [4, 9]
    text = browser.get(ONE).content.decode()
    assert "and 1 guest and 2 children of 4 and 9" in text
    assert 'value="4, 9"' in text
    press(CHANGE, {"at": "18:30", "guests": "0", "child_guests": ""}, page=ONE)
    assert dinner(household) == (time(18, 30), pytest.approx(4.25))


def test_the_later_of_two_is_told(press: Press, browser: Client, household: Household, clock: At) -> None:
    clock(12)
    page = browser.get(ONE).content.decode()
    seen = re.search(r'name="seen" value="([^"]+)"', page)
    assert seen
    press(CHANGE, {"at": "19:15", "guests": "0"}, page=ONE)
    answer = press(CHANGE, {"at": "18:30", "guests": "5", "seen": seen[1]}, page=ONE)
    assert answer.status_code == 409
    assert "Changed meanwhile" in answer.content.decode()
    assert dinner(household) == (time(19, 15), pytest.approx(4.25))


def test_the_usual_hour_and_people_are_no_difference(press: Press, household: Household, clock: At) -> None:
    clock(12)
    everybody = [str(person.pk) for person in household.people.filter(eats=True)]
    press(CHANGE, {"at": "18:30", "eaters": everybody, "guests": "0"}, page=ONE)
    assert not Change.objects.exists()
    assert not household.meal_days.exists()


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"at": "late", "guests": "0"}, "Enter a valid time"),
        ({"at": "18:30", "guests": "41"}, "less than or equal to 40"),
        ({"at": "18:30", "guests": "0", "child_guests": "1"}, "no age of a child"),
        ({"at": "18:30", "guests": "0", "child_guests": "4; nine"}, "no age of a child"),
        ({"at": "18:30", "guests": "0", "child_guests": "5 " * 41}, "Up to 40 children"),
    ],
)
def test_what_can_not_be_stays_in_the_form(
    press: Press, household: Household, clock: At, fields: dict[str, str], sentence: str
) -> None:
    clock(12)
    answer = press(CHANGE, fields, page=ONE)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert not household.meal_days.exists()


def test_no_such_meal_that_day_and_after_all(press: Press, browser: Client, household: Household, clock: At) -> None:
    clock(12)
    out = "/table/left-out/2027-04-10/dinner"
    press(out, {"back": "/table/"}, page=ONE, again=True)
    assert "2027-04-10 dinner" not in [meal.key for meal in folder_of(household).household.meals]
    assert "none that day" in browser.get("/table/").content.decode()
    press(out, {"after_all": "1"}, page=ONE)
    assert dinner(household) == (time(18, 30), pytest.approx(4.25))


def test_the_plan_is_told_to_be_for_something_else(
    press: Press, browser: Client, household: Household, plan: MadePlan, clock: At
) -> None:
    clock(12)
    press("/table/change/2027-04-09/dinner", {"at": "19:00", "guests": "2"}, page="/table/2027-04-09/dinner")
    assert "the plan has it for 18:30 and for 4.25 portions" in browser.get("/table/").content.decode()


def test_a_meal_that_is_over_for_good_does_no_harm(household: Household, clock: At) -> None:
    """The usual meals changed since: what was said of one that there is no more is not planned with."""
    clock(12)
    household.meal_days.create(day=household.today, name="tea", guests=3)
    assert folder_of(household).household.meals


def test_what_the_larder_would_feed(household: Household, clock: At) -> None:
    """400 g of stew are a portion by the recipe: 3.4 kg make 8.5; potatoes and onions are not ready to eat."""
    clock(12)
    shelves = {shelf.key: shelf for shelf in ready(household)}
    assert shelves.keys() == {"pack", "jar"}
    (stew,) = shelves["pack"].lots
    assert stew.portions == pytest.approx(8.5)
    assert "Frozen stew, heated" in stew.dishes
    assert {one.kept.lot.product for one in shelves["jar"].lots} == {
        "green beans in jars",
        "beef in jars",
        "vegetable soup in jars",
    }


def test_what_is_past_its_date_feeds_nobody(household: Household, clock: At) -> None:
    clock(12)
    household.lots.filter(product="stew").update(best_by=household.today - timedelta(days=1))
    assert "pack" not in {shelf.key for shelf in ready(household)}


def test_a_full_larder_asks_no_more_of_the_database(browser: Client, household: Household, clock: At) -> None:
    clock(12)
    counts = []
    for number in (0, 60):
        for each in range(number):
            household.lots.create(
                key=f"more {each}",
                product="stew",
                food="stew",
                place="freezer",
                mass_g=900,
                container="freezer pack",
                made_on=household.today - timedelta(days=9),
                best_by=household.today + timedelta(days=each),
            )
        with CaptureQueriesContext(connection) as asked:
            text = browser.get("/table/").content.decode()
        counts.append(len(asked))
    assert counts[0] == counts[1]
    assert "53 more in the larder" in text


def test_what_to_thaw_stands_with_the_dish(
    browser: Client, household: Household, plan: MadePlan, clock: At, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A plan whose stew thaws from the morning on, with the sentence of the model beside it."""
    clock(8)
    current = current_plan(household)
    assert current is not None
    found = current.plan
    step = replace(found.tasks[0], key="soup@0:thaw", run="soup@0", text="Set the packs into the fridge.")
    stew = replace(found.runs[1], advice=("Take 1.7 kg stew out of the freezer on Friday 09:00.", "Cool it."))
    planned = replace(found, tasks=(step,), runs=(found.runs[0], stew, found.runs[2]))
    monkeypatch.setattr(views, "current_plan", lambda _: SimpleNamespace(plan=planned, last_day=current.last_day))
    assert "thaw for it" in browser.get("/table/").content.decode()
    text = browser.get("/table/2027-04-09/dinner").content.decode()
    assert f"Out of the freezer today at {step.start:%H:%M}" in text
    assert "Take 1.7 kg stew out of the freezer" in text
    assert "Cool it." not in text
