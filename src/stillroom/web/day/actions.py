"""Every change of a plan: asking for one, and what becomes of its tasks."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from stillroom.planning.kept_plan import fingerprint
from stillroom.web.day.models import PlanJob
from stillroom.web.day.wish_actions import wishes_of
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household

USUAL_S, LONGER_S = 12.0, 40.0  # in the background, so there is time


def ask_for_plan(household: Household, *, at: datetime, seconds: float = USUAL_S) -> PlanJob:
    """A plan of the household as it is now; one that is asked for already serves as well.

    InputError when something has to be mended before anything can be planned.
    """
    made_for = fingerprint(folder_of(household), wishes_of(household))
    with transaction.atomic():
        open_jobs = household.plan_jobs.select_for_update()
        waiting = open_jobs.filter(state=PlanJob.State.WAITING).first()
        running = open_jobs.filter(state=PlanJob.State.RUNNING, made_for=made_for, seconds__gte=seconds).first()
        if waiting is not None:
            PlanJob.objects.filter(pk=waiting.pk).update(seconds=max(seconds, waiting.seconds))
        found: PlanJob | None = waiting or running
        return found or PlanJob.objects.create(household=household, asked_at=at, seconds=seconds)
