"""Why not this recipe on that day: what can be asked, and that the answer is true."""

from dataclasses import replace
from datetime import time
from pathlib import Path

import pytest
from small_kitchen import PORK, SOUP, arrival, kitchen
from test_ways_out_of_a_plan import cook, small, task_of

from stillroom.errors import InputError
from stillroom.household.folder import Folder, read_folder
from stillroom.model.recipe import Ingredient, Use
from stillroom.planning.asked import Asked, read_asked, why_not_asked
from stillroom.planning.pipeline import known_recipes
from stillroom.planning.wished import Wishes

DEMO = Path(__file__).parents[2] / "examples" / "demo"


def test_a_recipe_is_found_by_its_name_or_a_part_of_it() -> None:
    demo = read_folder(DEMO)
    recipes = known_recipes(demo)
    asked = read_asked("Tomato sauce in jars on Saturday", recipes, demo)
    assert (asked.recipe.name, asked.day) == ("Tomato sauce in jars", 1)
    assert read_asked("spaghetti on friday", recipes, demo).recipe.name == "Spaghetti sauce in jars"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("tomato sauce", "ask for a recipe on a day"),
        ("unicorn on friday", "no one recipe “unicorn”"),
        ("tomato on friday", "Near it are: "),
        ("salad on someday", "is no day"),
        ("salad on weekdays", "not one day"),
        ("salad on monday", "runs over 2 days"),
    ],
)
def test_what_can_not_be_asked(text: str, words: str) -> None:
    demo = read_folder(DEMO, days=2)
    with pytest.raises(InputError) as told:
        read_asked(text, known_recipes(demo), demo)
    assert words in str(told.value)


def ask(folder: Folder, recipe: object, runs: tuple[object, ...] = ()) -> str:
    answer = why_not_asked(Asked(recipe, 0), task_of(folder), folder, runs)  # type: ignore[arg-type]
    assert answer.wish.endswith("on Friday")
    return answer.sentence


def test_hours_are_the_reason_with_rules_and_ways_out() -> None:
    folder = small(cook((time(14), time(18, 15))))
    answer = why_not_asked(Asked(PORK, 0), task_of(folder), folder, ())
    assert "Pork in jars on Friday" in answer.sentence
    assert answer.ways_out
    assert any("cook" in way for way in answer.ways_out)


def test_it_is_in_the_plan() -> None:
    folder = small(cook((time(8), time(20))))
    (wish, *_) = Wishes(task_of(folder), ()).of_lot("pork shoulder")
    assert ask(folder, PORK, (wish,)) == "It is in the plan."


def test_what_the_plan_does_with_the_food_instead() -> None:
    cold = replace(PORK, key="other", name="Pork another way")
    folder = small(cook((time(8), time(20))), recipes=(PORK, cold))
    task = task_of(folder)
    other = next(run for run in Wishes(task, ()).of_lot("pork shoulder") if run.activity.startswith("other"))
    assert ask(folder, PORK, (other,)) == "The plan uses its pork shoulder for Pork another way on Friday."


def test_what_needs_food_that_is_not_there() -> None:
    beets = replace(
        SOUP, key="beets", use=Use.FREEZE, ingredients=(Ingredient(("beet", "carrot"), 300.0, "", main=True),)
    )
    beets = replace(beets, products=(replace(SOUP.products[0], meal_role="", portions_per_unit=0.0),))
    assert "It needs beet or carrot" in ask(small(cook((time(8), time(20))), recipes=(PORK, beets)), beets)


def test_what_may_not_be_done_here_says_so_and_offers_no_way_round() -> None:
    """A jar larger than the largest tested one: no process, whatever the hours."""
    folder = small(cook((time(8), time(20))))
    folder = replace(folder, kitchen=replace(folder.kitchen, jars=kitchen().jars[1:]))
    answer = why_not_asked(Asked(PORK, 0), task_of(folder), folder, ())
    assert answer.sentence.startswith("In this kitchen it may not be done: ")
    assert answer.ways_out == ()


def test_no_meal_wants_it() -> None:
    potatoes = replace(arrival("potato", 2), mass_g=3000.0)
    folder = small(cook((time(8), time(20))), arrivals=(potatoes,), recipes=(SOUP,))
    assert ask(folder, SOUP) == "No meal of these days wants a main."
