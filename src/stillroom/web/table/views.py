"""The pages of the table: the meals by day, one meal, what the larder would feed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from stillroom.errors import InputError
from stillroom.tables.rules import rule
from stillroom.web.day.current import Current, current_plan
from stillroom.web.frame.models import Change
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import back, say, table_answer, tapped_ago
from stillroom.web.frame.seen import change_once
from stillroom.web.frame.undo import history
from stillroom.web.kitchen.models import Household
from stillroom.web.table import actions
from stillroom.web.table.forms import EatenForm, MealDayForm
from stillroom.web.table.leftovers import RULES, into_the_cold_by, keeping, usually_left
from stillroom.web.table.meals import COLUMNS, DAYS, TableMeal, meal_of, meals_of, rows
from stillroom.web.table.ready import ready

BEFORE_MIN = 60  # a meal may be said to be eaten so long before its hour
DOUBT = "R081"  # a doubtful jar of low-acid food is boiled before anybody tastes it


@require_safe
def index(request: HttpRequest) -> HttpResponse:
    """The meals from yesterday on, as long as the plan runs; and what is ready to eat."""
    household, current = request.household, current_plan(request.household)
    today, now = household.today, _now(request)
    meals = _meals_from(request, current, today - timedelta(days=1))
    shown = [meal for meal in meals if meal.day >= today or (meal.is_open and meal.dishes)]
    context = {
        "current": current,
        "days": [
            (day, [_told(request, meal, now) for meal in those]) for day, those in groupby(shown, lambda meal: meal.day)
        ],
        "shelves": ready(household),
        "doubt": rule(DOUBT),
    }
    return render(request, "table/index.html", context)


@require_safe
def table(request: HttpRequest) -> HttpResponse:
    """The meals as CSV, from the first that anything was said of as long as the plan runs."""
    current, said = current_plan(request.household), request.household.meal_days.first()
    first = min(request.household.today, said.day) if said else request.household.today
    return table_answer(request, "meals", COLUMNS, rows(_meals_from(request, current, first)))


@require_safe
def one(request: HttpRequest, day: date, name: str) -> HttpResponse:
    """One meal: its dishes with what to weigh and what they use up, who eats, and saying that it was eaten."""
    return _one(request, *_found(request, day, name))


@require_POST
def eaten(request: HttpRequest, day: date, name: str) -> HttpResponse:
    """It was eaten; from the list with one tap, with what is usually left then."""
    meal, current = _found(request, day, name)
    now = _now(request) - tapped_ago(request)
    form = EatenForm(request.POST, meal=meal, is_late=_is_late(request, meal, now))
    left = [usually_left(dish, meal) for dish in meal.dishes]
    if "as_planned" not in request.POST:
        if not form.is_valid():
            return _one(request, meal, current, eaten_form=form, status=422)
        left = form.left
    is_chilled = bool(request.POST.get("is_chilled"))

    def act(at: datetime) -> Change | None:
        return actions.eat(meal, current, left, is_chilled=is_chilled, now=now, at=at)

    if not _act(request, form, act):
        return _one(request, meal, current, eaten_form=form, status=422)
    return back(request, "table:index")


@require_POST
def change(request: HttpRequest, day: date, name: str) -> HttpResponse:
    """Another hour, other eaters, guests."""

    def build() -> MealDayForm:
        Household.objects.select_for_update().get(pk=request.household.pk)  # a first word on a meal has no row to lock
        return MealDayForm(request.POST, meal=_found(request, day, name)[0])

    def act(form: MealDayForm) -> None:
        typed, at = form.cleaned_data, timezone.now()
        who = {name: typed[name] for name in ("eaters", "guests", "child_guests")}
        say(request, actions.change(form.meal, hour=typed["at"], **who, is_left_out=False, at=at))

    form, status = change_once(request, build, act)
    if not status:
        return redirect("table:one", day, name)
    return _one(request, *_found(request, day, name), change_form=form, status=status)


@require_POST
def left_out(request: HttpRequest, day: date, name: str) -> HttpResponse:
    """No such meal on that day, or there is one after all."""
    meal, _ = _found(request, day, name)
    row, is_none = meal.row, "after_all" not in request.POST
    with once(request) as is_first:
        if is_first:
            who = {"eaters": row.eaters, "guests": row.guests, "child_guests": row.child_guests}
            say(request, actions.change(meal, hour=row.at, **who, is_left_out=is_none, at=timezone.now()))
    return back(request, "table:index")


def _meals_from(request: HttpRequest, current: Current | None, first: date) -> list[TableMeal]:
    """To the end of the plan, and of a week."""
    last = max([request.household.today + timedelta(days=DAYS - 1), *([current.last_day] if current else [])])
    return meals_of(request.household, current, first, (last - first).days + 1)


def _now(request: HttpRequest) -> datetime:
    now: datetime = request.household.now().replace(tzinfo=None)
    return now


def _found(request: HttpRequest, day: date, name: str) -> tuple[TableMeal, Current | None]:
    current = current_plan(request.household)
    meal = meal_of(request.household, current, day, name)
    if meal is None:
        raise Http404
    return meal, current


def _is_late(request: HttpRequest, meal: TableMeal, now: datetime) -> bool:
    return now > into_the_cold_by(request.household, meal)


def _told(request: HttpRequest, meal: TableMeal, now: datetime) -> dict[str, Any]:
    """A meal for the list; `one_tap` where nothing has to be asked before it is said to be eaten."""
    left = sum(usually_left(dish, meal) for dish in meal.dishes)
    has_come = meal.is_open and now >= meal.at - timedelta(minutes=BEFORE_MIN)
    may = has_come and meal.is_cooked_by(now)
    return {
        "meal": meal,
        "may": may,
        "is_not_cooked": has_come and not may,
        "one_tap": may and (not left or not _is_late(request, meal, now)),
        "left": left,
    }


def _act(request: HttpRequest, form: forms.Form, action: Callable[[datetime], Change | None]) -> bool:
    """Whether the action was done, now or by the same form before; what it refuses stands in the form."""
    try:
        with once(request) as is_first:
            if is_first:
                say(request, action(timezone.now()))
    except InputError as error:
        form.add_error(None, str(error))
        return False
    return True


def _one(
    request: HttpRequest,
    meal: TableMeal,
    current: Current | None,
    *,
    eaten_form: EatenForm | None = None,
    change_form: MealDayForm | None = None,
    status: int = 200,
) -> HttpResponse:
    now = _now(request)
    is_late = _is_late(request, meal, now)
    context = {
        "meal": meal,
        "told": _told(request, meal, now),
        "current": current,
        "is_late": is_late,
        "cold_by": into_the_cold_by(request.household, meal),
        "keeping": keeping(),
        "rules": [rule(key) for key in RULES],
        "eaten_form": eaten_form or EatenForm(meal=meal, is_late=is_late),
        "change_form": change_form or MealDayForm(meal=meal),
        "history": history(meal.row) if meal.row.pk else (),
    }
    return render(request, "table/one.html", context, status=status)
