"""Nonsense in every field of every form, and behind every address: a sentence, never a failure of the program."""

from html.parser import HTMLParser
from itertools import count
from urllib.parse import urlsplit

import pytest
from django.test import Client

from stillroom.web.kitchen.models import Household

NONSENSE = (
    "\x00",
    "1e999",
    "-1",
    "9" * 30,
    "nan",
    "½",
    "<b>&\"'",
    "9" * 3000,
    "\U0001f600 kg tomatoes",
    "2027-02-30",
    " , ,",
)
ADDRESSES = (
    *("/table/2027-04-10/%00", "/table/2027-02-30/dinner", "/table/2027-04-10/xyzzy", "/folder/lists/xyzzy.csv"),
    *("/arrivals/999999", "/arrivals/99999999999999999999", "/larder/999999", "/split/run/xyzzy", "/split/food/xyzzy"),
    *(
        "/timetable/?day=xyzzy",
        "/timetable/?day=2027-02-30",
        "/timetable/task/xyzzy",
        "/kitchen/xyzzy/",
        "/bench/sums/xyzzy",
    ),
    *("/bench/recipes/?page=-1", "/bench/recipes/?page=xyzzy", "/bench/recipes/new?from=xyzzy", "/sources/xyzzy"),
    *(
        "/arrivals/understood?line=%00",
        "/larder/?q=%00",
        "/bench/recipes/?q=%00",
        "/sources/?q=%00",
        "/bench/card?food=%00",
    ),
    *("/larder/?place=xyzzy", "/split/why?recipe=%00", "/kitchen/canners/new?usual=%00", "/bench/sums/dough?flour=%00"),
)
PAGES = (
    *("/arrivals/", "/arrivals/{arrival}", "/arrivals/{arrival}/edit", "/kitchen/begin", "/kitchen/place"),
    *("/kitchen/equipment", "/kitchen/dislikes", "/kitchen/jars", "/kitchen/people/{person}", "/kitchen/meals/new"),
    *("/kitchen/canners/new", "/kitchen/pantry/new", "/kitchen/targets/new", "/kitchen/other-jars/new"),
    *("/bench/recipes/new", "/bench/recipes/page", "/larder/add", "/larder/{lot}", "/split/", "/split/why", "/door/"),
    *("/bench/card", "/bench/sums/cure", "/bench/sums/freeze", "/folder/import"),
    *("/table/2027-04-10/dinner", "/folder/lists"),
)


class Forms(HTMLParser):
    """The forms of a page: method, address, and what a browser would send of each field."""

    def __init__(self, page: str, text: str) -> None:
        super().__init__()
        self.page, self.found = page, []  # type: ignore[var-annotated]
        self.feed(text)

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        said = dict(attributes)
        if tag == "form":
            self.found.append((said.get("method") or "get", said.get("action") or self.page, {}))
        elif tag in ("input", "select", "textarea", "button") and said.get("name") and self.found:
            self.found[-1][2][said["name"]] = said.get("value") or ""


@pytest.fixture
def ways(household: Household) -> list[str]:
    rows = {"arrival": household.arrivals, "person": household.people, "lot": household.lots}
    return [page.format(**{name: found.first().pk for name, found in rows.items()}) for page in PAGES]


def test_no_nonsense_breaks_a_form(browser: Client, ways: list[str]) -> None:
    browser.raise_request_exception = False
    broken, numbers = [], count()
    for way in ways:
        for method, address, fields in Forms(way, browser.get(way).content.decode()).found:
            if address.startswith("/frame/") or "/remove" in address or address == "/folder/demo":
                continue
            for word in NONSENSE:
                typed = {name: word for name in fields if name not in ("csrfmiddlewaretoken", "once", "seen")}
                for sent in (typed, *({**fields, name: word} for name in list(typed)[:12] if word == "\x00")):
                    token = {"once": f"sent as number {next(numbers):06}"}
                    path = urlsplit(address).path
                    answer = browser.post(path, sent | token) if method.lower() == "post" else browser.get(path, sent)
                    if answer.status_code >= 500:
                        broken.append((path, word[:12], list(sent)))
    assert broken == []


def test_no_address_breaks_a_page(browser: Client, household: Household) -> None:
    browser.raise_request_exception = False
    found = {address: browser.get(address).status_code for address in ADDRESSES}
    assert {address: status for address, status in found.items() if status >= 500} == {}
