"""What holds for every page: it comes, names no other host, runs nothing inside it, tells errors plainly."""

import re
from io import StringIO

import pytest
from django.core.management import call_command
from django.test import Client

from stillroom.web.kitchen.models import Household

PAGES = (
    "/",
    "/sources/",
    "/sources/low-acid",
    *(
        "/bench/",
        "/bench/card",
        "/bench/card?food=beef&form=ground&pack=hot",
        "/bench/sums/dough?flour=1+kg",
        "/bench/recipes/",
        "/bench/recipes/page",
    ),
    "/split/",
    *("/table/", "/table/2027-04-10/dinner"),
    *("/larder/", "/larder/?place=shelf", "/larder/?q=beans", "/larder/add"),
    "/arrivals/",
    "/kitchen/",
    "/kitchen/begin",
    "/folder/import",
    "/folder/lists",
)


@pytest.mark.parametrize("page", PAGES)
def test_it_works(browser: Client, page: str) -> None:
    answer = browser.get(page)
    text = answer.content.decode()
    assert answer.status_code == 200
    assert not re.search(r'(?:src|href|action)="(?:https?:)?//', text), "another host"
    assert not re.search(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son[a-z]+=", text), "script or style in the page"
    assert "An invented household" in text
    assert "When in doubt, throw it out" in text
    assert text.count("<h1") == 1


def test_headers_keep_other_hosts_out(browser: Client) -> None:
    headers = browser.get("/").headers
    assert "default-src 'none'" in headers["Content-Security-Policy"]
    assert "unsafe" not in headers["Content-Security-Policy"]
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Referrer-Policy"] == "same-origin"


def test_a_form_from_elsewhere_is_refused(household: Household) -> None:
    answer = Client(enforce_csrf_checks=True).post("/arrivals/", {"line": "9 kg apples"})
    assert answer.status_code == 403
    assert "nothing was changed" in answer.content.decode()


def test_an_unknown_page_says_so(browser: Client) -> None:
    answer = browser.get("/nothing-of-the-kind")
    assert answer.status_code == 404
    assert "There is no such page" in answer.content.decode()


def test_an_error_of_ours_becomes_one_sentence(browser: Client) -> None:
    answer = browser.post("/frame/look", {"look": "mauve"})
    assert answer.status_code == 400
    assert "There is no look “mauve”" in answer.content.decode()


def test_the_look_is_kept_and_leads_back_only_into_the_pages(browser: Client) -> None:
    answer = browser.post("/frame/look", {"look": "dark", "back": "//elsewhere.example/"})
    assert answer["Location"] == "/"
    assert 'data-look="dark"' in browser.get("/arrivals/").content.decode()


def test_without_a_household_every_page_leads_to_the_beginning(db: None) -> None:
    answer = Client().get("/arrivals/")
    assert (answer.status_code, answer["Location"]) == (302, "/kitchen/begin")
    assert Client().get("/kitchen/begin").status_code == 200


def test_the_database_fits_the_models(db: None) -> None:
    call_command("makemigrations", "--check", "--dry-run", stdout=StringIO())
