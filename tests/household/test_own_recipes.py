"""A household's own recipes: what is not safe as written is left out, whatever its use says."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from stillroom.household.folder import read_folder, warnings
from stillroom.household.own_recipes import why_left_out
from stillroom.household.recipe_safety import why_not_safe
from stillroom.model.recipe import Recipe
from stillroom.recipes.reader import all_recipes, read_recipe

WriteFolder = Callable[..., Path]
Own = Callable[..., Recipe]
COUNTER_DISH = ("plate", "counter", 0)
# Ours that the rules for a household's own leave out, and why they may stay.
OURS_APART = {
    "jerky_dried": "heats the strips to 71 °C before they are dried, by rules R173 to R177",
}


def recipe_text(
    use: str,
    ingredients: list[tuple[str, str]],
    kept: tuple[str, str, int],
    *,
    made: str = "900 g",
    step: str = "Pack it.",
    minutes: int = 20,
    needs: str = "",
    ready: int = 0,
    name: str = "Our own",
) -> str:
    """A recipe file; an ingredient is (food, amount) or (food, "amount; preparation"), the first is the main one."""
    lines = []
    for place, (food, amount) in enumerate(ingredients):
        weight, _, preparation = amount.partition("; ")
        kind = "main" if place == 0 else "cupboard"
        lines.append(f'  - {{food: "{food}", amount: {weight}, kind: {kind}, preparation: "{preparation}"}}')
    container, place_kept, days = kept
    return "\n".join(
        (
            f"name: {name}",
            f"use: {use}",
            "summary: Made up for a test.",
            "unit: one",
            "batch: {smallest: 1, largest: 2, because: made up}",
            "ingredients:",
            *lines,
            "steps:",
            f'  - {{key: make, do: "{step}", minutes: {minutes}, attention: free, needs: [{needs}]}}',
            "products:",
            f"  - name: {name}",
            f"    container: {container}",
            f"    place: {place_kept}",
            f"    amount: {made}",
            f"    keeps days: {days}",
            f"    ready day: {ready}",
            "    source: made up",
        )
    )


@pytest.fixture(name="own")
def _own(tmp_path: Path) -> Own:
    def read(*arguments: Any, **keywords: Any) -> Recipe:
        path = tmp_path / "ours.yaml"
        path.write_text(recipe_text(*arguments, **keywords), encoding="utf-8")
        return read_recipe(path)

    return read


MINCE, SALMON = ("minced beef", "1 kg"), ("salmon", "1 kg")
CABBAGE, APPLES = ("cabbage", "1 kg"), ("apples", "1 kg")
BELLY, LOIN, GROUND_PORK = ("pork belly", "1 kg"), ("pork loin", "1 kg"), ("minced pork", "1 kg")
OIL = ("olive oil", "500 g")
REFUSED: dict[str, tuple[tuple[Any, ...], dict[str, Any], str]] = {
    "minced beef in jars": (("freeze", [MINCE], ("jar", "shelf", 300)), {}, "no tested process"),
    "a jar in the fridge": (("freeze", [MINCE], ("jar", "fridge", 1)), {}, "no tested process"),
    "minced beef in the cellar": (("cure", [MINCE, ("salt", "30 g")], ("crock", "cellar", 60)), {}, "cellar"),
    "meat kept fresh in the cellar": (
        ("keep fresh", [MINCE], ("crock", "cellar", 60)),
        {},
        "does not keep in a cellar",
    ),
    "salmon on the shelf": (("freeze", [SALMON], ("tub", "shelf", 30)), {}, "no tested process"),
    "raw mince, 20 days": (("freeze", [MINCE], ("tub", "fridge", 20)), {}, "at most 2"),
    "raw mince, 3 days": (("eat now", [MINCE], ("tub", "fridge", 3)), {}, "at most 2"),
    "mince of a cut": (("eat now", [("beef chuck roast", "1 kg; minced")], ("tub", "fridge", 3)), {}, "at most 2"),
    "mince of a step": (
        ("eat now", [("beef chuck roast", "1 kg")], ("tub", "fridge", 3)),
        {"step": "Put it through the mincer."},
        "at most 2",
    ),
    "ready late": (("eat now", [("beef chuck roast", "1 kg")], ("tub", "fridge", 3)), {"ready": 9}, "12 days"),
    "chicken, 3 days": (("eat now", [("chicken legs", "1 kg")], ("tub", "fridge", 3)), {}, "at most 2"),
    "liver, 3 days": (("eat now", [("pork liver", "1 kg")], ("tub", "fridge", 3)), {}, "at most 2"),
    "a roast raw, 6 days": (("eat now", [("beef chuck roast", "1 kg")], ("tub", "fridge", 6)), {}, "at most 5"),
    "meat from the cupboard": (
        ("eat now", [("potatoes", "1 kg"), ("salmon", "200 g")], ("tub", "fridge", 3)),
        {},
        "at most 2",
    ),
    "a stew, 5 days": (
        ("eat now", [("beef stewing meat", "1 kg")], ("tub", "fridge", 5)),
        {"needs": "1 burner", "step": "Cook it."},
        "at most 4",
    ),
    "carrot soup, 60 days": (
        ("eat now", [("carrots", "1 kg")], ("tub", "fridge", 60)),
        {"step": "Boil it."},
        "at most 4",
    ),
    "raw sausage, 3 days": (("eat now", [("sausages", "1 kg")], ("tub", "fridge", 3)), {}, "at most 2"),
    "chopped garlic, 60 days": (("eat now", [("garlic", "1 kg; chopped")], ("tub", "fridge", 60)), {}, "at most 7"),
    "dough never baked": (
        ("bake", [("plain flour", "1 kg"), ("eggs", "500 g")], ("loaf", "counter", 5)),
        {},
        "2 hours",
    ),
    "oil with a little flour": (
        ("bake", [("plain flour", "150 g"), ("garlic", "300 g"), OIL], ("loaf", "counter", 5)),
        {"needs": "1 oven trays at 180 °C"},
        "botulism",
    ),
    "mayonnaise": (("eat now", [("egg yolk", "100 g"), OIL], ("tub", "fridge", 20)), {}, "at most"),
    "stew on the counter": (
        ("eat now", [("beef stewing meat", "1 kg")], ("plate", "counter", 1)),
        {"needs": "1 burner"},
        "2 hours",
    ),
    "salmon in a dry jar": (("dry", [SALMON], ("dry jar", "shelf", 200)), {"made": "300 g"}, "drying alone"),
    "beef in a dryer for the freezer": (
        ("freeze", [("beef top sirloin", "1 kg")], ("freezer pack", "freezer", 90)),
        {"needs": "1 dryer trays at 60 °C"},
        "drying alone",
    ),
    "apples dried for 20 minutes": (("dry", [APPLES], ("dry jar", "shelf", 200)), {"made": "150 g"}, "not dried"),
    "apples still moist": (("dry", [APPLES], ("dry jar", "shelf", 200)), {"minutes": 480}, "not dried"),
    "tomatoes dried in oil": (
        ("dry", [("tomatoes", "1 kg"), ("olive oil", "20 g")], ("dry jar", "shelf", 90)),
        {"minutes": 480, "made": "100 g"},
        "with olive oil",
    ),
    "eggs dried": (
        ("dry", [("eggs", "1 kg")], ("dry jar", "shelf", 90)),
        {"minutes": 480, "made": "250 g"},
        "with egg",
    ),
    "20 g of curing salt": (
        ("cure", [LOIN, ("salt", "20 g"), ("curing salt no. 1", "20 g")], ("piece", "fridge", 7)),
        {"ready": 10},
        "1250 ppm",
    ),
    "too much for bacon": (
        ("cure", [BELLY, ("salt", "20 g"), ("curing salt no. 1", "2.4 g")], ("piece", "fridge", 7)),
        {"ready": 10},
        "150 ppm",
    ),
    "too much for sausage": (
        ("freeze", [GROUND_PORK, ("salt", "18 g"), ("curing salt no. 1", "2.6 g")], ("freezer pack", "freezer", 30)),
        {},
        "the most is 156",
    ),
    "a mix twice as strong": (
        ("cure", [LOIN, ("salt", "20 g"), ("curing salt no. 1", "2 g; a mix of 12.5 %")], ("piece", "fridge", 7)),
        {"ready": 10},
        "250 ppm",
    ),
    "curing salt under another name": (
        ("cure", [LOIN, ("salt", "40 g; pink salt with nitrite")], ("piece", "fridge", 7)),
        {"ready": 10},
        "2500 ppm",
    ),
    "nitrate": (
        ("cure", [LOIN, ("salt", "20 g"), ("curing salt no. 2", "2 g")], ("piece", "fridge", 7)),
        {"ready": 10},
        "nitrate",
    ),
    "cured ham in the cellar": (
        ("cure", [LOIN, ("salt", "25 g"), ("curing salt no. 1", "2 g")], ("piece", "cellar", 90)),
        {"ready": 10},
        "fridge or the freezer",
    ),
    "cured ham, 30 days": (
        ("cure", [LOIN, ("salt", "25 g"), ("curing salt no. 1", "2 g")], ("piece", "fridge", 30)),
        {"ready": 10},
        "7 days once",
    ),
    "too little salt": (("cure", [SALMON, ("salt", "15 g")], ("tub", "fridge", 3)), {}, "1.5%"),
    "salted for long": (("cure", [SALMON, ("salt", "40 g")], ("tub", "fridge", 3)), {"ready": 5}, "7 is the most"),
    "a pinch of curing salt": (
        ("cure", [LOIN, ("salt", "30 g"), ("curing salt no. 1", "0.1 g")], ("tub", "fridge", 7)),
        {"ready": 30},
        "7 is the most",
    ),
    "garlic in oil": (("eat now", [("garlic", "200 g"), OIL], ("tub", "counter", 60)), {}, "botulism"),
    "strawberries in oil": (("keep fresh", [("strawberries", "500 g"), OIL], ("tub", "counter", 60)), {}, "botulism"),
    "herbs in oil, 5 days": (("eat now", [("basil", "200 g"), OIL], ("tub", "fridge", 5)), {}, "botulism"),
    "strawberries for long": (("keep fresh", [("strawberries", "500 g")], ("tub", "counter", 60)), {}, "counter"),
    "bread, 6 days": (
        ("bake", [("bread flour", "500 g"), ("water", "350 g")], ("loaf", "counter", 6)),
        {"needs": "1 oven trays at 230 °C"},
        "at most 5",
    ),
    "kraut with little salt": (("ferment", [CABBAGE, ("salt", "3 g")], ("crock", "fridge", 90)), {"ready": 24}, "0.3%"),
    "kraut with much salt": (("ferment", [CABBAGE, ("salt", "60 g")], ("crock", "fridge", 90)), {"ready": 24}, "6.0%"),
    "fermented meat": (("ferment", [MINCE, ("salt", "25 g")], ("crock", "fridge", 30)), {}, "ferments beef"),
    "kraut that stays in the cellar": (
        ("ferment", [CABBAGE, ("salt", "20 g")], ("crock", "cellar", 120)),
        {"ready": 24},
        "at most 42 days",
    ),
    "cut cabbage in the cellar": (("keep fresh", [("cabbage", "1 kg; sliced")], ("tub", "cellar", 14)), {}, "cellar"),
}
ALLOWED: dict[str, tuple[tuple[Any, ...], dict[str, Any]]] = {
    "a stew for dinner": (
        ("eat now", [("beef stewing meat", "1 kg"), ("carrots", "500 g"), ("lard", "30 g")], COUNTER_DISH),
        {"needs": "1 burner", "step": "Simmer it."},
    ),
    "what is left of a stew": (
        ("eat now", [("beef stewing meat", "1 kg")], ("tub", "fridge", 4)),
        {"needs": "1 burner"},
    ),
    "an apple cake": (
        (
            "bake",
            [APPLES, ("plain flour", "400 g"), ("eggs", "150 g"), ("sugar", "200 g"), ("sunflower oil", "150 g")],
            ("loaf", "counter", 3),
        ),
        {"needs": "1 oven trays at 180 °C"},
    ),
    "frozen soup": (
        ("freeze", [("pumpkin", "1 kg"), ("onion", "100 g"), OIL], ("freezer pack", "freezer", 90)),
        {"needs": "1 burner", "step": "Boil it, cool it, pack it."},
    ),
    "overnight bread": (
        ("bake", [("bread flour", "500 g"), ("water", "350 g"), ("salt", "10 g")], ("loaf", "counter", 4)),
        {"needs": "1 oven trays at 230 °C"},
    ),
    "dried apples": (
        ("dry", [APPLES, ("lemon juice", "20 g")], ("dry jar", "shelf", 200)),
        {"minutes": 480, "made": "150 g", "needs": "2 dryer trays at 60 °C"},
    ),
    "kraut with 2 %": (("ferment", [CABBAGE, ("salt", "20 g")], ("crock", "fridge", 90)), {"ready": 24}),
    "kraut of heads bought whole": (
        ("ferment", [("cabbage", "1.25 kg; trimmed of its outer leaves"), ("salt", "20 g")], ("crock", "fridge", 90)),
        {"ready": 24},
    ),
    "kraut souring in the cellar": (
        ("ferment", [CABBAGE, ("salt", "20 g")], ("crock", "cellar", 10)),
        {"ready": 30, "step": "Once sour it goes into the fridge."},
    ),
    "marinated meat for tomorrow": (
        ("eat now", [("beef chuck roast", "1 kg"), ("soy sauce", "50 g"), ("garlic", "10 g")], ("tub", "fridge", 1)),
        {"ready": 1, "step": "Mince the garlic, turn the meat in it."},
    ),
    "marinated mince for tomorrow": (("eat now", [MINCE], ("tub", "fridge", 1)), {}),
    "salad in oil": (("eat now", [("tomatoes", "500 g"), ("olive oil", "60 g")], COUNTER_DISH), {}),
    "pesto for the week": (("eat now", [("basil", "200 g"), OIL], ("tub", "fridge", 4)), {}),
    "cucumbers in vinegar": (
        ("keep fresh", [("cucumbers", "1 kg; sliced"), ("white vinegar", "500 g")], ("tub", "fridge", 30)),
        {},
    ),
    "eggs kept": (("keep fresh", [("eggs", "1 kg")], ("tub", "fridge", 20)), {}),
    "carrots in the cellar": (("keep fresh", [("carrots", "1 kg")], ("tub", "cellar", 60)), {}),
    "bacon": (
        ("cure", [BELLY, ("salt", "23 g"), ("curing salt no. 1", "1.9 g")], ("piece", "fridge", 7)),
        {"ready": 10},
    ),
    "a brined joint": (
        ("cure", [LOIN, ("water", "1 kg"), ("salt", "60 g"), ("curing salt no. 1", "4 g")], ("piece", "fridge", 5)),
        {"ready": 6},
    ),
    "a European mix": (
        ("cure", [LOIN, ("curing salt no. 1", "30 g; 0.5 % nitrite")], ("piece", "fridge", 7)),
        {"ready": 10},
    ),
    "salted salmon": (("cure", [SALMON, ("salt", "50 g"), ("sugar", "40 g")], ("tub", "fridge", 3)), {"ready": 2}),
    "sausage without nitrite, frozen": (
        ("freeze", [GROUND_PORK, ("salt", "18 g; without nitrite")], ("freezer pack", "freezer", 45)),
        {},
    ),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_not_safe_is_told_in_a_sentence(own: Own, case: str) -> None:
    arguments, keywords, words = REFUSED[case]
    said = why_left_out(own(*arguments, **keywords))
    assert words in said
    assert said.endswith(".")


@pytest.mark.parametrize("case", ALLOWED)
def test_what_is_safe_is_planned(own: Own, case: str) -> None:
    arguments, keywords = ALLOWED[case]
    assert why_left_out(own(*arguments, **keywords)) == ""


@pytest.mark.parametrize("recipe", all_recipes(), ids=lambda recipe: recipe.key)
def test_ours_are_as_safe_as_is_asked_of_others(recipe: Recipe) -> None:
    assert bool(why_not_safe(recipe)) == (recipe.key in OURS_APART)


def test_the_folder_names_the_file_and_leaves_it_out(write_folder: WriteFolder) -> None:
    path = write_folder()
    (path / "recipes").mkdir()
    for key, case in (("shelf_beef", REFUSED["minced beef in jars"]), ("cake", ALLOWED["an apple cake"])):
        (path / "recipes" / f"{key}.yaml").write_text(recipe_text(*case[0], **case[1]), encoding="utf-8")
    folder = read_folder(path)
    assert [recipe.key for recipe in folder.recipes] == ["cake"]
    said = [caution for caution in warnings(folder) if "is left out" in caution]
    assert len(said) == 1
    assert "recipes/shelf_beef.yaml" in said[0]
    assert "no tested process" in said[0]
