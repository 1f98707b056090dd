"""What is different from what a plan was made from: told exactly, without reading every lot for it."""

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from test_said_of_tasks import current

from stillroom.web.day.changed import changed_since
from stillroom.web.day.models import MadePlan
from stillroom.web.exchange import folder as exchange_folder
from stillroom.web.frame.undo import undo
from stillroom.web.kitchen.models import Household
from stillroom.web.larder import actions
from stillroom.web.larder.models import Lot

ONE = "1 lot in the larder changed"


@pytest.fixture
def changed(made: MadePlan) -> Callable[[], tuple[str, ...]]:
    return lambda: changed_since(current(made), made.household)


def stew(household: Household) -> Lot:
    return household.lots.get(product="stew")


def out(household: Household) -> Any:
    return actions.take_out(stew(household), 1, 0, "eaten", day=household.today, at=timezone.now())


def test_it_works(made: MadePlan, changed: Any) -> None:
    assert changed() == ()
    change = out(made.household)
    assert changed() == (ONE,)
    undo(change, at=timezone.now())
    assert changed() == ()


def test_a_lot_that_came_or_went(made: MadePlan, changed: Any) -> None:
    household = made.household
    new = Lot(household=household, product="plums", food="plum", place="shelf", mass_g=900.0, count=1)
    new.made_on, new.best_by = household.today, household.today + timedelta(days=300)
    actions.add(new, at=timezone.now())
    assert changed() == (ONE,)
    actions.remove(stew(household), at=timezone.now())
    assert changed() == ("2 lots in the larder changed",)


def test_what_is_put_back_as_it_was_is_no_change(made: MadePlan, changed: Any) -> None:
    lot = stew(made.household)
    for place in ("fridge", "freezer"):
        lot.place = place
        lot.best_by = lot.made_on + timedelta(days=2 if place == "fridge" else 77)
        actions.correct(lot, at=timezone.now())
        assert changed() == ((ONE,) if place == "fridge" else ())


def test_a_change_of_before_the_plan_that_is_taken_back_after_it(made: MadePlan) -> None:
    """The plan was made without the pack; taken back, the pack is there again."""
    household = made.household
    change = out(household)
    change.at = made.made_at - timedelta(hours=1)
    change.save()
    here = current(made)
    planned = tuple(
        lot if lot.product != "stew" else exchange_folder.replace(lot, count=1, mass_g=1700.0)
        for lot in here.kept.folder.larder
    )
    kept = here.kept.model_copy(update={"folder": exchange_folder.replace(here.kept.folder, larder=planned)})
    here = exchange_folder.replace(here, kept=kept)
    assert changed_since(here, household) == ()
    undo(change, at=timezone.now())
    assert changed_since(here, household) == (ONE,)


def test_lots_that_something_else_wrote_are_seen(made: MadePlan, changed: Any) -> None:
    made.household.lots.filter(product="stew").delete()
    assert changed() == (ONE,)
    out_of_all = made.household.lots.first()
    actions.take_out(out_of_all, 1, 0, "eaten", day=made.household.today, at=timezone.now())
    assert changed() == ("2 lots in the larder changed",)


def test_the_lots_of_another_household_are_no_change_of_this_one(made: MadePlan, changed: Any) -> None:
    other = Household.objects.create(name="next door", altitude_m=10)
    lot = Lot(household=other, product="stew", food="stew", place="freezer", mass_g=900.0, key=stew(made.household).key)
    lot.made_on = lot.best_by = other.today
    actions.add(lot, at=timezone.now())
    assert changed() == ()


def test_no_lot_is_read_that_nobody_touched(made: MadePlan, changed: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """However many there are: the time of a page does not grow with the larder."""
    read: list[str] = []
    real = exchange_folder._read_lot
    monkeypatch.setattr(exchange_folder, "_read_lot", lambda row, start: read.append(row[0]) or real(row, start))
    assert changed() == ()
    assert read == []
    out(made.household)
    assert changed() == (ONE,)
    assert read == [stew(made.household).key]


def test_it_asks_as_often_however_much_was_changed(made: MadePlan, changed: Any) -> None:
    def asked() -> int:
        with CaptureQueriesContext(connection) as seen:
            changed()
        return len(seen)

    out(made.household)
    few = asked()
    for lot in made.household.lots.exclude(container="").filter(count__gt=1):
        actions.take_out(lot, 1, 0, "eaten", day=made.household.today, at=timezone.now())
    assert asked() == few
