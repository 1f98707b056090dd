"""What a jar holds, beside its name."""

from __future__ import annotations

from django import template

from stillroom.process.jar_text import read_jar
from stillroom.web.kitchen import house_units
from stillroom.web.kitchen.jar_forms import tested_size

register = template.Library()


@register.filter
def jar_ml(kind: str) -> str:
    """ "946 ml" of a jar that is called by the name of a tested size; "" of one that says what it holds."""
    size = tested_size(kind)
    return house_units.jar_ml(size) if size and "ml" not in read_jar(kind).text else ""
