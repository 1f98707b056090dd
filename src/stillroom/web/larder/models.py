"""What is in store."""

from __future__ import annotations

from django.db import models

from stillroom.household import written_words as words
from stillroom.household.larder_file import LotLines
from stillroom.model.household import Place
from stillroom.web.kitchen.models import Household


class Lot(models.Model):
    """Containers of one product, made on one day, in one place."""

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

    def __str__(self) -> str:
        return self.product

    def to_written(self) -> LotLines:
        """A line under `lots`."""
        return LotLines(
            key=self.key,
            product=self.product,
            food=self.food,
            place=Place(self.place),
            amount=words.bundle(self.count, self.container, self.mass_g),
            made_on=self.made_on,
            best_by=self.best_by,
        )
