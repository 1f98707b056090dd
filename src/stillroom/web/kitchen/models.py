"""The household and its kitchen as they were written down."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models
from django.utils import timezone

from stillroom.errors import InputError
from stillroom.household import written_words as words
from stillroom.household.hours_text import read_weekdays
from stillroom.household.household_file import EaterLines, MealDayLines, MealLines
from stillroom.household.jars_on_shelf import JarLines
from stillroom.household.kitchen_file import CannerLines, FreezerLines, KitchenFile, PersonLines
from stillroom.model.kitchen import is_too_young
from stillroom.model.process import CannerKind
from stillroom.web.local_zone import local_zone

DAY_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
METRIC, US = "metric", "us"


def usual_hours() -> dict[str, str]:
    """Evenings on weekdays and more at the weekend, until somebody says otherwise."""
    weekdays = dict.fromkeys(DAY_NAMES[:5], "17:00-20:00")
    return weekdays | dict.fromkeys(DAY_NAMES[5:], "9:00-12:30, 16:00-20:00")


class Household(models.Model):
    """Who it is, where the kitchen lies, and what the work of a day has to share. The last one opened is shown."""

    name_wanted = ""  # in the folder it was read from a moment ago; kept nowhere
    name = models.CharField(max_length=80, default="Our household")
    is_invented = models.BooleanField(default=False)
    place = models.CharField(max_length=80, blank=True)
    time_zone = models.CharField(max_length=60, default=local_zone)
    units = models.CharField(max_length=8, choices=[(METRIC, "kg, litres, °C"), (US, "lb, cups, °F")], default=METRIC)
    altitude_m = models.FloatField(null=True)  # never guessed: it sets the pressure
    room_c = models.FloatField(default=20.0)
    burners = models.PositiveSmallIntegerField(default=4)
    small_burners = models.PositiveSmallIntegerField(default=0)
    oven_trays = models.PositiveSmallIntegerField(default=2)
    freezer_capacity_l = models.FloatField(default=200.0)
    freezer_used_l = models.FloatField(default=100.0)
    fridge_free_l = models.FloatField(default=40.0)
    dryer_trays = models.PositiveSmallIntegerField(default=0)
    has_mixer = models.BooleanField(default=False)
    dislikes = models.JSONField(default=list, blank=True)  # vocabulary keys
    plan_days = models.PositiveSmallIntegerField(default=7)
    minutes_ahead = models.IntegerField(default=0)  # an invented household lives so far ahead of us
    opened_at = models.DateTimeField(default=timezone.now, db_index=True)
    set_up_step = models.CharField(max_length=20, blank=True)  # the step of the set-up that comes next; empty: done

    def now(self) -> datetime:
        """The time in this household, in its own zone."""
        return timezone.now().astimezone(ZoneInfo(self.time_zone)) + timedelta(minutes=self.minutes_ahead)

    @property
    def today(self) -> date:
        """The date in this household."""
        return self.now().date()

    @property
    def freezer_free_l(self) -> float:
        """What still goes into the freezer [l]."""
        return self.freezer_capacity_l - self.freezer_used_l

    def to_written(self) -> KitchenFile:
        """kitchen.yaml; InputError as long as nobody has said how high the kitchen lies."""
        if self.altitude_m is None:
            raise InputError("Say first how high the kitchen lies: the altitude sets the pressure of every canner.")
        return KitchenFile(
            altitude=f"{words.number(self.altitude_m)} m",
            room=f"{words.number(self.room_c)} °C",
            people=[person.to_written() for person in self.people.filter(helps=True)],
            canners=tuple(canner.to_written() for canner in self.canners.all()),
            burners=self.burners,
            small_burners=self.small_burners,
            oven_trays=self.oven_trays,
            freezer=FreezerLines(
                capacity=f"{words.number(self.freezer_capacity_l)} L", used=f"{words.number(self.freezer_used_l)} L"
            ),
            fridge_free=f"{words.number(self.fridge_free_l)} L",
            dryer_trays=self.dryer_trays,
            mixer=self.has_mixer,
            jars=tuple(jar.to_written() for jar in self.jars.all()),
            pantry={item.food: words.mass(item.mass_g) for item in self.pantry.all()},
        )


class Person(models.Model):
    """One who eats here, or lends hands, or both."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="people")
    name = models.CharField(max_length=60)
    eats = models.BooleanField(default=True)
    age_years = models.PositiveSmallIntegerField(null=True, blank=True)  # empty: an adult
    appetite = models.CharField(max_length=8, choices=[(a, a) for a in ("small", "usual", "large")], default="usual")
    portion = models.FloatField(null=True, blank=True)  # of an adult portion, where somebody measured it
    helps = models.BooleanField(default=True)
    is_child = models.BooleanField(default=False)  # an adult's hands are counted, a child's are not
    hours = models.JSONField(default=usual_hours, blank=True)  # {"monday": "17:00-20:00"}
    exceptions = models.JSONField(default=dict, blank=True)  # {"2027-04-14": "none"}
    appointments = models.JSONField(default=list, blank=True)  # ["2027-04-14 10:00-11:30 dentist"]
    leaves = models.JSONField(default=list, blank=True)  # uses of food left to others

    class Meta:
        ordering = ("pk",)
        constraints = [models.UniqueConstraint(fields=("household", "name"), name="one_person_of_a_name")]

    def __str__(self) -> str:
        return self.name

    def to_written(self) -> PersonLines:
        """A line under `people`."""
        return PersonLines(
            name=self.name,
            child=self.is_child or is_too_young(self.age_years),
            hours={day: self.hours.get(day) or "none" for day in DAY_NAMES},
            exceptions=self.exceptions,
            appointments=tuple(self.appointments),
            leaves=tuple(self.leaves),
        )

    def to_written_eater(self) -> EaterLines:
        """A line under `eaters`."""
        if self.portion is not None:
            return EaterLines(name=self.name, portion=self.portion, appetite=self.appetite)
        age = "adult" if self.age_years is None else str(self.age_years)
        return EaterLines(name=self.name, age=age, appetite=self.appetite)


