"""Guessing is made slow: after some wrong tries from one device or for one name the door stays shut for a while."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.http import HttpRequest

from stillroom.errors import StillroomError
from stillroom.web.door.models import FailedTry

WINDOW = timedelta(minutes=15)
TRIES_A_NAME = 5
TRIES_AN_ADDRESS = 15
PASSPHRASE = "(passphrase)"  # takes the place of a name


class TooManyTries(StillroomError):  # noqa: N818 - told as it is
    """The door is shut for a while; the message says how long."""


def check_tries(request: HttpRequest, name: str, *, at: datetime) -> None:
    """TooManyTries when this name or this device had too many wrong tries in the last quarter of an hour."""
    lately = FailedTry.objects.filter(at__gt=at - WINDOW)
    by_name = lately.filter(name=_short(name)).count()
    by_address = lately.filter(address=_address(request)).count()
    if by_name >= TRIES_A_NAME or by_address >= TRIES_AN_ADDRESS:
        raise TooManyTries("Too many wrong tries: the door stays shut for a quarter of an hour, then try again.")


def note_failed(request: HttpRequest, name: str, *, at: datetime) -> None:
    """Remembers a wrong try, and forgets the old ones."""
    FailedTry.objects.filter(at__lt=at - WINDOW).delete()
    FailedTry.objects.create(at=at, address=_address(request), name=_short(name))


def _short(name: str) -> str:
    return name.strip().casefold()[:40]


def _address(request: HttpRequest) -> str:
    """Of the other end of the line: headers can say anything and are not believed."""
    return str(request.META.get("REMOTE_ADDR", ""))[:60]
