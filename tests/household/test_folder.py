"""A household folder is read whole, and every error names file, line and field."""

from collections.abc import Callable
from datetime import date, time
from pathlib import Path

import pytest

from stillroom import recipes
from stillroom.errors import FolderError, InputError
from stillroom.household.folder import read_folder, warnings
from stillroom.model.household import Place
from stillroom.model.kitchen import Presence
from stillroom.model.process import CannerKind

WriteFolder = Callable[..., Path]
FRIDAY = date(2027, 4, 9)


def test_who_is_young_at_table_helps_as_a_child_whatever_is_written(write_folder: WriteFolder) -> None:
    as_adult = ("kitchen.yaml", "    child: yes\n", "")
    _, eldest = read_folder(write_folder(as_adult)).kitchen.people
    assert eldest.is_child
    _, eldest = read_folder(write_folder(as_adult, ("household.yaml", "age: 12", "age: 14"))).kitchen.people
    assert not eldest.is_child


def test_the_kitchen_is_read(write_folder: WriteFolder) -> None:
    kitchen = read_folder(write_folder()).kitchen
    assert (kitchen.altitude_m, kitchen.room_c, kitchen.burners, kitchen.oven_trays) == (690, 18, 4, 2)
    cook, eldest = kitchen.people
    assert not cook.is_child
    assert eldest.is_child
    assert [span for span in cook.presence if span.day == FRIDAY] == [
        Presence(FRIDAY, time(7), time(8, 15)),
        Presence(FRIDAY, time(17), time(20)),
    ]
    # Friday, Saturday, no Sunday, no Monday (an exception), Tuesday to Thursday
    assert sorted({span.day.day for span in cook.presence}) == [9, 10, 13, 14, 15]
    assert len(eldest.presence) == 7
    (canner,) = kitchen.canners
    assert (canner.kind, canner.gauge_error_psi, canner.gauge_tested_on) == (
        CannerKind.DIAL,
        0.5,
        date(2027, 2, 19),
    )
    assert (kitchen.freezer.capacity_l, kitchen.freezer.used_l, kitchen.fridge_free_l) == (220, 165, 60)
    pint, large = kitchen.jars
    assert (large.volume_ml, large.diameter_mm, large.height_mm) == (1200, 112, 196)
    assert pint.volume_ml == pytest.approx(473.2, abs=0.1)
    assert 60 < pint.diameter_mm < 100 < pint.height_mm < 150
    assert dict(kitchen.pantry_g) == {"salt": 2000, "vinegar, distilled": 5000}


def test_the_household_is_read(write_folder: WriteFolder) -> None:
    folder = read_folder(write_folder())
    home = folder.household
    assert home.invented
    assert folder.start == FRIDAY
    cook, eldest = home.eaters
    assert cook.portion == 1
    assert eldest.portion == pytest.approx(0.84 * 0.8)  # age 12: 0.84 of an adult's energy; small appetite
    assert [meal.key for meal in home.meals] == [f"2027-04-{day:02} dinner" for day in range(9, 16)]
    assert home.meals[0].at == time(18, 30)
    assert home.meals[0].portions == pytest.approx(1 + 0.84 * 0.8)
    assert home.meals[0].roles == ("main", "side")
    assert home.dislikes == ("chicken liver",)
    assert [(target.food, target.amount_g) for target in home.targets] == [("tomato", 30_000)]


def test_arrivals_and_larder_are_read(write_folder: WriteFolder) -> None:
    folder = read_folder(write_folder())
    tomato, bird = folder.arrivals
    assert (tomato.key, tomato.food, tomato.mass_g, tomato.place) == (
        "tomato 2027-04-09",
        "tomato",
        24_000,
        Place.COUNTER,
    )
    assert tomato.keep_days == 3
    assert (bird.food, bird.mass_g, bird.worth_per_kg) == ("chicken, whole", pytest.approx(13_200), 11)
    assert bird.keep_days == 1  # 1 to 2 days in the fridge: the shorter end
    assert "1 to 2 days" in bird.keep_reason
    (lot,) = folder.larder
    assert (lot.food, lot.mass_g, lot.count, lot.container) == ("green bean", 5400, 6, "quart jar")


