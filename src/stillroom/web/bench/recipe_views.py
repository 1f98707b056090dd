"""Recipes: the list, reading and scaling one, writing and changing one's own, and pages from elsewhere."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stillroom.errors import InputError
from stillroom.household.recipe_amount import ingredient_named, units_of
from stillroom.model.recipe import Recipe, Use
from stillroom.process.jar_text import jar_name
from stillroom.process.steps import CAUTION
from stillroom.quantities import scaling
from stillroom.web.bench import actions
from stillroom.web.bench import shelf_of_recipes as shelf
from stillroom.web.bench.card_form import canner_choice
from stillroom.web.bench.page_draft import from_elsewhere
from stillroom.web.bench.recipe_forms import PageForm, RecipeTextForm, ScaleForm
from stillroom.web.frame.forms import capital
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import page_or_fragment, say, table_answer
from stillroom.web.kitchen.models import OwnRecipe

_ON_A_PAGE, _LONGEST = 40, 120
_EMPTY = Path(__file__).parent / "new_recipe.yaml"


@require_safe
def recipes(request: HttpRequest) -> HttpResponse:
    """All recipes, searched by words and use."""
    asked, use = request.GET.get("q", "").strip()[:_LONGEST], request.GET.get("use", "")
    found = shelf.matching(shelf.on_shelf(request.household), asked, use)
    sheet = Paginator(found, _ON_A_PAGE).get_page(request.GET.get("page"))
    context = {"q": asked, "use": use, "uses": [one.value for one in Use], "sheet": sheet}
    return page_or_fragment(request, "bench/recipes.html", context)


@require_safe
def table(request: HttpRequest) -> HttpResponse:
    """All recipes as CSV."""
    return table_answer(request, "recipes", shelf.COLUMNS, shelf.rows(shelf.on_shelf(request.household)))


@require_safe
def one_of_ours(request: HttpRequest, key: str) -> HttpResponse:
    """A recipe that comes with the program."""
    recipe = shelf.ours(key)
    if recipe is None:
        raise Http404
    return _recipe(request, recipe, None)


@require_safe
def own(request: HttpRequest, recipe_id: int) -> HttpResponse:
    """A recipe of the household, with what the screen says of it."""
    found = shelf.own_on_shelf(_row(request, recipe_id))
    if found.recipe is None:
        return redirect("bench:change_recipe", recipe_id)
    return _recipe(request, found.recipe, found)


@require_http_methods(["GET", "HEAD", "POST"])
def write(request: HttpRequest) -> HttpResponse:
    """A new recipe: from the pattern, from one of ours, or from what a page gave."""
    if request.method != "POST":
        return _text_page(request, RecipeTextForm(initial={"text": _begin_from(request.GET.get("from", ""))}), None)
    form = RecipeTextForm(request.POST)
    if not form.is_valid():
        return _text_page(request, form, None)
    with once(request) as is_first:
        if is_first:
            say(request, actions.write_recipe(request.household, form.cleaned_data["text"], at=timezone.now()))
    row = request.household.recipes.filter(text=form.cleaned_data["text"]).last()
    return redirect("bench:own_recipe", row.pk) if row else redirect("bench:recipes")


@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, recipe_id: int) -> HttpResponse:
    """The text of one's own recipe."""
    row = _row(request, recipe_id)
    form = RecipeTextForm(request.POST or None, initial={"text": row.text})
    if request.method == "POST" and form.is_valid():
        with once(request) as is_first:
            if is_first:
                say(request, actions.change_recipe(row, form.cleaned_data["text"], at=timezone.now()))
        return redirect("bench:own_recipe", row.pk)
    return _text_page(request, form, row)


@require_POST
def take_out(request: HttpRequest, recipe_id: int) -> HttpResponse:
    """Takes one's own recipe out; pressed twice it is gone once."""
    with once(request) as is_first:
        if is_first:
            say(request, actions.take_out_recipe(_row(request, recipe_id), at=timezone.now()))
    return redirect("bench:recipes")


@require_http_methods(["GET", "HEAD", "POST"])
def page(request: HttpRequest) -> HttpResponse:
    """Reads a saved page, screens it, and gives our text to go on from; nothing is kept yet."""
    form = PageForm(request.POST or None, request.FILES or None)
    context: dict[str, Any] = {"form": form, "caution": CAUTION}
    if request.method == "POST" and form.is_valid():
        sent = form.cleaned_data["file"]
        try:
            found = from_elsewhere(sent.name, sent.read())
        except InputError as error:
            form.add_error("file", capital(str(error)))
        else:
            context |= {"found": found, "text_form": RecipeTextForm(initial={"text": found.draft})}
    return render(request, "bench/page.html", context, status=422 if form.errors else 200)


def _row(request: HttpRequest, recipe_id: int) -> OwnRecipe:
    found: OwnRecipe = get_object_or_404(request.household.recipes, pk=recipe_id)
    return found


def _begin_from(key: str) -> str:
    if not key:
        return _EMPTY.read_text(encoding="utf-8")
    if shelf.ours(key) is None:
        raise Http404
    return shelf.text_of_ours(key)


def _text_page(request: HttpRequest, form: RecipeTextForm, row: OwnRecipe | None) -> HttpResponse:
    context = {"form": form, "row": row}
    return render(request, "bench/recipe_text.html", context, status=422 if form.errors else 200)


def _recipe(request: HttpRequest, recipe: Recipe, own: shelf.OnShelf | None) -> HttpResponse:
    form = ScaleForm.asked(request)
    made, how = scaling.scale(recipe, min(max(1.0, recipe.smallest), recipe.largest)), ""
    if form.is_bound and form.is_valid():
        try:
            units, how = units_of(recipe, form.text("amount"), ingredient_named(recipe, form.text("of")))
            made = scaling.scale(recipe, units)
        except InputError as error:
            form.add_error("amount", capital(str(error)))
            how = ""
    context = {
        "recipe": recipe,
        "own": own,
        "form": form,
        "made": made,
        "how": how,
        "jars": [(jar_name(jar), number) for jar, number in scaling.jars_ready(made)],
        "card_asks": _card_asks(request, recipe),
        "caution": CAUTION,
    }
    return render(request, "bench/recipe.html", context, status=422 if form.errors else 200)


def _card_asks(request: HttpRequest, recipe: Recipe) -> str:
    """The address of its process card: its largest jar, in a canner of the household that it is written for."""
    asked = recipe.process
    if asked is None:
        return ""
    here = set(request.household.canners.values_list("kind", flat=True))
    kind = next((kind for kind in asked.canners if kind.value in here), asked.canners[0])
    jar = max(asked.jars, key=lambda size: size.volume_ml)
    words = {"food": asked.food, "form": asked.form, "pack": asked.pack, "jar": jar_name(jar)}
    return urlencode(words | {"canner": canner_choice(request.household, kind)})
