"""The planner: takes what was asked for, works it out, keeps the plan. It runs in a process beside the server."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from datetime import datetime, timedelta
from datetime import time as clock_time

from django.db import connection, transaction
from django.utils import timezone

from stillroom.errors import SourceError, StillroomError
from stillroom.planning.kept_plan import KeptPlan, fingerprint
from stillroom.planning.pipeline import work_out
from stillroom.web.day.models import MadePlan, PlanJob
from stillroom.web.day.wish_actions import wishes_of
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household

_State = PlanJob.State
_BEAT_S = 1.0
_STEP_MIN = 5
SILENT_S = 15.0  # a planner that says nothing for so long has gone away
MOST_TRIES = 2
KEPT_PLANS = 20  # of a household; older ones go
_LOOK_EVERY_S = 0.3
FAILED_TWICE = "The program failed twice at this plan, which is its fault, not yours. Change something and plan again."


def work_for_ever(seen: Callable[[PlanJob | None], None]) -> None:
    """Works off one job after the other; `seen` hears which one is in hand."""
    while True:
        job = take_job(at=timezone.now())
        seen(job)
        if job is None:
            time.sleep(_LOOK_EVERY_S)
        else:
            work_off(job)


@transaction.atomic
def take_job(*, at: datetime) -> PlanJob | None:
    """The job that waits longest, now running; None when there is none or another is running."""
    running = PlanJob.objects.select_for_update().filter(state=_State.RUNNING)
    for left in running.filter(heard_at__lt=at - timedelta(seconds=SILENT_S)):
        let_go(left, at=at)
    if running.exists():
        return None
    job = PlanJob.objects.select_for_update().filter(state=_State.WAITING).order_by("asked_at", "pk").first()
    if job is not None:
        job.state, job.begun_at, job.heard_at, job.lines = _State.RUNNING, at, at, []
        job.tries += 1
        job.save()
    return job


def let_go(job: PlanJob, *, at: datetime) -> None:
    """The planner of a running job went away: it waits again, unless it was tried often or is asked for anew."""
    is_asked_anew = PlanJob.objects.filter(household=job.household, state=_State.WAITING).exists()
    if job.tries >= MOST_TRIES or is_asked_anew:
        said = "" if is_asked_anew else FAILED_TWICE
        PlanJob.objects.filter(pk=job.pk, state=_State.RUNNING).update(state=_State.FAILED, ended_at=at, said=said)
    else:
        PlanJob.objects.filter(pk=job.pk, state=_State.RUNNING).update(state=_State.WAITING)


def work_off(job: PlanJob) -> None:
    """Makes the plan and keeps it, or says in one sentence why there is none.

    A fault of the program is not caught: the job is let go, and a new process takes it up once more.
    """
    done = threading.Event()
    beat = threading.Thread(target=_beat, args=(job.pk, done), daemon=True)
    beat.start()
    try:
        _make(job)
    except SourceError:
        raise
    except StillroomError as error:
        job.state, job.said = _State.FAILED, str(error)[:1000]
        _end(job)
    finally:
        done.set()
        beat.join()
        if not job.is_over:
            let_go(job, at=timezone.now())


def _make(job: PlanJob) -> None:
    household: Household = job.household
    whole_days, wishes = folder_of(household), wishes_of(household)
    job.made_for = fingerprint(whole_days, wishes)
    folder = whole_days.from_hour(_next_step(household.now()))
    PlanJob.objects.filter(pk=job.pk).update(made_for=job.made_for)

    def progress(text: str) -> None:
        job.lines.append(text)
        PlanJob.objects.filter(pk=job.pk).update(lines=job.lines)

    worked_out = work_out(folder, days=folder.days, seconds=job.seconds, progress=progress, wishes=wishes)
    made_at = timezone.now()
    with transaction.atomic():
        text = KeptPlan(folder=folder, worked_out=worked_out, wishes=wishes).as_text()
        MadePlan.objects.create(household=household, job=job, made_at=made_at, kept=text)
        forget_old(household)
        job.state = _State.DONE
        _end(job)


def _next_step(now: datetime) -> clock_time:
    """The hour of the day at which what is planned now can begin."""
    step = now.replace(minute=now.minute // _STEP_MIN * _STEP_MIN, second=0, microsecond=0)
    later = step if step == now else step + timedelta(minutes=_STEP_MIN)
    return later.time() if later.date() == now.date() else clock_time.max


def forget_old(household: Household) -> None:
    """Only so many plans are kept, and those of whose tasks something was said."""
    old = household.made_plans.values_list("pk", flat=True)[KEPT_PLANS:]
    MadePlan.objects.filter(pk__in=list(old), events=None).delete()


def _end(job: PlanJob) -> None:
    job.ended_at = timezone.now()
    job.save(update_fields=["state", "said", "ended_at"])


def _beat(pk: int, done: threading.Event) -> None:
    """A sign of life now and then, while the solver thinks."""
    while not done.wait(_BEAT_S):
        PlanJob.objects.filter(pk=pk).update(heard_at=timezone.now())
    connection.close()
