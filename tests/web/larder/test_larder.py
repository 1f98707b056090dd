"""What is in store: shown by place, taken out once, put right, taken back; quick with twenty thousand lots."""

import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from stillroom.errors import InputError
from stillroom.web.exchange.folder import folder_of
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import undo
from stillroom.web.kitchen.models import Household
from stillroom.web.larder import actions, in_store
from stillroom.web.larder.keeping_words import kept, what_to_do
from stillroom.web.larder.models import Lot, TakenOut

Press = Callable[..., HttpResponse]
BEANS = {
    "product": "red beans in jars",
    "food": "kidney beans, dry",
    "amount": "4 pint jars of 450 g",
    "place": "shelf",
    "made_on": "2027-01-10",
    "best_by": "2028-01-10",
}


def jars(household: Household) -> Lot:
    return household.lots.get(product="green beans in jars")


def onions(household: Household) -> Lot:
    return household.lots.get(product="onions")


def many(household: Household, count: int, *, begin: int = 0) -> None:
    places = ("shelf", "freezer", "fridge", "cellar", "counter")
    Lot.objects.bulk_create(
        Lot(
            household=household,
            key=f"lot {number}",
            product=f"{('plums', 'stew', 'beans')[number % 3]} {number}",
            food=("plum", "stew", "green bean")[number % 3],
            place=places[number % 5],
            mass_g=900.0,
            container="quart jar",
            made_on=household.today - timedelta(days=number % 300),
            best_by=household.today + timedelta(days=number % 700 - 20),
        )
        for number in range(begin, begin + count)
    )


def test_it_works(browser: Client, household: Household) -> None:
    text = browser.get("/larder/").content.decode()
    assert "6 quart jars" in text
    assert "Use first" in text
    headings = re.findall(r"<h2>(\w+)", text)
    assert headings == ["Use", "Shelf", "Freezer", "Cellar"]
    assert text.index("stew") < text.index("onions")  # by date: 15 May before 31 May
    assert 'href="/larder/"' in text  # the place stands in the navigation


def test_what_is_past_its_date_comes_first_and_says_what_to_do(browser: Client, household: Household) -> None:
    lot = jars(household)
    lot.best_by = household.today - timedelta(days=1)
    lot.save()
    assert in_store.use_first(household)[0].lot == lot
    assert "past its date since yesterday" in browser.get("/larder/").content.decode()
    text = browser.get(f"/larder/{lot.pk}").content.decode()
    assert "throw it out, untasted" in text
    assert "Boil the food 10 min below 1000 ft" in text  # NCHFP, For Safety's Sake
    assert "lid firm" in text


@pytest.mark.parametrize(
    "place, container, food, words",
    [
        ("freezer", "pack", "stew", "still safe"),  # FSIS: frozen food stays safe, quality suffers
        ("fridge", "bowl", "stew", "limit of safety"),  # keeping.py: fridge times are safety limits
        ("fridge", "quart jar", "green bean", "limit of safety"),  # a jar in the fridge counts as opened
        ("shelf", "quart jar", "green bean", "one of quality"),
        ("cellar", "sack", "potato", "cook what is sound"),
        ("counter", "", "stew", "should not stand there"),
    ],
)
def test_what_to_do(place: str, container: str, food: str, words: str) -> None:
    assert words in what_to_do(Lot(place=place, container=container, food=food)).words


def test_soon_is_sooner_in_the_fridge() -> None:
    today = date(2027, 4, 10)
    lot = Lot(place="fridge", best_by=today + timedelta(days=3))
    assert kept(lot, today).pressing == "calm"
    lot.place = "freezer"
    assert kept(lot, today).pressing == "soon"
    lot.best_by = today - timedelta(days=1)
    assert (kept(lot, today).pressing, kept(lot, today).days_left) == ("stop", -1)