class Canner(models.Model):
    """A canner with its gauge."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="canners")
    name = models.CharField(max_length=60)
    kind = models.CharField(max_length=20, choices=[(kind.value, kind.value) for kind in CannerKind])
    inside_diameter_mm = models.FloatField()
    inside_height_mm = models.FloatField()
    gauge_error_psi = models.FloatField(null=True, blank=True)  # what a dial shows minus the true pressure
    gauge_tested_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = [models.UniqueConstraint(fields=("household", "name"), name="one_canner_of_a_name")]

    def __str__(self) -> str:
        return self.name

    def to_written(self) -> CannerLines:
        """A line under `canners`."""
        return CannerLines(
            name=self.name,
            kind=self.kind,
            inside_diameter=f"{words.number(self.inside_diameter_mm)} mm",
            inside_height=f"{words.number(self.inside_height_mm)} mm",
            gauge_error=None if self.gauge_error_psi is None else words.gauge(self.gauge_error_psi),
            gauge_tested=self.gauge_tested_on,
        )


class JarStock(models.Model):
    """Empty, clean jars of one kind, and lids for them."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="jars")
    kind = models.CharField(max_length=40)  # "pint", "1200 ml"
    count = models.PositiveIntegerField(default=0)
    lids = models.PositiveIntegerField(default=0)
    has_reusable_lids = models.BooleanField(default=False)
    diameter_mm = models.FloatField(null=True, blank=True)  # outside; empty: as published
    height_mm = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ("pk",)
        constraints = [models.UniqueConstraint(fields=("household", "kind"), name="one_row_of_jars_of_a_kind")]

    def to_written(self) -> JarLines:
        """A line under `jars`."""
        return JarLines(
            kind=self.kind,
            count=self.count,
            lids=self.lids,
            reusable_lids=self.has_reusable_lids,
            diameter=None if self.diameter_mm is None else f"{words.number(self.diameter_mm)} mm",
            height=None if self.height_mm is None else f"{words.number(self.height_mm)} mm",
        )


