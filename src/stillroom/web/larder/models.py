"""What is in store."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db import models

from stillroom.household import written_words as words
from stillroom.household.clock import longest_safe_days
from stillroom.household.larder_file import LotLines
from stillroom.model.household import Place
from stillroom.tables import vocabulary
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


class PutUp(models.Model):
    """What a batch of a plan made, from the tap that said it is done until it stands in the larder or is gone.

    Jars first cool: `used_at` is when somebody said that they came out of the canner and that their process was kept,
    `ended_at` when their lids were looked at. What needs no waiting is used up and ended by one tap.
    """

    SEAL_AFTER = timedelta(hours=12)  # rule R021: 12 to 24 h undisturbed, then the lids are looked at

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="put_ups")
    key = models.CharField(max_length=250)  # plan and batch
    run = models.CharField(max_length=200, db_index=True)  # plan and run: "12:green_beans_jarred/quart@0"
    name = models.CharField(max_length=80)  # of the recipe
    taken = models.JSONField(default=list)  # {"food", "mass_g", "origin"}, see TakenFood
    made = models.JSONField(default=list)  # {"product", "food", "place", "container", "count", "mass_g", "keeps_days"}
    jar = models.CharField(max_length=40, blank=True)  # kind; empty: not in jars that are processed
    jars = models.PositiveIntegerField(default=0)
    most_jars = models.PositiveIntegerField(default=0)  # that one canner load holds
    pack = models.CharField(max_length=4, blank=True)  # "raw" or "hot"
    process = models.CharField(max_length=200, blank=True)  # "90 min at 12 psi, big canner"
    psi = models.CharField(max_length=10, blank=True)  # what the gauge had to show; empty: boiling water or steam
    source = models.CharField(max_length=300, blank=True)  # of the process
    done_at = models.DateTimeField()  # when the last task was done; jars: when they last came out of the canner
    ready_on = models.DateField()  # from when on it may be used: a cure, a ferment
    used_at = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)
    stores = models.JSONField(default=list)  # keys of arrivals and lots, and containers, that this changed
    lots = models.JSONField(default=list)  # keys of the lots that it made

    class Meta:
        ordering = ("done_at", "pk")
        constraints = [models.UniqueConstraint(fields=("household", "key"), name="one_put_up_of_a_batch")]

    def __str__(self) -> str:
        return self.name

    @classmethod
    def made_by(cls, household: Household, plan: int, run: str) -> models.QuerySet[PutUp]:
        """What the batches of a run of a plan made."""
        return cls.objects.filter(household=household, run=f"{plan}:{run}")

    @property
    def hold(self) -> str:
        """What had to last all the time, in words (rules R008 and R075)."""
        if self.psi:
            return f"The pressure never fell below {self.psi} psi, or then the full time was begun again"
        return "It never stopped boiling, or then the full time was begun again"

    @property
    def hold_short(self) -> str:
        """The same as a question that a tap answers."""
        held = f"never below {self.psi} psi" if self.psi else "never off the boil"
        return f"{held}, or the whole time begun again"

    @property
    def hold_lost(self) -> str:
        """The contrary, within a sentence."""
        return f"below {self.psi} psi" if self.psi else "it stopped boiling"

    @property
    def looked_at_from(self) -> datetime:
        """From when on the lids of its jars may be looked at, by the clock of the household."""
        return (self.done_at + self.SEAL_AFTER).astimezone(ZoneInfo(self.household.time_zone))

    @property
    def lids_until(self) -> datetime:
        """Until when a jar that did not seal may be done again, chilled or frozen (rule R025)."""
        return self.looked_at_from + self.SEAL_AFTER

    @property
    def mass_g(self) -> float:
        """All that it made [g]."""
        return float(sum(line["mass_g"] for line in self.made))

    @property
    def made_on(self) -> date:
        """The day from which its time of keeping counts."""
        return max(self.done_at.astimezone(ZoneInfo(self.household.time_zone)).date(), self.ready_on)

    def lot(self, line: dict[str, Any], **other: Any) -> Lot:
        """A lot of one product, not saved; `other` is what differs from the plan. It keeps no longer than is safe."""
        found = {name: line[name] for name in ("product", "food", "place", "container", "count", "mass_g")} | other
        keeps = found.pop("keeps_days", line["keeps_days"])
        if found["place"] == Place.FRIDGE.value:
            safe = longest_safe_days(vocabulary.food(found["food"]), found["container"])
            keeps = keeps if safe is None else min(keeps, safe)
        dates = {"made_on": self.made_on, "best_by": self.made_on + timedelta(days=keeps)}
        return Lot(household=self.household, **found, **dates)
