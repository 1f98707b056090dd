"""The server as it is started, in a process of its own: on a file of SQLite, or on a PostgreSQL database of its own."""

from __future__ import annotations

import os
import signal
import socket
import sqlite3
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlsplit
from urllib.request import urlopen
from uuid import uuid4

START_S = 60
SHARED = os.environ.get("STILLROOM_DATABASE_URL", "")  # set by `make test-postgres`


def _where_it_is_morning() -> str:
    """A time zone (its sign is turned round, by POSIX) in which it is between eight and nine now: a day to plan."""
    ahead = (8 - datetime.now(UTC).hour + 11) % 24 - 11
    return f"Etc/GMT{-ahead:+d}"


class Kitchen:
    """A server that can be killed and started again on the same port; what is in its database can be asked."""

    def __init__(self, data: Path) -> None:
        self.data = data
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = int(probe.getsockname()[1])
        self.address = f"http://127.0.0.1:{self.port}"
        self.database = _new_database() if SHARED else ""
        self.start()

    def start(self, *words: str) -> None:
        environment = {
            "STILLROOM_DATA": str(self.data),
            "PATH": "/usr/bin:/bin",
            "PYTHONPATH": ":".join(sys.path),
            "TZ": _where_it_is_morning(),
        }
        if self.database:
            environment["STILLROOM_DATABASE_URL"] = self.database
        command = [sys.executable, "-m", "stillroom.cli", "serve", "--port", str(self.port), *words]
        self.server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        until = time.monotonic() + START_S
        while True:
            try:
                urlopen(f"{self.address}/frame/reachable", timeout=5).read()
            except OSError:  # refused, or slow to answer on a busy machine
                assert self.server.poll() is None, "it ended by itself"
                assert time.monotonic() < until, "it does not start"
                time.sleep(0.2)
            else:
                return

    def kill(self) -> None:
        self.server.send_signal(signal.SIGKILL)
        self.server.wait(timeout=20)

    def ask(self, question: str) -> int:
        """The number that a question of SQL is answered with."""
        if self.database:
            return int(_ask_postgres(self.database, question)[0])
        with sqlite3.connect(self.data / "stillroom.sqlite3", timeout=20) as database:
            return int(database.execute(question).fetchone()[0])

    def count(self, rows: str) -> int:
        """How many such rows there are: "arrivals_arrival WHERE …"."""
        return self.ask(f"SELECT count(*) FROM {rows}")


def _new_database() -> str:
    name = f"kitchen_{uuid4().hex[:12]}"
    _ask_postgres(SHARED, f"CREATE DATABASE {name}")
    return urlsplit(SHARED)._replace(path=f"/{name}").geturl()


def _ask_postgres(address: str, question: str) -> tuple[object, ...]:
    import psycopg

    with psycopg.connect(address, autocommit=True) as connection:
        cursor = connection.execute(question)
        return (cursor.fetchone() or ()) if cursor.description else ()
