"""Our sentences in the measures of the household whose page it is."""

from __future__ import annotations

from django import template

from stillroom.web.kitchen.house_units import in_house_units, jar_ml
from stillroom.web.kitchen.models import US, Household

register = template.Library()


@register.filter
def for_house(text: object, household: Household) -> str:
    """The text with the household's own measures first."""
    return in_house_units(str(text), is_us=household.units == US)


@register.filter
def jar_in_ml(name: str, household: Household) -> str:
    """ " (946 ml)" after the name of a tested jar, in a metric household."""
    millilitres = "" if household.units == US else jar_ml(name)
    return f" ({millilitres})" if millilitres else ""
