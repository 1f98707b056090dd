"""Adding, correcting, dividing, using up and striking out an arrival: each once, each can be taken back."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.http import HttpResponse
from django.test import Client

from stillroom.errors import InputError
from stillroom.web.arrivals import actions
from stillroom.web.arrivals.models import Arrival
from stillroom.web.arrivals.waiting import expected, waiting
from stillroom.web.exchange.folder import folder_of
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import history, undo
from stillroom.web.kitchen.models import Household

Press = Callable[..., HttpResponse]


def tomatoes(household: Household) -> Arrival:
    return household.arrivals.get(food="tomato", mass_g=24_000)


def test_it_works(household: Household, press: Press) -> None:
    answer = press("/arrivals/", {"line": "9 kg apples, windfalls, tomorrow"}, again=True)
    assert answer.status_code == 302
    apples = household.arrivals.get(food="apple", mass_g=9000)  # once, though sent twice
    assert (apples.day, apples.is_here, apples.note) == (household.today + timedelta(days=1), False, "windfalls")
    assert Change.objects.get().said == "Added 9 kg apples"


def test_pieces_are_told_once(household: Household, press: Press) -> None:
    press("/arrivals/", {"line": "6 chickens, 2 kg each"})
    assert Change.objects.get().said == "Added 6 chickens of 2 kg"


def test_by_tapping(household: Household, press: Press) -> None:
    fields = {"food": "carrots", "number": "4.5", "unit": "kg", "day": household.today.isoformat(), "place": "cellar"}
    press("/arrivals/", fields | {"clock": "1 week"})
    assert household.arrivals.get(food="carrot", mass_g=4500).place == "cellar"


def test_a_wrong_line_keeps_what_was_typed(household: Household, press: Press) -> None:
    before = household.arrivals.count()
    answer = press("/arrivals/", {"line": "9 kg xyzzy, ripe"})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="9 kg xyzzy, ripe"' in text
    assert "No food called “xyzzy” is known here." in text
    assert household.arrivals.count() == before


def test_a_clock_that_nobody_publishes_is_assumed_and_changed_by_one_tap(household: Household, press: Press) -> None:
    assert press("/arrivals/", {"line": "9 kg tomatoes, ripe, Saturday"}).status_code == 302
    added = household.arrivals.get(food="tomato", mass_g=9000)
    assert (added.given_days, added.note) == (3, "ripe, clock assumed")
    assert added.key != tomatoes(household).key
    text = press(f"/arrivals/{added.pk}/clock", {"clock": "5 days"}, page="/arrivals/", again=True)
    assert text.status_code == 302
    added.refresh_from_db()
    assert (added.given_days, added.note) == (5, "ripe")


def test_the_assumed_clock_is_told_until_it_is_said(browser: Client, household: Household, press: Press) -> None:
    press("/arrivals/", {"line": "9 kg tomatoes"})
    assert "so 3 days are assumed" in browser.get("/arrivals/").content.decode()


def test_the_clock_is_asked_for_where_none_may_be_assumed(household: Household, press: Press) -> None:
    text = press("/arrivals/", {"line": "1 kg canned tomatoes"}).content.decode()
    assert "How long will it wait?" in text
    press("/arrivals/", {"line": "1 kg canned tomatoes", "clock": "3 days"})
    assert household.arrivals.get(food="tomato, canned").given_days == 3


def test_what_is_offered_is_a_button_that_sends_the_line(household: Household, press: Press) -> None:
    text = press("/arrivals/", {"line": "800 g smoked trout"}).content.decode()
    assert '<button name="line" value="800 g smoked fish">' in text
    assert press("/arrivals/", {"line": ["800 g smoked trout", "800 g smoked fish"]}).status_code == 302
    assert household.arrivals.get(food="smoked fish").mass_g == 800


def test_without_its_token_nothing_is_done(browser: Client, household: Household) -> None:
    before = household.arrivals.count()
    answer = browser.post("/arrivals/", {"line": "9 kg apples"})
    assert answer.status_code == 400
    assert "without its token" in answer.content.decode()
    assert household.arrivals.count() == before


def test_the_clock_and_its_reason_are_shown(browser: Client, household: Household) -> None:
    beef = household.arrivals.get(food__startswith="beef")
    text = browser.get(f"/arrivals/{beef.pk}").content.decode()
    assert "Clock:" in text
    assert "FoodKeeper" in text


def test_correct(household: Household, press: Press) -> None:
    one = tomatoes(household)
    fields = {
        "name": "tomatoes",
        "amount": "20 kg",
        "day": one.day.isoformat(),
        "place": "fridge",
        "state": "raw",
        "clock": "4 days",
        "note": "",
    }
    press(f"/arrivals/{one.pk}/edit", fields, again=True)
    one.refresh_from_db()
    assert (one.mass_g, one.piece, one.place, one.given_days, one.note) == (20_000, "", "fridge", 4, "")
    undo(history(one).get(), at=household.now())
    one.refresh_from_db()
    assert (one.mass_g, one.piece, one.place, one.given_days) == (24_000, "case", "counter", 3)


@pytest.mark.parametrize(
    "field, value, sentence",
    [
        ("name", "tomartyrs of old", "is known here"),
        ("amount", "many", "can&#x27;t be read"),
        ("clock", "soon", "can&#x27;t be read"),
        ("day", "2027-02-31", "valid date"),
    ],
)
def test_a_wrong_correction_stands_beside_its_field(
    household: Household, press: Press, field: str, value: str, sentence: str
) -> None:
    one = tomatoes(household)
    fields = {"name": "tomatoes", "amount": "9 kg", "day": "2027-04-09", "place": "counter", "state": "raw"}
    answer = press(f"/arrivals/{one.pk}/edit", fields | {"clock": "3 days", field: value})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in text
    assert f'value="{value}"' in text
    one.refresh_from_db()
    assert one.mass_g == 24_000


def test_divide(household: Household, press: Press) -> None:
    one = tomatoes(household)
    fields = {"amount": "1 case of 12 kg", "place": "fridge", "clock": "5 days", "note": "greener"}
    press(f"/arrivals/{one.pk}/divide", fields, page=f"/arrivals/{one.pk}", again=True)
    one.refresh_from_db()
    part = household.arrivals.get(food="tomato", note="greener")
    assert (one.mass_g, one.count, one.piece) == (12_000, 1, "case")
    assert (part.mass_g, part.place, part.given_days) == (12_000, "fridge", 5)
    undo(history(one).get(), at=household.now())
    assert household.arrivals.get(food="tomato") == tomatoes(household)


def test_more_than_there_is_can_not_be_divided_off(household: Household, press: Press) -> None:
    one = tomatoes(household)
    fields = {"amount": "30 kg", "place": "fridge", "clock": "5 days"}
    answer = press(f"/arrivals/{one.pk}/divide", fields, page=f"/arrivals/{one.pk}")
    assert answer.status_code == 422
    assert "There are 24 kg left" in answer.content.decode()


def test_take(household: Household, press: Press) -> None:
    one = tomatoes(household)
    fields = {"amount": "half", "why": "given away"}
    press(f"/arrivals/{one.pk}/take", fields, page=f"/arrivals/{one.pk}", again=True)
    assert tomatoes(household).left_g == 12_000
    planned = next(arrival for arrival in folder_of(household).arrivals if arrival.food == "tomato")
    assert (planned.mass_g, planned.piece_g) == (12_000, 12_000)  # one case is left
    undo(history(one).get(), at=household.now())
    assert tomatoes(household).left_g == 24_000


def test_no_more_can_be_taken_than_is_left(household: Household) -> None:
    one = tomatoes(household)
    actions.take(one, 20_000, "eaten", at=household.now())
    with pytest.raises(InputError, match="There are 4 kg"):
        actions.take(tomatoes(household), 5_000, "eaten", at=household.now())
    one = tomatoes(household)
    one.mass_g = 10_000
    with pytest.raises(InputError, match="20 kg of it are used already"):
        actions.correct(one, at=household.now())


def test_what_is_all_used_up_waits_no_more(household: Household) -> None:
    actions.take(tomatoes(household), 24_000, "eaten", at=household.now())
    assert "tomato" not in [one.arrival.food for one in waiting(household)]
    assert "tomato" not in [arrival.food for arrival in folder_of(household).arrivals]


def test_an_expected_arrival_comes(household: Household, press: Press) -> None:
    pork = household.arrivals.get(food="pork carcass")
    assert pork.pk in [one.arrival.pk for one in expected(household)]
    press(f"/arrivals/{pork.pk}/came", {}, page=f"/arrivals/{pork.pk}", again=True)
    pork.refresh_from_db()
    assert (pork.is_here, pork.day) == (True, household.today)


def test_what_did_not_come_is_not_planned_with(household: Household) -> None:
    later = household.today + timedelta(days=2)
    folder = folder_of(household, start=later)
    assert "pork carcass" not in [arrival.food for arrival in folder.arrivals]
    assert any("say whether it came" in note for note in folder.notes)


def test_strike_out(household: Household, press: Press) -> None:
    one = tomatoes(household)
    press(f"/arrivals/{one.pk}/remove", {}, page=f"/arrivals/{one.pk}", again=True)
    assert not household.arrivals.filter(food="tomato").exists()
    undo(Change.objects.get(), at=household.now())
    assert tomatoes(household).piece == "case"


def test_what_is_used_already_is_not_struck_out(household: Household) -> None:
    actions.take(tomatoes(household), 1000, "eaten", at=household.now())
    with pytest.raises(InputError, match="take that back first"):
        actions.remove(tomatoes(household), at=household.now())


def test_undo_is_refused_when_something_was_built_on_it(household: Household, browser: Client, press: Press) -> None:
    press("/arrivals/", {"line": "9 kg apples"})
    added = Change.objects.get()
    apples = household.arrivals.get(food="apple", mass_g=9000)
    actions.take(apples, 1000, "eaten", at=household.now())
    answer = browser.post(f"/frame/undo/{added.pk}")
    assert answer.status_code == 400
    assert "undo that first" in answer.content.decode()
    taken = history(apples).exclude(pk=added.pk).get()
    undo(taken, at=household.now())
    browser.post(f"/frame/undo/{added.pk}")
    browser.post(f"/frame/undo/{added.pk}")  # twice is as once
    assert not household.arrivals.filter(food="apple", mass_g=9000).exists()


def test_another_household_is_not_touched(household: Household, browser: Client) -> None:
    before = household.opened_at - timedelta(days=1)
    other = Household.objects.create(name="Elsewhere", altitude_m=0.0, opened_at=before)
    theirs = Arrival.objects.create(
        household=other, key="x", name="apples", food="apple", mass_g=1000, day=other.today, place="fridge"
    )
    assert browser.get(f"/arrivals/{theirs.pk}").status_code == 404


def test_pressing_is_told_in_words(household: Household, browser: Client) -> None:
    beans = household.arrivals.get(food__contains="bean")
    beans.given_days = 0
    beans.save()
    assert "today is the last day" in browser.get("/arrivals/").content.decode()
    beans.day -= timedelta(days=1)
    beans.save()
    assert "past its clock since yesterday" in browser.get("/arrivals/").content.decode()


def test_a_form_that_asks_back_keeps_its_token(browser: Client, household: Household) -> None:
    """So the answer takes the place of the line that a phone may have kept; a form of another kind has its own."""
    token = "t" * 32
    text = browser.post("/arrivals/", {"line": "9 kg xyzzy", "once": token}).content.decode()
    assert text.count(f'name="once" value="{token}"') == 1
    assert text.count('name="once"') > 1
    for _ in range(2):
        assert browser.post("/arrivals/", {"line": "9 kg plums, 3 days", "once": token}).status_code == 302
    assert household.arrivals.filter(food="plum", mass_g=9000).count() == 1
    odd = browser.post("/arrivals/", {"line": "9 kg xyzzy", "once": "<b>"}).content.decode()
    assert 'value="&lt;b&gt;"' not in odd
