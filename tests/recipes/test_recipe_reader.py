"""The reader takes what people write, and refuses the rest with file, line and field."""

from pathlib import Path

import pytest

from stillroom.errors import FileError, SourceError
from stillroom.model.household import Place
from stillroom.model.recipe import After, Ingredient, Need, Product, Recipe, Step, Use
from stillroom.model.work import Attention
from stillroom.recipes import reader, step_text
from stillroom.recipes.reader import read_recipe

SOUP = """name: Leek soup
use: eat now
summary: Leeks and potatoes, nothing else.
unit: 1 adult portion
batch:
  smallest: 2
  largest: 10
  because: one pot
ingredients:
  - food: [leek, onion]
    amount: 0.2 kg
    kind: main
    states: [fresh, frozen]
    preparation: washed
  - food: salt
    amount: 1 tsp
steps:
  - key: soak
    do: Soak the leeks.
    minutes: 5
    attention: hands
    day: -1
  - key: cook
    do: Cook and serve.
    minutes: 20 + 1.5 per unit
    attention: near
    needs: [1 burner, 2 + 0.5 per unit oven trays at 180 °C]
    after:
      - step: soak
        wait: 8 h
        at most: 14 h 30 min
        hold: cellar 12 °C
        why: they open
products:
  - name: Leek soup
    container: plate
    place: counter
    amount: 0.35 kg
    keeps days: 0
    source: eaten at once
    portions: 1
    meal: main
cautions:
  - Hot.
source: our kitchen
"""

JAR = """name: Beans
use: jar
summary: Beans.
unit: 1 quart
batch: {smallest: 1, largest: 7, because: a load}
ingredients:
  - {food: green bean, amount: 2 lb, kind: main}
process:
  food: snap beans
  form: green, wax or italian, whole or 1-inch pieces
  pack: raw
  canners: [dial gauge]
  jars: [pint, quart]
  per quart: 2 lb
  source: load table
steps:
  - {key: fill, do: Fill., minutes: 10, attention: hands, each load: yes}
  - key: canner
    do: Process.
    minutes: by the process card
    attention: near
    canner cycle: yes
    after: [{step: fill, at most: 10 min, hold: hot}]
  - {key: unload, do: Unload., minutes: 5, attention: hands, each load: yes, after: [{step: canner, at most: 20 min}]}
products:
  - {name: Beans, container: jar, place: shelf, amount: 0.9 kg, keeps days: 365, source: keeping table}
"""


