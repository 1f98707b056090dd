"""What a household folder holds, the database holds, and it comes out again the same."""

import io
import math
import re
import zipfile
from dataclasses import asdict, is_dataclass, replace
from datetime import timedelta
from pathlib import Path

import pytest
from django.test import Client

from stillroom.errors import FolderError, InputError
from stillroom.household.folder import Folder, read_folder, warnings
from stillroom.web.exchange.folder import folder_of, written, zip_of
from stillroom.web.exchange.import_folder import import_folder, import_zip
from stillroom.web.kitchen.models import Household

DEMO = Path(__file__).parents[2] / "examples" / "demo"


MEAL_DAYS = """
  - {meal: dinner, day: 2027-04-10, at: "19:15", eaters: [away cook], guests: 3, child_guests: [4, 9]}
  - {meal: lunch, day: 2027-04-11, left_out: yes}"""


def same(one: object, other: object) -> bool:
    """Equal, but for the last bits of a float and for which folder it was."""
    if is_dataclass(one) and not isinstance(one, type):
        assert type(one) is type(other)
        left, right = asdict(one), asdict(other)  # type: ignore[call-overload]
        return same({k: v for k, v in left.items() if k != "path"}, {k: v for k, v in right.items() if k != "path"})
    if isinstance(one, float):
        return isinstance(other, float | int) and math.isclose(one, other, rel_tol=1e-12)
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list | tuple):
        return isinstance(other, list | tuple) and len(one) == len(other) and all(map(same, one, other))
    return one == other


def unpacked(archive: bytes, place: Path) -> Path:
    with zipfile.ZipFile(io.BytesIO(archive)) as file:
        file.extractall(place)
    return place


def in_order(folder: Folder) -> Folder:
    """Lots by key: their order in the file says nothing."""
    return replace(folder, larder=tuple(sorted(folder.larder, key=lambda lot: lot.key)))


def test_it_works(household: Household) -> None:
    from_file, from_database = read_folder(DEMO), folder_of(household)
    assert same(in_order(from_file), in_order(from_database))
    assert warnings(from_file) == warnings(from_database)


def test_the_zip_file_reads_in_again_the_same(household: Household, tmp_path: Path) -> None:
    first = zip_of(household)
    again = import_zip(io.BytesIO(first))
    assert again.name == f"{household.name} 2"  # the first is still here
    again.name = household.name
    assert same(folder_of(household), folder_of(again))
    assert same(read_folder(unpacked(first, tmp_path)), folder_of(household))


def test_a_second_household_of_one_name_has_another_and_is_told(household: Household, browser: Client) -> None:
    page = browser.get("/folder/import").content.decode()
    token = re.search(r'name="once" value="([^"]+)"', page)
    assert token
    file = io.BytesIO(zip_of(household))
    file.name = "household.zip"
    answer = browser.post("/folder/import", {"folder": file, "once": token[1]}, follow=True)
    assert f"There is a household “{household.name}” here already" in answer.content.decode()
    assert sorted(Household.objects.values_list("name", flat=True)) == [household.name, f"{household.name} 2"]


def test_every_file_of_an_invented_household_says_so(household: Household, tmp_path: Path) -> None:
    for file in unpacked(zip_of(household), tmp_path).rglob("*.yaml"):
        assert "INVENTED" in file.read_text(encoding="utf-8")


