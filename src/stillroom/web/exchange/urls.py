"""Addresses of import and export."""

from __future__ import annotations

from django.urls import path

from stillroom.web.exchange import views

app_name = "exchange"
urlpatterns = [
    path("demo", views.demo, name="demo"),
    path("import", views.bring_in, name="import"),
    path("check", views.check, name="check"),
    path("export", views.take_away, name="export"),
]
