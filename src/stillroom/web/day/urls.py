"""Addresses of the day."""

from __future__ import annotations

from django.urls import path, register_converter
from django.urls.converters import StringConverter

from stillroom.web.day import calendar_views, split_views, timetable_views, today_views, why_views, wish_views


class KindConverter(StringConverter):
    """What may be said of a task."""

    regex = "|".join(today_views.KINDS)


register_converter(KindConverter, "kind")
app_name = "day"
urlpatterns = [
    path("", today_views.today, name="today"),
    path("split/", split_views.split, name="split"),
    path("split/plan", split_views.ask, name="ask"),
    path("split/job/<int:job_id>", split_views.job, name="job"),
    path("timetable/", timetable_views.timetable, name="timetable"),
    path("timetable/calendar", calendar_views.calendar, name="calendar"),
    path("timetable/table.csv", calendar_views.table, name="csv"),
    path("timetable/say/<kind:kind>/<path:key>", today_views.say, name="say"),
    path("timetable/move/<path:key>", timetable_views.move, name="move"),
    path("timetable/offer/<int:timing_id>", timetable_views.offer, name="offer"),
    path("timetable/offer/<int:timing_id>/take", timetable_views.take, name="take"),
    path("timetable/let-go/<path:key>", timetable_views.let_go, name="let_go"),
    path("timetable/anew", timetable_views.anew, name="anew"),
    path("timetable/task/<path:key>", timetable_views.task, name="task"),
    path("split/food/<path:name>", wish_views.food, name="food"),
    path("split/wish/run/<path:key>", wish_views.of_run, name="wish_run"),
    path("split/wish/<int:wish_id>/drop", wish_views.drop, name="drop_wish"),
    path("split/why", why_views.why, name="why"),
    path("split/run/<path:key>", split_views.run, name="run"),
]
