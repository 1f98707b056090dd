"""`stillroom screen`: YAML of two kinds, JSON and web pages; exit codes."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import Any

import pytest

from stillroom.cli.our_recipes import our_recipe_path
from stillroom.recipes.reader import all_recipes

SOUP = ["2 lb beef stewing meat", "2 lb potatoes", "6 cups beef stock"]


def written(folder: Path, name: str, text: str) -> str:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_covered_recipe(run: Any, tmp_path: Path) -> None:
    path = written(
        tmp_path, "soup.json", json.dumps({"name": "Beef soup", "ingredients": SOUP, "method": "Pressure can."})
    )
    code, out, _err = run("screen", path)
    assert code == 0
    assert "only under pressure" in out
    assert 'stillroom process "soup" --form "vegetable, dried bean or pea, meat or poultry"' in out
    assert "COVERED  Beef soup" in out
    assert "half solids, half liquid" in out
    said = json.loads(run("screen", path, "--json")[1])
    assert (said["tested"], said["process_food"], said["findings"]) == (True, "soup", [])


def test_a_refused_recipe(run: Any, tmp_path: Path) -> None:
    path = written(tmp_path, "soup.yaml", "ingredients:\n- 2 lb beef stewing meat\n- 1 cup cream\nmethod: Boil.\n")
    code, out, _err = run("screen", path)
    assert code == 3
    assert "REFUSED  soup" in out
    assert "“1 cup cream” (dairy)" in out
    assert "Freeze it" in out
    assert "authority" in out
    said = json.loads(run("screen", path, "--json")[1])
    assert (said["tested"], said["findings"][0]["rule"]) == (False, "dairy")
    assert all(way["source"] for way in said["alternatives"])


def test_a_list_of_nothing_offers_nothing(run: Any, tmp_path: Path) -> None:
    code, out, _err = run("screen", written(tmp_path, "salt.yml", "ingredients: [' ']\n"))
    assert code == 3
    assert "Possible" not in out


def test_our_own_format(run: Any, tmp_path: Path) -> None:
    text = """
name: Pumpkin
ingredients:
- food: pumpkin
  amount: 2 kg
  preparation: in cubes
- foods: [black pepper, white pepper]
- food: salt
steps:
- key: mash
  do: Mash the cubes.
