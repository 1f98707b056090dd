"""The time zone of this machine, by its name."""

from __future__ import annotations

import os
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


def local_zone() -> str:
    """ "Australia/Hobart", from TZ or from what /etc/localtime points at; "UTC" where neither says it."""
    link = Path("/etc/localtime")
    pointed = str(link.resolve()).partition("zoneinfo/")[2] if link.is_symlink() else ""
    for name in (os.environ.get("TZ", "").removeprefix(":"), pointed):
        if name and _is_known(name):
            return name
    return "UTC"


def _is_known(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        return False
    return True