def write(folder: Path, text: str, name: str = "soup.yaml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_a_whole_recipe_is_read(tmp_path: Path) -> None:
    recipe = read_recipe(write(tmp_path, SOUP))
    assert recipe.ingredients[1].mass_g == pytest.approx(6.0, abs=0.2)  # a teaspoon of salt weighs 6 g
    assert recipe == Recipe(
        key="soup",
        name="Leek soup",
        use=Use.EAT_NOW,
        summary="Leeks and potatoes, nothing else.",
        unit="1 adult portion",
        ingredients=(
            Ingredient(("leek", "onion"), 200.0, "0.2 kg", main=True, preparation="washed", states=("fresh", "frozen")),
            Ingredient(("salt",), recipe.ingredients[1].mass_g, "1 tsp"),
        ),
        smallest=2,
        largest=10,
        batch_reason="one pot",
        steps=(
            Step("soak", "Soak the leeks.", 5, 0, Attention.HANDS, day=-1),
            Step(
                "cook",
                "Cook and serve.",
                20,
                1.5,
                Attention.NEAR,
                needs=(Need("burner", 1), Need("oven", 2, 0.5, "180 °C")),
                after=(After("soak", 480, 870, "cellar", 12.0, "they open"),),
            ),
        ),
        products=(
            Product(
                "Leek soup",
                "plate",
                Place.COUNTER,
                350.0,
                0,
                "eaten at once",
                portions_per_unit=1,
                meal_role="main",
            ),
        ),
        cautions=("Hot.",),
        source="our kitchen",
    )
    assert recipe.main_g == 200.0


def test_a_jar_recipe_is_read(tmp_path: Path) -> None:
    recipe = read_recipe(write(tmp_path, JAR))
    assert recipe.process is not None
    assert recipe.process.raw_g_per_quart == pytest.approx(2 * 453.59237)
    assert [(s.key, s.is_canner_cycle, s.repeat_per_load) for s in recipe.steps] == [
        ("fill", False, True),
        ("canner", True, False),
        ("unload", False, True),
    ]
    assert (recipe.steps[1].fixed_min, recipe.steps[1].per_unit_min) == (0, 0)


@pytest.mark.parametrize(
    ("old", "new", "at", "field", "says"),
    [
        (
            "food: [leek, onion]",
            "food: [leek, moonfruit]",
            "food: [leek, moonfruit]",
            "ingredients.1.food.2",
            "moonfruit",
        ),
        ("amount: 0.2 kg", "amount: some", "amount: some", "ingredients.1.amount", "some"),
        ("amount: 0.2 kg", "amout: 0.2 kg", "- food: [leek", "ingredients.1.amount", "not there"),
        ("kind: main", "kind: chief", "kind: chief", "ingredients.1.kind", "chief"),
        (
            "states: [fresh, frozen]",
            "states: [fresh, stale]",
            "states: [fresh, stale]",
            "ingredients.1.states.2",
            "stale",
        ),
        ("use: eat now", "use: nibble", "use: nibble", "use", "nibble"),
        ("largest: 10", "largest: 1", "batch:", "batch", "below"),
        ("minutes: 20 + 1.5 per unit", "minutes: a while", "minutes: a while", "steps.2.minutes", "per unit"),
        ("attention: near", "attention: closely", "attention: closely", "steps.2.attention", "closely"),
        ("1 burner,", "1 hob,", "1 hob,", "steps.2.needs.1", "burner"),
        ("step: soak", "step: soap", "step: soap", "steps.2.after.1.step", "no earlier step"),
        ("wait: 8 h", "wait: a night", "wait: a night", "steps.2.after.1.wait", "8 h"),
        ("wait: 8 h", "wait: 20 h", "- step: soak", "steps.2.after.1", "shorter"),
        ("hold: cellar 12 °C", "hold: 12", "hold: 12", "steps.2.after.1.hold", "fridge 4"),
        ("key: cook", "key: soak", "key: soak\n    do: Cook", "steps.2.key", "already"),
        ("day: -1", "day: 3", "day: 3", "steps.1.day", "0"),
        ("place: counter", "place: attic", "place: attic", "products.1.place", "attic"),
        ("container: plate", "container: bucket", "container: bucket", "products.1.container", "bucket"),
        ("amount: 0.35 kg", "amount: plenty", "amount: plenty", "products.1.amount", "plenty"),
        ("    meal: main\n", "", "- name: Leek soup", "products.1", "go together"),
        ("source: our kitchen", "sauce: our kitchen", "sauce: our kitchen", "sauce", "spelling"),
    ],
)
def test_an_error_names_file_line_and_field(tmp_path: Path, old: str, new: str, at: str, field: str, says: str) -> None:
    assert old in SOUP
    text = SOUP.replace(old, new, 1)
    path, line = write(tmp_path, text), text[: text.index(at)].count("\n") + 1
    with pytest.raises(FileError) as caught:
        read_recipe(path)
    assert (caught.value.path, caught.value.line, caught.value.field) == (path, line, field)
    assert says in caught.value.problem


def test_a_wait_must_have_an_end(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="at most: this field is needed"):
        read_recipe(write(tmp_path, SOUP.replace("        at most: 14 h 30 min\n", "")))


@pytest.mark.parametrize(
    ("hold", "says"),
    [
        ("cellar 12 °C", "may wait 2 h here"),
        ("fridge 9 °C", "may wait 2 h here"),
        ("room 20 °C", "may wait 2 h here"),
        ("fridge 4 °C", ""),
    ],
)
def test_food_that_spoils_waits_in_the_cold(tmp_path: Path, hold: str, says: str) -> None:
    """R103: perishable food is out of the cold two hours at most."""
    text = SOUP.replace("food: [leek, onion]", "food: chicken, whole").replace("cellar 12 °C", hold)
    path = write(tmp_path, text)
    if not says:
        assert read_recipe(path).steps[1].after[0].max_lag_min == 870
        return
    with pytest.raises(FileError, match=says) as caught:
        read_recipe(path)
    assert caught.value.field == "steps.2.after.1.at most"


def test_a_cure_may_lie_in_the_fridge_for_days_and_another_dish_may_not(tmp_path: Path) -> None:
    text = SOUP.replace("food: [leek, onion]", "food: chicken, whole").replace("cellar 12 °C", "fridge 4 °C")
    text = text.replace("at most: 14 h 30 min", "at most: 3 days")
    with pytest.raises(FileError, match="may wait 48 h here"):
        read_recipe(write(tmp_path, text))
    assert read_recipe(write(tmp_path, text.replace("use: eat now", "use: cure"))).use is Use.CURE


def test_a_step_cannot_come_after_a_later_day(tmp_path: Path) -> None:
    upside_down = SOUP.replace("day: -1", "day: 0", 1).replace("needs: [1 burner", "day: -1\n    needs: [1 burner")
    with pytest.raises(FileError, match="later day"):
        read_recipe(write(tmp_path, upside_down))


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("    canner cycle: yes\n", "", "exactly one step"),
        (
            "attention: hands, each load: yes}\n  - key: canner",
            "attention: hands}\n  - key: canner",
            "before the canner",
        ),
        ("each load: yes, after", "after", "after the canner"),
        (JAR[JAR.index("process:") : JAR.index("steps:")], "", "without a tested row"),
        ("use: jar", "use: freeze", "only a recipe whose use is “jar”"),
        ("canners: [dial gauge]", "canners: [oven]", "oven"),
        ("jars: [pint, quart]", "jars: [bucket]", "bucket"),
        ("pack: raw", "pack: loose", "loose"),
    ],
)
def test_jars_without_a_process_or_a_whole_canner_round_are_refused(
    tmp_path: Path, old: str, new: str, says: str
) -> None:
    assert old in JAR
    with pytest.raises(FileError, match=says):
        read_recipe(write(tmp_path, JAR.replace(old, new, 1)))


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("10", (10, 0)), ("10 + 6 per unit", (10, 6)), ("2.5 per unit", (0, 2.5)), ("by the process card", (0, 0))],
)
def test_minutes(text: str, minutes: tuple[float, float]) -> None:
    assert step_text.read_minutes(text) == minutes


