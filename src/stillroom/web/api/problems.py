"""What went wrong, as problem details (RFC 9457): one sentence in `detail`."""

from __future__ import annotations

import json
from collections.abc import Mapping

from django.forms import Form
from django.http import HttpResponse

from stillroom.errors import StillroomError
from stillroom.web.frame.forms import capital

_TITLES = {
    400: "That did not work",
    401: "Sign in",
    404: "Nothing here",
    409: "Not now",
    415: "Wrong kind",
    422: "Something has to be mended",
    429: "Too many tries",
}


class Problem(StillroomError):  # noqa: N818 - told as it is
    """An answer that is none, with its HTTP status; `fields` name what of the question can't be used."""

    def __init__(self, status: int, detail: str, fields: Mapping[str, str] | None = None) -> None:
        super().__init__(detail)
        self.status, self.fields = status, fields or {}


def answer_of(problem: Problem) -> HttpResponse:
    """The problem as it is sent."""
    body: dict[str, object] = {"title": _TITLES[problem.status], "status": problem.status, "detail": str(problem)}
    if problem.fields:
        body["fields"] = dict(problem.fields)
    sent = HttpResponse(
        json.dumps(body, ensure_ascii=False), status=problem.status, content_type="application/problem+json"
    )
    if problem.status == 401:
        sent["WWW-Authenticate"] = 'Basic realm="Stillroom", charset="UTF-8"'
    return sent


def usable(form: Form) -> Form:
    """The form, if all of it can be used; else the Problem with a sentence for each field."""
    if form.is_valid():
        return form
    fields = {name: " ".join(map(_sentence, said)) for name, said in form.errors.items()}
    raise Problem(422, " ".join(fields.values()), fields)


def _sentence(said: str) -> str:
    return capital(said) if said.endswith((".", "?")) else f"{capital(said)}."