@pytest.fixture
def rich_folder(tmp_path: Path) -> Path:
    """The demo with every line that it does not have."""
    folder = tmp_path / "rich"
    folder.mkdir()
    for file in DEMO.glob("*.yaml"):
        (folder / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    change(
        folder / "kitchen.yaml",
        ("gauge_error: 0.5 psi high", "gauge_error: 1.25 psi low"),
        ("altitude: 690 m", "altitude: 2264 ft"),
        ("room: 18 °C", "room: 64 °F"),
        ("capacity: 220 L", "capacity: 7.75 cu ft"),
        ("mixer: no", "mixer: yes"),
        ("lids: 56", "lids: 56\n    reusable_lids: yes"),
        ("    exceptions:\n", "    leaves: [jar, cure]\n    exceptions:\n"),
    )
    change(
        folder / "household.yaml",
        ("    roles: [main, side]\n", "    roles: [main, side]\n    eaters: [home cook, eldest]\n"),
        ("    age: 9\n", "    portion: 0.7\n"),
        ("dislikes:\n", f"meal_days:{MEAL_DAYS}\ndislikes:\n"),
    )
    change(
        folder / "arrivals.yaml",
        ("- food: carrots\n", "- food: beef mince\n    key: from the neighbour\n    worth: 11.5\n    state: thawed\n"),
    )
    (folder / "recipes").mkdir()
    own = Path(read_folder.__code__.co_filename).parents[1] / "recipes" / "data" / "bean_stew.yaml"
    (folder / "recipes" / "grandmothers_stew.yaml").write_text(own.read_text(encoding="utf-8"), encoding="utf-8")
    return folder


def test_lines_that_the_demo_does_not_have_come_through_too(rich_folder: Path, db: None) -> None:
    household = import_folder(rich_folder)
    assert same(in_order(read_folder(rich_folder)), in_order(folder_of(household)))


def test_no_field_of_the_folder_is_forgotten(rich_folder: Path, db: None) -> None:
    """A field that the files gain must be added to the rows, to the import, and to `rich_folder`."""
    household = import_folder(rich_folder)
    lots = [lot.to_written() for lot in household.lots.all()]
    files = written(household, list(household.arrivals.all()), household.today, lots)
    tops = [files.kitchen, files.household]
    lists = [files.kitchen.people, files.kitchen.canners, files.kitchen.jars, files.household.eaters]
    lists += [files.household.meals, files.household.meal_days, files.arrivals.arrivals, files.larder.lots]
    for lines in [*([top] for top in tops), *lists]:
        said = {name for line in lines for name in line.model_dump(exclude_defaults=True)}
        assert said == set(type(lines[0]).model_fields), type(lines[0]).__name__


def change(file: Path, *changes: tuple[str, str]) -> None:
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")


def test_a_wrong_folder_leaves_nothing_behind(db: None, tmp_path: Path) -> None:
    for file in DEMO.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text(encoding="utf-8"), encoding="utf-8")
    change(tmp_path / "arrivals.yaml", ("food: pears", "food: pearz of glass"))
    with pytest.raises(FolderError, match=r"arrivals\.yaml, line"):
        import_folder(tmp_path)
    assert not Household.objects.exists()


@pytest.mark.parametrize(
    "files, sentence",
    [
        ({"notes.txt": "nothing"}, "There is no kitchen.yaml"),
        ({"../kitchen.yaml": "altitude: 1 m"}, "points outside itself"),
        ({"home/kitchen.yaml": "altitude: 690"}, "household.yaml: there is no such file"),
        ({"kitchen.yaml": "a: &x [*x]"}, "kitchen.yaml"),
    ],
)
def test_a_wrong_zip_file_is_told_in_one_sentence(db: None, files: dict[str, str], sentence: str) -> None:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, text in files.items():
            archive.writestr(name, text)
    file.seek(0)
    with pytest.raises(InputError, match=sentence) as caught:
        import_zip(file)
    assert "/tmp/" not in str(caught.value)
    assert not Household.objects.exists()


def test_a_damaged_zip_file_is_told(household: Household) -> None:
    packed = bytearray(zip_of(household))
    packed[60:70] = b"damaged!!!"
    with pytest.raises(InputError, match="is damaged"):
        import_zip(io.BytesIO(bytes(packed)))


def test_a_name_that_fits_no_row_is_told(rich_folder: Path, db: None) -> None:
    change(rich_folder / "arrivals.yaml", ("note: ripe", "note: " + "very " * 60 + "ripe"))
    with pytest.raises(InputError, match=r"note .very very"):
        import_folder(rich_folder)
    assert not Household.objects.exists()


def test_no_zip_file_at_all(db: None) -> None:
    with pytest.raises(InputError, match="This is no zip file"):
        import_zip(io.BytesIO(b"not a zip"))


def test_pages_send_it_and_take_it(browser: Client, household: Household) -> None:
    answer = browser.get("/folder/export")
    assert answer["Content-Type"] == "application/zip"
    assert f"{household.today}.zip" in answer["Content-Disposition"]
    token = browser.get("/folder/import").content.decode().split('name="once" value="')[1].split('"')[0]
    sent = io.BytesIO(answer.content)
    sent.name = "home.zip"
    said = browser.post("/folder/import", {"folder": sent, "once": token})
    assert said.status_code == 302
    assert Household.objects.count() == 2


def test_the_invented_week_begins_today(household: Household) -> None:
    assert household.today == read_folder(DEMO).start
    expected = household.arrivals.filter(is_here=False)
    assert {arrival.day > household.today for arrival in expected} == {True}
    assert household.arrivals.filter(is_here=True, day=household.today).count() == 3


def test_what_is_past_its_clock_is_left_out_with_a_note(household: Household) -> None:
    later = household.today + timedelta(days=4)
    household.arrivals.update(is_here=True)
    folder = folder_of(household, start=later)
    assert "tomato" not in [arrival.food for arrival in folder.arrivals]
    assert any("tomatoes ran out of its clock" in note for note in folder.notes)


def test_without_an_altitude_nothing_is_planned(household: Household) -> None:
    household.altitude_m = None
    with pytest.raises(InputError, match="how high the kitchen lies"):
        folder_of(household)