def test_one_jar_out_by_one_tap(household: Household, press: Press) -> None:
    lot = jars(household)
    fields = {"part": "1", "why": "eaten", "back": "/larder/?place=shelf"}
    answer = press(f"/larder/{lot.pk}/out", fields, page="/larder/?place=shelf", again=True)
    assert (answer.status_code, answer["Location"]) == (302, "/larder/?place=shelf")
    lot.refresh_from_db()
    assert (lot.count, lot.mass_g) == (5, 4500)  # once, though sent twice; six of 900 g
    taken = lot.taken.get()
    assert (taken.count, taken.mass_g, taken.why, taken.day) == (1, 900, "eaten", household.today)
    assert {found.key: found.mass_g for found in folder_of(household).larder}[lot.key] == 4500
    undo(Change.objects.get(), at=household.now())
    lot.refresh_from_db()
    assert (lot.count, lot.mass_g, TakenOut.objects.count()) == (6, 5400, 0)


def test_all_of_it_out_leaves_nothing_to_plan_with(browser: Client, household: Household, press: Press) -> None:
    lot = jars(household)
    press(f"/larder/{lot.pk}/out", {"part": "all", "why": "given away"}, page=f"/larder/{lot.pk}")
    assert lot.key not in {found.key for found in folder_of(household).larder}
    assert (
        "green beans in jars"
        not in browser.get("/larder/?place=shelf").content.decode().split('role="status"')[1].split("</div>", 3)[-1]
    )
    text = browser.get(f"/larder/{lot.pk}").content.decode()
    assert "nothing" in text
    assert "Strike out" not in text
    assert browser.get(f"/larder/{lot.pk}/edit").status_code == 200


def test_some_of_what_lies_loose(household: Household, press: Press) -> None:
    lot = household.lots.create(
        key="x",
        product="carrots",
        food="carrot",
        place="cellar",
        mass_g=5000,
        made_on="2027-03-01",
        best_by="2027-06-01",
    )
    press(f"/larder/{lot.pk}/out", {"part": "2 kg", "why": "eaten"}, page=f"/larder/{lot.pk}")
    press(f"/larder/{lot.pk}/out", {"part": "half", "why": "thrown out"}, page=f"/larder/{lot.pk}")
    lot.refresh_from_db()
    assert (lot.mass_g, lot.count) == (1500, 1)
    actions.take_out(lot, 0, 1500, "eaten", day=household.today, at=household.now())
    lot.refresh_from_db()
    assert (lot.mass_g, lot.count) == (0, 0)


@pytest.mark.parametrize("part", ["7", "0", "-1", "x", "1.5", "²", "9" * 30, ""])
def test_no_more_than_there_is(household: Household, press: Press, part: str) -> None:
    lot = jars(household)
    answer = press(f"/larder/{lot.pk}/out", {"part": part, "why": "eaten"}, page=f"/larder/{lot.pk}")
    assert answer.status_code == 422
    assert 'class="wrong"' in answer.content.decode()
    lot.refresh_from_db()
    assert (lot.count, TakenOut.objects.count()) == (6, 0)


def test_two_hands_can_not_take_the_same_last_jar(household: Household) -> None:
    lot = jars(household)
    seen_by_both = Lot.objects.get(pk=lot.pk)
    actions.take_out(lot, 6, 0, "eaten", day=household.today, at=household.now())
    with pytest.raises(InputError, match="nothing left"):
        actions.take_out(seen_by_both, 1, 0, "eaten", day=household.today, at=household.now())


def test_add_and_take_back(household: Household, press: Press) -> None:
    answer = press("/larder/add", BEANS, again=True)
    assert answer.status_code == 302
    lot = household.lots.get(product="red beans in jars")
    assert (lot.count, lot.container, lot.mass_g, lot.best_by) == (4, "pint jar", 1800, date(2028, 1, 10))
    undo(Change.objects.get(), at=household.now())
    assert not household.lots.filter(product="red beans in jars").exists()


def test_two_lots_of_one_day_get_keys_of_their_own(household: Household, press: Press) -> None:
    press("/larder/add", BEANS)
    press("/larder/add", BEANS)
    keys = household.lots.filter(product="red beans in jars").values_list("key", flat=True)
    assert len(set(keys)) == 2
    assert len(folder_of(household).larder) == 8


