"""Arrivals, larder and processes for other programs: the same answers as the pages, once, and nothing half-written."""

import json
from base64 import b64encode
from typing import Any

import pytest
from django.conf import Settings
from django.http import HttpResponse
from django.test import Client
from openapi_spec_validator import validate

from stillroom.web.arrivals.models import Arrival
from stillroom.web.door import actions as door
from stillroom.web.frame.models import Change
from stillroom.web.kitchen.models import Household
from stillroom.web.larder.models import Lot


def send(browser: Client, address: str, body: dict[str, object] | None = None, **headers: str) -> HttpResponse:
    return browser.post(f"/api/{address}", json.dumps(body or {}), content_type="application/json", headers=headers)


def read(answer: HttpResponse, status: int = 200) -> Any:
    assert answer.status_code == status, answer.content
    return json.loads(answer.content)


def problem(answer: HttpResponse, status: int) -> Any:
    """RFC 9457: the media type, and the members of the object."""
    assert answer["Content-Type"] == "application/problem+json"
    told = read(answer, status)
    assert told["status"] == status
    assert told["title"]
    assert told["detail"].endswith((".", "?", "!"))
    return told


def test_the_description_is_openapi(browser: Client) -> None:
    """Held to the OpenAPI Specification 3.1 by a validator that is not ours."""
    described = read(browser.get("/api/openapi.json"))
    validate(described)
    assert "/api/arrivals" in described["paths"]
    assert "http" not in json.dumps(described.get("servers", []))


def test_no_page_that_asks_another_host(browser: Client) -> None:
    assert browser.get("/api/docs").status_code == 404


def test_what_waits_is_what_the_page_shows(browser: Client, household: Household) -> None:
    listed = read(browser.get("/api/arrivals"))
    assert len(listed) == household.arrivals.count()
    page = browser.get("/arrivals/").content.decode()
    assert all(row["name"] in page for row in listed)
    tomatoes = next(row for row in listed if row["food"] == "tomato")
    assert tomatoes["left_g"] == 24_000
    assert tomatoes["last_day"] == str(Arrival.objects.get(pk=tomatoes["id"]).last_day)


class TestArrivals:
    def test_one_line_is_entered(self, browser: Client, household: Household) -> None:
        told = read(send(browser, "arrivals", {"line": "9 kg plums, today"}), 201)
        assert (told["food"], told["left_g"], told["is_here"]) == ("plum", 9000, True)
        assert household.arrivals.get(pk=told["id"]).mass_g == 9000

    def test_with_a_key_it_is_entered_once(self, browser: Client, household: Household) -> None:
        before = household.arrivals.count()
        answers = [
            read(send(browser, "arrivals", {"line": "9 kg plums"}, **{"Idempotency-Key": "scale-17"}), 201)
            for _ in range(3)
        ]
        assert household.arrivals.count() == before + 1
        assert answers[0] == answers[1] == answers[2]

    def test_nonsense_is_one_sentence_and_nothing_is_entered(self, browser: Client, household: Household) -> None:
        before = household.arrivals.count()
        for line in ("", "many gribbles", "-3 kg plums", "9 kg plums, 31 February", "x" * 500):
            problem(send(browser, "arrivals", {"line": line}), 422)
        problem(send(browser, "arrivals", {}), 422)
        problem(browser.post("/api/arrivals", "{not json", content_type="application/json"), 400)
        assert household.arrivals.count() == before

    def test_it_came(self, browser: Client, household: Household) -> None:
        pears = household.arrivals.get(food="pear")
        for _ in range(2):
            told = read(send(browser, f"arrivals/{pears.pk}/came"))
            assert (told["is_here"], told["day"]) == (True, str(household.today))

    def test_a_part_is_taken(self, browser: Client, household: Household) -> None:
        tomatoes = household.arrivals.get(food="tomato")
        told = read(send(browser, f"arrivals/{tomatoes.pk}/taken", {"amount": "4 kg", "why": "eaten"}))
        assert told["left_g"] == 20_000
        problem(send(browser, f"arrivals/{tomatoes.pk}/taken", {"amount": "40 kg", "why": "eaten"}), 422)
        problem(send(browser, f"arrivals/{tomatoes.pk}/taken", {"amount": "1 kg", "why": "vanished"}), 422)
        assert Arrival.objects.get(pk=tomatoes.pk).left_g == 20_000

    def test_of_another_household_there_is_nothing(self, browser: Client, household: Household) -> None:
        other = Household.objects.create(name="Elsewhere", altitude_m=10, opened_at="2020-01-01T00:00Z")
        row = household.arrivals.get(food="tomato")
        Arrival.objects.filter(pk=row.pk).update(household=other)
        problem(send(browser, f"arrivals/{row.pk}/came"), 404)


class TestLarder:
    def test_the_first_to_expire_stands_first(self, browser: Client) -> None:
        told = read(browser.get("/api/larder"))
        dates = [lot["best_by"] for lot in told["lots"]]
        assert told["count"] == len(dates) == 6
        assert dates == sorted(dates)
        assert read(browser.get("/api/larder?q=beans&place=shelf"))["count"] == 1

    def test_jars_are_taken_out_until_there_are_none(self, browser: Client, household: Household) -> None:
        lot = household.lots.get(product="beef in jars")
        told = read(send(browser, f"larder/{lot.pk}/out", {"amount": "1", "why": "eaten"}))
        assert told["amount"].startswith("2 quart jars")
        problem(send(browser, f"larder/{lot.pk}/out", {"amount": "3", "why": "eaten"}), 422)
        assert read(send(browser, f"larder/{lot.pk}/out", {"amount": "all", "why": "eaten"}))["amount"] == ""
        assert Lot.objects.get(pk=lot.pk).count == 0


