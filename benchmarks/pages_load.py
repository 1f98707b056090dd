"""How quick the pages are with twenty people on them: python benchmarks/pages_load.py [lots …] [--seconds 20].

Starts the real server on 127.0.0.1 with a data folder of its own, once for each number of lots (200, 2000, 20000), with
the demo household, thirty recipes of its own and a plan. Twenty simulated people open page after page, think one to
three seconds, and now and then take a jar out. They stop after `--seconds` or fifty pages each, whatever comes first.
A file that is only read from the disk is asked for among the pages: the yardstick where other programs run beside it.
Times are those from the first byte asked to the last byte read, on the loopback.
"""

from __future__ import annotations

import argparse
import os
import random
import re
import socket
import statistics
import subprocess
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta
from http.cookiejar import CookieJar
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.error import HTTPError, URLError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, OpenerDirector, build_opener

USERS, MOST_PAGES, THINK_S, START_S, TIMEOUT_S = 20, 50, (1.0, 3.0), 60, 60
YARDSTICK = "/static/frame/look.css"
PAGES = (
    *("/", "/arrivals/", "/split/", "/timetable/", "/kitchen/", "/sources/", "/sources/?q=beans", "/bench/"),
    *("/bench/card", "/larder/", "/larder/?place=shelf", "/larder/?q=plum", "/larder/?q=plum&page=3", YARDSTICK),
)
TAKE = "take one out (POST)"
TARGET_MS = 150
FOODS = (("plums", "plum"), ("stew", "stew"), ("beans in jars", "green bean"), ("onions", "onion"))
Times = dict[str, list[float]]


def fill(lots: int, recipes: int = 30) -> None:
    """The household of the load, in the data folder of this process; the solver sees the first 200 lots."""
    from stillroom.web.serve import set_up

    set_up()
    from django.utils import timezone

    from stillroom.planning.kept_plan import read_plan
    from stillroom.web.day.actions import LONGER_S, ask_for_plan
    from stillroom.web.day.planner import take_job, work_off
    from stillroom.web.exchange.folder import folder_of
    from stillroom.web.kitchen.models import open_household
    from stillroom.web.larder.models import Lot

    household = open_household()
    today, places = household.today, ("shelf", "freezer", "shelf", "cellar")

    def lot(number: int) -> Lot:
        product, food = FOODS[number % 4]
        return Lot(
            household=household,
            key=f"lot {number}",
            product=f"{product} {number}",
            food=food,
            place=places[number % 4],
            container="quart jar" if number % 4 != 3 else "string",
            count=1 + number % 9,
            mass_g=900.0 * (1 + number % 9),
            made_on=today - timedelta(days=20 + number % 300),
            best_by=today + timedelta(days=number % 500 - 10),
        )

    ours = Path(__file__).parent.parent / "src/stillroom/recipes/data"
    for file in sorted(ours.glob("*frozen.yaml"))[:recipes]:
        household.recipes.create(
            key=f"own_{file.stem}", text=re.sub(r"(?m)^key:.*", f"key: own_{file.stem}", file.read_text())
        )
    Lot.objects.bulk_create(lot(number) for number in range(min(lots, 200)))
    ask_for_plan(household, at=timezone.now(), seconds=LONGER_S)
    work_off(take_job(at=timezone.now()))
    if not household.made_plans.exists():
        raise SystemExit(f"No plan was found: {household.plan_jobs.last().said}")
    Lot.objects.bulk_create((lot(number) for number in range(200, lots)), batch_size=1000)
    made = household.made_plans.first()
    kept = read_plan(made.kept)  # as if it had been made with all lots, which takes the solver long
    made.kept = kept.model_copy(update={"folder": replace(kept.folder, larder=folder_of(household).larder)}).as_text()
    made.save()


