"""Today, and what is said of its tasks by one tap."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_POST

from stillroom.errors import InputError
from stillroom.model.plan import PlannedMeal
from stillroom.planning.what_now import LAST_WORD
from stillroom.web.arrivals.waiting import expected, waiting
from stillroom.web.day import actions, task_actions, timing_actions
from stillroom.web.day.current import Current, current_plan
from stillroom.web.day.today_page import Today
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import back, page_or_fragment, tapped_ago
from stillroom.web.frame.pages import say as say_change


def today(request: HttpRequest) -> HttpResponse:
    """Now and next, the clocks that run, what to thaw, what turns, what waits and what is to come."""
    household = request.household
    here = waiting(household)
    context: dict[str, object] = {
        "pressing": [one for one in here if one.pressing != "calm"],
        "calm": [one for one in here if one.pressing == "calm"],
        "expected": expected(household),
        "today": household.today,
        "now": household.now(),
        "usual_s": actions.USUAL_S,
    }
    current = current_plan(household)
    if current is not None:
        context |= {"current": current, "page": Today(current, household.now().replace(tzinfo=None))}
        context |= {"later_min": task_actions.LATER_MIN, "last_word": LAST_WORD}
    return page_or_fragment(request, "day/today.html", context)


@require_POST
def say(request: HttpRequest, key: str, kind: str) -> HttpResponse:
    """Says one thing of a task; the timetable follows at once."""
    with once(request) as is_first:
        current = current_plan(request.household)
        if current is None:
            raise InputError("There is no plan any more; make one on the page of the split.")
        if is_first:
            now = request.household.now() - tapped_ago(request)
            _ACTIONS[kind](current, key, request, now)
            messages.success(request, _words(request, current, kind, key))
            say_change(request, timing_actions.mend(current, request.household, at=timezone.now()))
    return back(request, "day:today")


def _begin(current: Current, key: str, request: HttpRequest, now: datetime) -> None:
    task_actions.begin(current, key, at=now)


def _finish(current: Current, key: str, request: HttpRequest, now: datetime) -> None:
    task_actions.finish(current, key, at=now, is_as_planned=request.POST.get("when") == "planned")


def _delay(current: Current, key: str, request: HttpRequest, now: datetime) -> None:
    text = request.POST.get("minutes", "")
    if not text.isascii() or not text.isdigit() or len(text) > 4:
        raise InputError(f"“{text}” is no number of minutes.")
    task_actions.delay(current, key, int(text), at=now)


def _reopen(current: Current, key: str, request: HttpRequest, now: datetime) -> None:
    task_actions.reopen(current, key, at=now)


_ACTIONS: dict[str, Callable[[Current, str, HttpRequest, datetime], None]] = {
    "begin": _begin,
    "done": _finish,
    "late": _delay,
    "open": _reopen,
}
KINDS = tuple(_ACTIONS)


def _words(request: HttpRequest, before: Current, kind: str, key: str) -> str:
    """What was said, and what follows from it."""
    after = current_plan(request.household)
    assert after is not None
    text = task_actions.inside(task_actions.find_task(after, key).text)
    said = {"begin": "Begun", "done": "Done", "late": "Later", "open": "Not begun after all"}[kind]
    times = {task.key: task.start for task in before.plan.tasks}
    moved = sum(task.start != times[task.key] for task in after.plan.tasks if task.key != key)
    follows = [f"{moved} later task{'s' if moved > 1 else ''} moved"] if moved else []
    follows += [_late_words(meal) for meal in after.standing.late_meals if meal not in before.standing.late_meals]
    return f"{said}: {text}." + (f" {'; '.join(follows)}." if follows else "")


def _late_words(meal: PlannedMeal) -> str:
    assert meal.ready is not None
    return f"{meal.name} will be {round((meal.ready - meal.at).total_seconds() / 60)} min late"
