"""The pages of the split: asking for a plan, the wait, the plan by its food, one run."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.http.response import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST
from django_htmx.http import HttpResponseClientRedirect

from stillroom.errors import InputError
from stillroom.planning.figures import figures
from stillroom.web.day import actions
from stillroom.web.day.changed import changed_since
from stillroom.web.day.current import ago, current_plan, open_job
from stillroom.web.day.models import PlanJob
from stillroom.web.day.split_page import Split, loads_by_day, refusals
from stillroom.web.day.today_page import Today
from stillroom.web.day.wish_views import shown_wishes
from stillroom.web.frame.once import once
from stillroom.web.kitchen.models import Household

LATE_LINES = 4  # of what the planner said
FOUND = "a plan is there"  # how the planner tells of one, while it looks for a better one


def split(request: HttpRequest) -> HttpResponse:
    """Every lump and where its parts go; above it what is being looked for."""
    household = request.household
    current = current_plan(household)
    context: dict[str, object] = {"current": current, "usual_s": actions.USUAL_S, "longer_s": actions.LONGER_S}
    context |= _waiting(open_job(household)) | {"wishes": shown_wishes(household, current)}
    if current is not None:
        page = Split(current.kept, {arrival.key: arrival.name for arrival in household.arrivals.all()})
        context |= {
            "plan": current.plan,
            "ago": ago(current.row.made_at, timezone.now()),
            "changed": changed_since(current, household),
            "figures": figures(current.kept.folder, current.plan),
            "lumps": page.arrivals(),
            "stores": page.stores(),
            "from_cupboard": page.from_cupboard(),
            "loads": loads_by_day(current.plan),
            "refusals": refusals(current.plan),
        }
    return render(request, "day/split.html", context)


def run(request: HttpRequest, key: str) -> HttpResponse:
    """One run: what goes in, what comes out, its process card, why."""
    current = current_plan(request.household)
    found = next((run for run in current.plan.runs if run.key == key), None) if current else None
    if current is None or found is None:
        raise Http404
    tasks = [task for task in current.plan.tasks if task.run == key]
    other_days = [day for day in current.days if day != found.day and day >= current.today]
    context = {"run": found, "tasks": tasks, "plan": current.plan, "other_days": other_days}
    return render(request, "day/run.html", context)


@require_POST
def ask(request: HttpRequest) -> HttpResponse:
    """Asks for a plan; pressed twice it is one plan. While a safety clock runs that it would not know, asks back."""
    seconds = _seconds(request.POST.get("seconds", ""))
    running = () if "anyway" in request.POST else _clocks_lost(request.household)
    if running:
        return render(request, "day/anyway.html", {"running": running, "seconds": seconds}, status=409)
    with once(request) as is_first:
        if is_first:
            actions.ask_for_plan(request.household, at=timezone.now(), seconds=seconds)
    return redirect("day:split")


def job(request: HttpRequest, job_id: int) -> HttpResponse:
    """What the planner says; when it is done, the way to the plan."""
    found = get_object_or_404(request.household.plan_jobs, pk=job_id)
    if not request.htmx:
        return redirect("day:split")
    if found.is_over:
        return HttpResponseClientRedirect(redirect("day:split")["Location"])
    return render(request, "day/_job.html", _waiting(found))


def _clocks_lost(household: Household) -> tuple[str, ...]:
    """Safety clocks of what is under way: a new plan would not tell of them any more."""
    current = current_plan(household)
    if current is None or not current.standing.open_runs:
        return ()
    now = household.now().replace(tzinfo=None)
    clocks = (clock for clock in Today(current, now).clocks() if clock.name in current.standing.open_runs)
    return (
        *(clock.words for clock in current.standing.broken_clocks),
        *(
            f"{clock.name}: {clock.text} by {clock.until:%H:%M} on {clock.until:%A} ({clock.reason})"
            for clock in clocks
        ),
    )


def _waiting(found: PlanJob | None) -> dict[str, object]:
    """What the part `_job.html` shows."""
    if found is None:
        return {"job": None}
    begun = found.begun_at or found.asked_at
    gone_s = (timezone.now() - begun).total_seconds() if found.state == PlanJob.State.RUNNING else 0.0
    best = next((line for line in reversed(found.lines) if line.startswith(FOUND)), "")
    return {
        "job": found,
        "gone_s": round(min(gone_s, found.seconds), 1),
        "lines": found.lines[-LATE_LINES:],
        "best": best,
    }


def _seconds(text: str) -> float:
    for known in (actions.USUAL_S, actions.LONGER_S):
        if text in ("", f"{known:g}"):
            return known
    raise InputError(f"A plan is looked for in {actions.USUAL_S:g} or {actions.LONGER_S:g} seconds, not “{text}”.")
