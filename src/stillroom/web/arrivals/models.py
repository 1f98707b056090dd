"""Food that came in or is expected, and what became of it."""

from __future__ import annotations

from datetime import date, timedelta

from django.db import models

from stillroom.household import written_words as words
from stillroom.household.arrivals_file import ArrivalLines
from stillroom.household.clock import Clock, State, clock
from stillroom.model.household import Place
from stillroom.tables.vocabulary import hear
from stillroom.web.kitchen.models import Household

PLACES = tuple(place for place in Place if place is not Place.FREEZER)  # what is frozen already is in the larder


class Arrival(models.Model):
    """One lump of food. `came_on` is empty while it is only expected."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="arrivals")
    key = models.CharField(max_length=120)
    name = models.CharField(max_length=80)  # as the cook says it; the vocabulary knows it
    food = models.CharField(max_length=80)  # its vocabulary key
    mass_g = models.FloatField()
    count = models.PositiveIntegerField(default=1)
    piece = models.CharField(max_length=40, blank=True)  # "bird", where it came in pieces of one size
    day = models.DateField()  # when it comes or came
    is_here = models.BooleanField(default=True)
    place = models.CharField(max_length=10, choices=[(place.value, place.value) for place in PLACES])
    state = models.CharField(max_length=10, choices=[(state.value, state.value) for state in State], default="raw")
    given_days = models.PositiveSmallIntegerField(null=True, blank=True)  # a clock of the household's own
    worth_per_kg = models.FloatField(null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("day", "pk")
        constraints = [models.UniqueConstraint(fields=("household", "key"), name="one_arrival_of_a_key")]

    def __str__(self) -> str:
        return self.name

    @property
    def amount(self) -> str:
        """The amount as one may write it: "6 birds of 2.2 kg"."""
        return words.bundle(self.count, self.piece, self.mass_g)

    def clock(self) -> Clock:
        """How long it may wait and why; InputError when that is not safe or not known."""
        heard = hear(self.name)
        return clock(heard.food, heard.form, State(self.state), Place(self.place), self.given_days)

    @property
    def last_day(self) -> date:
        """The last day on which it may be used."""
        return self.day + timedelta(days=self.clock().keep_days)

    @property
    def left_g(self) -> float:
        """What has not been taken yet [g]."""
        return max(0.0, self.mass_g - sum(taken.mass_g for taken in self.taken.all()))

    def to_written(self) -> ArrivalLines:
        """A line under `arrivals`: what is left of it."""
        left_g = self.left_g
        is_whole = left_g == self.mass_g
        each_g = self.mass_g / self.count
        pieces = round(left_g / each_g)
        in_pieces = is_whole or (self.piece and pieces >= 1 and abs(pieces * each_g - left_g) < 1)
        return ArrivalLines(
            key=self.key,
            food=self.name,
            amount=words.bundle(pieces, self.piece, left_g) if in_pieces else words.mass(left_g),
            day=self.day,
            place=Place(self.place),
            state=State(self.state),
            clock=None if self.given_days is None else words.days(self.given_days),
            worth=self.worth_per_kg,
            note=self.note,
        )


class Taken(models.Model):
    """A part of an arrival that was used, given away or lost. Never changed, only added to."""

    arrival = models.ForeignKey(Arrival, on_delete=models.CASCADE, related_name="taken")
    mass_g = models.FloatField()
    why = models.CharField(max_length=120)  # "eaten", "given away", "spoilt", or the batch
    at = models.DateTimeField()

    class Meta:
        ordering = ("at", "pk")