@pytest.mark.parametrize(
    "text", ["", "ten", "10 +", "+ 6 per unit", "10 6 per unit", "10 + 6", "-5", "10 per unit each"]
)
def test_other_minutes_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="minutes"):
        step_text.read_minutes(text)


@pytest.mark.parametrize(
    ("text", "need"),
    [
        ("1 burner", Need("burner", 1)),
        ("2 burners", Need("burner", 2)),
        ("1.6 per unit dryer trays at 60 °C", Need("dryer", 0, 1.6, "60 °C")),
        ("3 + 1 per unit fridge litres", Need("fridge", 3, 1)),
        ("1 canner", Need("canner", 1)),
        ("1 mixer", Need("mixer", 1)),
        ("1 ice bath", Need("ice bath", 1)),
    ],
)
def test_needs(text: str, need: Need) -> None:
    assert step_text.read_need(text) == need


@pytest.mark.parametrize("text", ["burner", "one burner", "1 stove", "1 + burner", ""])
def test_other_needs_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="write"):
        step_text.read_need(text)


@pytest.mark.parametrize(("text", "minutes"), [("20 min", 20), ("1 h 30 min", 90), ("2 days", 2880), ("0.5 h", 30)])
def test_waits(text: str, minutes: int) -> None:
    assert step_text.read_wait_min(text) == minutes


@pytest.mark.parametrize("text", ["20", "min", "1 h, 30 min", "8h", "2 weeks", "8 h or so"])
def test_other_waits_are_refused(text: str) -> None:
    with pytest.raises(ValueError, match="wait"):
        step_text.read_wait_min(text)


@pytest.mark.parametrize(
    ("text", "hold", "cold"),
    [
        ("fridge 4 °C", ("fridge", 4.0), True),
        ("fridge 4 C", ("fridge", 4.0), True),
        ("fridge", ("fridge", None), True),
        ("fridge 8 °C", ("fridge", 8.0), False),
        ("cellar 4 °C", ("cellar", 4.0), False),
        ("hot", ("hot", None), False),
    ],
)
def test_holds(text: str, hold: tuple[str, float | None], cold: bool) -> None:
    assert step_text.read_hold(text) == hold
    assert step_text.is_cold(*hold) is cold


def test_the_example_in_the_documentation_is_a_recipe(tmp_path: Path) -> None:
    page = (Path(__file__).parents[2] / "docs" / "recipe-files.md").read_text(encoding="utf-8")
    example = page.split("```yaml\n")[1].split("```")[0]
    assert read_recipe(write(tmp_path, example)).use is Use.EAT_NOW


def test_a_broken_recipe_of_ours_stops_the_start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path, SOUP.replace("use: eat now", "use: nibble"))
    monkeypatch.setattr(reader, "_DATA", tmp_path)
    with pytest.raises(SourceError, match=r"soup\.yaml, line 2: use"):
        reader.all_recipes.__wrapped__()


def test_only_jars_have_canner_loads(tmp_path: Path) -> None:
    without_process = JAR[: JAR.index("process:")] + JAR[JAR.index("steps:") :]
    with pytest.raises(FileError, match="has canner loads"):
        read_recipe(write(tmp_path, without_process.replace("use: jar", "use: freeze")))
