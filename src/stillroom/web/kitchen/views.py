"""The pages of the kitchen; during the set-up the same pages lead from one to the next."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stillroom.errors import InputError
from stillroom.web.frame.models import Change
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import say
from stillroom.web.frame.seen import change_once
from stillroom.web.kitchen import actions
from stillroom.web.kitchen.forms import DislikesForm, EquipmentForm, HouseRowForm, PlaceForm
from stillroom.web.kitchen.jar_forms import TestedJarsForm
from stillroom.web.kitchen.models import Household
from stillroom.web.kitchen.rows import ROWS, USUAL_CANNERS, Rows, name_of

_FORMS: dict[str, tuple[str, type[HouseRowForm]]] = {
    "place": ("Place and height", PlaceForm),
    "equipment": ("Stove, oven, cold", EquipmentForm),
    "dislikes": ("Not eaten here", DislikesForm),
}
_GET_POST = ["GET", "HEAD", "POST"]


@require_safe
def index(request: HttpRequest) -> HttpResponse:
    """The kitchen as it is written down."""
    household = request.household
    lists = [(kind, rows, _told(rows, household)) for kind, rows in ROWS.items()]
    jars = household.jars.all()
    return render(request, "kitchen/index.html", {"lists": lists, "jars": jars})


@require_http_methods(_GET_POST)
def begin(request: HttpRequest) -> HttpResponse:
    """Where to begin: a kitchen of one's own, the invented week, a folder, or another household that is here."""
    if request.method == "POST":
        with once(request) as is_first:
            if is_first:
                actions.begin_household(request.POST.get("name", "").strip()[:80], at=timezone.now())
        return redirect("kitchen:form", "place")
    return render(request, "kitchen/begin.html", {"households": Household.objects.order_by("-opened_at")})


@require_POST
def open_one(request: HttpRequest, household_id: int) -> HttpResponse:
    """Opens another household that is here."""
    actions.open_household(get_object_or_404(Household, pk=household_id), at=timezone.now())
    return redirect("day:today")


@require_POST
def step(request: HttpRequest) -> HttpResponse:
    """Goes on with the set-up from the step named."""
    done = request.POST.get("step", "")
    if done not in actions.SET_UP_STEPS:
        raise InputError(f"There is no step “{done}” in the set-up; load the page anew.")
    return _to_step(actions.end_step(request.household, done))


@require_http_methods(_GET_POST)
def form(request: HttpRequest, what: str) -> HttpResponse:
    """Place, equipment or dislikes: one form about the household itself."""
    household = request.household
    title, form_class = _FORMS[what]

    def build() -> HouseRowForm:
        return form_class(request.POST, row=_locked(household), household=household)

    def act(typed: HouseRowForm) -> None:
        _say(request, actions.change(title.lower(), typed.apply(), at=timezone.now()))

    if request.method == "POST":
        typed, status = change_once(request, build, act)
        if not status:
            return _next(household, what)
    else:
        typed, status = form_class(row=household, household=household), 200
    return _page(request, "kitchen/form.html", {"form": typed, "title": title, "what": what}, status)


@require_http_methods(_GET_POST)
def jars(request: HttpRequest) -> HttpResponse:
    """Jars and lids: the tested sizes in one form, other sizes in a list."""
    household = request.household

    def build() -> TestedJarsForm:
        return TestedJarsForm(request.POST, household=_locked(household))

    def act(typed: TestedJarsForm) -> None:
        rows = typed.changed_rows()
        if rows:
            _say(request, actions.change("jars", *rows, at=timezone.now()))

    if request.method == "POST":
        typed, status = change_once(request, build, act)
        if not status:
            return _next(household, "jars")
    else:
        typed, status = TestedJarsForm(household=household), 200
    others = ROWS["other-jars"]
    context = {"form": typed, "what": "jars", "others": others, "told": _told(others, household)}
    return _page(request, "kitchen/jars.html", context, status)


