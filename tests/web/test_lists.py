"""Lists to a spreadsheet and back: the same again, all of it or nothing, and every wrong cell named."""

import csv
import io
import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.utils import timezone

from stillroom.errors import InputError
from stillroom.web.exchange.lists import LISTS
from stillroom.web.exchange.read_lists import read_in
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import undo
from stillroom.web.kitchen.models import Household
from stillroom.web.larder import actions as larder

Press = Callable[..., HttpResponse]
NAMES = [*(f"/folder/lists/{name}.csv" for name in LISTS), "/table/meals.csv", "/timetable/table.csv"]
NAMES += ["/bench/recipes/list.csv"]
LOT = "product,food,place,amount,made on,best by\n"
BEANS = "red beans,kidney beans dry,shelf,4 pint jars of 450 g,2027-01-10,2028-01-10\n"
ARRIVAL = "food,amount,day,place\n"


def rows_of(answer: HttpResponse) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"), newline="")))


def send(press: Press, text: str | bytes) -> HttpResponse:
    data = text if isinstance(text, bytes) else text.encode()
    return press("/folder/lists", {"table": SimpleUploadedFile("list.csv", data)})


@pytest.fixture
def elsewhere(household: Household) -> Household:
    """Another kitchen, as it begins: nothing has come in, nothing is in store."""
    return Household.objects.create(
        name="Another",
        altitude_m=690,
        minutes_ahead=household.minutes_ahead,
        time_zone=household.time_zone,
        opened_at=household.opened_at - timedelta(days=1),
    )


@pytest.mark.parametrize("address", NAMES)
def test_every_list_is_there(browser: Client, household: Household, address: str) -> None:
    answer = browser.get(address)
    assert answer.status_code == 200
    assert answer["Content-Type"].startswith("text/csv; charset=utf-8")
    assert answer["Content-Disposition"].startswith('attachment; filename="')
    assert answer.content.startswith(b"\xef\xbb\xbf")
    assert address in browser.get("/folder/lists").content.decode()
    assert all(None not in row and None not in row.values() for row in rows_of(answer))


def test_it_works(browser: Client, household: Household, elsewhere: Household) -> None:
    """What was taken away is the same when another household reads it in."""
    household.arrivals.first().taken.create(mass_g=1500, why="eaten", at=timezone.now())
    household.arrivals.filter(name="pears").update(note="=cmd|'/C calc'!A0", worth_per_kg=2.5, is_here=False)
    household.jars.filter(kind="quart").update(has_reusable_lids=True, diameter_mm=95.5, height_mm=175)
    files = {name: browser.get(f"/folder/lists/{name}.csv").content for name in ("arrivals", "larder", "jars")}
    assert b"'=cmd" in files["arrivals"]
    for data in files.values():
        read_in(elsewhere, data, at=timezone.now())
    elsewhere.opened_at = timezone.now()
    elsewhere.save()
    for name, data in files.items():
        assert browser.get(f"/folder/lists/{name}.csv").content == data, name


def test_it_can_be_read_in_again_and_changes_nothing(browser: Client, press: Press, household: Household) -> None:
    for name in ("arrivals", "larder", "jars"):
        before = browser.get(f"/folder/lists/{name}.csv").content
        assert send(press, before).status_code == 302
        assert browser.get(f"/folder/lists/{name}.csv").content == before
    assert "0 new" in Change.objects.first().said


def test_rows_are_added_and_corrected_once_and_taken_back(browser: Client, household: Household) -> None:
    key = household.lots.get(product="stew").key
    text = LOT.replace("product", "key,product", 1) + f",{BEANS}{key},stew,stew,freezer,"
    text += "1 freezer pack of 1.7 kg,2027-02-27,2027-05-15\n"
    before = household.lots.count()
    token = re.search(r'name="once" value="([^"]+)"', browser.get("/folder/lists").content.decode())
    assert token
    for _ in range(2):  # the same form again after the network came back
        sent = {"table": SimpleUploadedFile("list.csv", text.encode()), "once": token[1]}
        assert browser.post("/folder/lists", sent).status_code == 302
    assert household.lots.count() == before + 1
    assert household.lots.get(product="red beans").mass_g == 1800
    assert household.lots.get(product="stew").count == 1
    (change,) = Change.objects.all()
    assert change.said == "Read in larder: 1 new, 1 corrected"
    undo(change, at=timezone.now())
    assert household.lots.count() == before
    assert household.lots.get(product="stew").count == 2


