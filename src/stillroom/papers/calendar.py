"""The tasks and meals of a plan as a calendar that a phone can take in (iCalendar, RFC 5545)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from typing import TYPE_CHECKING
from uuid import UUID, uuid5
from zoneinfo import ZoneInfo

from stillroom.errors import InputError
from stillroom.model.plan import Plan, PlannedMeal, PlannedTask
from stillroom.model.work import Attention

if TYPE_CHECKING:
    from icalendar import Alarm, Event

_OURS = UUID("6f0f7c2e-3a53-5e0c-9d0e-52a1f3f3a3b7")  # so that the same task has the same UID each time it is written
_MAKER = "-//Stillroom//Timetable of a day//EN"
_BEFORE_CLOCK_MIN = 5  # common practice, no source: time to dry one's hands
_CAUTION = (
    "A copy of the plan: what moved since stands in Stillroom. The run sheet and the process card say how; your local "
    "food-safety authority and licensed practice have the last word."
)
_THAW_STEP = ":thaw"  # the key of the step that sets frozen food into the fridge


def calendar_of(
    plan: Plan, *, stamp: datetime, zone: str | None = None, day: date | None = None, person: str = ""
) -> bytes:
    """The plan as iCalendar: an event for each task and each meal, an alarm where a safety clock starts or ends.

    `zone` is the time zone of the household (IANA); None where it is not known: then the times are floating, and mean
    the clock on the wall (RFC 5545, 3.3.5). `day` and `person` choose; tasks that need nobody's hands go to everybody.
    InputError for a day or a person that the plan has not.
    """
    from icalendar import Calendar

    _check(plan, day, person)
    place = ZoneInfo(zone) if zone else None
    stamp = stamp.astimezone(UTC).replace(microsecond=0)
    whose = f"{plan.household} (invented)" if plan.invented else plan.household
    calendar = Calendar.new(prodid=_MAKER, name=f"{whose}: kitchen", description=_CAUTION, uid=_uid(plan, "plan"))
    names = {run.key: run.name for run in plan.runs}
    for task in plan.tasks:
        if (day is None or task.start.date() == day) and (not person or task.person in (person, None)):
            calendar.add_component(_of_task(task, names.get(task.run, ""), plan, place, stamp))
    for meal in plan.meals:
        if day is None or meal.at.date() == day:
            calendar.add_component(_of_meal(meal, plan, place, stamp))
    if place is not None:
        calendar.add_missing_timezones(plan.start, plan.start + timedelta(days=plan.days + 1))
    text: bytes = calendar.to_ical()
    return text


def _check(plan: Plan, day: date | None, person: str) -> None:
    last = plan.start + timedelta(days=plan.days - 1)
    if day is not None and not plan.start <= day <= last:
        raise InputError(f"{day} is no day of this plan, which runs from {plan.start} to {last}.")
    people = sorted({task.person for task in plan.tasks if task.person})
    if person and person not in people:
        raise InputError(f"“{person}” does nothing in this plan: name one of {', '.join(people)}.")


def _of_task(task: PlannedTask, name: str, plan: Plan, place: ZoneInfo | None, stamp: datetime) -> Event:
    from icalendar import TRANSP, Event

    is_quiet = task.attention is Attention.FREE
    lines = [f"By {task.person}" if task.person else "By itself" if is_quiet else "Somebody stays near"]
    lines += [f"On: {', '.join(task.equipment)}"] if task.equipment else []
    lines += [f"Safety clock: {task.must_follow}"] if task.must_follow else []
    event = Event.new(
        uid=_uid(plan, f"task {task.key}"),
        stamp=stamp,
        start=task.start.replace(tzinfo=place),
        end=task.end.replace(tzinfo=place),
        summary=f"{name}: {task.text}" if name else task.text,
        description="\n".join(lines),
        transparency=TRANSP.TRANSPARENT if is_quiet else TRANSP.OPAQUE,
    )
    for alarm in _alarms(task):
        event.add_component(alarm)
    return event


def _alarms(task: PlannedTask) -> Iterable[Alarm]:
    """Before a safety clock starts or has to end, and when something has to come out of the freezer."""
    if task.must_follow:
        yield _alarm(timedelta(minutes=-_BEFORE_CLOCK_MIN), f"Safety clock: {task.must_follow}")
    if task.key.endswith(_THAW_STEP):
        yield _alarm(timedelta(0), task.text)


def _alarm(before: timedelta, words: str) -> Alarm:
    """A text on the screen; ACTION, DESCRIPTION and TRIGGER are what RFC 5545, 3.6.6 wants of it."""
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", words)
    alarm.add("trigger", before)
    return alarm


def _of_meal(meal: PlannedMeal, plan: Plan, place: ZoneInfo | None, stamp: datetime) -> Event:
    from icalendar import TRANSP, Event

    lines = [", ".join(meal.dishes)] if meal.dishes else []
    lines += [f"Missing: {', '.join(meal.missing)}"] if meal.missing else []
    return Event.new(  # no end: it lasts no time, and stands at its hour (RFC 5545, 3.6.1)
        uid=_uid(plan, f"meal {meal.at:%Y-%m-%d} {meal.name}"),
        stamp=stamp,
        start=meal.at.replace(tzinfo=place),
        summary=f"{meal.name.capitalize()} for {meal.portions:g} portions",
        description="\n".join(lines) or None,
        transparency=TRANSP.TRANSPARENT,
    )


def _uid(plan: Plan, what: str) -> UUID:
    return uuid5(_OURS, f"{plan.household} {plan.start} {what}")
