"""Two people change the same thing: the later form is told and keeps nothing before its sender has looked again."""

import re
from datetime import timedelta

import pytest
from django.http import HttpResponse
from django.test import Client
from django.utils import timezone

from stillroom.web.arrivals.models import Arrival
from stillroom.web.door.actions import join
from stillroom.web.kitchen.models import Household

HIDDEN = re.compile(r'name="(once|seen)" value="([^"]*)"')


def hidden(browser: Client, page: str) -> dict[str, str]:
    """Token and stamp of the first form of a page that has both."""
    return dict(HIDDEN.findall(browser.get(page).content.decode()))


def fields(arrival: Arrival, **typed: str) -> dict[str, str]:
    shown = {"name": arrival.name, "amount": arrival.amount, "day": f"{arrival.day}", "place": arrival.place}
    clock = f"{arrival.given_days} days" if arrival.given_days else ""
    return shown | {"state": arrival.state, "clock": clock, "note": arrival.note} | typed


@pytest.fixture
def tomatoes(household: Household) -> Arrival:
    found: Arrival = household.arrivals.get(food="tomato")
    return found


def again(answer: HttpResponse) -> dict[str, str]:
    return dict(HIDDEN.findall(answer.content.decode()))


def test_the_later_of_two_corrections_is_told_and_keeps_nothing_unseen(browser: Client, tomatoes: Arrival) -> None:
    page = f"/arrivals/{tomatoes.pk}/edit"
    mine, theirs = hidden(browser, page), hidden(browser, page)
    assert browser.post(page, fields(tomatoes, amount="20 kg") | theirs).status_code == 302
    answer = browser.post(page, fields(tomatoes, note="in the shed") | mine)
    text = answer.content.decode()
    assert answer.status_code == 409
    assert "Changed meanwhile" in text
    assert "Corrected tomatoes" in text
    assert "<strong>20 kg</strong> stands there now, your form says <strong>2 cases of 12 kg</strong>" in text
    assert 'value="in the shed"' in text  # what was typed still stands in the form
    tomatoes.refresh_from_db()
    assert (tomatoes.mass_g, "shed" in tomatoes.note) == (20_000, False)
    answer = browser.post(page, fields(tomatoes, note="in the shed", amount="20 kg") | again(answer))
    assert answer.status_code == 302
    tomatoes.refresh_from_db()
    assert (tomatoes.mass_g, tomatoes.note) == (20_000, "in the shed")


def test_a_double_tap_is_not_told_of_itself(browser: Client, tomatoes: Arrival) -> None:
    page = f"/arrivals/{tomatoes.pk}/edit"
    sent = fields(tomatoes, amount="20 kg") | hidden(browser, page)
    assert [browser.post(page, sent).status_code for _ in range(2)] == [302, 302]


def test_what_is_wrong_is_told_and_can_be_mended_in_the_same_form(browser: Client, tomatoes: Arrival) -> None:
    page = f"/arrivals/{tomatoes.pk}/edit"
    answer = browser.post(page, fields(tomatoes, amount="lots") | hidden(browser, page))
    assert answer.status_code == 422
    assert browser.post(page, fields(tomatoes, amount="9 kg") | again(answer)).status_code == 302
    tomatoes.refresh_from_db()
    assert tomatoes.mass_g == 9000