class TestProcess:
    def test_a_tested_card(self, browser: Client) -> None:
        """USDA Complete Guide, guide 5, ground meat: hot pack, quarts 90 min; dial at 2,001 to 4,000 ft 12 psi."""
        told = read(
            browser.get(
                "/api/process",
                {"food": "beef", "form": "ground or chopped", "canner": "dial gauge", "altitude": "2500 ft"},
            )
        )
        assert (told["tested"], told["minutes"], told["pressure_psi"]) == (True, 90, 12)
        assert told["caution"]

    def test_a_refusal_is_an_answer_with_ways_out(self, browser: Client) -> None:
        told = read(browser.get("/api/process", {"food": "green beans", "canner": "boiling water"}))
        assert told["tested"] is False
        assert "minutes" not in told
        assert told["alternatives"]

    def test_nothing_is_guessed(self, browser: Client) -> None:
        told = problem(browser.get("/api/process", {"food": "green beans", "canner": "dial gauge"}), 422)
        assert told["fields"]["pack"] == "raw | hot"
        problem(browser.get("/api/process", {"food": "gribbles"}), 422)
        problem(browser.get("/api/process", {"food": "beef", "altitude": "3000"}), 422)
        problem(browser.get("/api/process"), 422)


NONSENSE = ("\0", "-1", "9" * 30, "nan", "1e999", "9" * 3000, "<b>", None, [], {}, 1e308)


@pytest.mark.parametrize("nonsense", NONSENSE)
def test_nonsense_is_told_in_a_sentence(browser: Client, household: Household, nonsense: object) -> None:
    lot, arrival = household.lots.first(), household.arrivals.first()
    for answer in (
        send(browser, "arrivals", {"line": nonsense, "clock": nonsense}),
        send(browser, f"arrivals/{arrival.pk}/taken", {"amount": nonsense, "why": nonsense}),
        send(browser, f"larder/{lot.pk}/out", {"amount": nonsense, "why": "eaten"}),
        send(browser, f"larder/{'9' * 25}/out", {"amount": "1", "why": "eaten"}),
        send(browser, "plan", {"seconds": nonsense}),
        browser.get("/api/process", {"food": str(nonsense), "jar": str(nonsense), "altitude": str(nonsense)}),
        browser.get("/api/larder", {"page": str(nonsense)[:20], "q": str(nonsense), "place": str(nonsense)}),
    ):
        assert answer.status_code in (200, 400, 404, 422), answer.content
        assert answer.status_code == 200 or json.loads(answer.content)["detail"]


class TestDoor:
    def test_a_form_from_elsewhere_changes_nothing(self, browser: Client, household: Household) -> None:
        """What a page of another site may send without asking: a form, or text."""
        before = household.arrivals.count()
        for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"):
            problem(browser.post("/api/arrivals", '{"line": "9 kg plums"}', content_type=kind), 415)
        assert household.arrivals.count() == before
        answer = browser.options("/api/arrivals", headers={"Origin": "http://elsewhere.example"})
        assert "Access-Control-Allow-Origin" not in answer

    def test_over_the_open_door_everybody_signs_in(self, browser: Client, settings: Settings) -> None:
        settings.LAN = "http"  # type: ignore[attr-defined]
        door.join("Robin", "a long password", at=Household.objects.get().opened_at)
        answer = browser.get("/api/arrivals")
        problem(answer, 401)
        assert answer["WWW-Authenticate"].startswith("Basic ")
        good = basic("Robin", "a long password")
        assert read(browser.get("/api/arrivals", headers={"Authorization": good}))
        for wrong in (basic("Robin", "wrong"), "Basic ###", "Bearer x", basic("Nobody", "a long password")):
            problem(browser.get("/api/arrivals", headers={"Authorization": wrong}), 401)
        for _ in range(5):
            browser.get("/api/arrivals", headers={"Authorization": basic("Robin", "wrong")})
        problem(browser.get("/api/arrivals", headers={"Authorization": good}), 429)

    def test_what_is_changed_carries_the_name_of_who_signed_in(
        self, browser: Client, household: Household, settings: Settings
    ) -> None:
        lot = household.lots.get(product="green beans in jars")
        out = {"amount": "1", "why": "eaten"}
        read(send(browser, f"larder/{lot.pk}/out", out))
        settings.LAN = "http"  # type: ignore[attr-defined]
        door.join("Robin", "a long password", at=household.opened_at)
        by_name = {"Authorization": basic("robin", "a long password")}
        read(send(browser, f"larder/{lot.pk}/out", out, **by_name))
        read(send(browser, "arrivals", {"line": "9 kg plums"}, **by_name, **{"Idempotency-Key": "x"}), 201)
        assert [change.by for change in Change.objects.order_by("pk")] == ["", "Robin", "Robin"]
        browser.force_login(door.join("Kim", "a long password", at=household.opened_at))
        read(send(browser, f"larder/{lot.pk}/out", out))
        assert Change.objects.first().by == "Kim"
        assert "· Kim" in browser.get(f"/larder/{lot.pk}").content.decode()

    @pytest.mark.django_db
    def test_without_a_household_it_says_so(self) -> None:
        problem(Client().get("/api/arrivals"), 409)


def basic(name: str, password: str) -> str:
    return "Basic " + b64encode(f"{name}:{password}".encode()).decode()