def test_the_number_of_days_sets_presence_and_meals(write_folder: WriteFolder) -> None:
    folder = read_folder(write_folder(), days=1)
    assert {span.day for person in folder.kitchen.people for span in person.presence} == {FRIDAY}
    assert [meal.day for meal in folder.household.meals] == [FRIDAY]
    assert [arrival.food for arrival in folder.arrivals] == ["tomato"]
    assert any("chicken, whole of 2027-04-10 comes after the last day" in caution for caution in warnings(folder))


def test_arrivals_may_be_several_files(write_folder: WriteFolder) -> None:
    path = write_folder()
    (path / "arrivals").mkdir()
    more = "arrivals:\n  - {food: apples, amount: 5 kg, day: 2027-04-11, place: cellar}\n"
    (path / "arrivals" / "sunday.yaml").write_text(more, encoding="utf-8")
    assert [arrival.food for arrival in read_folder(path).arrivals] == ["tomato", "chicken, whole", "apple"]
    (path / "arrivals" / "again.yaml").write_text(more, encoding="utf-8")
    with pytest.raises(FolderError, match=r"sunday\.yaml: .*two arrivals “apple 2027-04-11”"):
        read_folder(path)


@pytest.mark.parametrize(
    ("file", "old", "new", "field", "words"),
    [
        ("kitchen.yaml", "690 m", "690", "altitude", "with its unit"),
        ("kitchen.yaml", "690 m", "69000 m", "altitude", "nobody keeps house at 69000 m"),
        ("kitchen.yaml", "690 m", "-690 m", "altitude", "below the sea"),
        ("kitchen.yaml", "18 °C", "18", "room", "room temperature"),
        ("kitchen.yaml", "8:00-19:00", "19:00-8:00", "people.1.hours", "ends before it starts"),
        ("kitchen.yaml", "saturday", "caturday", "people.1.hours", "“caturday” is no day"),
        ("kitchen.yaml", "2027-04-12: none", "2027-04-12: never", "people.1.exceptions.2027-04-12", "can't be read"),
        ("kitchen.yaml", "name: eldest", "name: first cook", "people.2", "stands here twice"),
        ("kitchen.yaml", "kind: dial gauge", "kind: pressure", "canners.1.kind", "“dial” or “weighted”"),
        ("kitchen.yaml", "kind: dial gauge", "kind: boiling water", "canners.1.gauge_error", "has no dial"),
        ("kitchen.yaml", "0.5 psi high", "0.5 psi", "canners.1.gauge_error", "too high or too low"),
        ("kitchen.yaml", "318 mm", "318 cm", "canners.1.inside_diameter", "no inside size"),
        ("kitchen.yaml", "used: 165 L", "used: 265 L", "freezer.used", "can't be in a freezer of 220 L"),
        ("kitchen.yaml", "burners: 4", "burners: four", "burners", "“four” can't be read"),
        ("kitchen.yaml", "burners: 4", "burnes: 4", "burners", "is needed"),
        ("kitchen.yaml", "burners: 4", "burners: 4\nsmall_burners: 5", "small_burners", "count again"),
        ("kitchen.yaml", "    diameter: 112 mm\n", "", "jars.2.kind", "measure one"),
        ("kitchen.yaml", "112 mm", "50 mm", "jars.2.kind", "can't hold 1200 ml"),
        ("household.yaml", "18:30", "18:30+02:00", "meals.1.at", "time zone"),
        ("kitchen.yaml", "kind: 1200 ml", "kind: pint", "jars.2.kind", "can't hold"),
        ("kitchen.yaml", "salt: 2 kg", "slat: 2 kg", "pantry.slat", "No food called “slat”"),
        ("kitchen.yaml", "salt: 2 kg", "salt: two", "pantry.salt", "can't be read"),
        ("kitchen.yaml", "salt: 2 kg", "distilled vinegar: 2 kg", "pantry.white vinegar", "the same food"),
        ("household.yaml", "start: 2027-04-09", "start: friday", "start", "“friday” can't be read"),
        ("household.yaml", "age: adult", "age: grown", "eaters.1.age", "whole years"),
        ("household.yaml", "age: 12", "age: 1", "eaters.2.age", "write the portion yourself"),
        ("household.yaml", "age: 12", "portion: 0", "eaters.2.portion", "greater than 0"),
        ("household.yaml", "age: adult", "age: adult\n    portion: 1", "eaters.1.age", "or leave it out"),
        ("household.yaml", "appetite: small", "appetite: tiny", "eaters.2.appetite", "no appetite"),
        ("household.yaml", "daily", "always", "meals.1.days", "no day"),
        ("household.yaml", "main, side", "main, pudding", "meals.1.roles", "“pudding” is no part of a meal"),
        ("household.yaml", "main, side", "main, main", "meals.1.roles", "twice"),
        ("household.yaml", "roles: [main, side]", "roles: [main]\n    eaters: [nobody]", "meals.1.eaters", "one of"),
        (
            "household.yaml",
            "roles: [main, side]",
            "roles: [main]\n    eaters: []",
            "meals.1.eaters",
            "somebody has to eat",
        ),
        ("household.yaml", "chicken liver", "dragon liver", "dislikes.1", "No food called"),
        ("household.yaml", "tomatoes: 30 kg", "tomatoes: a lot", "targets.tomatoes", "can't be read"),
        ("arrivals.yaml", "food: tomatoes", "food: tomahtoes", "arrivals.1.food", "nearest"),
        ("arrivals.yaml", "2 cases of 12 kg", "some", "arrivals.1.amount", "can't be read"),
        ("arrivals.yaml", "clock: 3 days", "clock: soon", "arrivals.1.clock", "days or weeks"),
        ("arrivals.yaml", "    clock: 3 days\n", "", "arrivals.1.place", "no keeping time is published"),
        ("arrivals.yaml", "2027-04-09", "2027-04-05", "arrivals.1.day", "its clock ran out on 2027-04-08"),
        (
            "arrivals.yaml",
            "place: fridge",
            "place: fridge\n    clock: 3 days",
            "arrivals.2.clock",
            "3 days is too long",
        ),
        ("arrivals.yaml", "place: fridge", "place: cellar", "arrivals.2.place", "two hours at the most"),
        ("arrivals.yaml", "place: fridge", "place: freezer", "arrivals.2.place", "larder.yaml"),
        ("arrivals.yaml", "place: fridge", "place: attic", "arrivals.2.place", "“attic” can't be read"),
        ("arrivals.yaml", "worth: 11", "worth: -1", "arrivals.2.worth", "greater than 0"),
        ("larder.yaml", "best_by: 2027-08-30", "best_by: 2025-08-30", "lots.1.best_by", "before it was made"),
        ("larder.yaml", "made_on: 2026-08-30", "made_on: 2027-08-29", "lots.1.made_on", "is it an arrival"),
        ("larder.yaml", "6 quart jars of 900 g", "6 quart jars", "lots.1.amount", "can't be read"),
        ("larder.yaml", "6 quart jars of 900 g", "0 jars of 900 g", "lots.1.amount", "greater than zero"),
    ],
)
def test_an_error_names_file_line_and_field(
    write_folder: WriteFolder, file: str, old: str, new: str, field: str, words: str
) -> None:
    path = write_folder((file, old, new))
    with pytest.raises(FolderError) as caught:
        read_folder(path)
    (error,) = caught.value.errors
    assert (error.path, error.field) == (path / file, field)
    assert words in error.problem
    assert "\n" not in str(error)
    assert error.line is not None


