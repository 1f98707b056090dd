"""The connection is lost and comes back: what was tapped is kept on the device, sent once, and nothing is lost.

With the real server, killed and started anew, and two real browsers. Needs Debian's Chromium.
"""

import shutil
import time

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from real_server import Kitchen

CHROMIUM = shutil.which("chromium")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: apt-get install chromium")
LONG_MS, NEW_TAP_MS = 30_000, 600
SHELF = "/larder/?place=shelf"
KEPT = "Kept on this device"


BEANS = "SELECT count FROM larder_lot WHERE product = 'green beans in jars'"
TAKEN = "larder_takenout"


def device(chromium: Browser, kitchen: Kitchen, seen: list[str]) -> BrowserContext:
    context = chromium.new_context()
    context.set_default_timeout(LONG_MS)
    context.on(
        "request",
        lambda request: None if request.url.startswith(kitchen.address + "/") else seen.append(request.url),
    )
    return context


def tap(page: Page, *, twice: bool = False) -> None:
    button = page.get_by_label("1 quart jar green beans in jars out")
    button.dblclick() if twice else button.click()


def nothing_kept(page: Page) -> bool:
    return bool(
        page.evaluate(
            """() => new Promise(done => { const asked = indexedDB.open("stillroom", 1); asked.onsuccess = () => {
            const all = asked.result.transaction("taps").objectStore("taps").getAll();
            all.onsuccess = () => { asked.result.close(); done(all.result.length === 0) } } })"""
        )
    )


def wait_for(true: object, page: Page) -> None:
    until = time.monotonic() + LONG_MS / 1000
    while not true():  # type: ignore[operator]
        assert time.monotonic() < until
        page.wait_for_timeout(200)


def test_two_people_one_of_them_in_the_cellar(chromium: Browser, kitchen: Kitchen) -> None:
    seen: list[str] = []
    cellar, stove = (device(chromium, kitchen, seen) for _ in range(2))
    below, above = cellar.new_page(), stove.new_page()
    below.goto(kitchen.address + SHELF)
    above.goto(kitchen.address + SHELF)
    cellar.set_offline(True)
    tap(below, twice=True)
    expect(below.locator("#kept-taps")).to_contain_text(KEPT)
    expect(below.locator("#kept-taps")).to_contain_text("green beans in jars")
    tap(above, twice=True)  # a double tap on a good connection is one jar too
    expect(above.get_by_text("green beans in jars: eaten")).to_be_visible()
    assert (kitchen.ask(BEANS), kitchen.count(TAKEN)) == (5, 1)
    cellar.set_offline(False)
    expect(below.get_by_text("green beans in jars: eaten")).to_be_visible()
    expect(below.locator("#kept-taps")).to_have_count(0)
    assert (kitchen.ask(BEANS), kitchen.count(TAKEN)) == (4, 2)
    for page in (below, above):
        wait_for(lambda page=page: nothing_kept(page), page)
    assert (kitchen.ask(BEANS), kitchen.count(TAKEN)) == (4, 2)
    assert seen == []
    cellar.close()
    stove.close()


def test_the_server_is_killed_and_started_anew(chromium: Browser, kitchen: Kitchen) -> None:
    seen: list[str] = []
    tablet = device(chromium, kitchen, seen)
    page = tablet.new_page()
    page.goto(kitchen.address + SHELF)
    kitchen.kill()
    tap(page)
    expect(page.locator("#kept-taps")).to_contain_text(KEPT)
    page.close()  # and the page is closed too
    kitchen.start()
    assert kitchen.ask(BEANS) == 6
    page = tablet.new_page()
    page.goto(kitchen.address)
    expect(page.get_by_text("green beans in jars: eaten")).to_be_visible()
    assert (kitchen.ask(BEANS), kitchen.count(TAKEN)) == (5, 1)
    wait_for(lambda: nothing_kept(page), page)
    assert seen == []
    tablet.close()


