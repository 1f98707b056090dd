"""The process card: figures as they are printed, refusals with ways out, questions back, nothing guessed."""

import re
import shutil
from html import unescape

import pytest
from django.test import Client
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from stillroom.heat.role import CardAndNote
from stillroom.model.process import CannerKind
from stillroom.process.find import find
from stillroom.web.bench import card as cards
from stillroom.web.kitchen.models import Household

MINCE = {"food": "beef", "form": "ground or chopped", "pack": "hot", "jar": "quart"}


def page(browser: Client, fields: dict[str, str], status: int = 200) -> str:
    answer = browser.get("/bench/card", fields)
    assert answer.status_code == status
    return " ".join(unescape(answer.content.decode()).split())


def test_it_works(browser: Client) -> None:
    """NCHFP, ground or chopped beef: quarts 90 min; dial gauge 12 psi from 2,001 to 4,000 ft, and this dial shows
    0.5 psi too much. The invented kitchen lies at 690 m, which is 2,264 ft."""
    text = page(browser, MINCE)
    assert "90 min" in text
    assert "12.5 psi" in text
    assert "86 kPa" in text  # 12.5 × 6.894757
    assert "25 mm (1 in)" in text
    assert "printed pressure 12 psi" in text
    assert "AIB 539" in text
    assert "licensed practice come first" in text


def test_a_weighted_gauge_by_the_same_table(browser: Client) -> None:
    """NCHFP, the same: weighted gauge 15 psi above 1,000 ft, 10 psi up to it."""
    assert "15 psi" in page(browser, MINCE | {"canner": "weighted gauge"})
    assert "10 psi" in page(browser, MINCE | {"canner": "weighted gauge", "altitude": "900 ft"})


def test_a_form_is_asked_back_and_each_answer_is_a_link(browser: Client) -> None:
    text = page(browser, {"food": "beef", "pack": "hot"})
    assert "Which form of beef?" in text
    assert "--form" not in text
    link = re.search(r'href="(\?[^"]*form=ground[^"]*)"', text)
    assert link
    assert "90 min" in unescape(browser.get(f"/bench/card{link[1]}").content.decode())


def test_a_jar_too_large_is_refused_with_cards_that_hold(browser: Client) -> None:
    text = page(browser, MINCE | {"jar": "1.2 l"})
    assert "no tested process" in text
    assert "Not tested, not offered:" in text
    assert "108 min" in text  # 90 + 20 %, told so that nobody trusts it
    links = re.findall(r'href="(\?food=[^"]*)"', text)
    assert links
    for link in links:
        assert "tested process</span>" in browser.get(f"/bench/card{link}").content.decode()


def test_it_begins_with_a_canner_that_has_a_tested_process(browser: Client, household: Household) -> None:
    """A water bath that was bought first is no reason to begin with it: green beans are low-acid (NCHFP, 20 min)."""
    household.canners.all().delete()
    household.canners.create(name="Water pot", kind="boiling water", inside_diameter_mm=300, inside_height_mm=300)
    household.canners.create(name="Tall one", kind="weighted gauge", inside_diameter_mm=300, inside_height_mm=300)
    text = page(browser, {"food": "green beans", "pack": "raw", "jar": "pint"})
    assert "20 min" in text
    assert "weighted gauge canner" in text
    assert "boiling water canner" in page(browser, {"food": "peaches", "form": "halved", "pack": "hot", "jar": "pint"})


def test_without_a_canner_it_begins_with_a_kind_that_does(browser: Client, household: Household) -> None:
    household.canners.all().delete()
    assert "20 min" in page(browser, {"food": "green beans", "pack": "raw", "jar": "pint"})
    assert "no tested process</span>" in page(browser, {"food": "zucchini"})


def test_where_only_the_canner_is_wrong_it_says_what_does(browser: Client, household: Household) -> None:
    text = page(browser, {"food": "green beans", "canner": "boiling water", "pack": "raw", "jar": "pint"})
    assert "not in this canner</span>" in text
    assert "no tested process</span>" not in text
    assert "only a pressure canner gets hot enough" in text  # the reason stays
    assert "A tested process exists in a dial gauge canner or a weighted gauge canner: yours is" in text
    household.canners.all().delete()
    text = page(browser, {"food": "green beans", "canner": "boiling water", "pack": "raw", "jar": "pint"})
    assert "there is none in your kitchen" in text


def test_where_only_the_jar_is_wrong_it_says_so(browser: Client) -> None:
    assert "no tested process like this</span>" in page(browser, MINCE | {"jar": "1.2 l"})


