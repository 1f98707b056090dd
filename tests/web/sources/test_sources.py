"""Every published table can be read, searched and traced; what is not verified says so in words."""

import csv
import tomllib
from html import unescape
from pathlib import Path

import pytest
from django.test import Client

import stillroom.tables
from stillroom.web.sources.catalogue import not_verified, table, tables
from stillroom.web.sources.evidence import seen
from stillroom.web.sources.shelf import matching

DATA = Path(stillroom.tables.__file__).parent / "data"


def text_of(browser: Client, address: str, **headers: str) -> str:
    answer = browser.get(address, headers=headers)
    assert answer.status_code == 200
    return unescape(answer.content.decode())


@pytest.mark.parametrize("one", tables(), ids=lambda one: one.key)
def test_it_works(browser: Client, one) -> None:
    text = text_of(browser, f"/sources/{one.key}")
    assert one.rows[0].name in text
    assert one.rows[0].seen.words in text
    assert one.rows[0].source.split(";")[0] in text


def test_no_row_of_any_file_is_left_out() -> None:
    """Counted in the files themselves, with the csv module and tomllib and none of our readers."""
    lines = 0
    for file in DATA.glob("*.csv"):
        with file.open(encoding="utf-8", newline="") as opened:
            lines += sum(1 for _ in csv.DictReader(opened))
    figures = len(tomllib.loads((DATA / "constants.toml").read_text(encoding="utf-8")))
    shown = sum(len(one.rows) for one in tables() if one.key != "heating")
    assert shown == lines + figures


def test_a_printed_row_is_found_by_another_name_of_the_food(browser: Client) -> None:
    """NCHFP, snap beans, raw or hot pack: pints 20 min, quarts 25 min; dial 11 psi to 2,000 ft, 13 psi to 6,000 ft."""
    text = text_of(browser, "/sources/low-acid?q=haricots+verts")
    assert "snap beans" in text
    assert "20 min" in text
    assert "25 min" in text
    assert "to 2,000 ft: 11 psi; to 4,000 ft: 12 psi; to 6,000 ft: 13 psi" in text
    assert "pork" not in text


def test_the_search_over_all_tables_names_the_tables(browser: Client) -> None:
    text = text_of(browser, "/sources/?q=pumpkin")
    assert "What has no process" in text
    assert "thickness and acidity vary too much" in text


def test_what_is_nowhere_is_told_as_no_process(browser: Client) -> None:
    text = text_of(browser, "/sources/?q=xyzzy")
    assert "Nothing holds “xyzzy”" in text
    assert "has no tested process" in text


def test_memory_is_marked_in_words_and_can_be_listed_alone(browser: Client) -> None:
    text = text_of(browser, "/sources/acid-boiling-water?only=unverified")
    assert "not verified: from memory only" in text
    assert "read on two pages" not in text
    papaya = matching(table("acid-boiling-water").rows, "papaya cubes")
    assert papaya
    assert not any(row.seen.is_verified for row in papaya)  # docs/evidence.md: no page of a publisher found


def test_a_row_confirmed_later_is_not_listed_as_memory() -> None:
    confirmed = matching(table("acid-boiling-water").rows, "asian pears")
    assert confirmed
    assert all(row.seen.is_verified for row in confirmed)


@pytest.mark.parametrize(
    "evidence, is_verified",
    [
        ("two_pages", True),
        ("page", True),
        ("seen; yield = 1 - refuse", True),
        ("derived, not measured", True),
        ("memory", False),
        ("memory (several hobby pages agree)", False),
        ("page; figure memory", False),
        ("common practice, no source", False),
        ("page (common practice)", False),
        ("doubtful: page says otherwise", False),
        ("judgement", False),
        ("a word nobody has thought of", False),
    ],
)
def test_how_a_figure_was_seen(evidence: str, is_verified: bool) -> None:
    assert seen(evidence).is_verified is is_verified


def test_the_front_counts_what_is_not_verified(browser: Client) -> None:
    """docs/evidence.md: 45 rows of the process tables stay memory."""
    counts = {one.key: count for one, count in not_verified()}
    assert counts["low-acid"] + counts["acid-boiling-water"] + counts["acid-pressure"] == 45
    assert "What is not verified" in text_of(browser, "/sources/")


def test_long_tables_come_in_sheets_that_keep_the_words(browser: Client) -> None:
    text = text_of(browser, "/sources/keeping?q=cooked&page=2")
    assert "Sheet 2 of" in text
    assert "q=cooked&page=1" in text


@pytest.mark.parametrize("page", ["0", "-3", "many", "99999"])
def test_a_sheet_that_is_none_shows_a_sheet(browser: Client, page: str) -> None:
    assert "Sheet" in text_of(browser, f"/sources/rules?page={page}")


def test_htmx_gets_only_the_rows(browser: Client) -> None:
    text = text_of(browser, "/sources/rules?q=botulism", **{"HX-Request": "true"})
    assert "<html" not in text
    assert "botulism" in text.lower()


def test_going_back_brings_the_whole_page(browser: Client) -> None:
    """htmx documents the header: a part in the place of a page would stand there bare."""
    back = {"HX-Request": "true", "HX-History-Restore-Request": "true"}
    assert "<html" in text_of(browser, "/sources/rules?q=botulism", **back)
    assert "HX-Request" in browser.get("/sources/rules")["Vary"]


def test_what_was_typed_stays_and_is_no_markup(browser: Client) -> None:
    text = browser.get("/sources/", {"q": '"><b>x'}).content.decode()
    assert "<b>x" not in text
    assert "&quot;&gt;&lt;b&gt;x" in text


def test_an_unknown_table(browser: Client) -> None:
    assert browser.get("/sources/nothing").status_code == 404
