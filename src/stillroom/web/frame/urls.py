"""Addresses of the frame."""

from __future__ import annotations

from django.urls import path

from stillroom.web.frame import views

app_name = "frame"
urlpatterns = [
    path("look", views.choose_look, name="look"),
    path("reachable", views.reachable, name="reachable"),
    path("undo/<int:change_id>", views.take_back, name="undo"),
]
