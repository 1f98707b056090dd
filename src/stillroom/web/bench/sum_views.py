"""One page for every sum."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from stillroom.errors import InputError, Refusal
from stillroom.web.bench.sums.catalogue import BY_KEY
from stillroom.web.frame.forms import capital


@require_safe
def sum_page(request: HttpRequest, key: str) -> HttpResponse:
    """The form, and under its heading the answer, a refusal, or what is wrong beside its field."""
    one = BY_KEY.get(key)
    if one is None:
        raise Http404
    form = one.form.asked(request)
    context: dict[str, Any] = {"sum": one, "form": form}
    if form.is_bound and form.is_valid():
        try:
            context["answer"] = form.answer()
        except Refusal as refusal:
            context["refused"] = str(refusal)
        except InputError as error:
            form.add_error(None, capital(str(error)))
    return render(request, "bench/sum.html", context, status=422 if form.errors else 200)
