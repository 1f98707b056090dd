"""Addresses of the table."""

from __future__ import annotations

from datetime import date

from django.urls import path, register_converter

from stillroom.web.table import views


class DayConverter:
    """A date in an address: 2027-04-09."""

    regex = r"\d{4}-\d{2}-\d{2}"

    def to_python(self, value: str) -> date:
        """ValueError, and so no such page, for the 31st of February."""
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        """As it is read."""
        return value.isoformat()


register_converter(DayConverter, "day")
app_name = "table"
urlpatterns = [
    path("meals.csv", views.table, name="csv"),
    path("", views.index, name="index"),
    path("eaten/<day:day>/<path:name>", views.eaten, name="eaten"),
    path("change/<day:day>/<path:name>", views.change, name="change"),
    path("left-out/<day:day>/<path:name>", views.left_out, name="left_out"),
    path("<day:day>/<path:name>", views.one, name="one"),
]
