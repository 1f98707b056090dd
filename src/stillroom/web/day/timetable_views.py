"""The pages of the timetable: a day by people and equipment, and one task."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.http.response import Http404
from django.shortcuts import render

from stillroom.web.day.current import current_plan
from stillroom.web.day.task_actions import LATER_MIN
from stillroom.web.day.timetable_page import Day


def timetable(request: HttpRequest) -> HttpResponse:
    """A day of the plan; `day` and `person` choose."""
    current = current_plan(request.household)
    if current is None:
        return render(request, "day/no_plan.html", {"title": "Timetable"})
    day = Day(current.kept, current.day_asked(request.GET.get("day", "")))
    person = request.GET.get("person", "")
    people = day.people()
    tasks = [(task, day.run_name(task)) for task in day.tasks(person if person in people else "")]
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
    """One task: when, who, on what, what comes before and after."""
    current = current_plan(request.household)
    found = next((task for task in current.plan.tasks if task.key == key), None) if current else None
    if current is None or found is None:
        raise Http404
    run = next((run for run in current.plan.runs if run.key == found.run), None)
    context = {
        "task": found,
        "run": run,
        "current": current,
        "is_done": current.standing.is_done(found),
        "is_begun": current.standing.is_begun(found),
        "later_min": LATER_MIN,
    }
    return render(request, "day/task.html", context)
