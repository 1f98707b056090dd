"""Recipes: the list, reading and scaling one, writing and changing one's own, and pages from elsewhere."""

from __future__ import annotations

from collections.abc import Callable
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
from stillroom.web.bench.recipe_forms import PageForm, RecipeFieldsForm, RecipeTextForm, ScaleForm
from stillroom.web.bench.recipe_lines import fields_of
from stillroom.web.frame.forms import capital
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import page_or_fragment, say, table_answer
from stillroom.web.frame.seen import change_once
from stillroom.web.kitchen.models import OwnRecipe

RecipeForm = RecipeTextForm | RecipeFieldsForm
Forms = dict[str, Any]  # "form": the fields, or None; "text_form": the text
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
    """A new recipe: in fields or as text, from the pattern, from one of ours, or from what a page gave."""
    if request.method != "POST":
        start = request.GET.get("from", "")
        return _text_page(request, _typed_forms(_begin_from(start), has_fields=not start))

    def act(form: RecipeForm) -> None:
        say(request, actions.write_recipe(request.household, form.recipe_text, at=timezone.now()))

    forms, status = _sent_forms(request, None, act)
    if status:
        return _text_page(request, forms, status=status)
    text = forms[_sent(request)].recipe_text
    row = request.household.recipes.filter(text=text).last()
    return redirect("bench:own_recipe", row.pk) if row else redirect("bench:recipes")


@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, recipe_id: int) -> HttpResponse:
    """One's own recipe, in fields where they can hold it, and as text."""
    row = _row(request, recipe_id)
    if request.method != "POST":
        return _text_page(request, _typed_forms(row.text, about=row), row)

    def act(form: RecipeForm) -> None:
        assert form.about is not None
        say(request, actions.change_recipe(form.about, form.recipe_text, at=timezone.now()))

    forms, status = _sent_forms(request, recipe_id, act)
    return _text_page(request, forms, row, status=status) if status else redirect("bench:own_recipe", row.pk)


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


def _sent(request: HttpRequest) -> str:
    return "text_form" if "text" in request.POST else "form"


def _typed_forms(text: str, *, about: OwnRecipe | None = None, has_fields: bool = True) -> Forms:
    """Both ways of writing; no fields where they can't hold what the text says."""
    held = fields_of(text) if about or not has_fields else {}
    fields = None if held is None else RecipeFieldsForm(about=about, initial=held)
    return {"form": fields, "text_form": RecipeTextForm(about=about, initial={"text": text})}


def _sent_forms(request: HttpRequest, recipe_id: int | None, act: Callable[[RecipeForm], None]) -> tuple[Forms, int]:
    """The forms as they were sent, and 0 once `act` has kept them, else the status of their page."""
    which = _sent(request)

    def build() -> RecipeForm:
        rows = request.household.recipes.select_for_update()
        row = get_object_or_404(rows, pk=recipe_id) if recipe_id else None
        started = _typed_forms(row.text, about=row)[which] if row else None
        kind = RecipeTextForm if which == "text_form" else RecipeFieldsForm
        return kind(request.POST, about=row, initial=started.initial if started else None)

    form, status = change_once(request, build, act)
    if not status:
        form.is_valid()  # a second tap reads the text, too, by which its row is found
    text = form.about.text if form.about else _begin_from("")
    return {**_typed_forms(text, about=form.about), which: form}, status


def _text_page(request: HttpRequest, forms: Forms, row: OwnRecipe | None = None, *, status: int = 200) -> HttpResponse:
    return render(request, "bench/recipe_text.html", forms | {"row": row}, status=status)


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
