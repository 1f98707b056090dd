"""Runs a command as the shell would, in this process."""

import sys
from collections.abc import Callable

import pytest

from stillroom.cli.main import main

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """The words after `stillroom` in; exit code, standard output, standard error out."""

    # Parallel test workers set a width of their own, and output is wrapped to the width it is told.
    monkeypatch.delenv("COLUMNS", raising=False)

    def call(*words: str) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["stillroom", *words])
        with pytest.raises(SystemExit) as left:
            main()
        said = capsys.readouterr()
        code = left.value.code
        return (code if isinstance(code, int) else 0), said.out, said.err

    return call
