"""What is done around every page: the content policy, and one sentence for what a person can mend."""

from __future__ import annotations

from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse, QueryDict
from django.utils.deprecation import MiddlewareMixin

from stillroom.errors import SourceError, StillroomError
from stillroom.web.frame.failures import say_error

# Nothing from another host, no script and no style inside a page.
_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "media-src 'self'",
        "manifest-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)


class ContentPolicy(MiddlewareMixin):
    """Tells the browser to ask no other host and to run nothing that stands inside a page."""

    def process_response(self, request: HttpRequest, response: HttpResponse) -> HttpResponse:
        """Adds the policy, and keeps sensors and cameras out."""
        response.headers.setdefault("Content-Security-Policy", _POLICY)
        response.headers.setdefault("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
        return response


class OneSentence(MiddlewareMixin):
    """The only place of the web that catches a StillroomError: a page with one sentence, nothing half-written."""

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """A 4xx page for what a person can mend; our own broken tables stay a failure of ours."""
        if isinstance(error, StillroomError) and not isinstance(error, SourceError):
            return say_error(request, error)
        return None


class OnlyText(MiddlewareMixin):
    """Nobody types a character without a sign, and PostgreSQL keeps none."""

    def process_request(self, request: HttpRequest) -> None:
        """A 400 page for an address or a form with a zero in it; other programs are told at their own door."""
        if has_zero(request.GET, request.POST) and not request.path.startswith("/api/"):
            raise BadRequest("a character of value zero")


def has_zero(*sent: QueryDict) -> bool:
    """Whether a name or a value holds a character of value zero."""
    return any("\0" in value for one in sent for name in one for value in (name, *one.getlist(name)))
