"""What is typed about recipes."""

from __future__ import annotations

from typing import Any

from django import forms

from stillroom.errors import FileError, InputError
from stillroom.household.household_file import ROLES
from stillroom.model.household import Place
from stillroom.model.recipe import Use
from stillroom.recipes.reader import parse_recipe
from stillroom.web.bench.asked import AskForm
from stillroom.web.bench.recipe_lines import text_of
from stillroom.web.frame.seen import SeenForm
from stillroom.web.kitchen.models import OwnRecipe

_AROUND = 2  # lines shown above and below the one that can't be read


class ScaleForm(AskForm):
    """How much of it is made."""

    needed = ("amount",)
    amount = forms.CharField(
        label="Made for", max_length=60, help_text="What there is: “9 kg”, “2 bushels”, “8 portions”, “3 units”."
    )
    of = forms.CharField(label="of", max_length=80, required=False, help_text="Which ingredient, if not the main one.")


class RecipeTextForm(SeenForm):
    """A recipe as text; what can't be read is told with its line and the text around it."""

    text = forms.CharField(
        label="The recipe",
        strip=False,
        max_length=60_000,
        widget=forms.Textarea(attrs={"class": "recipe", "rows": 30, "spellcheck": "false", "wrap": "off"}),
    )

    def __init__(self, *args: Any, about: OwnRecipe | None = None, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.about = about
        self.lines_around: list[tuple[int, str, bool]] = []

    @property
    def stamp(self) -> str:
        """Only what is there already can have been changed meanwhile."""
        return super().stamp if self.about else ""

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

    @property
    def recipe_text(self) -> str:
        """The text, once the form is valid."""
        text: str = self.cleaned_data["text"]
        return text

    def _show_around(self, text: str, line: int | None) -> None:
        lines = text.split("\n")
        if line is not None:
            shown = range(max(1, line - _AROUND), min(len(lines), line + _AROUND) + 1)
            self.lines_around = [(number, lines[number - 1], number == line) for number in shown]


_CONTAINERS = ("plate", "tub", "freezer pack", "loaf", "piece", "dry jar", "crock")
_IN_FIELDS = (Use.EAT_NOW, Use.FREEZE, Use.BAKE, Use.DRY, Use.FERMENT, Use.KEEP_FRESH)
_WHERE = (Place.FRIDGE, Place.COUNTER, Place.FREEZER, Place.SHELF, Place.CELLAR)
_OF_FIELD = {"ingredients": "ingredients", "steps": "steps", "batch": "largest"}  # part of the text: its field


class RecipeFieldsForm(SeenForm):
    """A recipe in fields. Jars and cures are not among them: they name a process or a formula, which takes the text."""

    name = forms.CharField(label="Name", max_length=80)
    use = forms.ChoiceField(
        label="Use",
        choices=[(use.value, use.value) for use in _IN_FIELDS],
        help_text="For jars begin from one of our recipes with a tested process, or write the text below.",
    )
    summary = forms.CharField(label="In a sentence", max_length=200, required=False)
    ingredients = forms.CharField(
        label="Ingredients",
        max_length=6000,
        widget=forms.Textarea(attrs={"rows": 6, "placeholder": "1 kg apples, in pieces\n60 g sugar"}),
        help_text="A line for each: amount with its unit, food, how it is prepared. The first is the main one.",
    )
    steps = forms.CharField(
        label="Steps",
        max_length=6000,
        widget=forms.Textarea(
            attrs={"rows": 5, "placeholder": "Wash and cut, 15 min\nCook until soft, 20 min, near, 1 burner"}
        ),
        help_text="A line for each, its length at the end; then, where so, “near” (somebody in the kitchen) or “free” "
        "(nobody), and what it stands on: “1 burner”, “2 oven trays at 180 °C”. Each begins within 30 min of the last.",
    )
    amount = forms.CharField(label="Gives", max_length=40, help_text="“900 g”, “2 lb”.")
    portions = forms.FloatField(label="Portions", min_value=0, max_value=500, required=False)
    meal = forms.ChoiceField(
        label="Eaten as", required=False, choices=[("", "no meal"), *((role, role) for role in ROLES)]
    )
    container = forms.ChoiceField(label="In a", choices=[(name, name) for name in _CONTAINERS], initial="tub")
    place = forms.ChoiceField(label="Kept in the", choices=[(place.value, place.value) for place in _WHERE])
    keeps_days = forms.IntegerField(
        label="Keeps, days", min_value=0, max_value=1100, initial=0, help_text="0: eaten at once."
    )
    keeps_source = forms.CharField(
        label="Says who", max_length=200, required=False, help_text="Where the days are from, if there are any."
    )
    largest = forms.FloatField(
        label="At most so many times at once",
        min_value=0.5,
        max_value=100,
        initial=4,
        help_text="What pot or oven takes.",
    )

    def __init__(self, *args: Any, about: OwnRecipe | None = None, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.about = about
        self.recipe_text = ""

    @property
    def stamp(self) -> str:
        """Only what is there already can have been changed meanwhile."""
        return super().stamp if self.about else ""

    def clean(self) -> dict[str, Any]:
        """`recipe_text`: the recipe as we write it; what it complains of stands beside the field it came from."""
        typed = super().clean() or self.cleaned_data
        if typed.get("meal") and not typed.get("portions"):
            self.add_error("portions", "How many portions are there for the meal?")
        if typed.get("keeps_days") and not typed.get("keeps_source"):
            self.add_error("keeps_source", "Say who says that it keeps so long; with 0 days it is eaten at once.")
        if not self.errors:
            self.recipe_text = self._read("ingredients", typed) and self._read("steps", typed) and self._whole(typed)
        return typed

    def _read(self, field: str, typed: dict[str, Any]) -> str:
        """Whether the lines of one field can be read, the others left aside."""
        try:
            return text_of(typed | {other: "" for other in ("ingredients", "steps") if other != field})
        except InputError as error:
            self.add_error(field, str(error))
            return ""

    def _whole(self, typed: dict[str, Any]) -> str:
        text = text_of(typed)
        try:
            parse_recipe(text, "recipe")
        except FileError as error:
            part, _, rest = error.field.partition(".")
            number = rest.partition(".")[0]
            where = f"Line {number}: " if part in ("ingredients", "steps") and number.isdigit() else ""
            self.add_error(_OF_FIELD.get(part, "amount" if part == "products" else None), f"{where}{error.problem}")
            return ""
        return text


class PageForm(forms.Form):
    """A saved recipe page, or a JSON file."""

    file = forms.FileField(
        label="The saved page",
        help_text="An .html or .json file with a recipe in the schema.org vocabulary, as most recipe pages have it.",
    )
