"""Every change of who may come in."""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction

from stillroom.errors import InputError
from stillroom.web.door.models import Member, Passphrase

LEAST_LETTERS = 12


def has_passphrase() -> bool:
    """Whether the household has one."""
    return Passphrase.objects.exists()


def is_passphrase(text: str) -> bool:
    """Whether this is the passphrase of the household."""
    last = Passphrase.objects.order_by("-set_at", "-pk").first()
    return last is not None and check_password(text, last.hashed)


@transaction.atomic
def set_passphrase(text: str, *, at: datetime) -> None:
    """A new passphrase for those who join from now on; members stay in."""
    if len(text) < LEAST_LETTERS:
        raise InputError(f"A passphrase has at least {LEAST_LETTERS} letters: four or five words are easy to keep.")
    Passphrase.objects.all().delete()
    Passphrase.objects.create(hashed=make_password(text), set_at=at)


@transaction.atomic
def join(name: str, password: str, *, at: datetime) -> Member:
    """A new member; InputError when the name is taken."""
    if Member.objects.filter(name__iexact=name).exists():
        raise InputError(f"There is a member called “{name}” already: take another name, or sign in.")
    member = Member(name=name, joined_at=at)
    member.set_password(password)
    member.save()
    return member


def remove(member: Member) -> None:
    """Shuts the door on a member, at once and on all their devices."""
    member.is_active = False
    member.save(update_fields=["is_active"])
