"""Changing what is there already: nobody's change is overwritten unseen, and what was typed is never lost."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import time
from typing import Any, TypeVar

from django import forms
from django.db import models
from django.http import HttpRequest

from stillroom.errors import InputError
from stillroom.web.frame.models import Change
from stillroom.web.frame.once import once
from stillroom.web.frame.undo import history

AnyForm = TypeVar("AnyForm", bound=forms.Form)
FIELD = "seen"
WRONG, STALE = 422, 409


@dataclass(frozen=True, slots=True)
class Difference:
    """A field where what stands now is not what was typed."""

    label: str
    now: str
    typed: str


class SeenForm(forms.Form):
    """A form that shows what is there, and sends back a stamp of what it showed (`frame/form.html` writes it)."""

    about: models.Model | None = None  # whose history tells who changed it

    @property
    def stamp(self) -> str:
        """A short print of what stands in the fields before anything is typed; "" for something new."""
        if self.about is not None and self.about.pk is None:
            return ""
        shown = [(name, self._shown(name)) for name in sorted(self.fields)]
        return hashlib.sha256(repr(shown).encode()).hexdigest()[:16]

    @property
    def is_stale(self) -> bool:
        """Whether something else stands there now than the form that was sent had shown."""
        return self.is_bound and self.data.get(FIELD, self.stamp) != self.stamp

    @property
    def meanwhile(self) -> Change | None:
        """The last change of it, which the sender had not seen."""
        return history(self.about).filter(undone_at=None).first() if self.about and self.about.pk else None

    @property
    def differences(self) -> list[Difference]:
        """Where what was typed is not what stands there now."""
        pairs = ((self[name].label, self._shown(name), _text(self[name].value())) for name in self.fields)
        return [Difference(label, now or "empty", typed or "empty") for label, now, typed in pairs if now != typed]

    def _shown(self, name: str) -> str:
        field = self.fields[name]
        return _text(field.prepare_value(self.get_initial_for_field(field, name)))


def _text(value: Any) -> str:
    if isinstance(value, bool) or value is None:
        return {True: "yes", False: "no", None: ""}[value]
    if isinstance(value, time):
        return f"{value:%H:%M}"
    return ", ".join(map(str, value)) if isinstance(value, list | tuple) else str(value).replace("\r\n", "\n").strip()


class _NotKept(Exception):  # noqa: N818 - rolls back what the form did so far, and is heard here only
    def __init__(self, status: int) -> None:
        super().__init__()
        self.status = status


def _check(form: forms.Form) -> None:
    if isinstance(form, SeenForm) and form.is_stale:
        raise _NotKept(STALE)
    if not form.is_valid():
        raise _NotKept(WRONG)


def change_once(
    request: HttpRequest, build: Callable[[], AnyForm], act: Callable[[AnyForm], None]
) -> tuple[AnyForm, int]:
    """The form and 0 when it is acted on, now or by the same form before; else the status its page is to have.

    `build` reads the rows under a lock and makes the form of them, inside the transaction of `act`: so two people can't
    both have seen the old state. A refusal of `act` stands in the form.
    """
    form: AnyForm | None = None
    try:
        with once(request) as is_first:
            form = build()
            if is_first:
                _check(form)
                act(form)
    except _NotKept as refused:
        assert form is not None
        return form, refused.status
    except InputError as error:
        if form is None:
            raise
        form.add_error(None, str(error))
        return form, WRONG
    assert form is not None
    return form, 0