@pytest.mark.parametrize(
    ("file", "old", "new", "line"),
    [
        ("kitchen.yaml", "690 m", "690", 1),
        ("kitchen.yaml", "saturday", "caturday", 5),  # “hours:”
        ("kitchen.yaml", "2027-04-12: none", "2027-04-12: never", 9),
        ("kitchen.yaml", "0.5 psi high", "0.5 psi", 19),
        ("kitchen.yaml", "used: 165 L", "used: 265 L", 25),
        ("kitchen.yaml", "    diameter: 112 mm\n", "", 31),  # “kind: 1200 ml”
        ("kitchen.yaml", "salt: 2 kg", "slat: 2 kg", 37),
        ("household.yaml", "age: 12", "age: 1", 8),
        ("arrivals.yaml", "place: fridge", "place: fridge\n    clock: 3 days", 11),
        ("larder.yaml", "made_on: 2026-08-30", "made_on: 2027-08-29", 6),
    ],
)
def test_the_line_is_the_one_an_editor_shows(
    write_folder: WriteFolder, file: str, old: str, new: str, line: int
) -> None:
    with pytest.raises(FolderError, match=rf"{file}, line {line}: "):
        read_folder(write_folder((file, old, new)))


def test_the_first_error_of_every_file_is_told(write_folder: WriteFolder) -> None:
    path = write_folder(
        ("kitchen.yaml", "burners: 4", "burners: many"),
        ("household.yaml", "age: adult", "age: grown"),
        ("arrivals.yaml", "food: tomatoes", "food: qqq"),
        ("larder.yaml", "place: shelf", "place: attic"),
    )
    (path / "recipes").mkdir()
    (path / "recipes" / "own.yaml").write_text("name: only a name\n", encoding="utf-8")
    with pytest.raises(FolderError) as caught:
        read_folder(path)
    assert [error.path.name for error in caught.value.errors] == [
        "household.yaml",
        "kitchen.yaml",
        "arrivals.yaml",
        "larder.yaml",
        "own.yaml",
    ]
    assert str(caught.value).count("\n") == 4


