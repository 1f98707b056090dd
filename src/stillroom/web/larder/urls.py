"""Addresses of the larder."""

from __future__ import annotations

from django.urls import path

from stillroom.web.larder import views

app_name = "larder"
urlpatterns = [
    path("", views.index, name="index"),
    path("add", views.add, name="add"),
    path("<int:lot_id>", views.one, name="one"),
    path("<int:lot_id>/edit", views.edit, name="edit"),
    path("<int:lot_id>/out", views.take_out, name="out"),
    path("<int:lot_id>/remove", views.remove, name="remove"),
]