def test_a_table_of_semicolons_with_a_mark_is_read(press: Press, household: Household) -> None:
    send(press, "\ufeffFood;Amount;Day;Place;Note\r\napples;9 kg;2027-04-09;cellar;\r\n")
    assert household.arrivals.filter(food="apple", mass_g=9000, day=date(2027, 4, 9), place="cellar").exists()


def test_what_is_expected_is_not_here_yet(press: Press, household: Household) -> None:
    send(press, f"{ARRIVAL}apples,7 kg,2027-04-20,cellar\napples,8 kg,2027-04-09,cellar\n")
    assert [household.arrivals.get(food="apple", mass_g=grams).is_here for grams in (7000, 8000)] == [False, True]


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        (LOT + BEANS + BEANS.replace("shelf", "roof"), ["Row 3, column “place”: “roof” is none of shelf, freezer"]),
        (
            LOT + BEANS.replace("2027-01-10", "10.1.2027"),
            ["column “made on”: “10.1.2027” is no day", "2027-04-09"],
        ),
        (LOT + BEANS.replace("2028", "2020"), ["Row 2, column “best by”: 2020-01-10 is before it was made"]),
        (LOT + BEANS.replace("450 g", "lots"), ["Row 2, column “amount”:"]),
        (LOT + BEANS.replace("kidney beans dry", "moon cheese"), ["Row 2, column “food”:"]),
        (LOT + BEANS.replace("red beans", "b" * 90), ["Row 2, column “product”: Ensure this value has at most 80"]),
        (LOT + "stew,stew,fridge,1 kg,2027-04-01,2027-04-30\n", ["column “best by”", "safe in the fridge for 4 days"]),
        (ARRIVAL + "apples,9 kg,2027-04-09,freezer\n", ["Row 2, column “place”: “freezer” is none of"]),
        (ARRIVAL + "pork,9 kg,2027-04-09,counter\n", ["Row 2, column “place”:", "two hours at the most"]),
        (ARRIVAL + ",9 kg,2027-04-09,cellar\n", ["Row 2, column “food”: it must not be empty"]),
        ("kind,count,lids\nquart,-1,x\n", ["column “count”: “-1” is no whole number", "column “lids”: “x”"]),
        ("kind,count,lids\nquart,1,1\n1 qt,2,2\n", ["Row 3, column “kind”:", "stands in the table twice"]),
        ("kind,count,lids\nbathtub,1,1\n", ["Row 2, column “kind”:"]),
        ("colour,shape\nred,round\n", ["Row 1 names the columns of none of these lists"]),
        (LOT, ["nothing below row 1"]),
    ],
)
def test_one_bad_row_and_nothing_is_read_in(
    press: Press, household: Household, text: str, sentences: list[str]
) -> None:
    before = [household.lots.count(), household.arrivals.count(), list(household.jars.values_list("count", "lids"))]
    answer = send(press, text)
    said = re.sub(r"&#x27;", "'", answer.content.decode())
    assert answer.status_code == 422
    for sentence in sentences:
        assert sentence in said
    after = [household.lots.count(), household.arrivals.count(), list(household.jars.values_list("count", "lids"))]
    assert after == before
    assert not Change.objects.exists()


def test_every_wrong_row_is_told_up_to_ten(household: Household) -> None:
    with pytest.raises(InputError) as caught:
        read_in(household, (LOT + BEANS.replace("shelf", "roof") * 13).encode(), at=timezone.now())
    lines = str(caught.value).split("\n")
    assert len(lines) == 12
    assert lines[-1] == "and 3 more."


def test_more_used_than_came_is_refused(household: Household) -> None:
    arrival = household.arrivals.get(food="tomato")
    arrival.taken.create(mass_g=20_000, why="eaten", at=timezone.now())
    text = f"key,food,amount,day,place,clock\n{arrival.key},tomatoes,9 kg,2027-04-09,counter,3 days\n"
    with pytest.raises(InputError, match="more of it is used already"):
        read_in(household, text.encode(), at=timezone.now())


def test_the_ledger_tells_what_left(browser: Client, household: Household) -> None:
    lot = household.lots.get(product="stew")
    larder.take_out(lot, 1, 0.0, "given away", day=household.today, at=timezone.now())
    (row,) = rows_of(browser.get("/folder/lists/ledger.csv"))
    assert (row["product"], row["containers"], row["mass g"], row["why"]) == ("stew", "1", "1700.0", "given away")


def test_a_form_without_a_file_says_so(press: Press, household: Household) -> None:
    assert press("/folder/lists", {}).status_code == 422
