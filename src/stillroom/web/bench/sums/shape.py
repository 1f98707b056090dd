"""What every sum of the bench is made of: a form that asks, and an answer in figures, sentences and cautions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, ClassVar

from django import forms
from django.utils.functional import cached_property

from stillroom.quantities.bench import bench_g, mass_text
from stillroom.web.bench.asked import AskForm
from stillroom.web.frame.forms import ReadField


@dataclass(frozen=True, slots=True)
class Figure:
    """A large number with its label; `more` stands small beside it."""

    label: str
    value: str
    more: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a sum says; `source` names where its figures are printed."""

    figures: tuple[Figure, ...] = ()
    sentences: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    source: str = ""
    evidence: str = ""
    rows: tuple[tuple[str, str], ...] = ()  # what to weigh, line by line
    rows_title: str = ""


class SumForm(AskForm):
    """One sum. `more` names fields that few need, folded away under a title."""

    more: ClassVar[dict[str, tuple[str, ...]]] = {}

    def answer(self) -> Answer:
        """The answer to what was asked; Refusal or InputError say why there is none."""
        raise NotImplementedError

    @cached_property
    def usual_fields(self) -> list[Any]:
        """Fields that everybody sees."""
        folded = {name for names in self.more.values() for name in names}
        return [self[name] for name in self.fields if name not in folded]

    @cached_property
    def folded_fields(self) -> list[tuple[str, list[Any], bool]]:
        """Title, fields, and whether they are shown open because something stands in them."""
        found = []
        for title, names in self.more.items():
            fields = [self[name] for name in names]
            is_used = any(field.errors or (self.is_bound and self._differs(field)) for field in fields)
            found.append((title, fields, is_used))
        return found

    def _differs(self, field: Any) -> bool:
        shown = field.field.prepare_value(self.get_initial_for_field(field.field, field.name))
        return self.text(field.name) not in ("", str(shown or ""))

    def got(self, name: str, otherwise: Any = None) -> Any:
        """What was read from a field, or `otherwise` where it is empty."""
        value = self.cleaned_data.get(name)
        return otherwise if value in (None, "") else value

    def needs(self, field: str, why: str) -> None:
        """Says beside an empty field why it is needed now."""
        if field not in self.errors and self.cleaned_data.get(field) in (None, ""):
            self.add_error(field, why)


@dataclass(frozen=True, slots=True)
class Sum:
    """A sum: its address, its name, what it answers, and its form."""

    key: str
    title: str
    about: str
    form: type[SumForm]


def asked(
    label: str, read: Callable[[str], Any], hint: str = "", *, usual: str = "", needed: bool = False
) -> ReadField:
    """A line of text read by `read`; `usual` stands in it from the beginning."""
    return ReadField(label=label, read=read, help_text=hint, initial=usual or None, required=needed)


def ticked(label: str) -> forms.BooleanField:
    """A box to tick."""
    return forms.BooleanField(label=label, required=False)


def chosen(label: str, choices: list[tuple[str, str]], hint: str = "", *, needed: bool = True) -> forms.ChoiceField:
    """One of several; the first unless another is chosen."""
    return forms.ChoiceField(label=label, choices=choices, help_text=hint, required=needed, initial=choices[0][0])


def counted(label: str) -> forms.IntegerField:
    """A number of jars."""
    return forms.IntegerField(label=label, min_value=0, max_value=1000, required=False)


def grams(mass_g: float) -> str:
    """A mass as it can be weighed."""
    return mass_text(bench_g(mass_g))