@contextmanager
def serving(data: Path) -> Iterator[str]:
    """The server on a free port of 127.0.0.1, until the block ends."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    environment = os.environ | {"STILLROOM_DATA": str(data)}
    command = [sys.executable, "-m", "stillroom.cli", "serve", "--port", str(port)]
    server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_for(address)
        yield address
    finally:
        server.terminate()
        server.wait(timeout=20)


def _wait_for(address: str) -> None:
    until = time.monotonic() + START_S
    while time.monotonic() < until:
        try:
            build_opener().open(address + YARDSTICK, timeout=5).read()
        except URLError:
            time.sleep(0.3)
        else:
            return
    raise SystemExit("The server did not start.")


def user(address: str, number: int, until: float) -> Times:
    """What one person waited for, page by page [s]."""
    chance, browser = random.Random(number), build_opener(HTTPCookieProcessor(CookieJar()))
    waited: Times = defaultdict(list)
    time.sleep(chance.uniform(0, THINK_S[1]))
    pages = list(PAGES) * (MOST_PAGES // len(PAGES) + 1)
    chance.shuffle(pages)
    for page in pages[:MOST_PAGES]:
        if time.monotonic() > until:
            break
        text = _timed(browser, address, page, waited[page])
        if page == "/larder/?place=shelf" and chance.random() < 0.5:
            _take_one(browser, address, text, waited)
        time.sleep(chance.uniform(*THINK_S))
    return waited


def _take_one(browser: OpenerDirector, address: str, text: str, waited: Times) -> None:
    form = re.search(
        r'action="(/larder/\d+/out)".*?name="csrfmiddlewaretoken" value="([^"]+)".*?name="once" value="([^"]+)"', text
    )
    if form is None:
        return
    fields = {"csrfmiddlewaretoken": form[2], "once": form[3], "part": "1", "why": "eaten"}
    _timed(browser, address, form[1], waited[TAKE], urlencode(fields).encode())


def _timed(browser: OpenerDirector, address: str, page: str, waited: list[float], body: bytes | None = None) -> str:
    begun = time.perf_counter()
    try:
        text = browser.open(address + page, data=body, timeout=TIMEOUT_S).read().decode()
    except HTTPError as error:
        if body is None:
            raise
        text = error.read().decode()  # another hand took the last jar: told with 422
    waited.append(time.perf_counter() - begun)
    return text


def load(address: str, seconds: float) -> Times:
    """All waits of all people; every page is opened once beforehand, so that what is loaded late is loaded."""
    for page in PAGES:
        build_opener().open(address + page, timeout=TIMEOUT_S).read()
    until = time.monotonic() + seconds
    found: Times = defaultdict(list)
    with ThreadPoolExecutor(USERS) as people:
        for waited in people.map(lambda number: user(address, number, until), range(USERS)):
            for page, times in waited.items():
                found[page] += times
    return found


def told(lots: int, found: Times) -> None:
    """A table: page, how often, half of the waits, 95 of 100, and that beside the yardstick's."""
    yardstick = statistics.median(found[YARDSTICK])
    print(f"\n{lots} lots, {USERS} people, {sum(map(len, found.values()))} pages", flush=True)
    print(f"{'page':26}{'times':>6}{'p50 ms':>9}{'p95 ms':>9}{'p50 : file':>12}")
    for page in (*PAGES, TAKE):
        times = sorted(found.get(page, ()))
        if not times:
            continue
        p50, p95 = statistics.median(times), times[min(len(times) - 1, int(len(times) * 0.95))]
        over = "" if p95 * 1000 <= TARGET_MS else "  over the target"
        print(f"{page:26}{len(times):6}{p50 * 1000:9.0f}{p95 * 1000:9.0f}{p50 / yardstick:12.1f}{over}", flush=True)


def main() -> None:
    """One table for each number of lots."""
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("lots", nargs="*", type=int, default=[200, 2000, 20000])
    arguments.add_argument("--seconds", type=float, default=20.0)
    arguments.add_argument("--fill", action="store_true", help=argparse.SUPPRESS)
    asked = arguments.parse_args()
    if asked.fill:
        fill(asked.lots[0])
        return
    print(f"Target on two quiet cores: 95 of 100 pages within {TARGET_MS} ms at 200 lots.")
    print(f"Load of this machine now: {os.getloadavg()[0]:.1f}", flush=True)
    for lots in asked.lots:
        with TemporaryDirectory() as folder:
            environment = os.environ | {"STILLROOM_DATA": folder}
            subprocess.run([sys.executable, __file__, "--fill", str(lots)], env=environment, check=True)
            with serving(Path(folder)) as address:
                told(lots, load(address, min(asked.seconds, 120)))


if __name__ == "__main__":
    main()
