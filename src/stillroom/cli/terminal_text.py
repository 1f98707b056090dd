"""Text for a terminal: wrapped to its width, free of control characters that came in with a page."""

from __future__ import annotations

import os
import re
import shutil
import sys
import textwrap

_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
NARROWEST = 40
_MARK = re.compile(r"\s*(?:[-!] |\d+\. )?")


def printable(text: str) -> str:
    """`text` without control characters and marks that turn the direction of writing; line ends stay."""
    return _CONTROL.sub("", text)


def wrapped(text: str) -> str:
    """Each line broken at the width of the terminal, hanging under its own mark; untouched when piped into a file."""
    text = printable(text)
    if not sys.stdout.isatty() and "COLUMNS" not in os.environ:
        return text
    width = max(NARROWEST, shutil.get_terminal_size().columns)
    return "\n".join(_wrapped_line(line, width) for line in text.split("\n"))


def _wrapped_line(line: str, width: int) -> str:
    mark = _MARK.match(line)
    assert mark is not None  # every part of the pattern may be empty
    hang = " " * max(mark.end(), 2)
    return textwrap.fill(line, width, subsequent_indent=hang, break_long_words=False, break_on_hyphens=False)
