"""Where the program keeps the household: the data folder of this user, never the folder of the program."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from platformdirs import user_data_path

from stillroom.errors import InputError


def data_dir() -> Path:
    """STILLROOM_DATA, or the place this platform has for data of programs."""
    chosen = os.environ.get("STILLROOM_DATA")
    return Path(chosen).expanduser().resolve() if chosen else user_data_path("stillroom", appauthor=False)


def make_data_dir() -> Path:
    """The folder, made if it is not there; only its owner may look inside."""
    folder = data_dir()
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise InputError(
            f"The data folder {folder} can't be made ({error.strerror}): name another with STILLROOM_DATA."
        ) from None
    return folder


def secret_key() -> str:
    """The key that signs sessions and forms: kept in the data folder, made at the first start.

    Before there is a data folder (a test, a migration being written) it is a new one each time.
    """
    file = data_dir() / "secret-key"
    if file.exists():
        return file.read_text(encoding="ascii").strip()
    key = secrets.token_urlsafe(50)
    if data_dir().is_dir():
        file.touch(mode=0o600)
        file.write_text(key, encoding="ascii")
    return key
