"""What is typed about recipes."""

from __future__ import annotations

from typing import Any

from django import forms

from stillroom.errors import FileError, InputError
from stillroom.recipes.reader import parse_recipe
from stillroom.web.bench.asked import AskForm

_AROUND = 2  # lines shown above and below the one that can't be read


class ScaleForm(AskForm):
    """How much of it is made."""

    needed = ("amount",)
    amount = forms.CharField(
        label="Made for", max_length=60, help_text="What there is: “9 kg”, “2 bushels”, “8 portions”, “3 units”."
    )
    of = forms.CharField(label="of", max_length=80, required=False, help_text="Which ingredient, if not the main one.")


class RecipeTextForm(forms.Form):
    """A recipe as text; what can't be read is told with its line and the text around it."""

    text = forms.CharField(
        label="The recipe",
        strip=False,
        max_length=60_000,
        widget=forms.Textarea(attrs={"class": "recipe", "rows": 30, "spellcheck": "false", "wrap": "off"}),
    )

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.lines_around: list[tuple[int, str, bool]] = []

    def clean_text(self) -> str:
        """Text that makes a recipe."""
        text: str = self.cleaned_data["text"].replace("\r\n", "\n")
        try:
            parse_recipe(text, "recipe")
        except FileError as error:
            self._show_around(text, error.line)
            where = f"Line {error.line}: " if error.line is not None else ""
            field = f"{error.field}: " if error.field else ""
            raise forms.ValidationError(f"{where}{field}{error.problem.rstrip('.')}.") from None
        except InputError as error:
            raise forms.ValidationError(str(error)) from None
        return text

    def _show_around(self, text: str, line: int | None) -> None:
        lines = text.split("\n")
        if line is not None:
            shown = range(max(1, line - _AROUND), min(len(lines), line + _AROUND) + 1)
            self.lines_around = [(number, lines[number - 1], number == line) for number in shown]


class PageForm(forms.Form):
    """A saved recipe page, or a JSON file."""

    file = forms.FileField(
        label="The saved page",
        help_text="An .html or .json file with a recipe in the schema.org vocabulary, as most recipe pages have it.",
    )
