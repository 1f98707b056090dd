"""Addresses of import and export."""

from __future__ import annotations

from django.urls import path

from stillroom.web.exchange import list_views, views

app_name = "exchange"
urlpatterns = [
    path("demo", views.demo, name="demo"),
    path("import", views.bring_in, name="import"),
    path("check", views.check, name="check"),
    path("lists", list_views.lists, name="lists"),
    path("lists/<slug:name>.csv", list_views.one_list, name="list"),
    path("export", views.take_away, name="export"),
]
