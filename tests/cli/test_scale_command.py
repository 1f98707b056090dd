"""The command that scales a recipe: its sheets, limits and what it asks again."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest


def test_scale_one_of_our_recipes(run: Any) -> None:
    code, out, _ = run("scale", "applesauce_jarred", "2 bushels", "--json")
    said = json.loads(out)
    assert code == 0
    main = next(line for line in said["ingredients_per_batch"] if line["main"])
    assert main["mass_g"] * said["batches"] == pytest.approx(2 * 45 * 453.59237, rel=1e-4)  # 42-48 lb a bushel
    assert "bushel of apple" in said["how"]
    code, out, _ = run("scale", "applesauce jarred", "2 bushels")
    assert code == 0
    assert f"{said['batches']} batches of" in out
    assert "process time" in out
    assert "Each canner load besides" in out
    assert {step["key"] for step in said["steps_per_batch"] if step["each_load"]} >= {"canner", "fill"}
    assert "!" in out


@pytest.mark.parametrize("meat_kg", ["1", "1.7", "3.3", "5"])
def test_scaled_bacon_keeps_its_nitrite_limit(run: Any, meat_kg: str) -> None:
    """R183: at most 200 ppm in dry-cured bacon; R190: g mix × 0.0625 × 10⁶ / g meat, on what is weighed out."""
    code, out, _ = run("scale", "bacon_cured", f"{meat_kg} kg", "--json")
    said = json.loads(out)
    assert code == 0
    weighed = {line["food"]: line for line in said["ingredients_per_batch"]}
    meat = next(line for line in weighed.values() if line["main"])
    mix = weighed["curing salt no. 1"]
    assert mix["to_weigh_g"] <= mix["mass_g"]
    assert 100 <= mix["to_weigh_g"] * 0.0625 * 1e6 / meat["mass_g"] <= 200


def test_scale_by_units_portions_and_another_ingredient(run: Any) -> None:
    said = json.loads(run("scale", "applesauce_jarred", "3 units", "--json")[1])
    assert (said["units"], said["batches"]) == (3, 1)
    other = said["ingredients_per_batch"][-1]
    again = json.loads(run("scale", "applesauce_jarred", f"{other['mass_g']} g", "--of", other["food"], "--json")[1])
    assert again["units"] == pytest.approx(3)
    assert run("scale", "applesauce_jarred", "9 kg", "--of", "Apples")[0] == 0
    crumble = json.loads(run("scale", "apple_crumble", "8 portions", "--json")[1])
    assert crumble["how"].startswith("8 portions at")
    assert crumble["units"] * float(crumble["how"].split()[3]) == pytest.approx(8)
    code, _, err = run("scale", "applesauce_jarred", "8 portions")
    assert (code, "portions" in err) == (2, True)


def test_scale_counts_pieces_of_one_weight(run: Any) -> None:
    said = json.loads(run("scale", "roast_chicken", "3 birds of 2.2 kg", "--json")[1])
    same = json.loads(run("scale", "roast_chicken", "6.6 kg", "--json")[1])
    assert said["units"] == pytest.approx(same["units"])
    assert "3 birds of 2.2 kg" in said["how"]


def test_scale_says_that_written_measures_are_not_scaled(run: Any) -> None:
    """A spoon in the words of the recipe stays as written, while the gram beside it grows fourfold."""
    words = "as the recipe is written, for 1 × 1 loaf"
    assert words in run("scale", "bread_overnight", "4 units")[1]
    assert words not in run("scale", "bread_overnight", "1 unit")[1]


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (("applesauce", "2 bushels"), "applesauce_jarred"),
        (("zzzzzz", "2 kg"), "Ours are"),
        (("nowhere/kraut.yaml", "2 kg"), "no such file"),
        (("applesauce_jarred", "10 g"), "smallest sensible batch"),
        (("applesauce_jarred", "lots"), "can't be read"),
        (("applesauce_jarred", "2 kg", "--of", "beef"), "it holds"),
    ],
)
def test_scale_asks_again(run: Any, arguments: tuple[str, ...], word: str) -> None:
    found, _, err = run("scale", *arguments)
    assert (found, word in err) == (2, True), err


def test_scale_reads_a_recipe_file(run: Any, tmp_path: Path) -> None:
    import stillroom.recipes

    ours = Path(stillroom.recipes.__file__).parent / "data" / "applesauce_jarred.yaml"
    copy = tmp_path / "my_sauce.yaml"
    copy.write_text(ours.read_text(encoding="utf-8"), encoding="utf-8")
    assert json.loads(run("scale", str(copy), "9 kg", "--json")[1])["recipe"] == "my_sauce"


def test_scale_says_how_many_jars_to_have_ready(run: Any) -> None:
    """Produce-per-load table: whole tomatoes 3 lb a quart, so 20 lb fill 6 2/3 quarts or 13 1/3 pints."""
    code, out, _ = run("scale", "tomatoes_whole_jarred", "20 lb")
    assert code == 0
    assert "14 pints" in out
    assert "7 quarts" in out
    said = json.loads(run("scale", "tomatoes_whole_jarred", "20 lb", "--json")[1])
    assert said["jars_per_batch"] == {"pint": 14, "quart": 7}
    assert json.loads(run("scale", "bread_overnight", "1 unit", "--json")[1])["jars_per_batch"] == {}
    assert "Jars to have ready" not in run("scale", "bread_overnight", "1 unit")[1]
