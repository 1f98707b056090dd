"""The `stillroom` command: parse, call, print. The only place that catches StillroomError here.

Exit codes: 0 answered, 2 bad input, 3 refused for safety.
"""

from __future__ import annotations

import sys
from importlib import import_module

import typer

from stillroom.cli.terminal_text import printable
from stillroom.errors import Refusal, SourceError, StillroomError

COMMANDS = (
    "acid",
    "brine",
    "calendar",
    "check",
    "cool",
    "cure",
    "dough",
    "dry",
    "freeze",
    "heat",
    "plan",
    "portions",
    "process",
    "replan",
    "scale",
    "screen",
    "serve",
    "sweep",
    "syrup",
    "thaw",
    "vinegar",
    "wait",
    "yield",
)

app = typer.Typer(
    help="From lumps of incoming food to safe jars, freezer packs, bread and dinner.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


@app.callback()
def _keep_command_names() -> None:
    """A program with one command registered would lose that command's name."""


def main() -> None:
    """Entry point: one sentence on stderr and the exit code for everything that a person can mend."""
    _register(sys.argv[1] if len(sys.argv) > 1 else "")
    try:
        app(standalone_mode=True)
    except StillroomError as error:
        print(f"stillroom: {printable(str(error))}", file=sys.stderr)
        raise SystemExit(_exit_code(error)) from None


def _exit_code(error: StillroomError) -> int:
    if isinstance(error, Refusal):
        return 3
    return 1 if isinstance(error, SourceError) else 2


def _register(asked: str) -> None:
    """Loads only the command asked for; help, and a name that is none, need them all.

    The command NAME is the function NAME_command in the file NAME_command.py.
    """
    for name in (asked,) if asked in COMMANDS else COMMANDS:
        module = import_module(f"stillroom.cli.{name}_command")
        settings = getattr(module, "CONTEXT_SETTINGS", None)
        app.command(name, context_settings=settings)(getattr(module, f"{name}_command"))
