"""Addresses of the arrivals."""

from __future__ import annotations

from django.urls import path

from stillroom.web.arrivals import views

app_name = "arrivals"
urlpatterns = [
    path("", views.index, name="index"),
    path("understood", views.understood, name="understood"),
    path("<int:arrival_id>", views.one, name="one"),
    path("<int:arrival_id>/edit", views.edit, name="edit"),
    path("<int:arrival_id>/divide", views.divide, name="divide"),
    path("<int:arrival_id>/take", views.take, name="take"),
    path("<int:arrival_id>/clock", views.clock, name="clock"),
    path("<int:arrival_id>/came", views.came, name="came"),
    path("<int:arrival_id>/remove", views.remove, name="remove"),
]