@pytest.mark.parametrize(
    "asks, words",
    [
        ({"food": "zucchini"}, "There is no tested home-canning process"),
        ({"food": "papaya", "canner": "boiling water"}, "only from memory"),
        (MINCE | {"altitude": "8200 ft"}, "there is no tested process"),
        (MINCE | {"canner": "dial gauge", "gauge_error": "2.5 psi high"}, "can't be trusted"),
    ],
)
def test_refused(browser: Client, asks: dict[str, str], words: str) -> None:
    text = page(browser, asks)
    assert words in text
    assert ("no tested process</span>" in text) or ("not in this canner</span>" in text)
    assert '"tag calm">tested process' not in text
    assert "heat.svg" not in text  # a picture travels without its refusal


@pytest.mark.parametrize(
    "field, value, sentence",
    [
        ("food", "xyzzy", "No food called “xyzzy” is known here."),
        ("jar", "a bucket", "is not a jar that can be read"),
        ("altitude", "690", "Write it with its unit"),
        ("altitude", "9000 m", "Nobody keeps house"),
        ("gauge_error", "0.5 psi", "too high or too low"),
        ("gauge_tested", "31.2.2027", "Enter a valid date"),
        ("amount", "many", "can't be read"),
        ("canner", "own-99999", "Select a valid choice"),
        ("canner", "a kettle", "Select a valid choice"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(browser: Client, field: str, value: str, sentence: str) -> None:
    text = page(browser, MINCE | {field: value}, status=422)
    assert sentence.lower() in text.lower()
    if field != "canner":
        assert f'value="{value}"' in text


def test_a_name_of_two_foods_is_asked_back(browser: Client) -> None:
    assert "does not tell which process is meant" in page(browser, {"food": "squash"}, status=422)


def test_without_a_height_it_is_asked_for(browser: Client, household: Household) -> None:
    household.altitude_m = None
    household.save()
    text = page(browser, MINCE, status=422)
    assert "This field is required" in text or "height" in text.lower()
    assert "90 min" not in text


def test_jars_for_an_amount(browser: Client) -> None:
    """USDA, produce per load (1994 text): 14 lb of green beans fill 7 quarts, and a quart takes 2 lb."""
    text = page(browser, {"food": "green beans", "pack": "raw", "jar": "quart", "amount": "14 lb"})
    assert re.search(r"jars to have ready</dt><dd>7 ", text)


def test_the_chart_is_drawn_of_a_tested_card_only(browser: Client) -> None:
    answer = browser.get("/bench/card/heat.svg", MINCE)
    assert answer["Content-Type"] == "image/svg+xml"
    drawn = answer.content.decode()
    assert drawn.startswith("<svg")
    assert "<title" in drawn
    assert "the printed process stands as it is printed" in drawn
    assert browser.get("/bench/card/heat.svg", MINCE | {"jar": "1.2 l"}).status_code == 404
    assert browser.get("/bench/card/heat.svg").status_code == 404
    assert browser.get("/bench/card/heat.svg", {"food": "beef"}).status_code == 404


def test_the_model_changes_no_figure_of_the_card(household: Household, browser: Client) -> None:
    """Role rule: what the page shows is the look-up without any model, but for warnings."""
    browser.get("/bench/card", MINCE)
    own = household.canners.first()
    plain = find(
        "beef",
        form="ground or chopped",
        pack="hot",
        jar="quart",
        canner=CannerKind.DIAL,
        altitude_m=690.0,
        gauge_error_psi=own.gauge_error_psi,
        gauge_tested_on=own.gauge_tested_on,
        today=household.today,
    )
    shown = cards.answered.__wrapped__(  # type: ignore[attr-defined]
        cards.HeatQuestion(
            "beef", "ground or chopped", "hot", "quart", CannerKind.DIAL, 690.0,
            own.gauge_error_psi, own.gauge_tested_on, household.today,
        )
    )  # fmt: skip
    assert isinstance(shown, CardAndNote)
    assert (shown.card.minutes, shown.card.pressure_psi, shown.card.headspace_in) == (
        plain.minutes,
        plain.pressure_psi,
        plain.headspace_in,
    )


@pytest.mark.skipif(shutil.which("chromium") is None, reason="needs Debian's chromium")
@pytest.mark.django_db(transaction=True)
def test_on_a_phone_a_button_leaves_the_text_of_its_row_its_width(
    chromium: Browser, live_server: LiveServer, household: Household
) -> None:
    """Each way out is read across the page, with its button below it."""
    page = chromium.new_page(viewport={"width": 390, "height": 844})
    page.goto(f"{live_server.url}/bench/card?food=green+beans&jar=quart&canner=boiling+water")
    texts = page.locator(".row:has(> .button) > .grow").all()
    assert texts
    assert all((text.bounding_box() or {"width": 0})["width"] > 280 for text in texts)
    page.close()