"""
    code, out, _err = run("screen", written(tmp_path, "pumpkin.yaml", text))
    assert code == 3
    assert "low-acid puree" in out
    unchanged = text.replace("Mash the cubes.", "Boil the cubes, pressure can.")
    assert run("screen", written(tmp_path, "cubes.yaml", unchanged))[0] == 0
    assert (
        run(
            "screen", written(tmp_path, "odd.yaml", unchanged.replace("steps:\n- key: mash\n  do: Boil", "steps: Boil"))
        )[0]
        == 0
    )


def test_a_saved_web_page(run: Any, tmp_path: Path) -> None:
    recipe = {"@type": "Recipe", "name": "Cream soup", "recipeIngredient": [*SOUP, "1 cup milk"]}
    html = f'<html><script type="application/ld+json">{json.dumps({"@graph": [recipe]})}</script></html>'
    code, out, _err = run("screen", written(tmp_path, "page.html", html))
    assert code == 3
    assert "Cream soup" in out
    assert "“1 cup milk” (dairy)" in out


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("a.txt", "beef", ".yaml, .json or .html"),
        ("a.yaml", "ingredients: [", "no YAML"),
        ("a.yaml", "- beef", "ingredients"),
        ("a.yaml", "ingredients: [{food: 3}, 4]", "Ingredient 2"),
        ("a.json", "{", "no JSON"),
        ("a.html", "<p>beef</p>", "schema.org"),
    ],
)
def test_a_file_that_is_no_recipe_is_named(run: Any, tmp_path: Path, name: str, text: str, says: str) -> None:
    code, out, err = run("screen", written(tmp_path, name, text))
    assert (code, out) == (2, "")
    assert name in err
    assert says in err


def test_files_that_cannot_be_read(run: Any, tmp_path: Path) -> None:
    assert run("screen", str(tmp_path / "none.yaml"))[0] == 2
    assert run("screen", str(tmp_path))[0] == 2
    (tmp_path / "latin.json").write_bytes(b"\xff\xfe\xfa")
    assert "UTF-8" in run("screen", str(tmp_path / "latin.json"))[2]
    (tmp_path / "big.json").write_bytes(b" " * 5_000_001)
    assert "larger" in run("screen", str(tmp_path / "big.json"))[2]


def test_our_own_recipe_by_key_and_file_stands_on_its_row_and_a_changed_copy_does_not(run: Any, tmp_path: Path) -> None:
    ours = our_recipe_path("apple butter jarred")
    for word in ("apple_butter_jarred", str(ours)):
        code, out, _err = run("screen", word)
        assert code == 0
        assert "COVERED  Apple butter in jars" in out
        assert 'stillroom process "apple butter"' in out
    changed = ours.read_text(encoding="utf-8").replace("2 cups", "3 cups", 1)
    code, out, _err = run("screen", written(tmp_path, "apple_butter_jarred.yaml", changed))
    assert (code, "REFUSED" in out) == (3, True)


def test_every_jar_recipe_of_ours_is_covered_by_its_row(run: Any) -> None:
    for recipe in all_recipes():
        if recipe.process is not None:
            code, out, _err = run("screen", recipe.key, "--json")
            assert code == 0, recipe.key
            assert json.loads(out)["process_food"] == recipe.process.food


def test_a_recipe_of_ours_without_jars_and_a_key_that_is_none(run: Any) -> None:
    code, _out, err = run("screen", "boiled_potatoes")
    assert (code, "makes no jars" in err) == (2, True)
    code, _out, err = run("screen", "apple_buter")
    assert (code, "apple_butter_jarred" in err) == (2, True)


def test_what_a_page_lacks_is_said_first(run: Any, tmp_path: Path) -> None:
    path = written(tmp_path, "t.json", json.dumps({"name": "T", "ingredients": ["20 lb tomatoes"], "method": "Can."}))
    code, out, _err = run("screen", path)
    assert code == 3
    assert out.startswith("NOT YET COVERED  T\n  AS WRITTEN IT LACKS ACID: add to every jar bottled lemon juice")
    said = json.loads(run("screen", path, "--json")[1])
    assert (said["tested"], len(said["lacks"]), said["heat"]) == (False, 1, "in boiling water or under pressure")


def test_the_canners_of_our_own_format_count_and_bare_steps_are_read(run: Any, tmp_path: Path) -> None:
    text = "ingredients: [5 lb potatoes]\nsteps: [Cut in cubes.]\nprocess:\n  canners: [dial gauge]\n"
    assert run("screen", written(tmp_path, "a.yaml", text))[0] == 0
    assert run("screen", written(tmp_path, "b.yaml", text.replace("dial gauge", "steam")))[0] == 3
    assert run("screen", written(tmp_path, "c.yaml", text.replace("Cut in cubes", "Mash them")))[0] == 3


def test_the_command_offered_runs_once_an_altitude_is_put_in(run: Any, tmp_path: Path) -> None:
    lines = {"ingredients": ["5 lb ground beef"], "method": "Hot pack, pressure can."}
    said = json.loads(run("screen", written(tmp_path, "b.json", json.dumps(lines)), "--json")[1])
    words = shlex.split(said["look_up"])[1:]
    assert run(*words)[0] == 2
    code, out, _err = run(*[word.replace("YOUR ALTITUDE m", "760 m") for word in words])
    assert (code, "90 min" in out) == (0, True)


def test_text_is_wrapped_to_the_terminal_and_free_of_control_characters(
    run: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = {"name": "Beans \x1b[31m\u202e red", "ingredients": ["5 lb green beans", "1 cup cream"]}
    path = written(tmp_path, "b.json", json.dumps(page))
    monkeypatch.delenv("COLUMNS", raising=False)
    assert max(map(len, run("screen", path)[1].splitlines())) > 80
    monkeypatch.setenv("COLUMNS", "60")
    _code, out, _err = run("screen", path)
    assert max(map(len, out.splitlines())) <= 60
    assert not {"\x1b", "\u202e"} & set(out)
