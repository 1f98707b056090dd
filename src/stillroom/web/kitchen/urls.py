"""Addresses of the kitchen."""

from __future__ import annotations

from django.urls import path

from stillroom.web.kitchen import views

app_name = "kitchen"
urlpatterns = [
    path("", views.index, name="index"),
    path("begin", views.begin, name="begin"),
]
