"""Addresses of the door."""

from __future__ import annotations

from django.urls import path

from stillroom.web.door import views

app_name = "door"
urlpatterns = [
    path("", views.index, name="index"),
    path("in", views.sign_in, name="sign_in"),
    path("join", views.join, name="join"),
    path("out", views.sign_out, name="sign_out"),
    path("passphrase", views.passphrase, name="passphrase"),
    path("members/<int:member_id>/remove", views.remove, name="remove"),
    path("authority.crt", views.authority, name="authority"),
]
