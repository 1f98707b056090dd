"""`stillroom screen`: YAML of two kinds, JSON and web pages; exit codes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

SOUP = ["2 lb beef stewing meat", "2 lb potatoes", "6 cups beef stock"]


def written(folder: Path, name: str, text: str) -> str:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_covered_recipe(run: Any, tmp_path: Path) -> None:
    path = written(tmp_path, "soup.json", json.dumps({"name": "Beef soup", "ingredients": SOUP}))
    code, out, _err = run("screen", path)
    assert code == 0
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
    unchanged = text.replace("Mash the cubes.", "Boil the cubes.")
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
