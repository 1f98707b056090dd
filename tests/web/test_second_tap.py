"""The second half of a double tap that finds a page which came in between does nothing there. Needs Debian's Chromium.

The pages are served from memory, with the script as it is, so that they come faster than a hand taps on any machine.
"""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.contrib.staticfiles.finders import find
from playwright.sync_api import Browser, Page, Route
from pytest_django.live_server_helper import LiveServer

from stillroom.web.exchange.demo import open_demo

pytestmark = pytest.mark.skipif(shutil.which("chromium") is None, reason="no Chromium here: apt-get install chromium")
PLACE = "http://kitchen.test/"
USUAL, PATIENT_MS = "SECOND_MS = 500", 3000  # the usual time of a double click on desktops (common practice, no source)
APART_MS = PATIENT_MS + 300
X, Y = 60, 60
# Page 1 leads to page 2, and so on; each has the button at the same place, page 2 another one below.
FORM = '<form method=post action="/{next}"><button style="position:fixed; left:8px; top:8px; width:200px; height:99px">'
HTML = (
    "<!doctype html><title>{here}</title><script src=/second_tap.js></script><body>"
    + FORM
    + "tap</button></form>{more}"
)
LOWER = '<button id=lower style="position:fixed; left:8px; top:200px; width:200px; height:99px">lower</button>'


class Shelf:
    """With more time for the second half, so that a busy machine is fast enough. Counts what was taken, by page."""

    def __init__(self, page: Page) -> None:
        self.page, self.second_ms = page, PATIENT_MS
        self.taken: list[str] = []
        page.route("**/*", self.answer)
        page.goto(f"{PLACE}1")

    def in_usual_time(self) -> None:
        """With the script as it is."""
        self.second_ms = 500
        self.page.goto(f"{PLACE}1")

    def answer(self, route: Route) -> None:
        name = route.request.url.removeprefix(PLACE)
        if name == "second_tap.js":
            script = Path(str(find("frame/second_tap.js"))).read_text()
            assert USUAL in script
            route.fulfill(content_type="text/javascript", body=script.replace(USUAL, f"SECOND_MS = {self.second_ms}"))
            return
        if route.request.method == "POST":
            self.taken.append(name)
        here = int(name) if name.isdigit() else 0
        route.fulfill(content_type="text/html", body=HTML.format(here=here, next=here + 1, more=LOWER))

    def tap(self, *, x: int = X, y: int = Y) -> None:
        self.page.mouse.click(x, y)

    def below(self, act: str) -> None:
        """What the button below does."""
        self.page.evaluate(f"() => {{ document.getElementById('lower').onclick = () => {{ {act} }} }}")

    def is_on(self, here: int) -> None:
        self.page.wait_for_function(f"document.title === '{here}' && document.readyState === 'complete'")

    def settle(self) -> list[str]:
        """What was taken, once any tap has had its effect."""
        self.page.wait_for_timeout(300)
        return self.taken


@pytest.fixture
def shelf(chromium: Browser) -> Iterator[Shelf]:
    context = chromium.new_context()
    yield Shelf(context.new_page())
    context.close()


def test_the_second_half_of_a_double_tap_does_nothing_on_the_page_that_came(shelf: Shelf) -> None:
    shelf.tap()
    shelf.is_on(2)
    shelf.tap()
    shelf.tap(x=X + 20)  # a hand trembles, and may tap a third time
    assert shelf.settle() == ["2"]


def test_both_halves_of_a_double_tap_send_a_form_once(shelf: Shelf) -> None:
    """So the first answer is the one that is seen, with what it says."""
    shelf.page.locator("button").first.dblclick()
    shelf.is_on(2)
    assert shelf.settle() == ["2"]


def test_a_later_tap_passes(shelf: Shelf) -> None:
    shelf.in_usual_time()
    shelf.tap()
    shelf.is_on(2)
    shelf.page.wait_for_timeout(600)
    shelf.tap()
    shelf.is_on(3)
    assert shelf.taken == ["2", "3"]


def test_no_place_goes_dead_when_the_clock_is_set_back(shelf: Shelf) -> None:
    shelf.tap()
    shelf.is_on(2)
    an_hour_ahead = "const tap = JSON.parse(sessionStorage['last-tap']); tap.at += 3600e3"
    shelf.page.evaluate(f"() => {{ {an_hour_ahead}; sessionStorage['last-tap'] = JSON.stringify(tap) }}")
    shelf.page.goto(f"{PLACE}2")
    shelf.tap()
    shelf.is_on(3)
    assert shelf.taken == ["2", "3"]


def test_another_place_passes_at_once(shelf: Shelf) -> None:
    shelf.tap()
    shelf.is_on(2)
    shelf.below("document.title = 'low'")
    shelf.tap(y=250)
    assert shelf.page.title() == "low"


def test_a_key_passes_at_once(shelf: Shelf) -> None:
    shelf.tap()
    shelf.is_on(2)
    shelf.page.locator("button").first.focus()
    shelf.page.keyboard.press("Enter")
    shelf.is_on(3)
    assert shelf.taken == ["2", "3"]


def test_taps_on_the_same_page_are_left_alone(shelf: Shelf) -> None:
    """Plus, plus, plus."""
    shelf.below("window.taps = (window.taps || 0) + 1")
    for _ in range(3):
        shelf.tap(y=250)
        shelf.page.wait_for_timeout(100)
    assert shelf.page.evaluate("window.taps") == 3


def test_a_part_of_the_page_that_was_swapped_is_as_a_page_that_came(shelf: Shelf) -> None:
    swapped = "document.body.dispatchEvent(new CustomEvent('htmx:afterSwap', {bubbles: true}))"
    shelf.below(f"window.taps = (window.taps || 0) + 1; {swapped}")
    shelf.tap(y=250)
    shelf.tap(y=250)
    assert shelf.page.evaluate("window.taps") == 1
    shelf.page.wait_for_timeout(APART_MS)
    shelf.tap(y=250)
    assert shelf.page.evaluate("window.taps") == 2


def test_a_page_that_comes_back_is_as_one_that_came(shelf: Shelf) -> None:
    """Kept by the browser or loaded anew: a tap that led back does not take."""
    shelf.below("location.href = '/7'")
    shelf.page.wait_for_timeout(APART_MS)
    shelf.tap(y=250)
    shelf.is_on(7)
    shelf.page.wait_for_timeout(APART_MS)
    shelf.below("history.back()")
    shelf.tap(y=250)
    shelf.is_on(1)
    shelf.below("location.href = '/8'")
    shelf.tap(y=250)
    shelf.page.wait_for_timeout(300)
    assert shelf.page.title() == "1"


@pytest.mark.django_db(transaction=True)
def test_our_pages_have_it_before_anything_can_be_tapped(chromium: Browser, live_server: LiveServer) -> None:
    open_demo()
    page = chromium.new_page()
    page.goto(f"{live_server.url}/larder/?place=shelf")
    script = page.locator("head script[src*=second_tap]")
    assert script.count() == 1
    assert not script.evaluate("script => script.defer || script.async")
    page.get_by_label("1 quart jar green beans in jars out").click()
    page.get_by_text("green beans in jars: eaten").wait_for()
    assert page.evaluate("Object.keys(JSON.parse(sessionStorage.getItem('last-tap'))).length") == 3
    page.close()
