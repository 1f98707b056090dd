"""One template for the page and for the part of it that htmx asks for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import timedelta
from typing import Any
from urllib.parse import urlsplit

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.cache import patch_vary_headers

from stillroom.errors import InputError
from stillroom.papers.tables import csv_text
from stillroom.web.frame.models import Change

LONGEST_AGO_S = 24 * 3600


def page_or_fragment(
    request: HttpRequest, template: str, context: dict[str, Any] | None = None, *, status: int = 200
) -> HttpResponse:
    """The whole page `app/name.html`; for htmx only its part, the file `app/_name.html` that the page includes.

    Going back in the browser asks for the whole page again, and a kept part is never taken for it.
    """
    if request.htmx and not (request.htmx.boosted or request.htmx.history_restore_request):
        folder, _, name = template.rpartition("/")
        template = f"{folder}/_{name}"
    answer = render(request, template, context, status=status)
    patch_vary_headers(answer, ("HX-Request", "HX-History-Restore-Request"))
    return answer


def table_answer(
    request: HttpRequest, name: str, columns: Sequence[str], rows: Iterable[Sequence[object]]
) -> HttpResponse:
    """A list as a CSV file (RFC 4180; its media type is that of RFC 7111), named by the day of the household."""
    answer = HttpResponse(csv_text(columns, rows), content_type="text/csv; charset=utf-8; header=present")
    answer["Content-Disposition"] = f'attachment; filename="{name}-{request.household.today}.csv"'
    return answer


def say(request: HttpRequest, change: Change | None) -> None:
    """Tells on the next page what was done, with a button that takes it back."""
    if change is not None:
        messages.success(request, change.said, extra_tags=str(change.pk))


def back(request: HttpRequest, otherwise: str) -> HttpResponse:
    """Back to the page that the form names in `back` (of this site only), or to the address named `otherwise`."""
    wanted = request.POST.get("back", "")
    parts = urlsplit(wanted)
    is_ours = wanted.startswith("/") and not wanted.startswith("//") and not parts.netloc and "\\" not in wanted
    return redirect(wanted if is_ours else otherwise)


def tapped_ago(request: HttpRequest) -> timedelta:
    """How long ago it was tapped, where the tap was kept while there was no connection."""
    text = request.POST.get("ago_s", "0")
    if not text.isascii() or not text.isdigit() or int(text[:9]) > LONGEST_AGO_S:
        raise InputError("This tap is more than a day old: look again and say it anew.")
    return timedelta(seconds=int(text))
