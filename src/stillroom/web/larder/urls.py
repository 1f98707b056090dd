"""Addresses of the larder."""

from __future__ import annotations

from django.urls import path

from stillroom.web.larder import put_up_views, views

app_name = "larder"
urlpatterns = [
    path("", views.index, name="index"),
    path("add", views.add, name="add"),
    path("<int:lot_id>", views.one, name="one"),
    path("<int:lot_id>/edit", views.edit, name="edit"),
    path("<int:lot_id>/out", views.take_out, name="out"),
    path("<int:lot_id>/remove", views.remove, name="remove"),
    path("put-up/<int:put_up_id>", put_up_views.one, name="put_up"),
    path("put-up/<int:put_up_id>/out", put_up_views.out, name="put_up_out"),
    path("put-up/<int:put_up_id>/lids", put_up_views.lids, name="put_up_lids"),
    path("put-up/<int:put_up_id>/keep", put_up_views.keep, name="put_up_keep"),
    path("put-up/<int:put_up_id>/remove", put_up_views.remove, name="put_up_remove"),
]
