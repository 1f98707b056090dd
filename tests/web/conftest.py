"""A browser with the invented household open, and small ways of pressing its buttons."""

import os
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from django.http import HttpResponse
from django.test import Client
from playwright.sync_api import Browser, sync_playwright
from real_server import Kitchen

from stillroom.web.exchange.import_folder import import_folder
from stillroom.web.kitchen.models import Household

DEMO = Path(__file__).parents[2] / "examples" / "demo"
Press = Callable[..., HttpResponse]


@pytest.fixture(autouse=True)
def own_data_dir(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """No test touches the data of who runs it."""
    monkeypatch.setenv("STILLROOM_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


@pytest.fixture
def household(db: None) -> Household:
    """The invented household on the first day of its week."""
    return import_folder(DEMO)


@pytest.fixture
def browser(household: Household) -> Client:
    """A browser that has loaded nothing yet."""
    return Client()


@pytest.fixture
def press(browser: Client) -> Press:
    """Loads a page, takes its token, and sends a form to an address, as a person does; `again` sends it twice."""

    def send(address: str, fields: dict[str, object], *, page: str = "", again: bool = False) -> HttpResponse:
        text = browser.get(page or address).content.decode()
        token = re.search(r'name="once" value="([^"]+)"', text)
        assert token, f"no form token on {page or address}"
        answers = [browser.post(address, fields | {"once": token[1]}) for _ in range(2 if again else 1)]
        return answers[-1]

    return send


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """Debian's Chromium, started once for a file of tests."""
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"  # playwright keeps a loop of its own in this thread
    arguments = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=arguments)
        yield browser
        browser.close()
    del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]


@pytest.fixture
def kitchen(tmp_path: Path) -> Iterator[Kitchen]:
    """The server as it is started, with a data folder of its own."""
    kitchen = Kitchen(tmp_path / "data")
    yield kitchen
    if kitchen.server.poll() is None:
        kitchen.kill()