@pytest.mark.parametrize(
    "page, first, second",
    [
        ("/kitchen/place", {"room_c": "17 °C"}, {"plan_days": "5"}),
        ("/kitchen/equipment", {"burners": "3"}, {"oven_trays": "1"}),
        ("/kitchen/dislikes", {"dislikes": "kale"}, {"dislikes": "liver"}),
        ("/kitchen/jars", {"pint_count": "3"}, {"quart_count": "2"}),
        ("people", {"appetite": "large"}, {"name": "Somebody"}),
        ("meals", {"at": "19:10"}, {"name": "supper"}),
        ("canners", {"inside_height_mm": "250 mm"}, {"name": "the big one"}),
        ("pantry", {"mass_g": "1 kg"}, {"mass_g": "2 kg"}),
        ("targets", {"mass_g": "1 kg"}, {"mass_g": "2 kg"}),
    ],
)
def test_every_form_of_the_kitchen_tells(
    browser: Client, household: Household, page: str, first: dict[str, str], second: dict[str, str]
) -> None:
    if not page.startswith("/"):
        related = {"meals": household.meal_times, "pantry": household.pantry, "targets": household.targets}
        page = f"/kitchen/{page}/{related.get(page, getattr(household, page, None)).first().pk}"
    shown = {**hidden_and_shown(browser, page)}
    theirs = hidden_and_shown(browser, page)
    assert browser.post(page, theirs | first).status_code == 302
    answer = browser.post(page, shown | second)
    assert answer.status_code == 409, page
    assert "Changed meanwhile" in answer.content.decode()
    assert "stands there now" in answer.content.decode()
    assert browser.post(page, hidden_and_shown(browser, page) | second).status_code == 302


def test_a_lot_that_somebody_took_from_is_not_corrected_unseen(browser: Client, household: Household) -> None:
    lot = household.lots.get(product="green beans in jars")
    page = f"/larder/{lot.pk}/edit"
    mine = hidden_and_shown(browser, page)
    token = hidden(browser, "/larder/")["once"]
    out = {"once": token, "part": "1", "why": "eaten"}
    assert browser.post(f"/larder/{lot.pk}/out", out).status_code == 302
    answer = browser.post(page, mine | {"best_by": "2027-07-01"})
    text = answer.content.decode()
    assert answer.status_code == 409
    assert "1 quart jar of 900 g green beans in jars: eaten" in text
    assert "<strong>5 quart jars of 900 g</strong> stands there now" in text
    lot.refresh_from_db()
    assert (lot.count, f"{lot.best_by}") == (5, "2027-08-30")
    kept = {**mine, **again(answer), "best_by": "2027-07-01", "amount": "5 quart jars of 900 g"}
    assert [browser.post(page, kept).status_code for _ in range(2)] == [302, 302]
    lot.refresh_from_db()
    assert (lot.count, f"{lot.best_by}") == (5, "2027-07-01")


def hidden_and_shown(browser: Client, page: str) -> dict[str, object]:
    """All that a browser would send of the form of a page, as it was shown."""
    answer = browser.get(page)
    form = answer.context["form"]
    sent: dict[str, object] = dict(HIDDEN.findall(answer.content.decode()))
    for field in form:
        value = field.field.prepare_value(field.initial)
        if value is not None and value is not False:
            sent[field.name] = value if isinstance(value, list) else f"{value:%H:%M}" if field.name == "at" else value
    return sent


def test_a_new_row_is_never_told_of_a_change(browser: Client, household: Household) -> None:
    page = "/kitchen/canners/new?usual=steam+canner"
    assert browser.post(page, hidden_and_shown(browser, page)).status_code == 302
    assert household.canners.filter(name="steam canner").exists()


def test_with_the_door_open_the_name_is_told(household: Household, tomatoes: Arrival, settings: object) -> None:
    settings.LAN = "http"  # type: ignore[attr-defined]
    one, other = Client(), Client()
    for browser, name in ((one, "Ada"), (other, "Bo")):
        browser.force_login(join(name, "a lid that pings", at=timezone.now()))
    page = f"/arrivals/{tomatoes.pk}/edit"
    mine = hidden(other, page)
    assert one.post(page, fields(tomatoes, amount="20 kg") | hidden(one, page)).status_code == 302
    text = other.post(page, fields(tomatoes, day=f"{tomatoes.day - timedelta(days=1)}") | mine).content.decode()
    assert "Changed meanwhile by Ada" in text
    assert "· Ada" in one.get(f"/arrivals/{tomatoes.pk}").content.decode()
