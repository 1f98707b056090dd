"""From nothing to a day that is followed, in a real browser on the real server: with double taps, and two at once.

On SQLite, and with `make test-postgres` on PostgreSQL. Needs Debian's Chromium.
"""

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect
from real_server import Kitchen

from stillroom.web.addresses import lan_addresses

CHROMIUM = shutil.which("chromium")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: apt-get install chromium")
LONG_MS, PLAN_MS, NEW_TAP_MS = 30_000, 120_000, 600
PASSPHRASE, OWN = "four plums in a jar", "a lid that pings"
KEPT = "Kept on this device"
TABLET, PHONE = {"width": 1024, "height": 768}, {"width": 390, "height": 844}


@pytest.fixture
def elsewhere() -> Iterator[list[str]]:
    """Requests to any other host: there are none."""
    seen: list[str] = []
    yield seen
    assert seen == []


def device(chromium: Browser, kitchen: Kitchen, seen: list[str], size: dict[str, int]) -> BrowserContext:
    context = chromium.new_context(viewport=size)  # type: ignore[arg-type]
    context.set_default_timeout(LONG_MS)
    context.on("request", lambda asked: None if asked.url.startswith(kitchen.address + "/") else seen.append(asked.url))
    return context


def twice(button: Locator, then: str) -> None:
    """A double tap, and the page it leads to; too late to be the second half of one before (`second_tap.js`)."""
    button.page.wait_for_timeout(NEW_TAP_MS)
    button.dblclick()
    expect(button.page.get_by_text(then).first).to_be_visible(timeout=LONG_MS)


def named(page: Page, name: str) -> Locator:
    return page.get_by_role("button", name=name, exact=True).first


def set_up(page: Page, kitchen: Kitchen) -> None:
    """The six steps, every button tapped twice."""
    page.goto(kitchen.address)
    page.get_by_role("link", name="Begin with your own kitchen").click()
    page.get_by_label("What shall it be called?").fill("Ours")
    twice(named(page, "Begin"), "step 1 of 6")
    page.get_by_label("Height above the sea").fill("690 m")
    page.get_by_text("Place, warmth, days ahead").click()
    page.get_by_label("Plan ahead, days").fill("2")
    twice(named(page, "Keep and go on"), "step 2 of 6")
    page.get_by_role("link", name="Add a person").click()
    page.get_by_label("Name").fill("Second")
    twice(named(page, "Keep"), "Added: person Second")
    twice(named(page, "Go on"), "step 3 of 6")
    page.get_by_role("link", name="boiling-water pot").click()
    twice(named(page, "Keep"), "Added: canner")
    twice(named(page, "Go on"), "step 4 of 6")
    twice(named(page, "Keep and go on"), "step 5 of 6")
    page.get_by_label("pint jars").last.fill("12")
    page.get_by_label("pint lids").last.fill("12")
    twice(named(page, "Keep and go on"), "the last step")
    page.get_by_label("What comes in?").fill("4 kg tomatoes, ripe")
    page.get_by_text("nobody publishes how long tomato keeps").wait_for()  # told while one types
    twice(named(page, "3 days"), "The set-up is done")


def ask_for_plan(page: Page, kitchen: Kitchen) -> None:
    page.goto(f"{kitchen.address}/split/")
    named(page, "Make a plan").or_(named(page, "Plan again")).dblclick()
    expect(page.locator("#job")).to_be_visible()


def visit(page: Page, address: str) -> None:
    """Goes there once the page has stopped to lead on by itself."""
    page.wait_for_load_state("networkidle")
    page.goto(address)


def wait_for_plan(page: Page) -> None:
    expect(page.locator("#job")).to_have_count(0, timeout=PLAN_MS)
    expect(page.get_by_text("made just now")).to_be_visible(timeout=PLAN_MS)


def test_alone_with_double_taps_and_a_lost_line(chromium: Browser, kitchen: Kitchen, elsewhere: list[str]) -> None:
    tablet = device(chromium, kitchen, elsewhere, TABLET)
    page = tablet.new_page()
    set_up(page, kitchen)
    ours = "household_id = (SELECT id FROM kitchen_household WHERE name = 'Ours')"
    assert kitchen.count("kitchen_household") == 2  # the invented one is here too
    for rows, count in (("kitchen_person", 2), ("kitchen_canner", 1), ("arrivals_arrival", 1)):
        assert kitchen.count(f"{rows} WHERE {ours}") == count, rows

    ask_for_plan(page, kitchen)
    kitchen.kill()  # in the midst of it
    kitchen.start()
    page.goto(f"{kitchen.address}/split/")
    wait_for_plan(page)
    assert kitchen.count("day_planjob") == kitchen.count("day_madeplan") == 1

    page.get_by_role("link", name="By hand: tomatoes").click()
    page.get_by_label("What").select_option("frozen")
    page.get_by_label("At least").fill("1 kg")
    twice(named(page, "Wish it"), "not in this plan yet")
    assert kitchen.count("day_wish") == 1
    ask_for_plan(page, kitchen)
    wait_for_plan(page)
    expect(page.get_by_text("not in this plan yet")).to_have_count(0)
    assert kitchen.count("day_madeplan") == 2

    follow_the_day(page, tablet, kitchen)
    move_a_task(page, kitchen)
    tablet.close()


