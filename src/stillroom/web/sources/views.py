"""The pages of the published tables."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from stillroom.web.frame.pages import page_or_fragment
from stillroom.web.sources import catalogue
from stillroom.web.sources.shelf import Row, Table, matching

_FIRST, _ON_A_PAGE, _LONGEST = 4, 40, 120


@require_safe
def index(request: HttpRequest) -> HttpResponse:
    """All tables; with words to look for, the rows that hold them."""
    asked = _asked(request)
    context: dict[str, Any] = {"q": asked, "tables": catalogue.tables(), "not_verified": catalogue.not_verified()}
    if asked:
        context["found"] = [(one, rows[:_FIRST], len(rows)) for one, rows in _everywhere(asked) if rows]
        context["count"] = sum(count for _, _, count in context["found"])
    return page_or_fragment(request, "sources/index.html", context)


@require_safe
def one(request: HttpRequest, key: str) -> HttpResponse:
    """One table, page by page."""
    table = catalogue.table(key)
    if table is None:
        raise Http404
    asked, is_unverified = _asked(request), request.GET.get("only") == "unverified"
    rows: list[Row] | tuple[Row, ...] = table.rows
    if asked or is_unverified:
        rows = matching(rows, asked, only_unverified=is_unverified)
    context = {
        "q": asked,
        "table": table,
        "only_unverified": is_unverified,
        "sheet": Paginator(rows, _ON_A_PAGE).get_page(request.GET.get("page")),
    }
    return page_or_fragment(request, "sources/one.html", context)


def _asked(request: HttpRequest) -> str:
    return request.GET.get("q", "").strip()[:_LONGEST]


def _everywhere(asked: str) -> list[tuple[Table, list[Row]]]:
    return [(table, matching(table.rows, asked)) for table in catalogue.tables()]
