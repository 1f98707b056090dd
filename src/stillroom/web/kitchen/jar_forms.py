"""Empty jars and their lids: the tested sizes side by side, and any other size by its measures."""

from __future__ import annotations

from typing import Any

from django import forms

from stillroom.errors import InputError
from stillroom.household.jars_on_shelf import jar_size
from stillroom.household.measure_text import length_mm
from stillroom.model.process import JarSize
from stillroom.process.jar_text import jar_name, read_jar
from stillroom.web.frame.forms import ReadField, capital
from stillroom.web.frame.seen import SeenForm
from stillroom.web.kitchen import measures
from stillroom.web.kitchen.forms import HouseRowForm
from stillroom.web.kitchen.models import Household, JarStock

TESTED = tuple(jar_name(size) for size in (JarSize.HALF_PINT, JarSize.PINT, JarSize.QUART))
_MOST = 10_000


def tested_size(kind: str) -> str:
    """The tested size that a jar has, however it is written; "" for another."""
    volume_ml = read_jar(kind).volume_ml
    return next((name for name in TESTED if abs(read_jar(name).volume_ml - volume_ml) < 1), "")


class TestedJarsForm(SeenForm):
    """How many jars and lids there are of each tested size; changes only what was typed."""

    __test__ = False  # no test, though its name begins like one

    def __init__(self, *args: Any, household: Household, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self._household = household
        self._rows = {size: row for row in household.jars.all() if (size := tested_size(row.kind))}
        for name in TESTED:
            row = self._rows.get(name)
            self.fields[f"{name}_count"] = _number(f"{name} jars", row.count if row else 0)
            self.fields[f"{name}_lids"] = _number(f"{name} lids", row.lids if row else 0)

    @property
    def lines(self) -> list[tuple[str, Any, Any]]:
        """(size, field of jars, field of lids)."""
        return [(name, self[f"{name}_count"], self[f"{name}_lids"]) for name in TESTED]

    def changed_rows(self) -> list[JarStock]:
        """The rows with what was typed, not saved."""
        found = []
        for name in TESTED:
            count, lids = self.cleaned_data[f"{name}_count"], self.cleaned_data[f"{name}_lids"]
            row = self._rows.get(name) or JarStock(household=self._household, kind=name)
            if (count, lids) != (row.count, row.lids):
                row.count, row.lids = count, lids
                found.append(row)
        return found


def _kind(text: str) -> str:
    return read_jar(text).text


class OtherJarForm(HouseRowForm):
    """A jar of another size; what it measures outside says how many fit into a canner."""

    kind = ReadField(
        label="Holds",
        read=lambda text: read_jar(text).text,
        max_length=40,
        help_text="“300 ml”, “12 fl oz”, “1200 ml”, to the brim.",
    )
    count = forms.IntegerField(label="Jars", min_value=0, max_value=_MOST)
    lids = forms.IntegerField(label="Lids", min_value=0, max_value=_MOST)
    has_reusable_lids = forms.BooleanField(label="Lids that are used again", required=False)
    diameter_mm = ReadField(label="Across, outside", read=length_mm, required=False, help_text="“78 mm” or “3.1 in”.")
    height_mm = ReadField(label="High, outside", read=length_mm, required=False)

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        write = measures.length(self.household)
        self._write(diameter_mm=write, height_mm=write)

    def clean_kind(self) -> str:
        """A size that has no row yet."""
        kind: str = self.cleaned_data["kind"]
        for other in self.household.jars.exclude(pk=self.row.pk):
            if abs(read_jar(other.kind).volume_ml - read_jar(kind).volume_ml) < 1:
                raise forms.ValidationError(f"There is a line for jars of “{other.kind}” already: change that one.")
        return kind

    def clean(self) -> dict[str, Any]:
        """Measures that such a jar can have; they may be left out where they are published."""
        typed = super().clean() or self.cleaned_data
        if not self.errors:
            try:
                jar_size(typed["kind"], typed["diameter_mm"], typed["height_mm"])
            except InputError as error:
                self.add_error("diameter_mm", capital(str(error)))
        return typed


def _number(label: str, initial: int) -> forms.IntegerField:
    return forms.IntegerField(label=label, min_value=0, max_value=_MOST, initial=initial)