def test_what_can_not_be_done_any_more_is_told(chromium: Browser, kitchen: Kitchen) -> None:
    tablet, phone = (device(chromium, kitchen, []) for _ in range(2))
    page, other = tablet.new_page(), phone.new_page()
    page.goto(kitchen.address + SHELF)
    tablet.set_offline(True)
    tap(page)
    expect(page.locator("#kept-taps")).to_contain_text(KEPT)
    other.goto(kitchen.address + SHELF)
    other.get_by_role("link", name="green beans in jars").click()
    other.get_by_label("How many of 6 quart jars").fill("all")
    other.get_by_role("button", name="Take out").click()
    expect(other.get_by_text("6 quart jars of 900 g green beans in jars: eaten").first).to_be_visible()
    tablet.set_offline(False)
    expect(page.locator("#kept-taps")).to_contain_text("could not be done any more")
    assert (kitchen.ask(BEANS), kitchen.count(TAKEN)) == (0, 1)
    page.get_by_role("button", name="I have seen it").click()
    expect(page.locator("#kept-taps")).to_have_count(0)
    assert nothing_kept(page)
    tablet.close()
    phone.close()


def test_two_lines_written_in_the_garden(chromium: Browser, kitchen: Kitchen) -> None:
    phone = device(chromium, kitchen, [])
    page = phone.new_page()
    page.goto(f"{kitchen.address}/arrivals/")
    phone.set_offline(True)
    for line in ("7.1 kg apples", "7.2 kg apples"):
        page.get_by_label("What comes in?").fill(line)
        page.get_by_role("button", name="Add").first.click()
        expect(page.locator("#kept-taps")).to_contain_text(line)
    phone.set_offline(False)
    expect(page.get_by_text("Added 7.2 kg apples")).to_be_visible()
    assert kitchen.count("arrivals_arrival WHERE mass_g IN (7100, 7200)") == 2
    phone.close()


def test_a_line_that_needs_a_question_back_stays_until_it_is_answered(chromium: Browser, kitchen: Kitchen) -> None:
    """No amount: asked for once the connection is back, not lost."""
    phone = device(chromium, kitchen, [])
    page = phone.new_page()
    page.goto(f"{kitchen.address}/arrivals/")
    phone.set_offline(True)
    page.get_by_role("button", name="Add").first.dblclick()  # nothing is typed: nothing is kept
    page.wait_for_timeout(NEW_TAP_MS)
    page.get_by_label("What comes in?").fill("quinces, ripe")
    page.get_by_role("button", name="Add").first.dblclick()
    kept = page.locator("#kept-taps")
    expect(kept).to_contain_text("quinces")
    phone.set_offline(False)
    expect(kept).to_contain_text("needs an answer from you: Add: quinces, ripe.")
    page.goto(kitchen.address)  # it is not answered at once, and is asked everywhere
    expect(kept.get_by_role("button", name="Answer it")).to_have_count(1)
    before = kitchen.count("arrivals_arrival")
    kept.get_by_role("button", name="Answer it").click()
    expect(page.get_by_label("What comes in?")).to_have_value("quinces, ripe")
    expect(kept).to_have_count(0)  # it is asked right there
    page.get_by_label("What comes in?").fill("7.3 kg quinces, ripe, keeps 3 days")
    page.get_by_role("button", name="Add").first.click()
    expect(page.get_by_text("Added 7.3 kg quinces")).to_be_visible()
    expect(kept).to_have_count(0)
    wait_for(lambda: nothing_kept(page), page)
    assert kitchen.count("arrivals_arrival") == before + 1
    phone.close()


