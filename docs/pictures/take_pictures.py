"""Pictures of the pages for the shop window: make pictures, or python docs/pictures/take_pictures.py.

Starts the server on 127.0.0.1 with a fresh demo household (invented), has it planned by a press of the button, and
keeps each page as a tablet shows it (1024 × 768, light) and as a phone does (390 × 844, dark) in `pages/`.
Needs Debian's Chromium.
"""

from __future__ import annotations

import io
import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.error import URLError
from urllib.parse import urljoin
from urllib.request import urlopen

from PIL import Image
from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

OUT = Path(__file__).parent / "pages"
TABLET, PHONE = ViewportSize(width=1024, height=768), ViewportSize(width=390, height=844)
START_S, PLAN_MS, COLOURS = 60, 120_000, 96
PAGES = {
    "today": "/",
    "arrivals": "/arrivals/",
    "arrival": "/arrivals/2",
    "arrival-edit": "/arrivals/2/edit",
    "split": "/split/",
    "split-food": "/split/food/tomato",
    "timetable": "/timetable/",
    "table": "/table/",
    "meal": "/table/2027-04-09/dinner",
    "larder": "/larder/",
    "larder-place": "/larder/?place=shelf",
    "larder-add": "/larder/add",
    "lot": "/larder/1",
    "bench": "/bench/",
    "card": "/bench/card?food=beef+stewing+meat&form=cubes&pack=raw&jar=quart&canner=dial+gauge",
    "refusal": "/bench/card?food=green+beans&jar=quart&canner=boiling+water",
    "recipes": "/bench/recipes/",
    "recipe-new": "/bench/recipes/new",
    "recipe-from-page": "/bench/recipes/page",
    "sources": "/sources/",
    "sources-found": "/sources/?q=green+beans",
    "source": "/sources/low-acid",
    "no-process": "/sources/no-process",
    "kitchen": "/kitchen/",
    "begin": "/kitchen/begin",
    "place": "/kitchen/place",
    "equipment": "/kitchen/equipment",
    "dislikes": "/kitchen/dislikes",
    "jars": "/kitchen/jars",
    "people": "/kitchen/people/",
    "meals": "/kitchen/meals/",
    "canners": "/kitchen/canners/",
    "pantry": "/kitchen/pantry/",
    "targets": "/kitchen/targets/",
    "folder-in": "/folder/import",
    "folder-check": "/folder/check",
    "lists": "/folder/lists",
    "door": "/door/",
    "not-found": "/nothing-here",
    "recipe": "/bench/recipes/ours/tomato_sauce_jarred",
    "sum-dough": "/bench/sums/dough?flour=1+kg&known_time=2+h&known_temp=24+C&dough_temp=24+C",
    "sum-loads": "/bench/sums/loads?jar=quart&jars=20",
    "sum-acid": "/bench/sums/acid?food=tomatoes&quarts=7",
    "sum-vinegar": "/bench/sums/vinegar?volume=1+l&stronger=25%25",
    "sum-liquid": "/bench/sums/liquid?vinegar=500+ml&water=500+ml",
    "sum-syrup": "/bench/sums/syrup?kind=light&quarts=7",
    "sum-gel": "/bench/sums/gel?altitude=690+m",
    "sum-brine": "/bench/sums/brine?water=2+l&salt=3.5%25",
    "sum-cure": "/bench/sums/cure",
    "sum-waiting": "/bench/sums/waiting?food=tomatoes&minutes=15+min",
    "sum-cooling": "/bench/sums/cooling?food=stew&amount=8+l&pot=28+cm",
    "sum-freezing": "/bench/sums/freezing?food=pork&amount=23+kg&thick=3+cm",
    "sum-thawing": "/bench/sums/thawing?food=mince&amount=500+g&thick=3+cm",
    "sum-drying": "/bench/sums/drying?food=apples&thick=6+mm&amount=2+kg",
}


