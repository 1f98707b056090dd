"""Sums about a food and an amount of it."""

from __future__ import annotations

from typing import Any

from django import forms

from stillroom.errors import InputError
from stillroom.quantities.food_parts import FoodParts, food_parts
from stillroom.web.bench.sums.shape import SumForm
from stillroom.web.frame.forms import capital


class FoodForm(SumForm):
    """A sum about a food and an amount of it."""

    needed = ("food",)

    def clean(self) -> dict[str, Any]:
        """The food as the models know it, and its mass."""
        typed = super().clean() or self.cleaned_data
        parts = self._read("food", food_parts)
        if parts:
            typed["parts"] = parts
            for field in ("amount", "packs"):
                if field in self.fields and self.text(field):
                    typed[f"{field}_kg"] = self._read(field, parts.mass_kg)
        return typed

    def _read(self, field: str, read: Any) -> Any:
        try:
            return read(self.text(field)) if self.text(field) else None
        except InputError as error:
            self.add_error(field, capital(str(error)))
            return None

    @property
    def parts(self) -> FoodParts:
        """The food."""
        found: FoodParts = self.cleaned_data["parts"]
        return found


def food_field(hint: str) -> forms.CharField:
    """A food in the cook's words."""
    return forms.CharField(label="Food", max_length=80, help_text=hint)


def amount_field(hint: str) -> forms.CharField:
    """How much of it."""
    return forms.CharField(label="How much", max_length=60, help_text=hint)
