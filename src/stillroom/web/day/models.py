"""Plans that were asked for and made, and what became of their tasks."""

from __future__ import annotations

from django.db import models

from stillroom.model import wish as model
from stillroom.web.kitchen.models import Household


class Wish(models.Model):
    """What somebody wants otherwise than the split has it, until a day."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="wishes")
    kind = models.CharField(max_length=10, choices=[(kind.value, kind.value) for kind in model.WishKind])
    food = models.CharField(max_length=80, blank=True)  # vocabulary key
    use = models.CharField(max_length=20, blank=True)
    recipe = models.CharField(max_length=80, blank=True)  # key
    day = models.DateField(null=True)
    mass_g = models.FloatField(default=0.0)
    words = models.CharField(max_length=200)  # as it is told
    until = models.DateField()  # the last day on which it is planned with

    class Meta:
        ordering = ("pk",)

    def to_model(self) -> model.Wish:
        """The wish as the planner takes it."""
        return model.Wish(model.WishKind(self.kind), self.food, self.use, self.recipe, self.day, self.mass_g)


class PlanJob(models.Model):
    """A plan that somebody asked for. The planner beside the server works one off after the other."""

    class State(models.TextChoices):
        """`WAITING` → `RUNNING` → `DONE` or `FAILED`; a job whose planner went away waits again."""

        WAITING = "waiting"
        RUNNING = "running"
        DONE = "done"
        FAILED = "failed"

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="plan_jobs")
    asked_at = models.DateTimeField()
    seconds = models.FloatField()  # how long to look for it
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    begun_at = models.DateTimeField(null=True)
    heard_at = models.DateTimeField(null=True)  # the last sign of life of its planner
    ended_at = models.DateTimeField(null=True)
    tries = models.PositiveSmallIntegerField(default=0)
    made_for = models.CharField(max_length=64, blank=True)  # fingerprint of the household it plans with
    lines = models.JSONField(default=list)  # what the planner said on its way
    said = models.CharField(max_length=1000, blank=True)  # why there is no plan

    class Meta:
        ordering = ("pk",)
        constraints = [
            models.UniqueConstraint(
                fields=("household",), condition=models.Q(state="waiting"), name="one_plan_waits_at_a_time"
            )
        ]

    @property
    def is_over(self) -> bool:
        """Whether there is nothing more to wait for."""
        return self.state in (self.State.DONE, self.State.FAILED)


class MadePlan(models.Model):
    """A plan with everything it was made from; never changed."""

    household = models.ForeignKey(Household, on_delete=models.CASCADE, related_name="made_plans")
    job = models.OneToOneField(PlanJob, on_delete=models.SET_NULL, null=True, related_name="made")
    made_at = models.DateTimeField()
    kept = models.TextField()  # see kept_plan.py

    class Meta:
        ordering = ("-pk",)


class Timing(models.Model):
    """Other times of the tasks of a plan: one was moved, or the rest was arranged anew.

    It is offered first, with its consequences; of those accepted the last one holds.
    """

    plan = models.ForeignKey(MadePlan, on_delete=models.CASCADE, related_name="timings")
    said = models.CharField(max_length=300)
    lines = models.JSONField(default=list)  # what comes of it, in words
    placed = models.JSONField()  # [task, start, end, mode, person or null]
    pinned = models.JSONField(default=list)  # tasks that stay where somebody put them
    stands_on = models.CharField(max_length=60, default="")  # what was known when it was worked out
    last_event = models.BigIntegerField(default=0)  # the last word on a task that it knows of
    accepted_at = models.DateTimeField(null=True, db_index=True)

    class Meta:
        ordering = ("accepted_at", "pk")


class TaskEvent(models.Model):
    """What somebody said of a task. Only added to; of a task the last one holds."""

    class Kind(models.TextChoices):
        """What was said."""

        BEGUN = "begun"
        DONE = "done"
        LATE = "late"  # it takes longer, or begins later
        OPEN = "open"  # not begun after all

    plan = models.ForeignKey(MadePlan, on_delete=models.CASCADE, related_name="events")
    task = models.CharField(max_length=250)  # its key in the timetable
    kind = models.CharField(max_length=5, choices=Kind.choices)
    at = models.DateTimeField()
    said_min = models.IntegerField()  # the minute of the plan, by the clock of the household
    start_min = models.IntegerField(null=True)  # of the plan: when it began, and ended or will end
    end_min = models.IntegerField(null=True)

    class Meta:
        ordering = ("pk",)
        indexes = [models.Index(fields=("plan", "task"))]
