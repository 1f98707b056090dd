"""The plan in force: the last one made, how old it is, and what has changed since."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from stillroom.errors import InputError
from stillroom.model.plan import Plan
from stillroom.planning.kept_plan import KeptPlan, read_plan
from stillroom.web.day.models import MadePlan, PlanJob
from stillroom.web.day.standing import Standing, standing
from stillroom.web.kitchen.models import Household

_CRUMB_G = 1.0


@dataclass(frozen=True, slots=True)
class Current:
    """The plan in force, as it stands."""

    row: MadePlan
    kept: KeptPlan
    standing: Standing
    today: date

    @property
    def plan(self) -> Plan:
        """What was worked out."""
        return self.kept.worked_out.plan

    @property
    def last_day(self) -> date:
        """The last day it plans."""
        return self.plan.start + timedelta(days=self.plan.days - 1)

    @property
    def days(self) -> tuple[date, ...]:
        """Every day it plans."""
        return tuple(self.plan.start + timedelta(days=number) for number in range(self.plan.days))

    def day_asked(self, text: str) -> date:
        """The day named, where none is today or the next with work; InputError for what is no day of the plan."""
        if not text:
            today = min(max(self.today, self.plan.start), self.last_day)
            return min((on for task in self.plan.tasks if (on := task.start.date()) >= today), default=today)
        try:
            day = date.fromisoformat(text)
        except ValueError:
            day = None
        if day not in self.days:
            raise InputError(f"“{text}” is no day of this plan, which runs to {self.last_day:%A} {self.last_day.day}.")
        return day

    @property
    def is_over(self) -> bool:
        """Whether its last day has passed."""
        return self.last_day < self.today


def current_plan(household: Household) -> Current | None:
    """The last plan made; None before the first, and when another version of the program made it."""
    row = household.made_plans.select_related("job").first()
    if row is None:
        return None
    try:
        kept = read_plan(row.kept)
    except InputError:
        return None
    stands = standing(row, kept.worked_out)
    return Current(row, kept.model_copy(update={"worked_out": stands.worked_out}), stands, household.today)


def open_job(household: Household) -> PlanJob | None:
    """The plan that is being looked for, or the last one that was not found and that no plan has followed."""
    job: PlanJob | None = household.plan_jobs.last()
    return None if job is None or job.state == PlanJob.State.DONE else job


def ago(then: datetime, now: datetime) -> str:
    """ "just now", "10 minutes ago", "3 hours ago", "2 days ago"."""
    minutes = int((now - then).total_seconds() // 60)
    if minutes < 1:
        return "just now"
    for size, name in ((24 * 60, "day"), (60, "hour"), (1, "minute")):
        if minutes >= size:
            count = minutes // size
            return f"{count} {name}{'s' if count > 1 else ''} ago"
    raise AssertionError(minutes)
