"""Addresses of the bench."""

from __future__ import annotations

from django.urls import path

from stillroom.web.bench import card_views, recipe_views, sum_views, views

app_name = "bench"
urlpatterns = [
    path("", views.index, name="index"),
    path("card", card_views.card, name="card"),
    path("card/heat.svg", card_views.heat_chart, name="heat_chart"),
    path("sums/<slug:key>", sum_views.sum_page, name="sum"),
    path("recipes/", recipe_views.recipes, name="recipes"),
    path("recipes/list.csv", recipe_views.table, name="csv"),
    path("recipes/new", recipe_views.write, name="write_recipe"),
    path("recipes/page", recipe_views.page, name="recipe_page"),
    path("recipes/ours/<slug:key>", recipe_views.one_of_ours, name="recipe"),
    path("recipes/own/<int:recipe_id>", recipe_views.own, name="own_recipe"),
    path("recipes/own/<int:recipe_id>/text", recipe_views.change, name="change_recipe"),
    path("recipes/own/<int:recipe_id>/take-out", recipe_views.take_out, name="take_out_recipe"),
]
