"""What is sent and answered. Masses in grams, days as YYYY-MM-DD, moments by the clock of the household."""

from __future__ import annotations

from datetime import date, datetime
from typing import Literal

from ninja import Field, Schema

from stillroom.model.plan import Plan, PlannedTask
from stillroom.web.arrivals.models import Arrival
from stillroom.web.arrivals.waiting import Waiting, one_waiting
from stillroom.web.day.actions import USUAL_S
from stillroom.web.day.models import PlanJob
from stillroom.web.day.standing import Standing
from stillroom.web.larder.models import Lot
from stillroom.web.larder.to_put_up import ToPutUp


class ArrivalOut(Schema):
    """Food that came in or is expected."""

    id: int
    food: str
    name: str
    left_g: float
    day: date
    is_here: bool
    place: str
    last_day: date | None  # on which it may be used
    pressing: str  # "calm", "soon", "stop"
    reason: str  # of the clock
    note: str

    @staticmethod
    def of(seen: Waiting) -> ArrivalOut:
        """As it waits."""
        row = seen.arrival
        return ArrivalOut(
            id=row.pk,
            food=row.food,
            name=row.name,
            left_g=seen.left_g,
            day=row.day,
            is_here=row.is_here,
            place=row.place,
            last_day=seen.last_day,
            pressing=seen.pressing,
            reason=seen.reason,
            note=row.note,
        )

    @staticmethod
    def of_row(arrival: Arrival) -> ArrivalOut:
        """As it stands in the database now."""
        return ArrivalOut.of(one_waiting(Arrival.objects.select_related("household").get(pk=arrival.pk)))


class ArrivalIn(Schema):
    """One line, as on the page of arrivals: "9 kg tomatoes, ripe, Saturday"."""

    line: str
    clock: str = ""  # "3 days", where nobody publishes one


class PartIn(Schema):
    """A part that went somewhere: "2 kg", "half", "all"; of jars and packs a number."""

    amount: str
    why: str


class LotOut(Schema):
    """What is in store."""

    id: int
    product: str
    food: str
    place: str
    amount: str
    mass_g: float
    made_on: date
    best_by: date

    @staticmethod
    def of(lot: Lot) -> LotOut:
        """As it stands."""
        return LotOut(
            id=lot.pk,
            product=lot.product,
            food=lot.food,
            place=lot.place,
            amount=lot.amount,
            mass_g=lot.mass_g,
            made_on=lot.made_on,
            best_by=lot.best_by,
        )


class LotsOut(Schema):
    """One page of the larder, the first to expire first."""

    count: int
    page: int
    pages: int
    lots: list[LotOut]


class PutUpOut(Schema):
    """Something that a plan made, and what is asked of it next."""

    id: int
    name: str
    amounts: list[str]
    asks: str  # "out", "lids", "keep", "wait", or "" when nothing is left to say
    jars: int
    process: str  # "90 min at 12 psi, big canner"
    hold: str  # what had to last all the time
    looked_at_from: datetime | None  # when the lids of its jars may be looked at
    ready_on: date
    lots: list[str]  # keys of what it became in the larder

    @staticmethod
    def of(one: ToPutUp) -> PutUpOut:
        """As it stands."""
        row = one.row
        return PutUpOut(
            id=row.pk,
            name=row.name,
            amounts=[one.amount] if row.jar else list(one.one_tap.values()),
            asks=one.asks,
            jars=row.jars,
            process=row.process,
            hold=row.hold if row.jar else "",
            looked_at_from=one.until,
            ready_on=row.ready_on,
            lots=row.lots,
        )


class OutOfCannerIn(Schema):
    """What is asked when jars come out of the canner."""

    jars: int
    time_kept: bool
    hold_kept: bool
    fate: str = ""  # "again", "fridge", "freezer", "thrown out", where one of both was not kept
    in_time: bool = False  # two hours are over, but it was done before and is only said now
    begun: datetime | None = None  # when it was begun, chilled or frozen
    out_again: datetime | None = None  # when jars that were done again came out of the canner again


class LidsIn(Schema):
    """How many of the cold jars are sealed."""

    sealed: int
    fate: str = ""
    in_time: bool = False  # 24 hours are over, but it was done before and is only said now
    begun: datetime | None = None  # when it was begun, chilled or frozen
    out_again: datetime | None = None  # when jars that were done again came out of the canner again


class AmountsIn(Schema):
    """ "3 freezer packs of 800 g"; "" where there is nothing of a product."""

    amounts: list[str]


class JobOut(Schema):
    """A plan that is looked for in the background."""

    id: int
    state: Literal["waiting", "running", "done", "failed"]
    lines: list[str]  # what the planner said on its way
    said: str  # why there is no plan

    @staticmethod
    def of(job: PlanJob) -> JobOut:
        """As it stands."""
        return JobOut(id=job.pk, state=job.state, lines=job.lines, said=job.said)


class TaskOut(Schema):
    """One task of the plan in force."""

    key: str
    run: str
    text: str
    start: datetime
    end: datetime
    person: str | None
    attention: str
    must_follow: str
    is_begun: bool
    is_done: bool

    @staticmethod
    def of(task: PlannedTask, standing: Standing) -> TaskOut:
        """As it stands."""
        return TaskOut(
            key=task.key,
            run=task.run,
            text=task.text,
            start=task.start,
            end=task.end,
            person=task.person,
            attention=task.attention.value,
            must_follow=task.must_follow,
            is_begun=standing.is_begun(task),
            is_done=standing.is_done(task),
        )


class PlanOut(Schema):
    """The plan in force: everything `stillroom plan --json` prints, its times as they stand now."""

    made_at: datetime
    changed_since: list[str]  # what is different in the house by now
    plan: Plan


class ClockOut(Schema):
    """By when the next step has to begin."""

    until: datetime
    name: str
    text: str
    reason: str


class TodayOut(Schema):
    """Now, next, and the safety clocks that run."""

    now: list[TaskOut]
    next: list[TaskOut]
    clocks: list[ClockOut]


class PlanIn(Schema):
    """How long to look for a plan."""

    seconds: float = Field(USUAL_S, ge=2, le=600)


class LaterIn(Schema):
    """So many minutes later."""

    minutes: int
