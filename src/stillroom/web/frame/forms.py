"""How a form looks here, and fields that read what a cook writes with the parsers of the core."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.forms.renderers import DjangoTemplates

from stillroom.errors import StillroomError


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
        self._read, self._write = read, write

    def to_python(self, value: Any) -> Any:
        """The value read; an empty line is None."""
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        try:
            return self._read(text)
        except StillroomError as error:
            raise forms.ValidationError(capital(str(error))) from None

    def run_validators(self, value: Any) -> None:
        """The length was looked at by the browser and the parser; what was read is no text any more."""

    def prepare_value(self, value: Any) -> Any:
        """What stands in the field: typed text as it was typed, a value in words."""
        return value if value is None or isinstance(value, str) else self._write(value)


def capital(sentence: str) -> str:
    """The sentence with a capital at its beginning."""
    return sentence[:1].upper() + sentence[1:]
