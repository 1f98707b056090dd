"""A cook's own question: why not this recipe on that day?"""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from stillroom.errors import InputError
from stillroom.planning.asked import Asked, read_asked, why_not_asked
from stillroom.planning.by_hand import with_wishes
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.split import split
from stillroom.web.day.current import Current, current_plan


def why(request: HttpRequest) -> HttpResponse:
    """Asks with `recipe` and `day`; answers with the rules in the way and what it would take."""
    current = current_plan(request.household)
    if current is None:
        return render(request, "day/no_plan.html", {"title": "Why not?"})
    recipes = known_recipes(current.kept.folder)
    asked, day = request.GET.get("recipe", "").strip(), request.GET.get("day", "")
    context: dict[str, object] = {
        "current": current,
        "recipes": sorted({recipe.name for recipe in recipes}),
        "recipe": asked,
        "day": day,
    }
    if not asked:
        return render(request, "day/why.html", context)
    try:
        return render(request, "day/why.html", context | {"answer": _answer(current, asked, day)})
    except InputError as error:
        return render(request, "day/why.html", context | {"wrong": str(error)}, status=422)


def _answer(current: Current, recipe: str, day: str) -> object:
    folder = current.kept.folder
    recipes = known_recipes(folder)
    on = current.day_asked(day)
    meant = read_asked(f"{recipe} on {on:%A}", recipes, folder)
    task = with_wishes(split(folder, recipes, folder.days), current.kept.wishes, folder.start)
    asked = Asked(meant.recipe, (on - folder.start).days)
    return why_not_asked(asked, task, folder, current.kept.worked_out.runs)
