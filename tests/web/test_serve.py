"""`stillroom serve` as it is started: sets itself up, keeps what was written, takes a double tap once, stops."""

import re
import signal
import socket
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.error import URLError
from urllib.parse import urlencode
from urllib.request import HTTPCookieProcessor, OpenerDirector, build_opener, urlopen

import pytest

LONGEST_START_S = 60


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def stillroom(*words: str, data: Path) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "stillroom.cli", *words]
    environment = {"STILLROOM_DATA": str(data), "PATH": "/usr/bin:/bin", "PYTHONPATH": ":".join(sys.path)}
    return subprocess.Popen(
        command, env=environment, text=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=data.parent
    )


@contextmanager
def serving(data: Path) -> Iterator[str]:
    port = free_port()
    program = stillroom("serve", "--port", str(port), data=data)
    address = f"http://127.0.0.1:{port}"
    try:
        until = time.monotonic() + LONGEST_START_S
        while True:
            try:
                urlopen(f"{address}/kitchen/", timeout=20).read()
                break
            except URLError:
                assert program.poll() is None, program.communicate()
                assert time.monotonic() < until, "it does not start"
                time.sleep(0.3)
        yield address
    finally:
        program.send_signal(signal.SIGINT)
        try:
            said, _ = program.communicate(timeout=20)
        except subprocess.TimeoutExpired:
            program.kill()
            raise
    assert address in said
    assert str(data) in said


def send_twice_at_once(browser: OpenerDirector, address: str, line: str) -> None:
    page = browser.open(f"{address}/arrivals/").read().decode()
    once = re.search(r'name="once" value="([^"]+)"', page)
    csrf = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', page)
    assert once and csrf
    fields = {"line": line, "once": once[1], "csrfmiddlewaretoken": csrf[1]}
    body = urlencode(fields).encode()
    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(lambda _: browser.open(f"{address}/arrivals/", body).status, range(4)))
    assert answers == [200] * 4


def test_it_works(tmp_path: Path) -> None:
    data = tmp_path / "data"
    with serving(data) as address:
        browser = build_opener(HTTPCookieProcessor(CookieJar()))
        assert "The household at Quoll Tarn" in browser.open(address).read().decode()
        send_twice_at_once(browser, address, "7.5 kg apples, for the restart")
    assert (data / "secret-key").stat().st_mode & 0o077 == 0
    assert data.stat().st_mode & 0o077 == 0
    with sqlite3.connect(data / "stillroom.sqlite3") as database:
        found = database.execute("SELECT count(*) FROM arrivals_arrival WHERE mass_g = 7500").fetchone()
        assert database.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert database.execute("SELECT count(*) FROM kitchen_household").fetchone() == (1,)
    assert found == (1,)
    assert not (data / "stillroom-before-update.sqlite3").exists()
    older = [sys.executable, "-m", "stillroom.web", "migrate", "kitchen", "0002"]  # as an older version left it
    environment = {"STILLROOM_DATA": str(data), "PATH": "/usr/bin:/bin", "PYTHONPATH": ":".join(sys.path)}
    subprocess.run(older, env=environment, check=True, capture_output=True)
    with serving(data) as address:
        assert "for the restart" in urlopen(f"{address}/arrivals/").read().decode()
    with sqlite3.connect(data / "stillroom.sqlite3") as database:
        assert database.execute("SELECT count(*) FROM kitchen_household").fetchone() == (1,)
    with sqlite3.connect(data / "stillroom-before-update.sqlite3") as copy:
        assert copy.execute("SELECT count(*) FROM arrivals_arrival WHERE mass_g = 7500").fetchone() == (1,)


@pytest.mark.parametrize(
    "words, sentence",
    [
        (["--lan"], "There is no passphrase yet"),
        (["--https"], "together with --lan"),
        (["--port", "80"], "A port lies between 1024 and 65535"),
    ],
)
def test_what_can_not_be_served_is_told_in_one_sentence(tmp_path: Path, words: list[str], sentence: str) -> None:
    program = stillroom("serve", *words, data=tmp_path / "data")
    _, said = program.communicate(timeout=LONGEST_START_S)
    assert program.returncode == 2
    assert sentence in said
    assert said.count("\n") == 1


def test_a_taken_port_is_told(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = str(other.getsockname()[1])
        program = stillroom("serve", "--port", port, data=tmp_path / "data")
        _, said = program.communicate(timeout=LONGEST_START_S)
    assert program.returncode == 2
    assert f"Port {port} is taken" in said


def test_a_data_folder_that_can_not_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    program = stillroom("serve", "--port", str(free_port()), data=tmp_path / "file")
    _, said = program.communicate(timeout=LONGEST_START_S)
    assert program.returncode == 2
    assert "STILLROOM_DATA" in said
