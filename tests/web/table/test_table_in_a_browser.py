"""The table and the lists in a real browser: accessible with a plan, and done on a phone without JavaScript."""

from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer
from test_in_a_browser import BAR_ASIDE, CHROMIUM, LONG_PHONE, PHONE, SMALL_TARGETS, STANDARD, TABLET

from stillroom.web.day.models import MadePlan
from stillroom.web.kitchen.models import Household

pytestmark = [
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: apt-get install chromium"),
    pytest.mark.django_db(transaction=True),
]
PAGES = ("/table/", "/table/2027-04-09/dinner", "/table/2027-04-10/dinner", "/folder/lists")


@pytest.mark.parametrize("look, size", [("light", TABLET), ("dark", LONG_PHONE)])
@pytest.mark.parametrize("hour", [12, 19, 23])
def test_the_table_with_a_plan_is_accessible(
    chromium: Browser,
    live_server: LiveServer,
    plan: MadePlan,
    clock: object,
    look: str,
    size: dict[str, int],
    hour: int,
) -> None:
    """Before the meal, at table, and when it is too late for leftovers: each shows other forms."""
    clock(hour)  # type: ignore[operator]
    page = chromium.new_context(viewport=size, color_scheme=look, bypass_csp=True).new_page()  # type: ignore[arg-type]
    for path in PAGES:
        page.goto(live_server.url + path)
        page.add_style_tag(content=BAR_ASIDE)
        page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
        found = Axe().run(page, options={"runOnly": STANDARD}).response["violations"]
        assert not [(one["id"], one["nodes"][0]["html"]) for one in found], path
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), f"{path} is too wide"
        assert page.evaluate(SMALL_TARGETS) == [], path
    page.context.close()


def test_a_day_at_table_on_a_phone_without_javascript(
    chromium: Browser, live_server: LiveServer, plan: MadePlan, household: Household, clock: object
) -> None:
    clock(19)  # type: ignore[operator]
    page = chromium.new_context(viewport=PHONE, java_script_enabled=False).new_page()  # type: ignore[arg-type]
    page.goto(live_server.url)
    page.get_by_role("link", name="Table", exact=True).click()
    page.get_by_role("button", name="Dinner today is eaten").click()
    assert page.get_by_text("2 of Roast bird left, into the fridge").is_visible()
    page.get_by_role("button", name="Take back").click()
    assert not household.meal_days.exists()
    page.get_by_role("link", name="Dinner: Frozen stew").click()
    page.get_by_label("Portions left of Roast bird").fill("3")
    page.get_by_role("button", name="Eaten").click()
    assert household.lots.get(food="leftovers").count == 3
    page.get_by_role("link", name="Lunch").first.click()
    page.get_by_label("Guests").fill("2")
    page.get_by_role("button", name="Keep").click()
    assert page.get_by_text("and 2 guests").is_visible()
    page.get_by_role("button", name="No lunch that day").click()
    assert page.get_by_text("none that day").is_visible()
    assert household.meal_days.get(name="lunch").is_left_out


def test_a_table_is_read_in_on_a_phone_without_javascript(
    chromium: Browser, live_server: LiveServer, plan: MadePlan, household: Household, tmp_path: Path
) -> None:
    page = chromium.new_context(viewport=PHONE, java_script_enabled=False).new_page()  # type: ignore[arg-type]
    page.goto(f"{live_server.url}/folder/lists")
    with page.expect_download() as download:
        page.get_by_role("link", name="Jars and lids").click()
    table = tmp_path / "jars.csv"
    table.write_bytes(download.value.path().read_bytes().replace(b"pint,60", b"pint,-60"))
    page.get_by_label("A table (CSV)").set_input_files(table)
    page.get_by_role("button", name="Read it in").click()
    assert page.get_by_text("column “count”: “-60” is no whole number").is_visible()
    table.write_bytes(table.read_bytes().replace(b"pint,-60", b"pint,48"))
    page.get_by_label("A table (CSV)").set_input_files(table)
    page.get_by_role("button", name="Read it in").click()
    assert page.get_by_text("Read in jars: 0 new, 4 corrected").is_visible()
    assert household.jars.get(kind="pint").count == 48
