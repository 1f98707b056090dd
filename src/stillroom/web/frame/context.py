"""What the base template needs on every page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse

LOOKS = ("auto", "light", "dark")


@dataclass(frozen=True, slots=True)
class Place:
    """One of the nine places: its name, where it is, whether this page belongs to it."""

    name: str
    key: str
    url: str
    is_here: bool


# name, the address by name; a place shows up once its address exists. "here" is the block a page sets: `place`.
_PLACES = (
    ("Today", "day:today"),
    ("Arrivals", "arrivals:index"),
    ("Split", "day:split"),
    ("Timetable", "day:timetable"),
    ("Stove", "stove:index"),
    ("Larder", "larder:index"),
    ("Table", "table:index"),
    ("Bench", "bench:index"),
    ("Sources", "sources:index"),
)


def frame(request: HttpRequest) -> dict[str, Any]:
    """The places that exist, and the chosen look."""
    look = request.COOKIES.get("look", "auto")
    household = getattr(request, "household", None)
    return {
        "places": places(request.path),
        "look": look if look in LOOKS else "auto",
        "looks": LOOKS,
        "today": household.today if household else None,
    }


def places(here: str) -> tuple[Place, ...]:
    """The places whose pages exist, in their order; the one whose address begins `here` most fully is marked."""
    found = [(name, key, url) for name, key in _PLACES if (url := _address(key))]
    inside = [url for _, _, url in found if here == url or (url != "/" and here.startswith(url))]
    best = max(inside, key=len, default="")
    return tuple(Place(name, name.lower(), url, url == best) for name, _, url in found)


def _address(key: str) -> str:
    try:
        return reverse(key)
    except NoReverseMatch:
        return ""
