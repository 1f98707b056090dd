"""Forms that ask and change nothing: sent as an address, so that the answer can be kept and passed on."""

from __future__ import annotations

from typing import Any

from django import forms
from django.http import HttpRequest, QueryDict

from stillroom.web.kitchen.models import Household


class AskForm(forms.Form):
    """A question. What an address leaves out is filled in as the form shows it; so an address may be short."""

    needed: tuple[str, ...] = ()  # fields without which nothing was asked yet

    def __init__(self, data: Any = None, *, household: Household, **rest: Any) -> None:
        self.household = household
        super().__init__(data, **rest)

    @classmethod
    def asked(cls, request: HttpRequest) -> Any:
        """The form of this request: empty as long as nothing is asked."""
        household = request.household
        shown = cls(household=household)
        if not any(request.GET.get(name, "").strip() for name in cls.needed):
            return shown
        return cls(_filled(request.GET, shown), household=household)

    def text(self, name: str) -> str:
        """What stands in a field, as it was typed."""
        return str(self.data.get(name, "")).strip()


def _filled(sent: QueryDict, shown: forms.Form) -> QueryDict:
    data = sent.copy()
    for name, field in shown.fields.items():
        if isinstance(field, forms.BooleanField) or name in data:
            continue
        value = field.prepare_value(shown.get_initial_for_field(field, name))
        if value not in (None, ""):
            data[name] = str(value)
    return data