def follow_the_day(page: Page, tablet: BrowserContext, kitchen: Kitchen) -> None:
    """Later, begun, done: each tapped twice; begun while there is no connection."""
    said = "day_taskevent WHERE kind = '{}'"
    visit(page, kitchen.address)
    named(page, "15 min later").dblclick()
    expect(page.get_by_text("Later: ").first).to_be_visible()
    tablet.set_offline(True)
    named(page, "Begin now").dblclick()
    expect(page.locator("#kept-taps")).to_contain_text(KEPT)
    assert kitchen.count(said.format("begun")) == 0
    tablet.set_offline(False)
    expect(page.locator("#kept-taps")).to_have_count(0)
    expect(page.get_by_text("Begun: ").first).to_be_visible()
    named(page, "Done").dblclick()
    expect(page.get_by_text("Done: ").first).to_be_visible()
    visit(page, kitchen.address)
    assert [kitchen.count(said.format(kind)) for kind in ("late", "begun", "done")] == [1, 1, 1]
    expect(page.get_by_text("1 done today")).to_be_visible()


def move_a_task(page: Page, kitchen: Kitchen) -> None:
    """A task of the last day, which is still to come: checked at once, an offer, which is taken, or why not."""
    visit(page, f"{kitchen.address}/timetable/")
    page.get_by_role("navigation", name="Days").get_by_role("link").last.click()
    page.locator(".tasks a.row").last.click()
    page.locator("form[action*=move] button[name=time]").last.dblclick()
    offered, refused = page.get_by_text("What comes of it"), page.get_by_role("alert")
    expect(offered.or_(refused).first).to_be_visible()
    if offered.count():
        assert kitchen.count("day_timing WHERE accepted_at IS NULL") == 1
        named(page, "Take it").dblclick()
        expect(page.locator(".tasks").or_(page.get_by_text("Taken")).first).to_be_visible()
        assert kitchen.count("day_timing WHERE accepted_at IS NOT NULL") == 1


@pytest.mark.skipif(not lan_addresses(), reason="this machine is in no network, so --lan refuses")
def test_two_members_at_once(chromium: Browser, kitchen: Kitchen, elsewhere: list[str]) -> None:
    first = device(chromium, kitchen, elsewhere, TABLET).new_page()
    set_up(first, kitchen)
    first.goto(f"{kitchen.address}/door/")
    first.get_by_role("textbox").first.fill(PASSPHRASE)
    first.get_by_role("button", name="Set it").click()
    first.get_by_text("It is set").wait_for()
    kitchen.kill()
    kitchen.start("--lan")
    ada, bo = (device(chromium, kitchen, elsewhere, size).new_page() for size in (TABLET, PHONE))
    for page, name in ((ada, "Ada"), (bo, "Bo")):
        join(page, kitchen, name)
    for page, line in ((ada, "2 kg green beans"), (bo, "1 kg carrots")):
        page.goto(f"{kitchen.address}/arrivals/")
        page.get_by_label("What comes in?").fill(line)
        twice(named(page, "Add"), f"Added {line}")
    assert kitchen.count("arrivals_arrival WHERE mass_g IN (1000, 2000)") == 2
    for page in (ada, bo):
        page.goto(f"{kitchen.address}/arrivals/")
        page.get_by_role("link", name="green beans").click()
        page.get_by_role("link", name="Correct").click()
        page.get_by_label("Amount").wait_for()
    starter = ada.context.new_page()
    ask_for_plan(starter, kitchen)
    correct_at_once(ada, bo, kitchen)
    wait_for_plan(starter)
    starter.goto(f"{kitchen.address}/split/")
    assert kitchen.count("day_planjob") == kitchen.count("day_madeplan") == 1
    for page in (first, ada, bo):
        page.context.close()


def join(page: Page, kitchen: Kitchen, name: str) -> None:
    page.goto(kitchen.address)
    page.get_by_role("link", name="I am new here").click()
    page.get_by_label("passphrase").fill(PASSPHRASE)
    page.get_by_label("Name").fill(name)
    page.get_by_label("password").last.fill(OWN)
    named(page, "Join").click()
    page.get_by_role("link", name="Arrivals").first.wait_for()


def correct_at_once(ada: Page, bo: Page, kitchen: Kitchen) -> None:
    """Both changed the same form; whoever comes second, by a hair or by minutes, is told and loses nothing."""
    beans = "SELECT mass_g FROM arrivals_arrival WHERE food = 'green bean' ORDER BY id DESC LIMIT 1"
    sent = """amount => { const form = document.querySelector("main form.plate"), fields = new FormData(form);
      fields.set("amount", amount);
      window.answer = fetch(form.action, {method: "POST", body: new URLSearchParams(fields), redirect: "manual"}) }"""
    for page, amount in ((ada, "3 kg"), (bo, "4 kg")):
        page.evaluate(sent, amount)  # nobody waits for the other's answer
    answers = [page.evaluate("window.answer.then(one => one.status)") for page in (ada, bo)]
    assert sorted(answers) == [0, 409], answers  # 0: led on, it is kept
    winner, loser = (ada, bo) if answers[0] == 0 else (bo, ada)
    name, kept, typed = ("Ada", 3, "4.5 kg") if winner is ada else ("Bo", 4, "3.5 kg")
    assert kitchen.ask(beans) == kept * 1000
    loser.get_by_label("Amount").fill(typed)
    named(loser, "Keep").dblclick()
    expect(loser.get_by_text(f"Changed meanwhile by {name}")).to_be_visible()
    expect(loser.get_by_text(f"{kept} kg stands there now, your form says {typed}")).to_be_visible()
    assert kitchen.ask(beans) == kept * 1000
    expect(loser.get_by_label("Amount")).to_have_value(typed)
    twice(named(loser, "Keep"), "What was done")
    assert kitchen.ask(beans) == round(float(typed[:3]) * 1000)
    expect(loser.get_by_text(f"· {name}").first).to_be_visible()  # and the history says who did what
