"""The process card, and the chart of the heat model beside it."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from stillroom.errors import InputError
from stillroom.heat.note_words import NO_LETHALITY, phase_rows, share_words, slowness_words, verdict_words
from stillroom.heat.role import ROLE, CardAndNote, RefusalAndNote, span
from stillroom.model.process import CannerKind
from stillroom.process.cycle import cycle
from stillroom.process.form_choice import AmbiguousRequest
from stillroom.process.jar_text import jar_name
from stillroom.process.steps import CAUTION, headspace_text
from stillroom.tables.vocabulary import foods
from stillroom.web.bench import card as cards
from stillroom.web.bench.card_form import CardForm, canner_choice
from stillroom.web.frame.forms import capital


@require_safe
def card(request: HttpRequest) -> HttpResponse:
    """Asks for one canner load, and answers with a tested card, a refusal, or a question back."""
    form = CardForm.asked(request)
    context: dict[str, Any] = {
        "form": form,
        "caution": CAUTION,
        "foods": [food.key for food in foods() if food.process_food],
        "jars": dict.fromkeys(["quart", "pint", "half-pint", *(jar.kind for jar in request.household.jars.all())]),
    }
    if form.is_bound and form.is_valid():
        try:
            context |= _answer(form)
        except AmbiguousRequest as question:
            back = cards.asked_back(question)
            links = [(choice, is_read, _with(form, **{back.what: choice})) for choice, is_read in back.choices]
            context |= {"back": back, "links": links}
        except InputError as error:
            form.add_error(None, capital(str(error)))
    return render(request, "bench/card.html", context, status=422 if form.errors else 200)


@require_safe
def heat_chart(request: HttpRequest) -> HttpResponse:
    """The cold spot of the jar as a picture; nothing is drawn of a jar without a tested process."""
    form = CardForm.asked(request)
    try:
        picture = cards.drawn(form.question) if form.is_bound and form.is_valid() else ""
    except InputError:
        picture = ""
    if not picture:
        raise Http404
    return HttpResponse(picture, content_type="image/svg+xml", headers={"Cache-Control": "private, max-age=600"})


def _answer(form: CardForm) -> dict[str, Any]:
    found = cards.answered(form.question)
    if isinstance(found, RefusalAndNote):
        asked = form.question
        elsewhere = cards.elsewhere(found.refusal, asked, form.household)
        said = {"badge": cards.badge(found.refusal, asked), "elsewhere": elsewhere}
        return said | {"refused": found.refusal, "ways": _ways(form, found), "lag": _lag(found)}
    return _card(form, found)


def _card(form: CardForm, found: CardAndNote) -> dict[str, Any]:
    said, note, amount = found.card, found.note, form.cleaned_data["amount"]
    counted = jar_name(said.jar_counted_as)
    return {
        "card": said,
        "counted_as": counted if said.jar_asked != counted else "",
        "headspace": headspace_text(said.headspace_in),
        "load_min": cycle(said).total_min,
        "jars_needed": cards.jars_for(said, amount) if amount else None,
        "no_average": bool(amount),
        "gauge": form.gauge_words,
        "heat": {
            "role": ROLE,
            "yardstick": note.yardstick,
            "lethality": span(note.lethality),
            "from_heating": span(note.from_heating),
            "from_cooling": span(note.from_cooling),
            "verdict": verdict_words(note),
            "dominating": note.dominating,
            "assumed": note.assumed,
            "rows": phase_rows(note.curve),
            "chart": _with(form),
        },
    }


def _lag(found: RefusalAndNote) -> tuple[str, ...]:
    return tuple(filter(None, (NO_LETHALITY, slowness_words(found.note), share_words(found.note))))


def _ways(form: CardForm, found: RefusalAndNote) -> list[tuple[Any, str]]:
    ways = []
    for way, asks in cards.ways_out(found):
        kind = asks.pop("kind", "")
        if kind:
            is_same = kind == form.question.canner.value
            chosen = form.canner_chosen if is_same else canner_choice(form.household, CannerKind(kind))
            asks["canner"] = chosen
        ways.append((way, _with(form, **asks) if asks else ""))
    return ways


def _with(form: CardForm, /, **changed: str) -> str:
    """The question as an address, some of it changed; the household's own figures are left to the page."""
    told = {name: form.text(name) for name in form.fields if form.text(name)} | changed
    return urlencode(told)
