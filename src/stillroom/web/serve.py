"""Starts the pages, on this machine or for the house: sets up what is missing, prints the address, serves."""

from __future__ import annotations

import os
import socket
import warnings
from datetime import timedelta
from pathlib import Path
from typing import Any

from stillroom.errors import InputError
from stillroom.web.data_dir import data_dir, make_data_dir

_REMEMBER_FORMS_DAYS = 90  # a tablet may send a form again after weeks in a drawer
_STOP_AFTER_S = 2  # streams of events never end by themselves


def serve(*, port: int, lan: bool, https: bool = False) -> None:
    """Serves on 127.0.0.1, or with `lan` on the network of the house, with `https` by a certificate of our own.

    InputError when the port is taken, when there is no network, or no passphrase for the door of the house.
    """
    host = "0.0.0.0" if lan else "127.0.0.1"
    _check_free(host, port)
    folder = make_data_dir()
    names = _open_the_door(https=https) if lan else ()
    set_up()
    if lan:
        _check_passphrase()
    import uvicorn

    from stillroom.web.day.planner_process import planner_beside

    # Style sheets are small files, read at once; that they are no asynchronous stream is as it should be.
    warnings.filterwarnings("ignore", message="StreamingHttpResponse must consume synchronous iterators")
    keys = _tell(port, names, folder, https=https)
    print(f"The household is kept in {folder}", flush=True)
    with planner_beside():
        uvicorn.run(
            "stillroom.web.asgi:application",
            host=host,
            port=port,
            proxy_headers=False,  # who is at the other end of the line is never believed from a header
            log_level="warning",
            timeout_graceful_shutdown=_STOP_AFTER_S,
            lifespan="off",
            **keys,
        )


def set_up() -> None:
    """The database as this version wants it; with the demo household where there is none yet."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "stillroom.web.settings")
    import django
    from django.core.management import call_command
    from django.utils import timezone

    django.setup()
    copy_before_update()
    call_command("migrate", verbosity=0, interactive=False)
    from stillroom.web.exchange.demo import open_demo
    from stillroom.web.frame.once import forget_old_forms
    from stillroom.web.kitchen.models import open_household

    forget_old_forms(before=timezone.now() - timedelta(days=_REMEMBER_FORMS_DAYS))
    if open_household() is None:
        open_demo()


def copy_before_update() -> None:
    """A copy of the file of SQLite beside it, if this version is about to change its tables."""
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    executor = MigrationExecutor(connection)
    is_new = not executor.loader.applied_migrations
    if is_new or connection.vendor != "sqlite" or not executor.migration_plan(executor.loader.graph.leaf_nodes()):
        return
    copy = data_dir() / "stillroom-before-update.sqlite3"
    copy.unlink(missing_ok=True)
    with connection.cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [str(copy)])
    copy.chmod(0o600)


def _open_the_door(*, https: bool) -> tuple[str, ...]:
    """The addresses of this machine in the house; the pages are told before they start that the door is open."""
    from stillroom.web.addresses import lan_addresses

    names = lan_addresses()
    if not names:
        raise InputError("This machine is in no network, so no other device can find it: leave out --lan.")
    os.environ["STILLROOM_LAN"] = "https" if https else "http"
    os.environ["STILLROOM_HOSTS"] = ",".join(filter(None, (os.environ.get("STILLROOM_HOSTS", ""), *names)))
    return names


def _check_passphrase() -> None:
    from stillroom.web.door.actions import has_passphrase

    if not has_passphrase():
        raise InputError(
            "There is no passphrase yet, so the door stays shut: start `stillroom serve` without --lan, open Kitchen, "
            "Who may come in, and set one."
        )


def _tell(port: int, names: tuple[str, ...], folder: Path, *, https: bool) -> dict[str, Any]:
    """Prints the addresses; returns where uvicorn finds the certificate."""
    if not names:
        print(f"Stillroom is at http://127.0.0.1:{port}/ (on this machine only; Ctrl+C stops it)", flush=True)
        return {}
    from stillroom.web.addresses import picture_of

    keys: dict[str, Any] = {}
    address = f"{'https' if https else 'http'}://{names[0]}:{port}/"
    print(f"Stillroom is at {address} for the devices of the house, who sign in (Ctrl+C stops it)", flush=True)
    print(picture_of(address), flush=True)
    if https:
        from stillroom.web.door.certificates import certificates

        file, key, fingerprint = certificates(folder, (*names, "127.0.0.1", "localhost"))
        keys = {"ssl_certfile": str(file), "ssl_keyfile": str(key)}
        print(f"Its authority, for devices to trust, is {address}door/authority.crt, SHA-256 {fingerprint}", flush=True)
    else:
        print("On plain http whoever shares the network can read along: add --https where others use it.", flush=True)
    return keys


def _check_free(host: str, port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError:
            raise InputError(f"Port {port} is taken by another program: choose one with --port.") from None
