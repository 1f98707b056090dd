"""A kitchen of one's own in six steps, left and taken up again; and each list of the kitchen."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.http import HttpResponse
from django.test import Client

from stillroom.household.folder import warnings
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Canner, Household, Person, open_household

Press = Callable[..., HttpResponse]
PLACE = {"name": "Home", "units": "metric", "room_c": "18 °C", "plan_days": "5", "time_zone": "Australia/Hobart"}
EQUIPMENT = {
    "burners": "5",
    "small_burners": "2",
    "oven_trays": "3",
    "freezer_capacity_l": "220 L",
    "freezer_used_l": "7 cu ft",
    "fridge_free_l": "30 L",
    "dryer_trays": "0",
}
HOURS = {"monday": "17:00-20:00", "saturday": "9:00-12:00, 14:00-18:00"}


def test_it_works(browser: Client, press: Press) -> None:
    """From nothing to a first arrival that is planned with; the browser follows where it is led."""
    assert press("/kitchen/begin", {"name": "Home"}, again=True)["Location"] == "/kitchen/place"
    home = open_household()
    assert home.name == "Home"
    assert Household.objects.filter(name="Home").count() == 1
    assert press("/kitchen/place", PLACE | {"altitude_m": "690 m"})["Location"] == "/kitchen/people/"
    press("/kitchen/people/new", {"name": "Child", "age_years": "7", "appetite": "usual", "eats": "on"})
    assert browser.post("/kitchen/step", {"step": "people"})["Location"] == "/kitchen/canners/"
    canner = {"name": "big one", "kind": "dial gauge", "inside_diameter_mm": "12.5 in", "inside_height_mm": "265 mm"}
    press("/kitchen/canners/new", canner | {"gauge_error_psi": "1 psi low"})
    assert browser.post("/kitchen/step", {"step": "canners"})["Location"] == "/kitchen/equipment"
    assert press("/kitchen/equipment", EQUIPMENT)["Location"] == "/kitchen/jars"
    jars = {f"{size}_{what}": "0" for size in ("half-pint", "pint", "quart") for what in ("count", "lids")}
    assert press("/kitchen/jars", jars | {"pint_count": "24", "pint_lids": "20"})["Location"] == "/arrivals/"
    assert "Set-up, the last step" in browser.get("/arrivals/").content.decode()
    press("/arrivals/", {"line": "9 kg apples"})
    home.refresh_from_db()
    assert home.set_up_step == ""
    folder = folder_of(home)
    assert folder.kitchen.altitude_m == 690
    assert folder.kitchen.canners[0].gauge_error_psi == -1
    assert folder.kitchen.canners[0].inside_diameter_mm == pytest.approx(317.5)
    assert folder.kitchen.freezer.used_l == pytest.approx(7 * 28.316846592)  # 1 ft³ = 0.3048³ m³, exactly
    assert [(jar.name, jar.count, jar.lids) for jar in folder.kitchen.jars] == [("pint", 24, 20)]
    assert len(folder.household.eaters) == 2
    assert len(folder.household.meals) == 5
    assert any("no test on record" in caution for caution in warnings(folder))


def test_it_can_be_left_and_taken_up_again(browser: Client, press: Press) -> None:
    press("/kitchen/begin", {"name": "Home"})
    assert browser.get("/kitchen/set-up")["Location"] == "/kitchen/place"
    assert "nothing can be planned before the height is known" in browser.get("/arrivals/").content.decode()
    press("/kitchen/place", PLACE | {"altitude_m": "690 m"})
    assert browser.get("/kitchen/set-up")["Location"] == "/kitchen/people/"
    browser.post("/kitchen/step", {"step": "people"})
    browser.post("/kitchen/step", {"step": "people"})  # pressed twice: one step
    assert open_household().set_up_step == "canners"


def test_a_second_tap_that_comes_late_leads_to_the_same_step(browser: Client, press: Press) -> None:
    press("/kitchen/begin", {"name": "Ours"})
    shown = {"name": "Ours", "units": "metric", "room_c": "20 °C", "plan_days": "7", "time_zone": "Etc/UTC"}
    answer = press("/kitchen/place", shown | {"altitude_m": "690 m"}, again=True)
    assert (answer.status_code, answer["Location"]) == (302, "/kitchen/people/")


def test_no_step_leads_past_the_height(browser: Client, press: Press) -> None:
    press("/kitchen/begin", {"name": "Home"})
    answer = browser.post("/kitchen/step", {"step": "place"})
    assert answer.status_code == 400
    assert "how high the kitchen lies" in answer.content.decode()


def test_the_height_from_where_water_boils(press: Press) -> None:
    """Standard atmosphere: water boils at 96.65 °C at 1000 m (IF97); half a degree is added for caution."""
    press("/kitchen/begin", {"name": "Home"})
    press("/kitchen/place", PLACE | {"altitude_m": "", "boiling": "97.15 °C"})
    assert open_household().altitude_m == pytest.approx(1000, abs=10)


@pytest.mark.parametrize(
    "typed, sentence",
    [
        ({"altitude_m": "690"}, "with its unit"),
        ({"altitude_m": "2.500 m"}, "can be read in two ways"),
        ({"altitude_m": "8000 m"}, "Nobody keeps house"),
        ({"altitude_m": ""}, "Write how high the kitchen lies"),
        ({"altitude_m": "", "boiling": "70 °C"}, "Water does not boil"),
        ({"altitude_m": "", "boiling": "97"}, "where water boils"),
        ({"altitude_m": "690 m", "boiling": "97 °C"}, "not both"),
        ({"altitude_m": "690 m", "time_zone": "Moon/Far side"}, "is no time zone"),
        ({"altitude_m": "690 m", "room_c": "80 °C"}, "room temperature between 5 and 45"),
    ],
)
def test_a_wrong_place_is_told_beside_the_field(press: Press, typed: dict[str, str], sentence: str) -> None:
    press("/kitchen/begin", {"name": "Home"})
    answer = press("/kitchen/place", PLACE | typed)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert open_household().altitude_m is None


def test_what_is_only_looked_at_does_not_change(household: Household, press: Press) -> None:
    """690 m is shown as 2264 ft, and saving that as it stands must not make it 690.07 m."""
    household.units = "us"
    household.save()
    fields = {"name": household.name, "units": "us", "altitude_m": "2264 ft", "room_c": "64 °F", "plan_days": "7"}
    press("/kitchen/place", fields | {"time_zone": household.time_zone})
    household.refresh_from_db()
    assert (household.altitude_m, household.room_c) == (690, 18)


@pytest.mark.parametrize(
    "typed, sentence",
    [
        ({"gauge_error_psi": "0.5 psi"}, "too high or too low"),
        ({"kind": "weighted gauge", "gauge_error_psi": "0 psi"}, "has no dial to be wrong"),
        ({"inside_diameter_mm": "3 mm"}, "between 100 and 1000 mm"),
        ({"name": "Pressure Canner"}, "already"),
        ({"gauge_tested_on": "2031-01-01"}, "still to come"),
    ],
)
def test_a_wrong_canner(household: Household, press: Press, typed: dict[str, str], sentence: str) -> None:
    fields = {"name": "second", "kind": "dial gauge", "inside_diameter_mm": "318 mm", "inside_height_mm": "265 mm"}
    answer = press("/kitchen/canners/new", fields | typed)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert household.canners.count() == 2


def test_a_usual_canner_is_kept_as_it_is_shown(household: Household, press: Press) -> None:
    sizes = {"inside_diameter_mm": "330 mm", "inside_height_mm": "200 mm", "gauge_error_psi": ""}
    fields = {"name": "steam canner", "kind": "steam"} | sizes
    press("/kitchen/canners/new?usual=steam+canner", fields, again=True)
    assert Canner.objects.get(kind="steam").inside_height_mm == 200


@pytest.mark.parametrize(
    "typed, sentence",
    [
        ({"eats": "", "helps": ""}, "eats here, or helps"),
        ({"monday": "8-9"}, "can&#x27;t be read as hours"),
        ({"name": "Away Cook"}, "already"),
        ({"age_years": "old"}, "whole number"),
    ],
)
def test_a_wrong_person(household: Household, press: Press, typed: dict[str, str], sentence: str) -> None:
    cook = household.people.get(name="home cook")
    fields = {"name": "home cook", "appetite": "usual", "eats": "on", "helps": "on", **HOURS, **typed}
    answer = press(f"/kitchen/people/{cook.pk}", {key: value for key, value in fields.items() if value})
    assert answer.status_code == 422
    assert sentence in answer.content.decode()


def test_hours_of_a_person(household: Household, press: Press) -> None:
    cook = household.people.get(name="home cook")
    press(f"/kitchen/people/{cook.pk}", {"name": "cook", "appetite": "usual", "eats": "on", "helps": "on", **HOURS})
    monday = household.today + timedelta(days=3)
    person = next(person for person in folder_of(household).kitchen.people if person.name == "cook")
    assert [f"{span.start:%H:%M}" for span in person.presence if span.day == monday] == ["17:00"]
    assert [span for span in person.presence if span.day.weekday() == 1] == []


def test_a_child_never_counts_as_an_adult(household: Household, press: Press) -> None:
    """A helper of nine, with no tick at "as a child": no blade, heat or raw meat all the same."""
    typed = {
        "name": "Robin",
        "age_years": "9",
        "appetite": "usual",
        "eats": "on",
        "helps": "on",
        "friday": "16:00-18:00",
    }
    press("/kitchen/people/new", typed)
    row = household.people.get(name="Robin")
    assert row.is_child
    assert next(one for one in folder_of(household).kitchen.people if one.name == "Robin").is_child
    household.people.filter(pk=row.pk).update(is_child=False)  # as an older version kept it
    assert next(one for one in folder_of(household).kitchen.people if one.name == "Robin").is_child


def test_single_days_appointments_and_work_left_to_others(household: Household, press: Press) -> None:
    cook = household.people.get(name="home cook")
    fields = {"name": "home cook", "appetite": "usual", "eats": "on", "helps": "on", "monday": "8:00-12:00"}
    rarer = {
        "exceptions": "2027-04-12: 9:00-11:00\n2027-04-13: 7:00-8:00",
        "appointments": "2027-04-12 9:30-10:00 dentist",
        "leaves": ["jar"],
    }
    press(f"/kitchen/people/{cook.pk}", fields | rarer)
    person = next(person for person in folder_of(household).kitchen.people if person.name == "home cook")
    spans = [(span.day.day, f"{span.start:%H:%M}-{span.end:%H:%M}") for span in person.presence]
    assert spans == [(12, "09:00-09:30"), (12, "10:00-11:00"), (13, "07:00-08:00")]
    assert person.leaves == {"jar"}
    for wrong in ({"exceptions": "monday: none"}, {"appointments": "dentist at ten"}):
        answer = press(f"/kitchen/people/{cook.pk}", fields | rarer | wrong)
        assert answer.status_code == 422
        assert "can&#x27;t be read" in answer.content.decode()


def test_somebody_has_to_eat_and_to_work(household: Household, press: Press) -> None:
    household.people.exclude(name="home cook").delete()
    cook: Person = household.people.get()
    answer = press(f"/kitchen/people/{cook.pk}/remove", {}, page=f"/kitchen/people/{cook.pk}")
    assert answer.status_code == 400
    assert "the last one who eats or works here" in answer.content.decode()


def test_meals(household: Household, press: Press) -> None:
    fields = {"name": "supper", "days": ["monday", "friday"], "at": "20:15", "roles": ["main"], "eaters": []}
    press("/kitchen/meals/new", fields)
    meals = [meal for meal in folder_of(household).household.meals if meal.name == "supper"]
    assert [f"{meal.day:%a} {meal.at:%H:%M}" for meal in meals] == ["Fri 20:15", "Mon 20:15"]
    answer = press("/kitchen/meals/new", fields | {"name": "Supper", "days": ["friday"]})
    assert "There is a supper on Friday already" in answer.content.decode()


def test_jars_of_another_size(household: Household, press: Press) -> None:
    fields = {"kind": "720 ml", "count": "10", "lids": "10", "diameter_mm": "", "height_mm": ""}
    page = "/kitchen/other-jars/new"
    assert "No outside size is published" in press(page, fields).content.decode()
    wrong = press(page, fields | {"diameter_mm": "20 mm", "height_mm": "20 mm"})
    assert "can&#x27;t hold 720 ml" in wrong.content.decode()
    measured = fields | {"diameter_mm": "100 mm", "height_mm": "130 mm"}
    press(page, measured)
    assert household.jars.get(kind="720 ml").diameter_mm == 100
    assert "already" in press(page, measured | {"kind": "0.72 l"}).content.decode()
    assert "is not a jar" in press(page, measured | {"kind": "bucket"}).content.decode()


def test_pantry_targets_and_dislikes(household: Household, press: Press) -> None:
    press("/kitchen/pantry/new", {"food": "rolled oats", "mass_g": "2 lb"})
    assert household.pantry.get(food__startswith="oat").mass_g == pytest.approx(907.18474)
    assert "already" in press("/kitchen/pantry/new", {"food": "salt", "mass_g": "1 kg"}).content.decode()
    assert "already" in press("/kitchen/targets/new", {"food": "tomato", "mass_g": "1 kg"}).content.decode()
    press("/kitchen/dislikes", {"dislikes": "chicken liver, kale"})
    household.refresh_from_db()
    assert household.dislikes == ["chicken liver", "kale"]
    answer = press("/kitchen/dislikes", {"dislikes": "gruesel"})
    assert answer.status_code == 422
    assert 'value="gruesel"' in answer.content.decode()


def test_taking_out_and_taking_back(household: Household, browser: Client, press: Press) -> None:
    pot = household.canners.get(kind="boiling water")
    press(f"/kitchen/canners/{pot.pk}/remove", {}, page=f"/kitchen/canners/{pot.pk}", again=True)
    assert not household.canners.filter(pk=pot.pk).exists()
    text = browser.get("/kitchen/canners/").content.decode()
    address = text.split('action="/frame/undo/')[1].split('"')[0]
    browser.post(f"/frame/undo/{address}")
    assert household.canners.get(pk=pot.pk).name == pot.name


def test_another_household_can_be_opened_again(household: Household, browser: Client, press: Press) -> None:
    press("/kitchen/begin", {"name": "Home"})
    browser.post(f"/kitchen/open/{household.pk}")
    assert open_household() == household


def test_no_two_households_share_a_name(household: Household, press: Press) -> None:
    press("/kitchen/begin", {"name": household.name.upper()})
    begun = Household.objects.exclude(pk=household.pk).get()
    assert begun.name == f"{household.name.upper()} 2"
    fields = {"name": household.name, "units": "metric", "altitude_m": "10 m", "boiling": "", "room_c": "20 °C"}
    text = press("/kitchen/place", fields | {"plan_days": "7", "time_zone": "UTC"}).content.decode()
    assert "already: give this one its own name" in text


def test_a_usual_canner_begins_with_a_common_size_that_is_not_called_measured(browser: Client) -> None:
    text = browser.get("/kitchen/canners/new?usual=boiling-water%20pot").content.decode()
    assert text.count("A common size of such a pot, not yours: measure it") == 2
    assert ", measured." not in text
    assert "Measure it:" in browser.get("/kitchen/canners/new").content.decode()
    assert "a common size, to be measured" in browser.get("/kitchen/canners/").content.decode()
