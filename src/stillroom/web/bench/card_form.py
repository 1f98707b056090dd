"""What the process card asks: food, form, pack, jar, canner and place."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.functional import cached_property

from stillroom.errors import InputError
from stillroom.heat.question import HeatQuestion
from stillroom.household import written_words as words
from stillroom.household.measure_text import gauge_error_psi
from stillroom.model.process import CannerKind, ProcessCard
from stillroom.process.form_choice import AmbiguousRequest, read_pack
from stillroom.process.jar_text import read_jar
from stillroom.quantities.amounts import parse
from stillroom.tables.vocabulary import hear
from stillroom.web.bench.asked import AskForm
from stillroom.web.frame.forms import ReadField, capital
from stillroom.web.kitchen import measures
from stillroom.web.kitchen.forms import house_altitude_m
from stillroom.web.kitchen.models import Canner, Household

_OWN = "own-"


class CardForm(AskForm):
    """One canner load. A canner of the household brings its gauge with it."""

    needed = ("food",)
    food = forms.CharField(
        label="Food", max_length=80, help_text="In your words: “beef”, “haricots verts”, “tomato sauce”."
    )
    form = forms.CharField(
        label="Form", max_length=120, required=False, help_text="How it is cut or made; asked back where it matters."
    )
    pack = forms.ChoiceField(label="Pack", choices=[("", "as the tables have it"), ("hot", "hot"), ("raw", "raw")])
    jar = ReadField(label="Jar", read=read_jar, initial="quart", help_text="“quart”, “pint”, “750 ml”, “12 oz”.")
    canner = forms.ChoiceField(label="Canner")
    altitude = ReadField(label="Height above the sea", read=house_altitude_m, help_text="“690 m” or “2264 ft”.")
    gauge_error = ReadField(
        label="Another dial: shows",
        read=gauge_error_psi,
        required=False,
        help_text="“0.5 psi high”, “1 psi low”, “0 psi”. Not needed for a canner of yours.",
    )
    gauge_tested = forms.DateField(
        label="Another dial: tested on", required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
    amount = forms.CharField(
        label="Raw food", max_length=60, required=False, help_text="“20 lb”, “9 kg”: how many jars to have ready."
    )

    def __init__(self, *args: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        household = self.household
        own = list(household.canners.all())
        kinds = [(kind.value, f"another, {kind.value}") for kind in CannerKind]
        choices = [(f"{_OWN}{canner.pk}", f"{canner.name} ({canner.kind})") for canner in own] + kinds
        self.fields["canner"].choices = [("", "whichever fits the food"), *choices]
        self.fields["canner"].required = self.fields["pack"].required = False
        self.fields["food"].widget.attrs["list"] = "foods"
        self.fields["jar"].widget.attrs["list"] = "jars"
        if household.altitude_m is not None:
            self.fields["altitude"].initial = measures.altitude(household)(household.altitude_m)

    def clean_food(self) -> str:
        """A food that is known."""
        text: str = self.cleaned_data["food"]
        hear_or_say(text)
        return text

    def clean_pack(self) -> str | None:
        """hot, raw, or what the tables have."""
        return read_pack(self.cleaned_data["pack"]) if self.cleaned_data["pack"] else None

    def clean_amount(self) -> str:
        """An amount that can be read, of whatever it is."""
        text: str = self.cleaned_data["amount"]
        if text:
            try:
                parse(text)
            except InputError as error:
                raise forms.ValidationError(capital(str(error))) from None
        return text

    @cached_property
    def canner_chosen(self) -> str:
        """The canner that was chosen; else the first of the household's, or the first kind, that has a process."""
        if chosen := self.cleaned_data.get("canner"):
            return str(chosen)
        own = [f"{_OWN}{canner.pk}" for canner in self.household.canners.all()]
        kinds = [kind.value for kind in CannerKind if kind is not CannerKind.STEAM]
        return next((one for one in own or kinds if _has_process(self._asked_with(one))), (own or kinds)[0])

    @property
    def own_canner(self) -> Canner | None:
        """The canner of the household that was chosen, if it is one."""
        return self._own(self.canner_chosen)

    @property
    def question(self) -> HeatQuestion:
        """What the process tables and the heat model are asked."""
        return self._asked_with(self.canner_chosen)

    def _own(self, chosen: str) -> Canner | None:
        return self.household.canners.get(pk=chosen.removeprefix(_OWN)) if chosen.startswith(_OWN) else None

    def _asked_with(self, chosen: str) -> HeatQuestion:
        typed, own = self.cleaned_data, self._own(chosen)
        kind = CannerKind(own.kind if own else chosen)
        is_dial = kind is CannerKind.DIAL
        error_psi = own.gauge_error_psi if own else typed["gauge_error"]
        return HeatQuestion(
            food=typed["food"],
            form=typed["form"] or None,
            pack=typed["pack"],
            jar=self.text("jar"),
            canner=kind,
            altitude_m=typed["altitude"],
            gauge_error_psi=(error_psi or 0.0) if is_dial else 0.0,
            gauge_tested_on=(own.gauge_tested_on if own else typed["gauge_tested"]) if is_dial else None,
            today=self.household.today,
        )

    @property
    def gauge_words(self) -> str:
        """What the gauge of the chosen canner of the household was last found to show."""
        own = self.own_canner
        if own is None or own.kind != CannerKind.DIAL:
            return ""
        shows = (
            "nothing is known of its error"
            if own.gauge_error_psi is None
            else f"shows {words.gauge(own.gauge_error_psi)}"
        )
        tested = f"tested {own.gauge_tested_on:%d %B %Y}" if own.gauge_tested_on else "never tested"
        return f"{own.name}: {shows}, {tested}"


def _has_process(question: HeatQuestion) -> bool:
    """Whether the tables have a card for it, or ask back among those that they have."""
    try:
        return isinstance(question.look_up(), ProcessCard)
    except AmbiguousRequest:
        return True
    except InputError:
        return False


def canner_choice(household: Household, kind: CannerKind) -> str:
    """The value of the canner field for this kind: a canner of the household where it has one."""
    own = household.canners.filter(kind=kind.value).first()
    return f"{_OWN}{own.pk}" if own else kind.value


def hear_or_say(text: str) -> None:
    """Nothing for a food that is known; else the sentence beside the field."""
    try:
        hear(text)
    except InputError as error:
        raise forms.ValidationError(capital(str(error))) from None