@pytest.mark.parametrize(
    ("lot", "words"),
    [
        ("{product: a, food: pork shoulder, place: fridge, amount: 2 kg, %s-08}", "safe in the fridge for 5 days"),
        ("{product: a, food: chicken stock, place: fridge, amount: 2 kg, %s-06}", "safe in the fridge for 4 days"),
        ("{product: a, food: pork shoulder, place: cellar, amount: 2 kg, %s-03}", "does not keep on the cellar"),
        ("{product: a, food: chicken stock, place: fridge, amount: 2 jars of 900 g, %s-06}", "for 4 days"),
        ("{product: a, food: pork shoulder, place: fridge, amount: 2 kg, %s-06}", ""),
        ("{product: a, food: pork shoulder, place: cellar, amount: 2 pint jars of 500 g, %s-30}", ""),
        ("{product: a, food: pork shoulder, place: freezer, amount: 2 kg, %s-30}", ""),
        ("{product: a, food: carrots, place: cellar, amount: 2 kg, %s-30}", ""),
        ("{product: a, food: stew, place: fridge, amount: 2 kg, %s-06}", "safe in the fridge for 4 days"),
        ("{product: a, food: stew, place: counter, amount: 2 kg, %s-02}", "does not keep on the counter"),
        ("{product: a, food: sausage, place: fridge, amount: 2 kg, %s-30}", "safe in the fridge for 2 days"),
        ("{product: a, food: beef, place: shelf, amount: 6 packs of 500 g, %s-30}", "does not keep on the shelf"),
        ("{product: a, food: beef jerky, place: shelf, amount: 6 bags of 500 g, %s-30}", ""),
        ("{product: a, food: beef, place: shelf, amount: 6 tins of 500 g, %s-30}", ""),
    ],
)
def test_a_lot_is_not_kept_longer_than_is_safe(write_folder: WriteFolder, lot: str, words: str) -> None:
    path = write_folder()
    line = lot % "made_on: 2027-04-01, best_by: 2027-04"
    (path / "larder.yaml").write_text(f"lots:\n  - {line}\n", encoding="utf-8")
    if not words:
        assert len(read_folder(path).larder) == 1
        return
    with pytest.raises(FolderError, match=rf"lots\.1\.best_by: .*{words}"):
        read_folder(path)


@pytest.mark.parametrize(
    ("food", "is_told"),
    [("garlic in oil", True), ("pickled eggs", True), ("stew", True), ("beef", False), ("green beans", False)],
)
def test_jars_of_what_has_no_tested_process_are_a_warning(write_folder: WriteFolder, food: str, is_told: bool) -> None:
    path = write_folder()
    lot = f"{{product: a, food: {food}, place: shelf, amount: 2 pint jars of 400 g, made_on: 2027-04-01, %s}}"
    (path / "larder.yaml").write_text(f"lots:\n  - {lot % 'best_by: 2028-04-01'}\n", encoding="utf-8")
    said = warnings(read_folder(path))
    assert any("no tested process" in caution for caution in said) == is_told


