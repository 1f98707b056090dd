"""What the larder says on other pages."""

from __future__ import annotations

from typing import Any

from django import template

from stillroom.web.larder.in_store import use_first
from stillroom.web.larder.to_put_up import to_put_up

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


@register.inclusion_tag("larder/_put_up.html", takes_context=True)
def to_put_into_larder(context: dict[str, Any]) -> dict[str, Any]:
    """A plate with what was made and does not stand in the larder yet; nothing when there is nothing."""
    request = context["request"]
    return {
        "put_ups": to_put_up(request.household),
        "request": request,
        "today": request.household.today,
        "csrf_token": context["csrf_token"],
    }


@register.simple_tag(takes_context=True)
def not_put_up_yet(context: dict[str, Any]) -> int:
    """How many things are made and stand in no list, so that a new plan would plan their food again."""
    found: int = context["request"].household.put_ups.filter(used_at=None).count()
    return found
