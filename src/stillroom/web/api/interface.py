"""All addresses under /api/, and how what goes wrong is told."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from ninja import NinjaAPI
from ninja.errors import HttpError, ValidationError

from stillroom.errors import SourceError, StillroomError
from stillroom.web.api.day_routes import router as day
from stillroom.web.api.door import Door
from stillroom.web.api.food_routes import router as food
from stillroom.web.api.problems import Problem, answer_of
from stillroom.web.api.process_routes import router as process
from stillroom.web.api.put_up_routes import router as put_up

DESCRIPTION = (
    "The same actions as on the pages. Send changes as application/json; an Idempotency-Key makes a request safe to "
    "send again. Errors are problem details (RFC 9457). It repeats published tables and is no licence: your local "
    "food-safety authority comes first."
)
# The browsable page of the library would ask another host for its scripts, so there is none.
interface = NinjaAPI(title="Stillroom", version="1", description=DESCRIPTION, docs_url=None, auth=Door())
for router in (food, put_up, day, process):
    interface.add_router("", router)


@interface.exception_handler(Problem)
def _problem(request: HttpRequest, error: Any) -> HttpResponse:
    return answer_of(error)


@interface.exception_handler(StillroomError)
def _mendable(request: HttpRequest, error: Any) -> HttpResponse:
    if isinstance(error, SourceError):
        raise error
    return answer_of(Problem(422, str(error)))


@interface.exception_handler(Http404)
def _not_found(request: HttpRequest, error: Any) -> HttpResponse:
    return answer_of(Problem(404, "There is no such thing; it may have been taken away."))


@interface.exception_handler(ValidationError)
def _not_understood(request: HttpRequest, error: Any) -> HttpResponse:
    """Which part of what was sent is missing or of the wrong kind."""
    fields = {str(one["loc"][-1]): f"{one['msg']}." for one in error.errors}
    return answer_of(Problem(422, " ".join(f"{name}: {said}" for name, said in fields.items()), fields))


@interface.exception_handler(HttpError)
def _unreadable(request: HttpRequest, error: Any) -> HttpResponse:
    return answer_of(Problem(400, f"{error}."))