@require_safe
def rows(request: HttpRequest, kind: str) -> HttpResponse:
    """One list: its rows, and a further one."""
    found = _rows(kind)
    context = {"kind": kind, "rows": found, "told": _told(found, request.household), "what": kind}
    return _page(request, "kitchen/rows.html", context | {"usual": USUAL_CANNERS if kind == "canners" else {}})


@require_http_methods(_GET_POST)
def row(request: HttpRequest, kind: str, row_id: int | None = None) -> HttpResponse:
    """One row, new or to be changed."""
    found, household = _rows(kind), request.household

    def one(rows: QuerySet[Any]) -> Any:
        return found.blank(household) if row_id is None else get_object_or_404(rows, pk=row_id)

    def build() -> HouseRowForm:
        return found.form_for(household, one(found.of(household).select_for_update()), request.POST)

    def act(typed: HouseRowForm) -> None:
        do, changed = actions.add if row_id is None else actions.change, typed.apply()
        say(request, do(f"{found.one} {name_of(changed)}", changed, at=timezone.now()))

    if request.method == "POST":
        typed, status = change_once(request, build, act)
        if not status:
            return _to_list(kind)
    else:
        typed, status = found.form_for(household, one(found.of(household)), None, _usual(kind, request)), 200
    return _page(
        request,
        "kitchen/row.html",
        {"form": typed, "kind": kind, "rows": found, "row": typed.row, "what": kind},
        status,
    )


@require_POST
def remove(request: HttpRequest, kind: str, row_id: int) -> HttpResponse:
    """Takes a row out."""
    found = _rows(kind)
    with once(request) as is_first:
        if is_first:
            one = get_object_or_404(found.of(request.household), pk=row_id)
            say(request, actions.remove(f"{found.one} {name_of(one)}", one, at=timezone.now()))
    return _to_list(kind)


def _say(request: HttpRequest, change: Change) -> None:
    """Told only after the set-up, in which one thing follows the other."""
    if not request.household.set_up_step:
        say(request, change)


def _rows(kind: str) -> Rows:
    if kind not in ROWS:
        raise Http404(kind)
    return ROWS[kind]


def _usual(kind: str, request: HttpRequest) -> dict[str, Any]:
    """What a new canner of a usual kind begins with."""
    usual = USUAL_CANNERS.get(request.GET.get("usual", "")) if kind == "canners" else None
    return usual or {}


def _told(rows: Rows, household: Household) -> list[tuple[Any, str, str]]:
    return [(row, name_of(row), rows.told(row)) for row in rows.of(household)]


def _page(request: HttpRequest, template: str, context: dict[str, Any], status: int = 200) -> HttpResponse:
    """With the step of the set-up, while this page is that step."""
    at = request.household.set_up_step
    if at == context["what"]:
        steps = actions.SET_UP_STEPS
        context |= {"step": at, "step_number": steps.index(at) + 1, "step_count": len(steps)}
    return render(request, template, context, status=status)


def _locked(household: Household) -> Household:
    """The household as it is now, until the transaction ends."""
    return Household.objects.select_for_update().get(pk=household.pk)


def _next(household: Household, what: str) -> HttpResponse:
    """After a form: on with the set-up while it runs, also when the second of two taps comes late; else the kitchen."""
    if household.set_up_step and what in actions.SET_UP_STEPS:
        household.refresh_from_db()
        return _to_step(actions.end_step(household, what))
    return redirect("kitchen:index")


def _to_step(step: str) -> HttpResponse:
    if step in _FORMS:
        return redirect("kitchen:form", step)
    if step == "jars":
        return redirect("kitchen:jars")
    if step == "arrival":
        return redirect("arrivals:index")
    return redirect("kitchen:rows", step) if step else redirect("day:today")


def _to_list(kind: str) -> HttpResponse:
    return redirect("kitchen:jars") if kind == "other-jars" else redirect("kitchen:rows", kind)


def go_on(request: HttpRequest) -> HttpResponse:
    """Back to where the set-up was left."""
    return _to_step(request.household.set_up_step)