def test_a_line_that_can_not_be_read_is_asked_for_or_left(chromium: Browser, kitchen: Kitchen) -> None:
    phone = device(chromium, kitchen, [])
    page = phone.new_page()
    page.goto(f"{kitchen.address}/arrivals/")
    phone.set_offline(True)
    page.get_by_label("What comes in?").fill("7.4 kg xyzzy")
    page.get_by_role("button", name="Add").first.click()
    kept = page.locator("#kept-taps")
    expect(kept).to_contain_text("7.4 kg xyzzy")
    phone.set_offline(False)
    expect(kept).to_contain_text("No food called “xyzzy” is known here")
    kept.get_by_role("button", name="Leave it").click()
    expect(kept).to_have_count(0)
    assert nothing_kept(page)
    phone.close()


def test_a_form_lost_on_its_way_is_told_until_it_is_answered(chromium: Browser, kitchen: Kitchen) -> None:
    """The kitchen could be reached, and then could not: the browser shows its own page of a lost connection."""
    phone = device(chromium, kitchen, [])
    page = phone.new_page()
    page.goto(f"{kitchen.address}/arrivals/")
    page.route("**/*", lambda route: route.abort() if route.request.method == "POST" else route.continue_())
    page.get_by_label("What comes in?").fill("7.5 kg xyzzy")
    with page.expect_event("requestfailed", lambda request: request.is_navigation_request()):
        page.get_by_role("button", name="Add").first.click(no_wait_after=True)
    page.wait_for_timeout(NEW_TAP_MS)
    page.goto(kitchen.address)
    kept = page.locator("#kept-taps")
    expect(kept).to_contain_text(KEPT, timeout=LONG_MS)
    expect(kept).to_contain_text("7.5 kg xyzzy")
    page.unroute("**/*")
    expect(kept).to_contain_text("No food called “xyzzy” is known here", timeout=LONG_MS)
    assert not nothing_kept(page)
    kept.get_by_role("button", name="Leave it").click()
    expect(kept).to_have_count(0)
    assert nothing_kept(page)
    phone.close()


def test_a_form_lost_on_its_way_is_refused_on_the_first_try_after(chromium: Browser, kitchen: Kitchen) -> None:
    """On a page without its form, and so without the reason."""
    phone = device(chromium, kitchen, [])
    page = phone.new_page()
    page.goto(f"{kitchen.address}/arrivals/")
    page.route("**/*", lambda route: route.abort() if route.request.method == "POST" else route.continue_())
    page.get_by_label("What comes in?").fill("7.6 kg xyzzy")
    with page.expect_event("requestfailed", lambda request: request.is_navigation_request()):
        page.get_by_role("button", name="Add").first.click(no_wait_after=True)
    page.wait_for_timeout(NEW_TAP_MS)
    page.unroute("**/*")
    page.goto(kitchen.address)
    expect(page.locator("#kept-taps")).to_contain_text("No food called “xyzzy” is known here", timeout=LONG_MS)
    phone.close()


def test_what_the_page_that_came_refuses_is_told_once(chromium: Browser, kitchen: Kitchen) -> None:
    tablet = device(chromium, kitchen, [])
    page, other = tablet.new_page(), tablet.new_page()
    page.goto(f"{kitchen.address}/arrivals/")
    page.get_by_label("What comes in?").fill("7.7 kg xyzzy")
    page.get_by_role("button", name="Add").first.click()
    expect(page.get_by_text("No food called “xyzzy” is known here")).to_have_count(1)
    wait_for(lambda: nothing_kept(page), page)
    expect(page.locator("#kept-taps")).to_have_count(0)
    for one in (page, other):
        one.goto(kitchen.address + SHELF)
    other.get_by_role("link", name="green beans in jars").click()
    other.get_by_label("How many of 6 quart jars").fill("all")
    other.get_by_role("button", name="Take out").click()
    expect(other.get_by_text("6 quart jars of 900 g green beans in jars: eaten").first).to_be_visible()
    other.close()
    tap(page)  # the page of an empty lot has no form, and no word of it
    expect(page.locator("#kept-taps")).to_contain_text("could not be done any more", timeout=LONG_MS)
    expect(page.locator("main .note.stop")).to_have_count(1)
    tablet.close()
