"""Keeps the planner running beside the server: a process of its own, so that the pages answer while it thinks."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager

_AGAIN_AFTER_S = 1.0


@contextmanager
def planner_beside() -> Iterator[None]:
    """The planner runs while the block does; one that fails is started again."""
    ends = threading.Event()
    held: list[subprocess.Popen[bytes]] = []
    keeper = threading.Thread(target=_keep, args=(ends, held), daemon=True)
    keeper.start()
    try:
        yield
    finally:
        ends.set()
        for process in held:
            _stop(process)
        keeper.join()


def start_planner() -> subprocess.Popen[bytes]:
    """The planner; it ends when its standard input is closed, by us or by our end."""
    command = [sys.executable, "-m", "stillroom.web", "work"]
    # In a group of its own Ctrl+C does not tear it out of its work: it hears of the end by its input.
    return subprocess.Popen(command, stdin=subprocess.PIPE, start_new_session=True)


def _keep(ends: threading.Event, held: list[subprocess.Popen[bytes]]) -> None:
    while not ends.is_set():
        process = start_planner()
        held[:] = [process]
        if ends.is_set():
            _stop(process)
        process.wait()
        ends.wait(_AGAIN_AFTER_S)


def _stop(process: subprocess.Popen[bytes]) -> None:
    if process.stdin is not None:
        process.stdin.close()
    process.wait()
