"""The lists of the kitchen: what each is called, which rows it has, and the form of a row."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.db.models import Model, QuerySet

from stillroom.household import written_words as words
from stillroom.model.kitchen import is_too_young
from stillroom.model.process import CannerKind
from stillroom.web.frame.templatetags.kitchen_words import mass_text
from stillroom.web.kitchen.forms import CannerForm, FoodMassForm, HouseRowForm
from stillroom.web.kitchen.jar_forms import OtherJarForm, tested_size
from stillroom.web.kitchen.models import Canner, Household, JarStock, MealTime, PantryItem, Person, Target
from stillroom.web.kitchen.people_forms import MealForm, PersonForm


@dataclass(frozen=True, slots=True)
class Rows:
    """One list: the words for it, its rows in the household, and how a row is told in a line."""

    title: str
    one: str  # "canner"
    hint: str
    model: type[Model]
    form: type[HouseRowForm]
    related: str
    told: Callable[[Any], str]

    def of(self, household: Household) -> QuerySet[Any]:
        """The rows."""
        rows: QuerySet[Any] = getattr(household, self.related).all()
        if self.model is not JarStock:
            return rows
        return rows.exclude(pk__in=[row.pk for row in rows if tested_size(row.kind)])

    def blank(self, household: Household) -> Any:
        """A new row."""
        return self.model(household=household)

    def form_for(self, household: Household, row: Any, data: Any = None, initial: Any = None) -> HouseRowForm:
        """The form of one row."""
        rest: dict[str, Any] = {"row": row, "household": household}
        if self.form is FoodMassForm:
            rest["others"] = getattr(household, self.related).all()
        if initial:
            rest["initial"] = initial
        return self.form(data, **rest)


def name_of(row: Any) -> str:
    """What a row is called."""
    return next(str(getattr(row, name)) for name in ("name", "kind", "food") if hasattr(row, name))


def _person(person: Person) -> str:
    age = "adult" if person.age_years is None else f"{person.age_years} years"
    does = [word for word, is_so in (("eats", person.eats), ("helps", person.helps)) if is_so]
    as_child = person.helps and (person.is_child or is_too_young(person.age_years))
    return f"{age}, {' and '.join(does)}{' as a child' if as_child else ''}"


def _meal(meal: MealTime) -> str:
    days = [day.capitalize()[:3] for day in meal.day_names]
    return f"{meal.at:%H:%M}, {'every day' if len(days) == 7 else ', '.join(days)}: {' and '.join(meal.roles)}"


def _canner(canner: Canner) -> str:
    if canner.kind != CannerKind.DIAL:
        return canner.kind
    error = "not known" if canner.gauge_error_psi is None else words.gauge(canner.gauge_error_psi)
    return f"{canner.kind}, shows {error}, tested {canner.gauge_tested_on or 'never'}"


def _jar(jar: JarStock) -> str:
    return f"{jar.count} jars, {jar.lids} lids"


def _mass(row: PantryItem | Target) -> str:
    return mass_text(row.mass_g, is_us=row.household.units == "us")


ROWS = {
    "people": Rows(
        "People", "person", "Who eats here, and who works in the kitchen.", Person, PersonForm, "people", _person
    ),
    "meals": Rows("Meals", "meal", "What has to be on the table, and when.", MealTime, MealForm, "meal_times", _meal),
    "canners": Rows(
        "Canners",
        "canner",
        "No canner, no jars: then food is frozen, dried and eaten.",
        Canner,
        CannerForm,
        "canners",
        _canner,
    ),
    "other-jars": Rows(
        "Other jars", "kind of jar", "Jars between the tested sizes.", JarStock, OtherJarForm, "jars", _jar
    ),
    "pantry": Rows(
        "Pantry",
        "line",
        "Salt, vinegar, sugar, flour. What is not written here comes up as something to get.",
        PantryItem,
        FoodMassForm,
        "pantry",
        _mass,
    ),
    "targets": Rows(
        "Wanted in store",
        "line",
        "How much of each food you want put by, weighed as it comes in.",
        Target,
        FoodMassForm,
        "targets",
        _mass,
    ),
}

_USUAL = (  # what such pots measure inside [mm]: common sizes, no source; everybody measures their own
    ("boiling-water pot", CannerKind.BOILING_WATER, 330.0, 255.0),
    ("steam canner", CannerKind.STEAM, 330.0, 200.0),
    ("pressure canner, dial", CannerKind.DIAL, 318.0, 265.0),
    ("pressure canner, weight", CannerKind.WEIGHTED, 318.0, 265.0),
)
USUAL_CANNERS: dict[str, dict[str, Any]] = {
    name: {"name": name, "kind": kind.value, "inside_diameter_mm": across_mm, "inside_height_mm": high_mm}
    for name, kind, across_mm, high_mm in _USUAL
}
