"""Addresses of the day."""

from __future__ import annotations

from django.urls import path

from stillroom.web.day import views

app_name = "day"
urlpatterns = [path("", views.today, name="today")]
