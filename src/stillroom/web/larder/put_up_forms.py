"""What is said of something that a plan put up: how much it was, and of jars whether their process was kept."""

from __future__ import annotations

from typing import Any

from django import forms

from stillroom.errors import StillroomError
from stillroom.household import written_words as words
from stillroom.household.bundles import Bundle, read_bundle
from stillroom.web.frame.forms import capital
from stillroom.web.larder.models import PutUp
from stillroom.web.larder.put_up_actions import Fate

YES, NO = "yes", "no"
_ANSWERS = ((YES, "Yes"), (NO, "No, or not sure"))


class OutOfCannerForm(forms.Form):
    """How many jars came out, whether time and pressure were kept, and if not, what became of the jars."""

    jars = forms.IntegerField(label="Jars out of the canner, whole")
    time_kept = forms.ChoiceField(choices=_ANSWERS, widget=forms.RadioSelect)
    hold_kept = forms.ChoiceField(choices=_ANSWERS, widget=forms.RadioSelect)
    fate = forms.ChoiceField(label="If not: what became of them", required=False)

    def __init__(self, *args: Any, put_up: PutUp, **rest: Any) -> None:
        super().__init__(*args, initial={"jars": put_up.jars}, **rest)
        self.fields["jars"].widget.attrs |= {"min": 1, "max": put_up.most_jars}
        self.fields["time_kept"].label = f"The full time, {put_up.process}, ran without a break"
        self.fields["hold_kept"].label = put_up.hold
        self.fields["fate"].choices = [("", "It was kept"), *fates(put_up, "two hours")]

    def clean(self) -> dict[str, Any]:
        """What was not kept needs a word on what became of the jars."""
        typed = super().clean() or self.cleaned_data
        is_kept = typed.get("time_kept") == typed.get("hold_kept") == YES
        if not self.errors and not is_kept and not typed["fate"]:
            self.add_error("fate", "These jars are not for the shelf as they are: say what became of them.")
        if not self.errors and is_kept and typed["fate"]:
            self.add_error("fate", "You say that time and pressure were kept: then nothing else became of the jars.")
        return typed

    @property
    def told_fate(self) -> Fate | None:
        """What became of jars whose process was not kept."""
        return _fate(self.cleaned_data)


class LidsForm(forms.Form):
    """How many of the cold jars are sealed, and what became of the others."""

    sealed = forms.IntegerField(label="Sealed", min_value=0, help_text="The lid is drawn in and does not move.")
    fate = forms.ChoiceField(label="What became of those that are not", required=False)

    def __init__(self, *args: Any, put_up: PutUp, **rest: Any) -> None:
        super().__init__(*args, initial={"sealed": put_up.jars}, **rest)
        self._put_up = put_up
        self.fields["sealed"].widget.attrs["max"] = put_up.jars
        self.fields["fate"].choices = [("", "All are sealed"), *fates(put_up, "24 hours")]

    def clean(self) -> dict[str, Any]:
        """Whoever has loose lids says what became of them."""
        typed = super().clean() or self.cleaned_data
        sealed = typed.get("sealed")
        if sealed is not None and sealed < self._put_up.jars and not typed.get("fate") and "fate" not in self.errors:
            self.add_error("fate", "Say what became of the jars that are not sealed.")
        return typed

    @property
    def told_fate(self) -> Fate | None:
        """What became of the others."""
        return _fate(self.cleaned_data)


class AmountsForm(forms.Form):
    """How much there is of each product; an empty field: nothing."""

    def __init__(self, *args: Any, put_up: PutUp, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self._lines = put_up.made
        for number, line in enumerate(self._lines):
            self.fields[f"amount_{number}"] = forms.CharField(
                label=line["product"],
                max_length=80,
                required=False,
                initial=words.bundle(line["count"], line["container"], line["mass_g"]),
                help_text="" if number else "As counted and weighed. Nothing: leave it empty.",
            )

    def clean(self) -> dict[str, Any]:
        """Reads each amount with the parser of the household folder."""
        typed = super().clean() or self.cleaned_data
        self.amounts: list[Bundle] = []
        for number, line in enumerate(self._lines):
            name = f"amount_{number}"
            try:
                text = typed.get(name, "").strip()
                self.amounts.append(read_bundle(text, line["food"]) if text else Bundle(1, "", 0.0))
            except StillroomError as error:
                self.add_error(name, capital(str(error)))
        return typed


def _fate(typed: dict[str, Any]) -> Fate | None:
    return Fate(typed["fate"]) if typed["fate"] else None


def fates(put_up: PutUp, within: str) -> list[tuple[str, str]]:
    """What may become of jars that are not for the shelf. Raw pack is not done again as it is (rule R023)."""
    again = [(Fate.AGAIN.value, f"done again in full, new lids, begun within {within}")] if put_up.pack == "hot" else []
    return [
        *again,
        (Fate.FRIDGE.value, f"into the fridge within {within}"),
        (Fate.FREEZER.value, f"into the freezer within {within}"),
        (Fate.THROWN_OUT.value, "thrown out, untasted"),
    ]
