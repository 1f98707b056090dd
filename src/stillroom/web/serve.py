"""Starts the pages on this machine: sets up what is missing, prints the address, serves until it is stopped."""

from __future__ import annotations

import os
import socket
import warnings
from datetime import timedelta

from stillroom.errors import InputError
from stillroom.web.data_dir import make_data_dir

_REMEMBER_FORMS_DAYS = 90  # a tablet may send a form again after weeks in a drawer
_STOP_AFTER_S = 2  # streams of events never end by themselves


def serve(*, port: int, lan: bool) -> None:
    """Serves on 127.0.0.1; InputError when the port is taken, or for the LAN as long as nobody has to sign in."""
    if lan:
        raise InputError("The pages can't be opened to the LAN yet, since nobody has to sign in: leave out --lan.")
    _check_free(port)
    folder = make_data_dir()
    set_up()
    import uvicorn

    from stillroom.web.day.planner_process import planner_beside

    # Style sheets are small files, read at once; that they are no asynchronous stream is as it should be.
    warnings.filterwarnings("ignore", message="StreamingHttpResponse must consume synchronous iterators")
    print(f"Stillroom is at http://127.0.0.1:{port}/ (on this machine only; Ctrl+C stops it)", flush=True)
    print(f"The household is kept in {folder}", flush=True)
    with planner_beside():
        uvicorn.run(
            "stillroom.web.asgi:application",
            host="127.0.0.1",
            port=port,
            log_level="warning",
            timeout_graceful_shutdown=_STOP_AFTER_S,
            lifespan="off",
        )


def set_up() -> None:
    """The database as this version wants it; with the demo household where there is none yet."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "stillroom.web.settings")
    import django
    from django.core.management import call_command
    from django.utils import timezone

    django.setup()
    call_command("migrate", verbosity=0, interactive=False)
    from stillroom.web.exchange.demo import open_demo
    from stillroom.web.frame.once import forget_old_forms
    from stillroom.web.kitchen.models import open_household

    forget_old_forms(before=timezone.now() - timedelta(days=_REMEMBER_FORMS_DAYS))
    if open_household() is None:
        open_demo()


def _check_free(port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            raise InputError(f"Port {port} is taken by another program: choose one with --port.") from None