@pytest.mark.parametrize(
    "wrong, words",
    [
        ({"food": "xyzzy"}, "No food called “xyzzy”"),
        ({"amount": "many"}, "many"),
        ({"best_by": "2026-12-01"}, "is before it was made"),
        ({"made_on": "2031-01-01", "best_by": "2032-01-01"}, "still to come"),
        ({"food": "stew", "place": "counter", "amount": "2 kg"}, "does not keep on the counter"),
        ({"food": "stew", "place": "fridge", "amount": "2 kg"}, "is safe in the fridge for"),
        ({"place": "attic"}, "attic"),
    ],
)
def test_what_can_not_be_is_said_beside_the_field(
    household: Household, press: Press, wrong: dict[str, str], words: str
) -> None:
    answer = press("/larder/add", BEANS | wrong)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert household.lots.count() == 6


def test_correct_and_strike_out(household: Household, press: Press, browser: Client) -> None:
    lot = onions(household)
    fields = {
        "product": "onions",
        "amount": "5 kg",
        "place": "cellar",
        "made_on": "2027-03-20",
        "best_by": "2027-06-10",
    }
    press(f"/larder/{lot.pk}/edit", fields)
    lot.refresh_from_db()
    assert (lot.mass_g, lot.container, lot.best_by) == (5000, "", date(2027, 6, 10))
    press(f"/larder/{lot.pk}/remove", {}, page=f"/larder/{lot.pk}")
    assert not Lot.objects.filter(pk=lot.pk).exists()
    undo(Change.objects.first(), at=household.now())
    assert onions(household).mass_g == 5000


def test_what_was_used_can_not_be_struck_out(household: Household) -> None:
    lot = jars(household)
    actions.take_out(lot, 1, 0, "eaten", day=household.today, at=household.now())
    with pytest.raises(InputError, match="used already"):
        actions.remove(lot, at=household.now())


def test_look_for_words(browser: Client, household: Household) -> None:
    text = browser.get("/larder/", {"q": "jars BEEF"}).content.decode()
    assert "beef in jars" in text
    assert "green beans in jars" not in text
    assert "1 lot<" in text
    nothing = browser.get("/larder/", {"q": "100%_'\"<b>"}).content.decode()
    assert "is in store" in nothing
    assert "<b>" not in nothing


def test_htmx_gets_the_part_alone(browser: Client, household: Household) -> None:
    text = browser.get("/larder/?place=shelf", headers={"HX-Request": "true"}).content.decode()
    assert "<html" not in text
    assert "6 quart jars" in text


def test_pages_of_a_long_list(browser: Client, household: Household) -> None:
    many(household, 150)
    first = browser.get("/larder/?place=shelf").content.decode()
    assert "33 lots" in first  # 30 of the 150, and three of the demo
    everything = [browser.get(f"/larder/?q=900+&place=&page={number}") for number in (0, 1, 99, "x", "9" * 40)]
    assert {answer.status_code for answer in everything} == {200}
    shown = [
        name
        for number in (1, 2, 3, 4)
        for name in re.findall(
            r'class="name" href="/larder/(\d+)"', browser.get(f"/larder/?q=s&page={number}").content.decode()
        )
    ]
    assert len(shown) == len(set(shown)) == in_store.lots_left(household, "s").count()
    assert browser.get("/larder/?place=attic").status_code == 404


@pytest.mark.parametrize("address", ["/larder/", "/larder/?place=freezer", "/larder/?q=stew", "/larder/?q=stew&page=3"])
def test_as_many_queries_for_twenty_thousand_as_for_six(browser: Client, household: Household, address: str) -> None:
    def queries() -> int:
        with CaptureQueriesContext(
            connection,
        ) as seen:
            assert browser.get(address).status_code == 200
        return len(seen)

    many(household, 300)
    few = queries()
    many(household, 1000, begin=300)
    assert queries() == few <= 10  # the frame's, one count, the next to expire, one for each of five places


def test_the_lists_use_their_index(household: Household) -> None:
    if connection.vendor != "sqlite":
        pytest.skip("asks the planner of SQLite")
    many(household, 2000)
    lots = in_store.lots_left(household)
    assert "lots_left" in lots[:40].explain()
    assert "lots_left_in_place" in lots.filter(place="shelf")[:40].explain()


def test_today_tells_what_presses_in_the_larder(browser: Client, household: Household) -> None:
    assert "Use first in the larder" not in browser.get("/").content.decode()
    household.lots.filter(product="stew").update(best_by=household.today)
    text = browser.get("/").content.decode()
    assert "Use first in the larder" in text
    assert "best by today" in text
