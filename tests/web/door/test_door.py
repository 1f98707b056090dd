"""The door: on this machine nobody signs in, for the house everybody does, and guessing is slow."""

import re
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from stillroom.errors import InputError
from stillroom.web.door import actions
from stillroom.web.door.models import FailedTry, Member, Passphrase
from stillroom.web.kitchen.models import Household

WORDS = "four plums in a jar"
OWN = "a lid that pings"


@pytest.fixture
def lan(settings: object) -> None:
    """As `stillroom serve --lan` starts it."""
    settings.LAN = "http"  # type: ignore[attr-defined]


@pytest.fixture
def passphrase(household: Household) -> str:
    actions.set_passphrase(WORDS, at=timezone.now())
    return WORDS


def send(browser: Client, address: str, **fields: str) -> object:
    page = browser.get(address).content.decode()
    token = re.search(r'name="once" value="([^"]+)"', page)
    assert token
    return browser.post(address, fields | {"once": token[1]})


def test_on_this_machine_nobody_signs_in(browser: Client) -> None:
    assert browser.get("/").status_code == 200
    assert "on this machine only" in browser.get("/door/").content.decode()


@pytest.mark.usefixtures("lan", "passphrase")
def test_for_the_house_every_page_leads_to_the_door(browser: Client) -> None:
    for page in ("/", "/arrivals/", "/kitchen/", "/folder/import", "/door/", "/nothing"):
        answer = browser.get(page)
        assert answer.status_code == 302
        assert answer["Location"].startswith("/door/in?next=")
    assert browser.post("/arrivals/", {"line": "9 kg apples"}).status_code == 302
    part = browser.get("/arrivals/", headers={"HX-Request": "true"})
    assert (part.status_code, part["HX-Redirect"]) == (204, "/door/in")
    door = browser.get("/door/in").content.decode()
    assert "Quoll Tarn" not in door  # nothing of the household is told outside
    assert 'aria-label="Places"' not in door


@pytest.mark.usefixtures("lan", "passphrase")
def test_whoever_knows_the_passphrase_joins_and_comes_again(browser: Client) -> None:
    answer = send(browser, "/door/join", passphrase=WORDS, name="Ada", password=OWN)
    assert answer.status_code == 302  # type: ignore[attr-defined]
    assert browser.get("/").status_code == 200
    browser.post("/door/out")
    assert browser.get("/").status_code == 302
    assert browser.post("/door/in", {"name": "ada", "password": OWN, "next": "/arrivals/"})["Location"] == "/arrivals/"
    assert browser.get("/arrivals/").status_code == 200
    assert not re.search("|".join((WORDS, OWN)), str(list(Member.objects.values())) + str(Passphrase.objects.values()))


@pytest.mark.usefixtures("lan", "passphrase")
def test_a_double_tap_joins_once_and_a_name_is_taken_once(browser: Client) -> None:
    page = browser.get("/door/join").content.decode()
    token = re.search(r'name="once" value="([^"]+)"', page)
    assert token
    fields = {"once": token[1], "passphrase": WORDS, "name": "Ada", "password": OWN}
    assert [browser.post("/door/join", fields).status_code for _ in range(2)] == [302, 302]
    assert Member.objects.count() == 1
    other = send(Client(), "/door/join", passphrase=WORDS, name="ADA", password=OWN)
    assert other.status_code == 422  # type: ignore[attr-defined]
    assert "already" in other.content.decode()  # type: ignore[attr-defined]


@pytest.mark.usefixtures("lan", "passphrase")
@pytest.mark.parametrize("password", ["short", "1234567890123", "password123"])
def test_a_weak_password_is_refused(browser: Client, password: str) -> None:
    answer = send(browser, "/door/join", passphrase=WORDS, name="Ada", password=password)
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert Member.objects.count() == 0


@pytest.mark.usefixtures("lan", "passphrase")
def test_guessing_is_slow(browser: Client) -> None:
    actions.join("Ada", OWN, at=timezone.now())
    for _ in range(5):
        assert browser.post("/door/in", {"name": "Ada", "password": "wrong wrong"}).status_code == 422
    assert browser.post("/door/in", {"name": "Ada", "password": OWN}).status_code == 429  # right, and too late
    FailedTry.objects.update(at=timezone.now() - timedelta(minutes=16))
    assert browser.post("/door/in", {"name": "Ada", "password": OWN}).status_code == 302


