"""`stillroom serve`: the pages, on this machine."""

from __future__ import annotations

from typing import Annotated

import typer

from stillroom.errors import InputError


def serve_command(
    port: Annotated[int, typer.Option("--port", help="The port of the address.")] = 8765,
    lan: Annotated[bool, typer.Option("--lan", help="Let the other devices of the house in; they sign in.")] = False,
    https: Annotated[bool, typer.Option("--https", help="With --lan: by a certificate of our own.")] = False,
) -> None:
    """Open the pages in a browser: sets itself up, with the invented household at the first start."""
    if not 1024 <= port <= 65535:
        raise InputError(f"A port lies between 1024 and 65535, not at {port}; give --port a number between them.")
    if https and not lan:
        raise InputError("On this machine alone https protects nothing: use --https together with --lan.")
    from stillroom.web.serve import serve

    serve(port=port, lan=lan, https=https)
