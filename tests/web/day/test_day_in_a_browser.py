"""The pages of the day in a real browser: accessible, large targets, not too wide, light and dark, phone and tablet."""

from urllib.parse import quote

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer
from test_in_a_browser import CHROMIUM, PHONE, SMALL_TARGETS, STANDARD, TABLET, watched

from stillroom.planning.kept_plan import read_plan
from stillroom.web.day import planner
from stillroom.web.day.models import MadePlan
from stillroom.web.kitchen.models import Household

pytestmark = [
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: apt-get install chromium"),
    pytest.mark.django_db(transaction=True),
]
# The bar of places stays at the foot of a phone and covers a button that one can scroll from under it; axe can't.
BAR_IN_THE_FLOW = ".places { position: static !important }"


def paths(made: MadePlan) -> list[str]:
    plan = read_plan(made.kept).worked_out.plan
    jarred = next(run for run in plan.runs if run.card)
    task = quote(plan.tasks[0].key)
    return [
        "/",
        "/split/",
        f"/split/run/{jarred.key}",
        "/split/food/tomato",
        "/split/why",
        "/timetable/",
        f"/timetable/task/{task}",
    ]


@pytest.mark.parametrize("look, size", [("light", TABLET), ("dark", PHONE), ("light", PHONE), ("dark", TABLET)])
def test_it_works(chromium: Browser, live_server: LiveServer, made: MadePlan, look: str, size: dict[str, int]) -> None:
    context = chromium.new_context(viewport=size, color_scheme=look, bypass_csp=True)  # type: ignore[arg-type]
    page = context.new_page()
    for path in paths(made):
        page.goto(live_server.url + path)
        page.add_style_tag(content=BAR_IN_THE_FLOW)
        page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
        found = Axe().run(page, options={"runOnly": STANDARD}).response["violations"]
        assert not [(one["id"], one["nodes"][0]["html"]) for one in found], path
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), f"{path} is too wide"
        assert page.evaluate(SMALL_TARGETS) == [], path
    context.close()


def test_nothing_leaves_the_machine_and_nothing_breaks_the_policy(
    chromium: Browser, live_server: LiveServer, made: MadePlan
) -> None:
    page = chromium.new_page()
    seen = watched(page, live_server.url)
    for path in paths(made):
        page.goto(live_server.url + path)
    assert seen == []
    page.close()


def test_a_task_is_dragged_and_the_move_is_checked(chromium: Browser, live_server: LiveServer, made: MadePlan) -> None:
    """With a mouse: down by half an hour; the answer is an offer, or why it can't be."""
    page = chromium.new_page(viewport=TABLET)  # type: ignore[arg-type]
    page.goto(f"{live_server.url}/timetable/?day={made.household.today}")
    block = page.locator("a.block.hands").first
    box = block.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 60, steps=4)
    page.mouse.up()
    page.wait_for_url("**/timetable/*/**")
    assert (
        page.get_by_text("What comes of it").or_(page.get_by_text("can’t be")).or_(page.get_by_text("has come")).count()
    )
    page.close()


def test_a_plan_is_made_changed_and_followed_on_a_phone_without_javascript(
    chromium: Browser, live_server: LiveServer, small: Household
) -> None:
    page = chromium.new_context(viewport=PHONE, java_script_enabled=False).new_page()  # type: ignore[arg-type]
    page.goto(f"{live_server.url}/split/")
    page.get_by_role("button", name="Make a plan").click()
    assert page.get_by_text("A plan waits for its turn").is_visible()
    job = planner.take_job(at=timezone.now())
    assert job is not None
    planner.work_off(job)
    page.get_by_text("made just now").wait_for()  # the page looks again by itself
    page.get_by_role("link", name="By hand: green beans").click()
    page.get_by_label("What").select_option("frozen")
    page.get_by_label("At least").fill("1 kg")
    page.get_by_role("button", name="Wish it").click()
    assert page.get_by_text("not in this plan yet").is_visible()
    page.get_by_role("button", name="Take back").click()
    assert not small.wishes.exists()
    page.goto(f"{live_server.url}/timetable/")
    page.locator(".tasks a.row").first.click()
    page.get_by_role("button", name="Done", exact=True).click()
    assert page.get_by_text("Done:").is_visible()
    page.get_by_role("button", name="Not done after all").click()
    assert page.get_by_role("button", name="Begin now").is_visible()
    page.close()