@pytest.mark.usefixtures("lan", "passphrase")
def test_guessing_the_passphrase_or_many_names_is_slow_and_headers_help_nobody() -> None:
    browser = Client()
    for number in range(5):
        forged = {"X-Forwarded-For": f"198.51.100.{number}"}
        page = browser.get("/door/join").content.decode()
        token = re.search(r'name="once" value="([^"]+)"', page)
        assert token
        fields = {"once": token[1], "passphrase": "guess", "name": f"n{number}", "password": OWN}
        assert browser.post("/door/join", fields, headers=forged).status_code == 422
    last = send(browser, "/door/join", passphrase=WORDS, name="n", password=OWN)
    assert last.status_code == 429  # type: ignore[attr-defined]
    other = Client()
    codes = [other.post("/door/in", {"name": f"who{n}", "password": "x" * 12}).status_code for n in range(16)]
    assert codes[-1] == 429


@pytest.mark.usefixtures("lan", "passphrase")
def test_who_is_put_out_is_out_at_once(browser: Client) -> None:
    send(browser, "/door/join", passphrase=WORDS, name="Ada", password=OWN)
    other = Client()
    send(other, "/door/join", passphrase=WORDS, name="Grace", password=OWN)
    grace = Member.objects.get(name="Grace")
    assert browser.post(f"/door/members/{grace.pk}/remove", {"passphrase": "no"}).status_code == 400
    assert other.get("/").status_code == 200
    assert browser.post(f"/door/members/{grace.pk}/remove", {"passphrase": WORDS}).status_code == 302
    assert other.get("/").status_code == 302
    assert other.post("/door/in", {"name": "Grace", "password": OWN}).status_code == 422


@pytest.mark.usefixtures("lan", "passphrase")
def test_from_the_open_door_the_old_passphrase_is_asked_for(browser: Client) -> None:
    send(browser, "/door/join", passphrase=WORDS, name="Ada", password=OWN)
    new = {"new": "another four words here"}
    assert browser.post("/door/passphrase", new).status_code == 422
    assert browser.post("/door/passphrase", new | {"old": "wrong"}).status_code == 422
    assert actions.is_passphrase(WORDS)
    assert browser.post("/door/passphrase", new | {"old": WORDS}).status_code == 302
    assert actions.is_passphrase(new["new"])
    assert not actions.is_passphrase(WORDS)


def test_a_passphrase_is_set_on_this_machine_and_not_a_short_one(browser: Client) -> None:
    assert browser.post("/door/passphrase", {"new": "short"}).status_code == 422
    assert not actions.has_passphrase()
    assert browser.post("/door/passphrase", {"new": WORDS}).status_code == 302
    assert actions.is_passphrase(WORDS)
    with pytest.raises(InputError):
        actions.set_passphrase("eleven lett", at=timezone.now())


@pytest.mark.usefixtures("lan", "passphrase")
@pytest.mark.parametrize("wanted", ["https://elsewhere.example/", "//elsewhere.example/", "javascript:alert(1)"])
def test_the_door_leads_only_inside(browser: Client, wanted: str) -> None:
    actions.join("Ada", OWN, at=timezone.now())
    assert browser.post("/door/in", {"name": "Ada", "password": OWN, "next": wanted})["Location"] == "/"


@pytest.mark.usefixtures("household")
def test_the_session_changes_when_somebody_signs_in(settings: object) -> None:
    """A session known before signing in is worth nothing afterwards (OWASP, session fixation)."""
    settings.LAN = "http"  # type: ignore[attr-defined]
    actions.set_passphrase(WORDS, at=timezone.now())
    browser = Client()
    send(browser, "/door/join", passphrase=WORDS, name="Ada", password=OWN)
    first = browser.cookies["stillroom_session"].value
    browser.post("/door/out")
    browser.post("/door/in", {"name": "Ada", "password": OWN})
    assert browser.cookies["stillroom_session"].value != first
    assert browser.cookies["stillroom_session"]["httponly"]
