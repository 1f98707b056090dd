"""The `stillroom` command: parse, call, print. The only place that catches StillroomError here.

Exit codes: 0 answered, 2 bad input, 3 refused for safety.
"""

from __future__ import annotations

import sys

import typer

from stillroom.errors import InputError, Refusal, SourceError, StillroomError

app = typer.Typer(
    help="From lumps of incoming food to safe jars, freezer packs, bread and dinner.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def main() -> None:
    """Entry point: one sentence on stderr and the exit code for everything that a person can mend."""
    _register()
    try:
        app(standalone_mode=True)
    except StillroomError as error:
        print(f"stillroom: {error}", file=sys.stderr)
        raise SystemExit(_exit_code(error)) from None


def _exit_code(error: StillroomError) -> int:
    if isinstance(error, Refusal):
        return 3
    if isinstance(error, InputError):
        return 2
    return 1 if isinstance(error, SourceError) else 2


def _register() -> None:
    """Each file of this folder named *_command.py brings one command."""
    from stillroom.cli import (
        acid_commands,
        brine_command,
        check_command,
        cure_command,
        dough_command,
        plan_command,
        process_command,
        scale_command,
        screen_command,
        syrup_command,
    )

    app.command("acid")(acid_commands.acid_command)
    app.command("brine")(brine_command.brine_command)
    app.command("check")(check_command.check_command)
    app.command("cure")(cure_command.cure_command)
    app.command("dough")(dough_command.dough_command)
    app.command("plan")(plan_command.plan_command)
    app.command("process")(process_command.process_command)
    app.command("scale")(scale_command.scale_command)
    app.command("screen")(screen_command.screen_command)
    app.command("syrup")(syrup_command.syrup_command)
    app.command("vinegar")(acid_commands.vinegar_command)


if __name__ == "__main__":
    main()
