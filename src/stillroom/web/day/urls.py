"""Addresses of the day."""

from __future__ import annotations

from django.urls import path

from stillroom.web.day import split_views, timetable_views, views

app_name = "day"
urlpatterns = [
    path("", views.today, name="today"),
    path("split/", split_views.split, name="split"),
    path("split/plan", split_views.ask, name="ask"),
    path("split/job/<int:job_id>", split_views.job, name="job"),
    path("timetable/", timetable_views.timetable, name="timetable"),
    path("timetable/task/<path:key>", timetable_views.task, name="task"),
    path("split/run/<path:key>", split_views.run, name="run"),
]
