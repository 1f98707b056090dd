"""The pages of the timetable: a day by people and equipment, one task, moving it, the rest arranged anew."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from django.http import HttpRequest, HttpResponse
from django.http.response import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from stillroom.errors import InputError
from stillroom.model.plan import PlannedTask
from stillroom.web.day import timing_actions
from stillroom.web.day.current import Current, current_plan
from stillroom.web.day.models import Timing
from stillroom.web.day.task_actions import LATER_MIN
from stillroom.web.day.timetable_page import Day
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import say

QUICK_MIN = (-60, -30, -15, 15, 30, 60)  # moves that are one tap


def timetable(request: HttpRequest) -> HttpResponse:
    """A day of the plan; `day` and `person` choose."""
    current = current_plan(request.household)
    if current is None:
        return render(request, "day/no_plan.html", {"title": "Timetable"})
    day = Day(current.kept, current.day_asked(request.GET.get("day", "")))
    person = request.GET.get("person", "")
    people = day.people()
    stands = current.standing
    tasks = [
        {
            "task": task,
            "name": day.run_name(task),
            "is_done": stands.is_done(task),
            "is_begun": stands.is_begun(task),
            "is_pinned": task.key in stands.pinned,
        }
        for task in day.tasks(person if person in people else "")
    ]
    context = {
        "current": current,
        "plan": current.plan,
        "day": day.date,
        "person": person if person in people else "",
        "people": people,
        "tasks": tasks,
        "meals": day.meals(),
        "chart": day.chart(request.household.now()),
    }
    return render(request, "day/timetable.html", context)


def task(request: HttpRequest, key: str) -> HttpResponse:
    """One task: when, who, on what, what it waits for; what may be said of it, and moving it."""
    current, found = _found(request, key)
    return render(request, "day/task.html", _task_context(current, found, _now(request)))


@require_POST
def move(request: HttpRequest, key: str) -> HttpResponse:
    """Checks a task at another time at once: an offer with what comes of it, or why it can't be."""
    current, found = _found(request, key)
    to = _moment(request.POST.get("day", ""), request.POST.get("time", ""), found.start.date(), current)
    with once(request) as is_first:
        if not is_first:
            offer = current.row.timings.filter(accepted_at=None).last()
            return redirect("day:offer", offer.pk) if offer else redirect("day:task", key)
        answer = timing_actions.offer_move(current, key, to, at=request.household.now())
        if isinstance(answer, Timing):
            return redirect("day:offer", answer.pk)
    context = _task_context(current, found, _now(request)) | {"refused": answer, "to": to}
    return render(request, "day/task.html", context, status=422)


def offer(request: HttpRequest, timing_id: int) -> HttpResponse:
    """What comes of a move, to be taken or left."""
    current = _current(request)
    row = get_object_or_404(current.row.timings, pk=timing_id)
    return render(request, "day/offer.html", {"offer": row, "current": current})


@require_POST
def take(request: HttpRequest, timing_id: int) -> HttpResponse:
    """Takes an offer; pressed twice it is taken once."""
    current = _current(request)
    row = get_object_or_404(current.row.timings, pk=timing_id)
    with once(request) as is_first:
        if is_first:
            say(request, timing_actions.take(row, current, at=timezone.now()))
    return redirect("day:timetable")


@require_POST
def let_go(request: HttpRequest, key: str) -> HttpResponse:
    """The program may move a task again that was put somewhere by hand."""
    current, _ = _found(request, key)
    with once(request) as is_first:
        if is_first:
            say(request, timing_actions.let_go(current, key, at=timezone.now()))
    return redirect("day:task", key)


@require_POST
def anew(request: HttpRequest) -> HttpResponse:
    """Arranges the rest anew from now on."""
    current = _current(request)
    with once(request) as is_first:
        if is_first:
            say(request, timing_actions.arrange_anew(current, at=timezone.now(), now=request.household.now()))
    return redirect("day:timetable")


def _current(request: HttpRequest) -> Current:
    current = current_plan(request.household)
    if current is None:
        raise InputError("There is no plan any more; make one on the page of the split.")
    return current


def _found(request: HttpRequest, key: str) -> tuple[Current, PlannedTask]:
    current = _current(request)
    found = next((task for task in current.plan.tasks if task.key == key), None)
    if found is None:
        raise Http404
    return current, found


def _now(request: HttpRequest) -> datetime:
    now: datetime = request.household.now().replace(tzinfo=None)
    return now


def _task_context(current: Current, found: PlannedTask, now: datetime) -> dict[str, object]:
    stands = current.standing
    quick = [found.start + timedelta(minutes=minutes) for minutes in QUICK_MIN]
    is_said = stands.is_done(found) or stands.is_begun(found)
    return {
        "task": found,
        "run": next((run for run in current.plan.runs if run.key == found.run), None),
        "current": current,
        "is_done": stands.is_done(found),
        "is_begun": stands.is_begun(found),
        "is_pinned": found.key in stands.pinned,
        "later_min": LATER_MIN,
        "is_to_come": not is_said and found.start >= now,
        "is_over": found.end <= now,
        "has_come": not is_said and found.start < now,
        "days": [day for day in current.days if abs((day - found.start.date()).days) <= 1 and day >= now.date()],
        "quick": [at for at in quick if at >= now and at.date() == found.start.date()],
    }


def _moment(day: str, clock: str, otherwise: date, current: Current) -> datetime:
    try:
        at = time.fromisoformat(clock.zfill(5))
    except ValueError:
        raise InputError(f"“{clock}” is no time of day: write it like 18:30.") from None
    return datetime.combine(current.day_asked(day) if day else otherwise, at.replace(second=0, microsecond=0))
