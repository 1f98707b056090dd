"""No list asks the database once for each of its rows; what is asked twice is worked out once."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from stillroom.web.day.models import MadePlan
from stillroom.web.exchange import folder as exchange_folder
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household

Most = Callable[..., Any]
FRAME = 4  # household, session and the like


def more(household: Household, count: int) -> None:
    """So many more arrivals, each with a part taken, and lots."""
    for number in range(count):
        arrival = household.arrivals.create(
            key=f"more {number}", name="apples", food="apple", mass_g=9000, day=household.today, place="cellar"
        )
        arrival.taken.create(mass_g=1000, why="eaten", at=household.now())
        household.lots.create(
            key=f"more {number}",
            product=f"plums {number}",
            food="plum",
            place="shelf",
            mass_g=900,
            container="quart jar",
            made_on=household.today - timedelta(days=9),
            best_by=household.today + timedelta(days=number),
        )


@pytest.mark.parametrize(
    "address, most",
    [
        ("/", FRAME + 8),
        ("/arrivals/", FRAME + 8),
        ("/larder/", FRAME + 8),
        ("/larder/?q=plums", FRAME + 3),
        ("/kitchen/", FRAME + 12),
        ("/split/", FRAME + 4),
        ("/sources/", FRAME),
        ("/bench/", FRAME + 4),
    ],
)
def test_a_list_of_many_asks_no_more_than_a_list_of_few(
    browser: Client, household: Household, django_assert_max_num_queries: Most, address: str, most: int
) -> None:
    def asked() -> int:
        with CaptureQueriesContext(connection) as seen:
            assert browser.get(address).status_code == 200
        return len(seen)

    more(household, 5)
    few = asked()
    more_again = household.arrivals.count()
    household.arrivals.filter(key__startswith="more").delete()
    household.lots.filter(key__startswith="more").delete()
    more(household, 60)
    assert household.arrivals.count() > more_again
    assert asked() == few
    with django_assert_max_num_queries(most):
        browser.get(address)


@pytest.mark.parametrize("address, most", [("/", FRAME + 12), ("/split/", FRAME + 26), ("/timetable/", FRAME + 6)])
def test_pages_of_a_plan(
    browser: Client, made: MadePlan, django_assert_max_num_queries: Most, address: str, most: int
) -> None:
    with django_assert_max_num_queries(most):
        assert browser.get(address).status_code == 200


def test_the_same_rows_are_read_once(household: Household, monkeypatch: pytest.MonkeyPatch) -> None:
    more(household, 3)
    before = folder_of(household)
    monkeypatch.setattr(exchange_folder, "read_folder", lambda *_, **__: pytest.fail("read again"))
    assert folder_of(household) == before


@pytest.mark.parametrize("what", ["lot", "arrival", "kitchen", "recipe"])
def test_another_row_is_never_hidden_by_what_was_read_before(household: Household, what: str) -> None:
    before = folder_of(household)
    if what == "lot":
        household.lots.filter(product="stew").update(mass_g=1234)
    elif what == "arrival":
        household.arrivals.filter(food="apple").update(mass_g=1234)
        more(household, 1)
    elif what == "kitchen":
        household.room_c = 24.5
        household.save()
    else:
        text = (exchange_folder.Path(__file__).parents[3] / "src/stillroom/recipes/data/plums_frozen.yaml").read_text()
        household.recipes.create(key="own_plums", text=text)
    assert folder_of(household) != before
