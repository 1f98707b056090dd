"""How a form looks here, and fields that read what a cook writes with the parsers of the core."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.db import models
from django.forms.renderers import DjangoTemplates

from stillroom.errors import StillroomError
from stillroom.web.frame.seen import SeenForm


class Renderer(DjangoTemplates):
    """Each field with its label above, its help, and its complaint beside it."""

    field_template_name = "frame/field.html"


class ReadField(forms.CharField):
    """A line of text read by one of our parsers; its sentence becomes the complaint beside the field.

    `read` turns the text into a value (a StillroomError says why it can't), `write` a value into the text shown.
    """

    def __init__(self, *, read: Callable[[str], Any], write: Callable[[Any], str] = str, **rest: Any) -> None:
        rest.setdefault("max_length", 200)
        super().__init__(**rest)
        self.read, self.write = read, write

    def to_python(self, value: Any) -> Any:
        """The value read; an empty line is None."""
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            return self.read(text)
        except StillroomError as error:
            raise forms.ValidationError(capital(str(error))) from None

    def run_validators(self, value: Any) -> None:
        """The length was looked at by the browser and the parser; what was read is no text any more."""

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Whether another text stands there than was shown; so a rounded number is not kept as if it were typed."""
        shown = "" if initial is None else str(self.prepare_value(initial))
        return shown.strip() != str(data or "").strip()

    def prepare_value(self, value: Any) -> Any:
        """What stands in the field: typed text as it was typed, a value in words."""
        return value if value is None or isinstance(value, str) else self.write(value)


class RowForm(SeenForm):
    """Fields named as those of a row. `apply` puts what was changed into the row, which is not saved here."""

    def __init__(self, *args: Any, row: models.Model, **rest: Any) -> None:
        self.row = self.about = row
        names = [name for name in self.base_fields if hasattr(row, name)]
        initial = {name: getattr(row, name) for name in names} | rest.pop("initial", {})
        super().__init__(*args, initial=initial, **rest)

    def apply(self) -> models.Model:
        """The row with what was typed; a new row with all that stands in the form."""
        for name in self.changed_data if self.row.pk else self.cleaned_data:
            if hasattr(self.row, name):
                setattr(self.row, name, self.cleaned_data[name])
        return self.row


def capital(sentence: str) -> str:
    """The sentence with a capital at its beginning."""
    return sentence[:1].upper() + sentence[1:]
