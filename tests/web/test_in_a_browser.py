"""The pages in a real browser: WCAG 2.2 AA by axe-core, no other host, no script needed, large targets, none too wide.

Needs Debian's Chromium (`apt-get install chromium`), which `.ci/run` installs.
"""

import itertools
import shutil
from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page
from pytest_django.live_server_helper import LiveServer

from stillroom.web.exchange.demo import open_demo
from stillroom.web.kitchen.models import Household, open_household

CHROMIUM = shutil.which("chromium")
pytestmark = [
    pytest.mark.skipif(CHROMIUM is None, reason="no Chromium here: apt-get install chromium"),
    pytest.mark.django_db(transaction=True),
]
STANDARD = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PHONE, TABLET = {"width": 390, "height": 844}, {"width": 1024, "height": 768}
LONG_PHONE = {"width": 390, "height": 4000}  # so that the bar at the bottom, which is passed under, covers nothing
# What can be tapped and is lower than 48 px (WCAG 2.2 asks for 24; wet hands want more), links inside a text left out.
SMALL_TARGETS = """() => [...document.querySelectorAll("main :is(a, button, select, summary, input), nav a")]
  .filter(one => one.offsetParent && one.type !== "hidden" && !one.closest("p:not(.up)"))
  .map(one => one.closest("label") || one)
  .filter(one => one.getBoundingClientRect().height < 47.5).map(one => one.outerHTML.slice(0, 100))"""
BAR_ASIDE = ".places { position: static !important }"  # what the bar covers can be scrolled free
PAGES = (
    *("/", "/arrivals/", "/kitchen/", "/kitchen/begin", "/kitchen/place", "/kitchen/equipment", "/kitchen/dislikes"),
    *("/kitchen/jars", "/kitchen/people/", "/kitchen/meals/", "/kitchen/canners/", "/kitchen/pantry/new"),
    *("/folder/import", "/folder/lists", "/folder/check", "/nothing-here"),
    *("/bench/", "/bench/card?food=beef&form=ground&pack=hot", "/bench/card?food=beef&jar=1.2l"),
    *("/table/", "/table/2027-04-10/dinner"),
    *("/larder/", "/larder/?place=shelf", "/larder/?q=beans", "/larder/add"),
    *(
        "/sources/",
        "/sources/?q=beans",
        "/sources/no-process",
        "/sources/keeping",
        "/bench/sums/dough?flour=1+kg",
        "/bench/recipes/new",
    ),
)


@pytest.fixture
def demo(transactional_db: None) -> Household:
    return open_demo()


def watched(page: Page, address: str) -> list[str]:
    """What the page asks of other hosts, and what it complains of."""
    seen: list[str] = []
    page.on("request", lambda request: seen.append(request.url) if not request.url.startswith(address) else None)
    page.on("console", lambda said: seen.append(said.text) if "Failed to load resource" not in said.text else None)
    page.on("pageerror", lambda error: seen.append(str(error)))
    return seen


def make_awkward(demo: Household) -> None:
    """What is past its clock or date, long words without a space, and large amounts."""
    demo.name = "Donaudampfschifffahrtsgesellschaftskapitänsküche am Quolltarn"
    demo.save()
    demo.arrivals.filter(food="tomato").update(day=demo.today - timedelta(days=40), note="w" * 150, mass_g=1.5e7)
    beans = {"product": "beans", "food": "green bean", "place": "shelf", "container": "pint jar", "keeps_days": 365}
    jars = {"jar": "pint", "jars": 8, "most_jars": 16, "process": "20 min at 12 psi, the canner", "psi": "12"}
    for number, other in enumerate((jars, jars | {"used_at": demo.now() - timedelta(days=1)}, {})):
        demo.put_ups.create(
            **{"key": f"{number}", "run": f"{number}", "name": "Grünebohnenaufvorrateinkochen" * 2, "source": "s" * 99},
            **{"done_at": demo.now() - timedelta(days=1), "ready_on": demo.today},
            **{"made": [beans | {"count": 8, "mass_g": 3600.0}]} | other,
        )
    lot = demo.lots.first()
    demo.lots.filter(pk=lot.pk).update(
        product="Rindfleischetikettierungsüberwachungsaufgabenübertragungsgesetz",
        best_by=demo.today - timedelta(days=400),
    )


