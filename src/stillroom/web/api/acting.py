"""A change is made once, however often its request is sent."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import transaction
from django.http import HttpRequest

from stillroom.errors import InputError
from stillroom.web.api.problems import Problem
from stillroom.web.frame.once import in_the_name_of, only_once

KEY = "Idempotency-Key"  # the name of the IETF draft draft-ietf-httpapi-idempotency-key-header
_LONGEST = 200


@contextmanager
def acting(request: HttpRequest) -> Iterator[bool]:
    """One transaction; False when a request with the same key was acted on before. What is refused is a Problem."""
    key = request.headers.get(KEY, "")
    if len(key) > _LONGEST:
        raise Problem(400, f"{KEY} may have {_LONGEST} characters at the most.")
    try:
        with in_the_name_of(request):
            if key:
                with only_once(hashlib.sha256(f"{request.path} {key}".encode()).hexdigest()) as is_first:
                    yield is_first
            else:
                with transaction.atomic():
                    yield True
    except InputError as error:
        raise Problem(422, str(error)) from None
