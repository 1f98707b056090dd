"""Pages for what went wrong: what, where, what to do, in one sentence."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from stillroom.errors import Refusal, StillroomError


def say_error(request: HttpRequest, error: StillroomError) -> HttpResponse:
    """422 for a refusal for safety, 400 for what could not be read."""
    is_refusal = isinstance(error, Refusal)
    title = "Refused for safety" if is_refusal else "That did not work"
    return _page(request, 422 if is_refusal else 400, title, str(error))


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    """400: what the browser sent can't be used."""
    return _page(
        request, 400, "That did not work", "The browser sent something that can't be read; go back, try again."
    )


def not_allowed(request: HttpRequest, exception: Exception) -> HttpResponse:
    """403: not for this member."""
    return _page(request, 403, "Not for you", str(exception) or "This page is not open to you.")


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:
    """403: a form that is older than the session, or that came from somewhere else."""
    sentence = (
        "This form is too old or came from another site; nothing was changed. Load the page anew and send it again."
    )
    return _page(request, 403, "Load the page anew", sentence)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """404: there is no such page, or what it showed is gone."""
    return _page(request, 404, "Nothing here", "There is no such page; what it showed may have been taken away.")


def broken(request: HttpRequest) -> HttpResponse:
    """500: a fault of the program."""
    sentence = "This is a fault of the program, not yours. What was saved before is safe; go back and try once more."
    return _page(request, 500, "The program failed", sentence)


def _page(request: HttpRequest, status: int, title: str, sentence: str) -> HttpResponse:
    return render(request, "frame/failure.html", {"title": title, "sentence": sentence}, status=status)
