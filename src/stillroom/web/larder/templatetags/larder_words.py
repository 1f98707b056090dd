"""What the larder says on other pages."""

from __future__ import annotations

from typing import Any

from django import template

from stillroom.web.larder.in_store import use_first

register = template.Library()


@register.inclusion_tag("larder/_use_first.html", takes_context=True)
def use_first_in_larder(context: dict[str, Any]) -> dict[str, Any]:
    """A plate with what is past its date or soon will be; nothing while nothing presses."""
    request = context["request"]
    pressing = [one for one in use_first(request.household) if one.pressing != "calm"]
    return {
        "first": pressing,
        "request": request,
        "today": request.household.today,
        "csrf_token": context["csrf_token"],
    }
