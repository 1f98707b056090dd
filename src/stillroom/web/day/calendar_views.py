"""The timetable for a phone's calendar, and for a spreadsheet."""

from __future__ import annotations

import re

from django.http import HttpRequest, HttpResponse
from django.http.response import Http404
from django.utils import timezone
from django.views.decorators.http import require_safe

from stillroom.papers.calendar import calendar_of
from stillroom.web.day import timetable_table
from stillroom.web.day.current import current_plan
from stillroom.web.frame.pages import table_answer


@require_safe
def calendar(request: HttpRequest) -> HttpResponse:
    """The plan as it stands, as iCalendar in the household's zone; `day` and `person` choose."""
    household = request.household
    current = current_plan(household)
    if current is None:
        raise Http404
    asked, person = request.GET.get("day", ""), request.GET.get("person", "")
    day = current.day_asked(asked) if asked else None
    text = calendar_of(current.plan, stamp=timezone.now(), zone=household.time_zone, day=day, person=person)
    answer = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    name = re.sub(r"[^a-z0-9]+", "-", f"timetable {day or current.plan.start} {person}".lower()).strip("-")
    answer["Content-Disposition"] = f'attachment; filename="{name}.ics"'
    return answer


@require_safe
def table(request: HttpRequest) -> HttpResponse:
    """The plan as it stands, as CSV; without a plan only the names of the columns."""
    current = current_plan(request.household)
    rows = timetable_table.rows(current) if current else ()
    return table_answer(request, "timetable", timetable_table.COLUMNS, rows)