def test_two_lots_of_one_key_are_told(write_folder: WriteFolder) -> None:
    path = write_folder()
    text = (path / "larder.yaml").read_text(encoding="utf-8")
    (path / "larder.yaml").write_text(text + text.removeprefix("lots:\n"), encoding="utf-8")
    with pytest.raises(FolderError, match=r"line 8: .*two lots “green beans in jars 2026-08-30”"):
        read_folder(path)


def test_meals_are_for_those_who_eat_them(write_folder: WriteFolder) -> None:
    change = ("household.yaml", "roles: [main, side]", "roles: [main]\n    eaters: [eldest]")
    folder = read_folder(write_folder(change))
    assert folder.household.meals[0].portions == pytest.approx(0.84 * 0.8)
    lunch = "meals:\n  - {name: dinner, days: friday, at: '12:00', roles: [bread]}"
    with pytest.raises(FolderError, match=r"meals\.2\.name: there are two meals “dinner” on Fridays"):
        read_folder(write_folder(("household.yaml", "meals:", lunch)))


@pytest.mark.parametrize("missing", ["kitchen.yaml", "household.yaml", "arrivals.yaml"])
def test_a_missing_file_is_told(write_folder: WriteFolder, missing: str) -> None:
    path = write_folder()
    (path / missing).unlink()
    with pytest.raises(FolderError, match=f"{missing}: there is no such file"):
        read_folder(path)


def test_own_recipes_are_read(write_folder: WriteFolder) -> None:
    path = write_folder()
    (path / "recipes").mkdir()
    ours = Path(recipes.__file__).parent / "data" / "boiled_potatoes.yaml"
    (path / "recipes" / "potatoes_our_way.yaml").write_text(ours.read_text(encoding="utf-8"), encoding="utf-8")
    assert [recipe.key for recipe in read_folder(path).recipes] == ["potatoes_our_way"]


def test_an_own_jar_recipe_needs_a_process_for_what_it_holds(write_folder: WriteFolder) -> None:
    """Beans are tested; beans in cream are not, whatever process the recipe names, nor are they corn."""
    path = write_folder()
    (path / "recipes").mkdir()
    ours = (Path(recipes.__file__).parent / "data" / "beans_green_jarred.yaml").read_text(encoding="utf-8")
    for key, old, new in (
        ("plain", "young", "young"),
        ("creamed", "- food: water\n    amount: 400 ml", "- food: double cream\n    amount: 400 ml"),
        (
            "as_corn",
            "food: snap beans\n  form: green, wax or italian, whole or 1-inch pieces",
            "food: corn\n  form: cut",
        ),
    ):
        text = ours.replace("Green beans in jars", f"{key} beans", 1).replace(old, new)
        (path / "recipes" / f"{key}.yaml").write_text(text, encoding="utf-8")
    folder = read_folder(path)
    assert [recipe.key for recipe in folder.recipes] == ["plain"]
    cautions = [caution for caution in warnings(folder) if "is left out" in caution]
    assert len(cautions) == 2
    assert "process of corn, cut, but what it holds is snap beans" in cautions[0]
    assert "cream" in cautions[1]


def test_an_empty_larder_needs_no_file(write_folder: WriteFolder) -> None:
    path = write_folder()
    (path / "larder.yaml").unlink()
    assert read_folder(path).larder == ()


def test_two_of_one_key_are_told(write_folder: WriteFolder) -> None:
    path = write_folder(("arrivals.yaml", "food: chicken, whole", "food: tomatoes"), ("arrivals.yaml", "-10", "-09"))
    (path / "arrivals.yaml").write_text(
        (path / "arrivals.yaml")
        .read_text(encoding="utf-8")
        .replace("6 birds of 2.2 kg", "2 kg")
        .replace("fridge", "counter\n    clock: 2 days"),
        encoding="utf-8",
    )
    with pytest.raises(FolderError, match=r"line 7.*two arrivals “tomato 2027-04-09”"):
        read_folder(path)


def test_no_folder_and_no_days_are_refused(tmp_path: Path, write_folder: WriteFolder) -> None:
    with pytest.raises(InputError, match="not a folder"):
        read_folder(tmp_path / "nowhere")
    path = write_folder()
    for days in (0, 15):
        with pytest.raises(InputError, match="1 to 14 days"):
            read_folder(path, days=days)
