"""The plan, what is to be done now, and what is said of its tasks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from django.http import HttpRequest
from django.utils import timezone
from ninja import Router, Status

from stillroom.web.api.acting import acting
from stillroom.web.api.problems import Problem
from stillroom.web.api.shapes import ClockOut, JobOut, LaterIn, PlanIn, PlanOut, TaskOut, TodayOut
from stillroom.web.day import task_actions, timing_actions
from stillroom.web.day.actions import ask_for_plan
from stillroom.web.day.changed import changed_since
from stillroom.web.day.current import Current, current_plan
from stillroom.web.day.today_page import Today

router = Router()


@router.get("/plan", response=PlanOut)
def plan(request: HttpRequest) -> PlanOut:
    """The plan in force, its times as they stand now."""
    current = _current(request)
    changes = changed_since(current, request.household)
    return PlanOut(made_at=current.row.made_at, changed_since=list(changes), plan=current.plan)


@router.post("/plan", response={202: JobOut})
def ask(request: HttpRequest, sent: PlanIn) -> Status[JobOut]:
    """Asks for a plan of the household as it is now; it is made in the background: look at /plan/job."""
    with acting(request):  # one that is asked for already serves as well
        job = ask_for_plan(request.household, at=timezone.now(), seconds=sent.seconds)
    return Status(202, JobOut.of(job))


@router.get("/plan/job", response=JobOut)
def job(request: HttpRequest) -> JobOut:
    """The plan that was asked for last."""
    found = request.household.plan_jobs.last()
    if found is None:
        raise Problem(404, "No plan was asked for yet.")
    return JobOut.of(found)


@router.get("/today", response=TodayOut)
def today(request: HttpRequest) -> TodayOut:
    """Now, next, and the safety clocks that run, by the clock of the household."""
    current = _current(request)
    page = Today(current, request.household.now().replace(tzinfo=None))
    return TodayOut(
        now=[TaskOut.of(entry.task, current.standing) for entry in page.now()],
        next=[TaskOut.of(entry.task, current.standing) for entry in page.next()],
        clocks=[ClockOut(until=c.until, name=c.name, text=c.text, reason=c.reason) for c in page.clocks()],
    )


@router.post("/tasks/{path:key}/begin", response=TaskOut)
def begin(request: HttpRequest, key: str) -> TaskOut:
    """It begins now, whatever was planned."""
    return _said(request, key, lambda current, at: task_actions.begin(current, key, at=at))


@router.post("/tasks/{path:key}/done", response=TaskOut)
def done(request: HttpRequest, key: str) -> TaskOut:
    """It is done now."""
    return _said(request, key, lambda current, at: task_actions.finish(current, key, at=at))


@router.post("/tasks/{path:key}/later", response=TaskOut)
def later(request: HttpRequest, key: str, sent: LaterIn) -> TaskOut:
    """It takes so much longer, or begins so much later."""
    return _said(request, key, lambda current, at: task_actions.delay(current, key, sent.minutes, at=at))


@router.post("/tasks/{path:key}/reopen", response=TaskOut)
def reopen(request: HttpRequest, key: str) -> TaskOut:
    """It is not begun after all."""
    return _said(request, key, lambda current, at: task_actions.reopen(current, key, at=at))


def _current(request: HttpRequest) -> Current:
    found = current_plan(request.household)
    if found is None:
        raise Problem(404, "There is no plan: ask for one.")
    return found


def _said(request: HttpRequest, key: str, say: Callable[[Current, datetime], None]) -> TaskOut:
    """Says it once; where a meal is late or a clock can't be kept by it, the rest is arranged anew."""
    current = _current(request)
    if all(task.key != key for task in current.plan.tasks):
        raise Problem(404, "This task is not in the plan, which may have been made anew.")
    with acting(request) as is_first:
        if is_first:
            say(current, request.household.now())
            timing_actions.mend(current, request.household, at=timezone.now())
    after = _current(request)
    return TaskOut.of(task_actions.find_task(after, key), after.standing)
