"""A meal is eaten: the stores shrink by what it used, what is left has a date by the tables and the two-hour rule."""

import re
from collections.abc import Callable
from datetime import date, datetime

import pytest
from django.http import HttpResponse
from django.test import Client

from stillroom.web.day.changed import changed_since
from stillroom.web.day.current import current_plan
from stillroom.web.day.models import MadePlan, TaskEvent
from stillroom.web.day.task_actions import finish
from stillroom.web.day.today_page import Entry, Today
from stillroom.web.exchange.folder import folder_of
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import undo
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.models import Lot

Press = Callable[..., HttpResponse]
At = Callable[..., datetime]
DINNER = "/table/eaten/2027-04-09/dinner"
ONE = "/table/2027-04-09/dinner"
ONE_TAP = {"as_planned": "1"}


def tomatoes_g(household: Household) -> float:
    return household.arrivals.get(food="tomato").left_g


def left_over(household: Household) -> list[Lot]:
    return list(household.lots.filter(food="leftovers"))


def test_it_works(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    """7 portions made and 4.25 eaten leave two whole ones; they keep 3 to 4 days (FoodKeeper), the shorter counts."""
    clock(19)
    before_g = tomatoes_g(household)
    assert press(DINNER, ONE_TAP, page="/table/", again=True).status_code == 302
    assert tomatoes_g(household) == pytest.approx(before_g - 900)
    stew = household.lots.get(product="stew")
    assert (stew.count, stew.mass_g) == (1, pytest.approx(1700))
    assert [(taken.count, taken.why) for taken in stew.taken.all()] == [(1, "eaten: dinner")]
    (lot,) = left_over(household)
    assert lot.product == "Roast bird, left over"
    assert (lot.count, lot.container, lot.place) == (2, "portion", "fridge")
    assert lot.mass_g == pytest.approx(2 * 2100 / 7)
    assert lot.best_by == date(2027, 4, 12)


def test_it_is_said_with_what_to_do_and_can_be_taken_back(
    press: Press, browser: Client, household: Household, plan: MadePlan, clock: At
) -> None:
    clock(19)
    before_g = tomatoes_g(household)
    press(DINNER, ONE_TAP, page="/table/")
    text = browser.get("/table/").content.decode()
    assert "Dinner on Friday: eaten; 2 of Roast bird left, into the fridge, best by Monday 12 April" in text
    assert "✓ eaten" in text
    undo(Change.objects.get(), at=clock(19, 5))
    assert tomatoes_g(household) == before_g
    assert household.lots.get(product="stew").count == 2
    assert left_over(household) == []
    assert not household.meal_days.exists()


def test_portions_are_said_dish_by_dish(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    clock(19)
    press(DINNER, {"left_0": "1", "left_1": "0"}, page=ONE)
    (lot,) = left_over(household)
    assert (lot.product, lot.count, lot.mass_g) == ("Frozen stew, heated, left over", 1, pytest.approx(400))


def test_what_stood_out_too_long_is_not_kept(
    press: Press, browser: Client, household: Household, plan: MadePlan, clock: At
) -> None:
    """Rule R103: out of refrigeration two hours at the most; dinner was at 18:30."""
    clock(20, 31)
    assert "Eaten …" in browser.get("/table/").content.decode()
    press(DINNER, {"left_0": "1", "left_1": "2"}, page=ONE)
    assert left_over(household) == []
    assert "throw it out, untasted" in browser.get("/table/").content.decode()


def test_what_was_chilled_in_time_is_kept(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    clock(9, day=10)
    press(DINNER, {"left_0": "1", "left_1": "2", "is_chilled": "on"}, page=ONE)
    assert [lot.best_by for lot in left_over(household)] == [date(2027, 4, 12)] * 2


def test_a_hot_kitchen_has_one_hour(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    """Rule R103: one hour above 90 °F."""
    household.room_c = 33.0
    household.save()
    clock(19, 31)
    press(DINNER, {"left_0": "1", "left_1": "0"}, page=ONE)
    assert left_over(household) == []


def test_what_came_out_of_the_fridge_gets_no_second_term(
    press: Press, household: Household, plan: MadePlan, clock: At
) -> None:
    household.lots.filter(product="stew").update(place="fridge", best_by=date(2027, 4, 10))
    clock(19)
    press(DINNER, {"left_0": "1", "left_1": "0"}, page=ONE)
    assert [lot.best_by for lot in left_over(household)] == [date(2027, 4, 10)]


def test_more_than_was_made_can_not_be_left(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    clock(19)
    answer = press(DINNER, {"left_0": "6", "left_1": "0"}, page=ONE)
    assert answer.status_code == 422
    assert "less than or equal to 5" in answer.content.decode()
    assert not household.meal_days.exists()
    assert household.lots.get(product="stew").count == 2


def test_a_meal_to_come_is_not_eaten(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    clock(19)
    answer = press("/table/eaten/2027-04-10/dinner", ONE_TAP, page="/table/")
    assert answer.status_code == 422
    assert "is still to come" in answer.content.decode()


def test_what_is_not_cooked_is_not_eaten(
    press: Press, browser: Client, household: Household, plan: MadePlan, clock: At
) -> None:
    """The stew is on the stove until half past six: at 18:00 nobody has eaten it."""
    clock(18)
    assert "Dinner today is eaten" not in browser.get("/table/").content.decode()
    assert "It is cooked at <strong>18:30</strong>" in browser.get(ONE).content.decode()
    answer = press(DINNER, ONE_TAP, page="/table/")
    assert answer.status_code == 422
    assert "not cooked before 18:30" in answer.content.decode()
    assert not household.meal_days.exists()
    assert household.lots.get(product="stew").count == 2
    clock(18, 30)
    assert "Dinner today is eaten" in browser.get("/table/").content.decode()


def test_what_was_done_sooner_is_eaten_sooner(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    at = clock(18, 10)
    for key in ("cut", "cook"):
        current = current_plan(household)
        assert current is not None
        finish(current, key, at=at)
    assert press(DINNER, ONE_TAP, page="/table/").status_code == 302
    assert household.meal_days.get().eaten_at is not None


def test_a_meal_that_is_eaten_leaves_nothing_to_cook(
    press: Press, browser: Client, household: Household, plan: MadePlan, clock: At
) -> None:
    """What is left of the soup is done as planned; the beans, which are for the shelf, stay to be said."""
    now = clock(18, 40)
    assert {entry.task.key for entry in open_tasks(household, now)} >= {"cut", "cook"}
    press(DINNER, ONE_TAP, page="/table/", again=True)
    said = {entry.task.key for entry in open_tasks(household, now)}
    assert not {"cut", "cook"} & said
    assert "trim" in said
    current = current_plan(household)
    assert current is not None
    assert TaskEvent.objects.count() == 2
    ends = {task.key: f"{task.end:%H:%M}" for task in current.plan.tasks}
    assert ends["cook"] == "18:30"
    undo(Change.objects.get(), at=clock(18, 45))
    assert {entry.task.key for entry in open_tasks(household, now)} >= {"cut", "cook"}


def open_tasks(household: Household, now: datetime) -> list[Entry]:
    current = current_plan(household)
    assert current is not None
    today = Today(current, now.replace(tzinfo=None))
    return [*today.now(), *today.unticked(), *today.next()]


def test_two_people_say_it_and_it_is_eaten_once(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    clock(19)
    page = Client().get("/table/").content.decode()
    tokens = re.findall(r'name="once" value="([^"]+)"', page)
    for token in tokens[:2]:
        Client().post(DINNER, ONE_TAP | {"once": token})
    assert len(tokens) >= 2
    assert household.lots.get(product="stew").taken.count() == 1
    assert len(left_over(household)) == 1


def test_less_in_the_lists_than_planned_is_told(press: Press, household: Household, plan: MadePlan, clock: At) -> None:
    household.lots.filter(product="stew").update(count=0, mass_g=0)
    arrival = household.arrivals.get(food="tomato")
    arrival.taken.create(mass_g=arrival.mass_g - 100, why="eaten", at=clock(12))
    clock(19)
    press(DINNER, ONE_TAP, page="/table/")
    said = Change.objects.get().said
    assert "the lists had less than the plan used of stew, tomatoes: look there" in said
    assert tomatoes_g(household) == 0


def test_a_meal_that_is_eaten_is_planned_no_more_and_changes_no_plan(
    press: Press, household: Household, plan: MadePlan, clock: At
) -> None:
    clock(19)
    current = current_plan(household)
    assert current is not None
    before = changed_since(current, household)
    keys = [meal.key for meal in folder_of(household).household.meals]
    press(DINNER, ONE_TAP, page="/table/")
    after = [meal.key for meal in folder_of(household).household.meals]
    assert set(keys) - set(after) == {"2027-04-09 dinner"}
    assert changed_since(current, household) == before


def test_a_meal_without_a_plan_can_be_eaten(press: Press, household: Household, clock: At) -> None:
    clock(19)
    press(DINNER, ONE_TAP, page="/table/")
    assert household.meal_days.get().eaten_at is not None


def test_a_tap_kept_without_connection_counts_from_when_it_was_tapped(
    press: Press, household: Household, plan: MadePlan, clock: At
) -> None:
    """Tapped at 19:00, two hours before the network came back: it went into the fridge then."""
    clock(21)
    fields = ONE_TAP | {"ago_s": str(2 * 3600)}
    press(DINNER, fields, page=ONE)
    assert [lot.product for lot in left_over(household)] == ["Roast bird, left over"]