def test_every_page_is_accessible(chromium: Browser, live_server: LiveServer, demo: Household) -> None:
    context = chromium.new_context(bypass_csp=True, reduced_motion="reduce")  # colours do not fade while one looks
    page = context.new_page()
    make_awkward(demo)
    first = demo.arrivals.first()
    put_up = [f"/larder/put-up/{row.pk}" for row in demo.put_ups.all()]
    lot = f"/larder/{demo.lots.first().pk}"
    for path in (*PAGES, f"/arrivals/{first.pk}", f"/arrivals/{first.pk}/edit", lot, *put_up):
        page.goto(live_server.url + path)
        page.add_style_tag(content=BAR_ASIDE)
        for look, size in itertools.product(("light", "dark"), (TABLET, LONG_PHONE)):
            page.emulate_media(color_scheme=look)  # type: ignore[arg-type]
            page.set_viewport_size(size)  # type: ignore[arg-type]
            seen = f"{path}, {look}, {size['width']} px"
            found = Axe().run(page, options={"runOnly": STANDARD}).response["violations"]
            assert not [(one["id"], one["nodes"][0]["html"]) for one in found], seen
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), f"{seen} is too wide"
            assert page.evaluate(SMALL_TARGETS) == [], seen
    context.close()


def test_nothing_leaves_the_machine_and_nothing_breaks_the_policy(
    chromium: Browser, live_server: LiveServer, demo: Household
) -> None:
    page = chromium.new_page()
    seen = watched(page, live_server.url)
    for path in PAGES:
        page.goto(live_server.url + path)
    assert page.evaluate("typeof htmx") == "object"
    page.goto(f"{live_server.url}/arrivals/")
    page.get_by_label("What comes in?").press_sequentially("9 kg minced beef, tomorrow")
    page.get_by_text("may wait until").wait_for()
    assert seen == []
    page.close()


def test_a_kitchen_is_set_up_on_a_phone_without_javascript(
    chromium: Browser, live_server: LiveServer, demo: Household
) -> None:
    page = chromium.new_context(viewport=PHONE, java_script_enabled=False).new_page()  # type: ignore[arg-type]
    page.goto(live_server.url)
    page.get_by_role("link", name="Begin with your own kitchen").click()
    page.get_by_role("button", name="Begin", exact=True).click()
    page.get_by_label("Height above the sea").fill("690 m")
    page.get_by_role("button", name="Keep and go on").click()
    page.get_by_role("button", name="Go on").click()
    page.get_by_role("link", name="pressure canner, dial").click()
    page.get_by_label("Dial gauge: shows").fill("0 psi")
    page.get_by_role("button", name="Keep").click()
    page.get_by_role("button", name="Go on").click()
    page.get_by_role("button", name="Keep and go on").click()
    page.get_by_label("quart jars").fill("12")
    page.get_by_label("quart lids").fill("12")
    page.get_by_role("button", name="Keep and go on").click()
    page.get_by_label("What comes in?").fill("9 kg tomatoes, ripe")
    page.get_by_role("button", name="Add").first.click()
    assert page.get_by_text("Added 9 kg tomatoes").is_visible()
    page.get_by_role("button", name="5 days").click()
    assert open_household().arrivals.get().given_days == 5
    page.get_by_role("button", name="Take back").click()
    assert open_household().arrivals.get().given_days == 3


def test_the_chosen_look_wins_over_the_device(chromium: Browser, live_server: LiveServer, demo: Household) -> None:
    page = chromium.new_context(color_scheme="light").new_page()
    page.goto(live_server.url)
    light = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.get_by_role("button", name="dark").click()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") != light
