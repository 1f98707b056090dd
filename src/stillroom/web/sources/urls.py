"""Addresses of the sources."""

from __future__ import annotations

from django.urls import path

from stillroom.web.sources import views

app_name = "sources"
urlpatterns = [
    path("", views.index, name="index"),
    path("<slug:key>", views.one, name="one"),
]
