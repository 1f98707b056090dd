"""What is in store."""

from __future__ import annotations

from django.db import models

from stillroom.household import written_words as words
from stillroom.household.larder_file import LotLines
from stillroom.model.household import Place
from stillroom.web.kitchen.models import Household


class Lot(models.Model):
    """Containers of one product, made on one day, in one place; `count` and `mass_g` are what is left of them."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="lots")
    key = models.CharField(max_length=120)
    product = models.CharField(max_length=80)
    food = models.CharField(max_length=80)  # vocabulary key
    place = models.CharField(max_length=10, choices=[(place.value, place.value) for place in Place])
    mass_g = models.FloatField()
    container = models.CharField(max_length=40, blank=True)  # "quart jar"
    count = models.PositiveIntegerField(default=1)
    made_on = models.DateField()
    best_by = models.DateField()

    class Meta:
        ordering = ("best_by", "pk")
        constraints = [models.UniqueConstraint(fields=("household", "key"), name="one_lot_of_a_key")]
        indexes = [  # of what is left only: the pages stay quick however much was used up over the years
            models.Index(fields=("household", "best_by", "id"), condition=models.Q(count__gt=0), name="lots_left"),
            models.Index(
                fields=("household", "place", "best_by", "id"),
                condition=models.Q(count__gt=0),
                name="lots_left_in_place",
            ),
        ]

    def __str__(self) -> str:
        return self.product

    @property
    def containers(self) -> str:
        """The containers in words, like "6 quart jars"; empty where none was named or none is left."""
        return self.amount.rpartition(" of ")[0] if self.container else ""

    @property
    def amount(self) -> str:
        """The amount as one may write it: "6 quart jars of 900 g"; empty when nothing is left."""
        return "" if self.count == 0 else words.bundle(self.count, self.container, self.mass_g)

    def to_written(self) -> LotLines:
        """A line under `lots`."""
        return LotLines(
            key=self.key,
            product=self.product,
            food=self.food,
            place=Place(self.place),
            amount=self.amount,
            made_on=self.made_on,
            best_by=self.best_by,
        )


class TakenOut(models.Model):
    """A part of a lot that left the larder: the ledger. Only added to; a slip is taken back as a whole."""

    lot = models.ForeignKey(Lot, on_delete=models.CASCADE, related_name="taken")
    count = models.PositiveIntegerField()  # containers; 0 for a part of what lies loose
    mass_g = models.FloatField()
    why = models.CharField(max_length=120)  # "eaten", "given away", "thrown out"
    day = models.DateField()  # by the household's calendar
    at = models.DateTimeField()

    class Meta:
        ordering = ("at", "pk")