class PantryItem(models.Model):
    """Something of the pantry that is counted: salt, vinegar, sugar, flour."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="pantry")
    food = models.CharField(max_length=80)  # vocabulary key
    mass_g = models.FloatField()

    class Meta:
        ordering = ("pk",)
        constraints = [models.UniqueConstraint(fields=("household", "food"), name="one_pantry_row_of_a_food")]


class MealTime(models.Model):
    """A meal on some days of the week."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="meal_times")
    name = models.CharField(max_length=40)
    days = models.CharField(max_length=80)  # "saturday, sunday", "daily"
    at = models.TimeField()
    roles = models.JSONField(default=list)  # of main, side, bread, sweet
    eaters = models.JSONField(default=list, blank=True)  # keys of people; empty: everybody

    class Meta:
        ordering = ("pk",)

    @property
    def day_names(self) -> list[str]:
        """The days it is on, from Monday."""
        return [DAY_NAMES[weekday] for weekday in sorted(read_weekdays(self.days))] if self.days else []

    def to_written(self) -> MealLines:
        """A line under `meals`."""
        names = [person.name for person in self.household.people.filter(pk__in=self.eaters)] if self.eaters else None
        return MealLines(name=self.name, days=self.days, at=self.at, roles=self.roles, eaters=names)


class MealDay(models.Model):
    """A meal on one day: what is different about it, and that it was eaten. Nothing said: it is as usual."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="meal_days")
    day = models.DateField()
    name = models.CharField(max_length=40)  # of the MealTime
    at = models.TimeField(null=True, blank=True)  # empty: as usual
    eaters = models.JSONField(default=list, blank=True)  # keys of people; empty: as usual
    guests = models.PositiveSmallIntegerField(default=0)  # each eats an adult portion
    child_guests = models.JSONField(default=list, blank=True)  # their ages in years
    is_left_out = models.BooleanField(default=False)
    eaten_at = models.DateTimeField(null=True, blank=True)
    dishes = models.JSONField(default=list, blank=True)  # names of what was eaten
    runs = models.JSONField(default=list, blank=True)  # "plan:run" whose food was taken out of the stores for it
    stores = models.JSONField(default=list, blank=True)  # keys of the arrivals and lots that this changed

    class Meta:
        ordering = ("day", "pk")
        constraints = [models.UniqueConstraint(fields=("household", "day", "name"), name="one_row_of_a_meal_of_a_day")]

    def __str__(self) -> str:
        return f"{self.name} on {self.day}"

    def to_written(self) -> MealDayLines:
        """A line under `meal_days`; what is eaten is planned no more."""
        names = [person.name for person in self.household.people.filter(pk__in=self.eaters)] if self.eaters else None
        is_over = self.is_left_out or self.eaten_at is not None
        return MealDayLines(
            meal=self.name,
            day=self.day,
            at=self.at,
            eaters=names or None,
            guests=self.guests,
            child_guests=self.child_guests,
            left_out=is_over,
        )


class Target(models.Model):
    """How much of a food is wanted in store, weighed as it comes in."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="targets")
    food = models.CharField(max_length=80)  # vocabulary key
    mass_g = models.FloatField()

    class Meta:
        ordering = ("pk",)
        constraints = [models.UniqueConstraint(fields=("household", "food"), name="one_target_of_a_food")]


class OwnRecipe(models.Model):
    """A recipe of the household's own: the text of its file."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="recipes")
    key = models.CharField(max_length=80)
    text = models.TextField()

    class Meta:
        ordering = ("key",)
        constraints = [models.UniqueConstraint(fields=("household", "key"), name="one_recipe_of_a_key")]


def open_household() -> Any:
    """The household that was opened last, or None."""
    return Household.objects.order_by("-opened_at", "-pk").first()
