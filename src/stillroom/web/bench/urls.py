"""Addresses of the bench."""

from __future__ import annotations

from django.urls import path

from stillroom.web.bench import card_views, sum_views, views

app_name = "bench"
urlpatterns = [
    path("", views.index, name="index"),
    path("card", card_views.card, name="card"),
    path("card/heat.svg", card_views.heat_chart, name="heat_chart"),
    path("sums/<slug:key>", sum_views.sum_page, name="sum"),
]
