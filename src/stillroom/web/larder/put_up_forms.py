"""What is said of something that a plan put up: how much it was, and of jars whether their process was kept."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django import forms

from stillroom.errors import StillroomError
from stillroom.household import written_words as words
from stillroom.household.bundles import Bundle, read_bundle
from stillroom.web.frame.forms import capital
from stillroom.web.larder.models import PutUp
from stillroom.web.larder.put_up_fates import Fate, InTime, not_kept_until

YES, NO = "yes", "no"
_ANSWERS = ((YES, "Yes"), (NO, "No, or not sure"))


class FateForm(forms.Form):
    """What became of jars that are not for the shelf; once the time for it is over, when it was begun."""

    def ask_fate(self, put_up: PutUp, label: str, none: str, within: str, until: datetime) -> None:
        """Adds the fields; what is left after `until` is to throw them out, or to say that it was done before."""
        is_late = put_up.household.now() > until
        choices = fates(put_up, within, is_late=is_late)
        self.fields["fate"] = forms.ChoiceField(label=label, required=False, choices=[("", none), *choices])
        if is_late:
            done = f"It was done in time: begun within {within} of the canner, and only said now"
            self.fields["in_time"] = forms.BooleanField(label=done, required=False)
            self.fields["begun"] = _moment("When it was begun, chilled or frozen")
            if put_up.pack == "hot":
                self.fields["out_again"] = _moment("Done again: when the jars came out of the canner again")

    def clean(self) -> dict[str, Any]:
        """Done in time is said by a tick and a time, never by one of them alone."""
        typed = super().clean() or self.cleaned_data
        is_ticked, begun = bool(typed.get("in_time")), typed.get("begun")
        if not self.errors and is_ticked and begun is None:
            self.add_error("begun", "Say when it was begun, chilled or frozen.")
        if not self.errors and not is_ticked and (begun or typed.get("out_again")):
            self.add_error("in_time", "Tick this if it was done in time; otherwise leave the times empty.")
        return typed

    @property
    def told_fate(self) -> Fate | None:
        """What became of the jars that are not for the shelf."""
        return Fate(self.cleaned_data["fate"]) if self.cleaned_data["fate"] else None

    @property
    def told_in_time(self) -> InTime | None:
        """What was done in time and is only said now."""
        typed = self.cleaned_data
        return InTime(typed["begun"], typed.get("out_again")) if typed.get("in_time") else None


class OutOfCannerForm(FateForm):
    """How many jars came out, whether time and pressure were kept, and if not, what became of the jars."""

    jars = forms.IntegerField(label="Jars out of the canner, whole")
    time_kept = forms.ChoiceField(choices=_ANSWERS, widget=forms.RadioSelect)
    hold_kept = forms.ChoiceField(choices=_ANSWERS, widget=forms.RadioSelect)

    def __init__(self, *args: Any, put_up: PutUp, **rest: Any) -> None:
        super().__init__(*args, initial={"jars": put_up.jars}, **rest)
        self.fields["jars"].widget.attrs |= {"min": 1, "max": put_up.most_jars}
        self.fields["time_kept"].label = f"The full time, {put_up.process}, ran without a break"
        self.fields["hold_kept"].label = put_up.hold
        label = "If not: what became of them"
        self.ask_fate(put_up, label, "It was kept", "two hours", not_kept_until(put_up))

    def clean(self) -> dict[str, Any]:
        """What was not kept needs a word on what became of the jars."""
        typed = super().clean()
        is_kept = typed.get("time_kept") == typed.get("hold_kept") == YES
        if not self.errors and not is_kept and not typed["fate"]:
            self.add_error("fate", "These jars are not for the shelf as they are: say what became of them.")
        if not self.errors and is_kept and typed["fate"]:
            self.add_error("fate", "You say that time and pressure were kept: then nothing else became of the jars.")
        return typed


class LidsForm(FateForm):
    """How many of the cold jars are sealed, and what became of the others."""

    sealed = forms.IntegerField(label="Sealed", min_value=0, help_text="The lid is drawn in and does not move.")

    def __init__(self, *args: Any, put_up: PutUp, **rest: Any) -> None:
        super().__init__(*args, initial={"sealed": put_up.jars}, **rest)
        self._put_up = put_up
        self.fields["sealed"].widget.attrs["max"] = put_up.jars
        label = "What became of those that are not"
        self.ask_fate(put_up, label, "All are sealed", "24 hours", put_up.lids_until)

    def clean(self) -> dict[str, Any]:
        """Whoever has loose lids says what became of them."""
        typed = super().clean()
        sealed = typed.get("sealed")
        if sealed is not None and sealed < self._put_up.jars and not typed.get("fate") and "fate" not in self.errors:
            self.add_error("fate", "Say what became of the jars that are not sealed.")
        return typed


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


def _moment(label: str) -> forms.DateTimeField:
    widget = forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M")
    return forms.DateTimeField(label=label, required=False, widget=widget)


def fates(put_up: PutUp, within: str, *, is_late: bool) -> list[tuple[str, str]]:
    """What may become of jars that are not for the shelf. Raw pack is not done again as it is (rule R023)."""
    out = [(Fate.THROWN_OUT.value, "thrown out, untasted")]
    again = [(Fate.AGAIN.value, f"done again in full, new lids, begun within {within}")] if put_up.pack == "hot" else []
    cold = [
        (Fate.FRIDGE.value, f"into the fridge within {within}"),
        (Fate.FREEZER.value, f"into the freezer within {within}"),
    ]
    return [*out, *again, *cold] if is_late else [*again, *cold, *out]
