"""Addresses of the kitchen."""

from __future__ import annotations

from django.urls import path, re_path

from stillroom.web.kitchen import views

app_name = "kitchen"
urlpatterns = [
    path("", views.index, name="index"),
    path("begin", views.begin, name="begin"),
    path("open/<int:household_id>", views.open_one, name="open"),
    path("step", views.step, name="step"),
    path("set-up", views.go_on, name="go_on"),
    re_path("^(?P<what>place|equipment|dislikes)$", views.form, name="form"),
    path("jars", views.jars, name="jars"),
    path("<slug:kind>/", views.rows, name="rows"),
    path("<slug:kind>/new", views.row, name="new"),
    path("<slug:kind>/<int:row_id>", views.row, name="row"),
    path("<slug:kind>/<int:row_id>/remove", views.remove, name="remove"),
]