@contextmanager
def serving() -> Iterator[str]:
    """A server of its own with the demo household, until the block ends."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    with TemporaryDirectory() as data:
        command = [sys.executable, "-m", "stillroom.cli", "serve", "--port", str(port)]
        environment = os.environ | {"STILLROOM_DATA": data}
        server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
        try:
            _wait_for(address)
            yield address
        finally:
            server.terminate()
            server.wait(timeout=20)


def _wait_for(address: str) -> None:
    until = time.monotonic() + START_S
    while True:
        try:
            urlopen(f"{address}/kitchen/begin", timeout=10).read()
        except URLError:
            if time.monotonic() > until:
                raise SystemExit("The server did not start.") from None
            time.sleep(0.3)
        else:
            return


def make_plan(page: Page, address: str) -> dict[str, str]:
    """Presses the buttons as a cook would; returns addresses of the plan: a run, the fullest day, a task, a meal."""
    page.goto(f"{address}/split/")
    page.get_by_role("button", name="Make a plan").click()
    page.get_by_role("button", name="Look longer").click(timeout=PLAN_MS)
    page.locator("#job").wait_for()
    page.locator("#job").wait_for(state="detached", timeout=PLAN_MS)
    runs = page.locator('main a[href^="/split/run/"]')
    jarred = runs.filter(has_text="jar")
    run = (jarred if jarred.count() else runs).first.get_attribute("href") or ""
    page.goto(f"{address}/timetable/")
    days = [
        day.get_attribute("href") or ""
        for day in page.locator('main a[href^="?day="], main a[href^="/timetable/?day="]').all()
    ]
    days = list(dict.fromkeys(day.split("#")[0] for day in days)) or ["/timetable/"]
    fullest = max(days, key=lambda day: _tasks(page, f"{address}/timetable/", day))
    page.goto(urljoin(f"{address}/timetable/", fullest))
    task = page.locator('main a[href*="/timetable/task/"]').first.get_attribute("href") or ""
    page.goto(f"{address}/table/")
    meal = page.locator('main a[href^="/table/20"]').first.get_attribute("href") or ""
    return {"run": run, "timetable": fullest, "task": task, "meal": meal, "why": "/split/why"}


def _tasks(page: Page, place: str, day: str) -> int:
    page.goto(urljoin(place, day))
    return page.locator('main a[href*="/task/"], main .row').count()


def take(browser: Browser, address: str, pages: dict[str, str], device: str) -> None:
    """All pages on one device."""
    size, look = (TABLET, "light") if device == "tablet" else (PHONE, "dark")
    page = browser.new_context(viewport=size, color_scheme=look).new_page()  # type: ignore[arg-type]
    for name, path in pages.items():
        answer = page.goto(urljoin(f"{address}/timetable/", path))
        if answer is None or (answer.status >= 400 and name != "not-found"):
            raise SystemExit(f"{name}: no page {path}")
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        if wide > 0:
            print(f"{name}: {wide} px too wide on a {device}")
        keep(page.screenshot(), OUT / f"{name}-{device}.png")


def keep(shot: bytes, file: Path) -> None:
    """A small file: a page has few colours."""
    Image.open(io.BytesIO(shot)).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE).save(file, optimize=True)


def main() -> None:
    """Both devices; what was there before goes."""
    chromium = shutil.which("chromium")
    if chromium is None:
        raise SystemExit("Chromium is missing: apt-get install chromium")
    OUT.mkdir(exist_ok=True)
    for old in OUT.glob("*.png"):
        old.unlink()
    arguments = ["--disable-gpu", "--disable-background-networking", *(["--no-sandbox"] if os.geteuid() == 0 else [])]
    with serving() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=arguments)
        planned = make_plan(browser.new_page(), address)
        for device in ("tablet", "phone"):
            take(browser, address, PAGES | planned, device)
        browser.close()
    size = sum(file.stat().st_size for file in OUT.glob("*.png"))
    print(f"{len(list(OUT.glob('*.png')))} pictures, {size / 1e6:.1f} MB, in {OUT}")


if __name__ == "__main__":
    main()
