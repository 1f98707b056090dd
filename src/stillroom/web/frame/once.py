"""A form is acted on once, however often it is tapped or sent again after the network came back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime

from django.db import transaction
from django.http import HttpRequest

from stillroom.errors import InputError
from stillroom.web.frame.models import SentForm

FIELD = "once"
who: ContextVar[str] = ContextVar("who", default="")  # the member whose form is acted on; "" where nobody signs in


def forget_old_forms(*, before: datetime) -> None:
    """Forms sent before that time are remembered no longer."""
    SentForm.objects.filter(at__lt=before).delete()


def is_token(text: str) -> bool:
    """Whether it may be the token of a form."""
    return 16 <= len(text) <= 64


@contextmanager
def once(request: HttpRequest) -> Iterator[bool]:
    """True for the first time this form (`{% once %}`) is sent, False for the same form again; one transaction.

    What the block does and the memory of it are kept together or not at all. InputError for a form without token.
    """
    token = request.POST.get(FIELD, "")
    if not is_token(token):
        raise InputError("This form came without its token; load the page anew and send it again.")
    with in_the_name_of(request), only_once(token) as is_first:
        yield is_first


@contextmanager
def in_the_name_of(request: HttpRequest) -> Iterator[None]:
    """Changes within the block carry the name of the member who asks."""
    before = who.set(request.user.get_username())
    try:
        yield
    finally:
        who.reset(before)


@contextmanager
def only_once(token: str) -> Iterator[bool]:
    """True the first time this token (16 to 64 characters) is seen; one transaction with what the block does."""
    with transaction.atomic():
        _, is_first = SentForm.objects.get_or_create(token=token)
        yield is_first
