"""What a plan put up goes into the larder by one tap, with its food, jars and lids; a jar only with its whole process.

The limits are those of the rules named: R021 (12 to 24 h undisturbed), R023 and R025 (24 h for a jar that did not
seal), R024 (two hours when the process itself was wrong), read in tables/data/rules.csv with their sources.
"""

from collections.abc import Callable
from datetime import date, datetime, timedelta

import pytest
from django.http import HttpResponse
from django.test import Client
from put_up_parts import COLD, KEPT, OUT, UNLOAD, beans_left_g, offered, pints
from test_said_of_tasks import aware, current, now_is

from stillroom.errors import InputError
from stillroom.model.plan import Made, PlannedRun, Sheet, TakenFood
from stillroom.model.recipe import Product, Recipe, Use
from stillroom.recipes.reader import all_recipes
from stillroom.web.day import put_up, task_actions
from stillroom.web.day.changed import changed_since
from stillroom.web.day.models import MadePlan
from stillroom.web.exchange.folder import folder_of
from stillroom.web.frame.models import Change
from stillroom.web.frame.undo import undo
from stillroom.web.kitchen.models import Household, JarStock
from stillroom.web.larder import put_up_actions as actions
from stillroom.web.larder.models import Lot, PutUp

Press = Callable[..., HttpResponse]


def test_it_works(beans: PutUp, browser: Client, press: Press, monkeypatch: pytest.MonkeyPatch) -> None:
    household = beans.household
    before, (jars, lids) = beans_left_g(household), pints(household)
    assert "1 thing made and not put up yet" in browser.get("/split/").content.decode()
    for page in ("/", "/larder/"):
        text = browser.get(page).content.decode()
        assert "12 pint jars" in text
        assert f"Did {beans.process}, run in full?" in text
    press(f"/larder/put-up/{beans.pk}/out", KEPT, page="/larder/", again=True)
    assert before - beans_left_g(household) == pytest.approx(10886.2 / 2, abs=1)  # one of two loads
    assert pints(household) == (jars - 12, lids - 12)
    assert "not put up yet" not in browser.get("/split/").content.decode()
    assert not household.lots.filter(food="green bean", made_on=OUT.date()).exists()  # nobody looked at the lids yet
    assert "look at the lids from Saturday 06:20 on" in browser.get("/larder/").content.decode()
    now_is(monkeypatch, COLD)
    press(f"/larder/put-up/{beans.pk}/lids", {"sealed": "12", "fate": ""}, page="/", again=True)
    lot = household.lots.get(product="Green beans in jars")
    assert (lot.amount, lot.place, f"{lot.made_on}") == ("12 pint jars of 450 g", "shelf", "2027-04-09")
    assert lot.best_by == lot.made_on + timedelta(days=365)  # the recipe: any home canned food, best within a year
    assert "to put into the larder" not in browser.get("/").content.decode()


def test_what_is_put_up_is_not_planned_again(beans: PutUp, monkeypatch: pytest.MonkeyPatch) -> None:
    household = beans.household
    before = {arrival.key: arrival.mass_g for arrival in folder_of(household).arrivals}
    actions.out_of_canner(beans, 12, now=aware(OUT), at=aware(OUT))
    after = {arrival.key: arrival.mass_g for arrival in folder_of(household).arrivals}
    assert before["green bean 2027-04-09"] - after["green bean 2027-04-09"] == pytest.approx(5443, abs=1)
    assert {jar.name: jar.count for jar in folder_of(household).kitchen.jars}["pint"] == pints(household)[0]


def test_what_went_as_planned_is_no_change_of_the_household(beans: PutUp, made: MadePlan) -> None:
    before = changed_since(current(made), made.household)
    actions.out_of_canner(beans, 12, now=aware(OUT), at=current(made).row.made_at + timedelta(hours=1))
    assert changed_since(current(made), made.household) == before
    made.household.jars.filter(kind="quart").update(count=1)
    assert changed_since(current(made), made.household) == (*before, "the empty jars or their lids changed")


def test_taken_back_everything_is_as_it_was(beans: PutUp, press: Press) -> None:
    household = beans.household
    before = beans_left_g(household), pints(household)
    press(f"/larder/put-up/{beans.pk}/out", KEPT, page="/larder/")
    household.jars.filter(kind="pint").update(count=5)  # somebody counts them meanwhile
    undo(Change.objects.first(), at=aware(OUT))
    assert (beans_left_g(household), pints(household)) == (before[0], (17, before[1][1]))
    beans.refresh_from_db()
    assert (beans.used_at, beans.stores) == (None, [])


def test_the_lids_are_not_looked_at_before_twelve_hours(
    beans: PutUp, press: Press, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Rule R021: 12 to 24 h, undisturbed."""
    actions.out_of_canner(beans, 12, now=aware(OUT), at=aware(OUT))
    early = OUT + timedelta(hours=11, minutes=59)
    with pytest.raises(InputError, match="from Saturday 06:20 on"):
        actions.look_at_lids(beans, 12, None, now=aware(early), at=aware(early))
    now_is(monkeypatch, early)
    page = f"/larder/put-up/{beans.pk}"
    assert press(f"{page}/lids", {"sealed": "12", "fate": ""}, page="/larder/add").status_code == 422
    assert beans.household.lots.filter(made_on=OUT.date()).count() == 0


@pytest.mark.parametrize("wrong", ["time_kept", "hold_kept"])
def test_a_jar_without_its_process_never_stands_on_the_shelf(beans: PutUp, press: Press, wrong: str) -> None:
    page, sent = f"/larder/put-up/{beans.pk}", KEPT | {wrong: "no"}
    answer = press(f"{page}/out", sent, page=page)
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "say what became of them" in text
    assert "Within two hours of the end" in text  # R024
    assert "throw it out, untasted" in text
    assert press(f"{page}/out", sent | {"fate": "thrown out"}, page=page).status_code == 302
    beans.refresh_from_db()
    assert beans.ended_at is not None
    assert beans.lots == []
    assert beans_left_g(beans.household) < 13_000  # the food is gone all the same


def test_an_answer_left_out_is_asked_for(beans: PutUp, press: Press) -> None:
    page = f"/larder/put-up/{beans.pk}"
    for missing in ("time_kept", "hold_kept", "jars"):
        sent = {name: value for name, value in KEPT.items() if name != missing}
        assert press(f"{page}/out", sent, page=page).status_code == 422
    beans.refresh_from_db()
    assert beans.used_at is None


@pytest.mark.parametrize("jars", ["0", "-3", "99", "x", "1.5", "9" * 40, ""])
def test_no_more_jars_than_a_load_holds(beans: PutUp, press: Press, jars: str) -> None:
    page = f"/larder/put-up/{beans.pk}"
    answer = press(f"{page}/out", KEPT | {"jars": jars}, page=page)
    assert answer.status_code == 422
    beans.refresh_from_db()
    assert beans.used_at is None


@pytest.mark.parametrize("fate, place, days", [("fridge", "fridge", 4), ("freezer", "freezer", 90)])
def test_unprocessed_jars_may_be_eaten_up(
    beans: PutUp, press: Press, fate: str, place: str, days: int, browser: Client
) -> None:
    """R024 and R027; in the fridge no longer than cooked food keeps (FSIS: three to four days)."""
    page = f"/larder/put-up/{beans.pk}"
    press(f"{page}/out", KEPT | {"hold_kept": "no", "fate": fate, "jars": "10"}, page=page)
    lot = beans.household.lots.get(product="Green beans in jars, to eat up")
    assert (lot.place, lot.count, lot.container) == (place, 10, "pint jar")
    assert (lot.best_by - lot.made_on).days <= days
    assert folder_of(beans.household).larder  # and the planner can read it


def test_done_again_in_full_cools_anew_and_takes_new_lids(beans: PutUp, press: Press) -> None:
    page, (jars, _) = f"/larder/put-up/{beans.pk}", pints(beans.household)
    beans.household.jars.filter(kind="pint").update(lids=40)
    press(f"{page}/out", KEPT | {"time_kept": "no", "fate": "again"}, page=page)
    beans.refresh_from_db()
    assert beans.ended_at is None
    assert beans.used_at is not None
    assert pints(beans.household) == (jars - 12, 40 - 24)  # R023: new lids


def test_what_is_packed_raw_is_not_done_again_as_it_is(beans: PutUp, press: Press) -> None:
    """R023: no hot-pack schedule: freeze or refrigerate instead."""
    beans.pack = "raw"
    beans.save()
    page = f"/larder/put-up/{beans.pk}"
    assert press(f"{page}/out", KEPT | {"time_kept": "no", "fate": "again"}, page=page).status_code == 422


def test_of_jars_that_did_not_seal_only_the_others_are_kept(
    beans: PutUp, press: Press, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = f"/larder/put-up/{beans.pk}"
    press(f"{page}/out", KEPT, page=page)
    now_is(monkeypatch, COLD)
    answer = press(f"{page}/lids", {"sealed": "10", "fate": ""}, page=page)
    assert answer.status_code == 422
    assert "Within 24 hours of the canner (Saturday 18:20)" in answer.content.decode()
    press(f"{page}/lids", {"sealed": "10", "fate": "again"}, page=page, again=True)
    assert beans.household.lots.get(product="Green beans in jars").count == 10
    again = beans.household.put_ups.get(ended_at=None)
    assert (again.jars, again.taken, again.looked_at_from) == (2, [], aware(COLD + timedelta(hours=12)))
    actions.look_at_lids(again, 2, None, now=aware(COLD + timedelta(hours=13)), at=aware(COLD))
    assert sum(lot.count for lot in Lot.objects.filter(product="Green beans in jars")) == 12


def test_more_sealed_than_there_are_is_refused(beans: PutUp, press: Press, monkeypatch: pytest.MonkeyPatch) -> None:
    page = f"/larder/put-up/{beans.pk}"
    press(f"{page}/out", KEPT, page=page)
    now_is(monkeypatch, COLD)
    assert press(f"{page}/lids", {"sealed": "13", "fate": ""}, page=page).status_code == 422
    assert press(f"{page}/lids", {"sealed": "0", "fate": "thrown out"}, page=page).status_code == 302
    assert not beans.household.lots.filter(made_on=OUT.date()).exists()


def test_two_people_tap_and_it_comes_once(beans: PutUp, press: Press) -> None:
    page = f"/larder/put-up/{beans.pk}"
    for form in (page, "/larder/add"):  # two forms, each with a token of its own
        assert press(f"{page}/out", KEPT, page=form).status_code == 302
    assert beans.household.arrivals.get(food="green bean").taken.count() == 1


def test_a_task_that_is_not_done_after_all_offers_nothing(beans: PutUp, made: MadePlan) -> None:
    task_actions.reopen(current(made), UNLOAD, at=aware(OUT))
    assert not made.household.put_ups.exists()
    task_actions.finish(current(made), UNLOAD, at=aware(OUT))
    actions.out_of_canner(made.household.put_ups.get(), 12, now=aware(OUT), at=aware(OUT))
    task_actions.reopen(current(made), UNLOAD, at=aware(OUT))
    assert made.household.put_ups.count() == 1  # what was put up stays: it has an undo of its own


def test_a_step_in_the_middle_and_a_dish_offer_nothing(made: MadePlan) -> None:
    for key in (UNLOAD.replace("unload", "fill"), "buttered_vegetables/dinner@0:cook"):
        task_actions.finish(current(made), key, at=aware(OUT))
    assert not made.household.put_ups.exists()


def test_an_offer_outlives_its_plan(beans: PutUp, made: MadePlan) -> None:
    made.delete()
    assert actions.out_of_canner(beans, 12, now=aware(OUT), at=aware(OUT)) is not None


def test_a_jar_that_is_eaten_comes_back_empty(household: Household, press: Press) -> None:
    lot, row = household.lots.get(product="green beans in jars"), household.jars.get(kind="quart")
    JarStock.objects.filter(pk=row.pk).update(count=2, lids=3, has_reusable_lids=True)
    for why, now in (("eaten", (3, 4)), ("given away", (3, 4)), ("thrown out", (3, 4)), ("eaten", (4, 5))):
        press(f"/larder/{lot.pk}/out", {"part": "1", "why": why}, page=f"/larder/{lot.pk}")
        row.refresh_from_db()
        assert (row.count, row.lids) == now, why
    undo(Change.objects.first(), at=household.now())
    row.refresh_from_db()
    assert (row.count, row.lids) == (3, 4)


def test_jars_of_two_lots_can_be_taken_back_in_any_order(household: Household, press: Press) -> None:
    """Both change the same count of empty jars, and neither stands in the way of the other."""
    one, other = household.lots.filter(container="quart jar")[:2]
    row = household.jars.get(kind="quart")
    for lot in (one, other):
        press(f"/larder/{lot.pk}/out", {"part": "1", "why": "eaten"}, page=f"/larder/{lot.pk}")
    first = Change.objects.last()
    undo(first, at=household.now())
    assert household.jars.get(kind="quart").count == row.count + 1


def test_packs_by_one_tap(household: Household, press: Press, monkeypatch: pytest.MonkeyPatch) -> None:
    now_is(monkeypatch, OUT)
    arrival = household.arrivals.get(food="apple")
    row = offered(household, taken=[{"food": "apple, fresh", "mass_g": 4000.0, "origin": arrival.key}])
    press(f"/larder/put-up/{row.pk}/keep", {"amount_0": "4 freezer packs of 600 g"}, page="/", again=True)
    lot = household.lots.get(product="Plums, frozen")
    assert (lot.amount, lot.best_by) == ("4 freezer packs of 600 g", OUT.date() + timedelta(days=300))
    assert arrival.mass_g - household.arrivals.get(food="apple").left_g == 4000
    undo(Change.objects.first(), at=aware(OUT))
    assert household.arrivals.get(food="apple").left_g == arrival.mass_g
    assert not household.lots.filter(product="Plums, frozen").exists()


def test_a_slip_is_struck_out_and_uses_nothing(household: Household, press: Press) -> None:
    row = offered(household)
    for _ in range(2):
        assert press(f"/larder/put-up/{row.pk}/remove", {}, page="/larder/").status_code == (404 if _ else 302)
    undo(Change.objects.first(), at=aware(OUT))
    row = household.put_ups.get()
    actions.keep_made(row, [actions.Bundle(1, "", 900.0)], now=aware(OUT), at=aware(OUT))
    with pytest.raises(InputError, match="put up already"):
        actions.strike_out(row, at=aware(OUT))


@pytest.mark.parametrize("amount", ["many", "-1 kg", "0 freezer packs of 1 kg", "1,200 g", "x" * 200])
def test_an_amount_of_no_sense_keeps_nothing(household: Household, press: Press, amount: str) -> None:
    row = offered(household)
    answer = press(f"/larder/put-up/{row.pk}/keep", {"amount_0": amount}, page=f"/larder/put-up/{row.pk}")
    assert answer.status_code == 422
    assert 'class="wrong"' in answer.content.decode()
    row.refresh_from_db()
    assert row.used_at is None


def test_nothing_of_it_left_uses_the_food_and_makes_no_lot(household: Household) -> None:
    row = offered(household, taken=[{"food": "apple, fresh", "mass_g": 900.0, "origin": "nowhere"}])
    change = actions.keep_made(row, [actions.Bundle(1, "", 0.0)], now=aware(OUT), at=aware(OUT))
    assert change is not None
    assert "nothing of it is left" in change.said
    assert row.lots == []


def test_a_cure_stands_first_and_is_in_store_when_it_is_ready(
    household: Household, press: Press, browser: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    line = {"product": "Bacon, dry-cured", "food": "bacon", "place": "fridge", "container": "", "count": 1}
    ready = OUT + timedelta(days=10)
    row = offered(household, name="Bacon", made=[line | {"mass_g": 1900.0, "keeps_days": 7}], ready_on=ready.date())
    now_is(monkeypatch, OUT)
    press(f"/larder/put-up/{row.pk}/keep", {"amount_0": "1.9 kg"}, page="/larder/", again=True)
    assert not household.lots.filter(food="bacon").exists()
    assert "ready Mon 19 Apr" in browser.get("/larder/").content.decode()
    now_is(monkeypatch, ready)
    press(f"/larder/put-up/{row.pk}/keep", {"amount_0": "1.8 kg"}, page="/larder/")
    lot = household.lots.get(food="bacon")
    assert (lot.mass_g, lot.made_on, lot.best_by) == (1800, ready.date(), ready.date() + timedelta(days=7))


def test_parts_of_a_carcass_feed_what_is_made_of_them(household: Household) -> None:
    """The cut is put up, then jars take from its shoulder; what was taken before is not counted as in store."""
    line = {"place": "fridge", "container": "", "count": 1, "keeps_days": 3}
    cut = offered(
        household,
        key="7:pig@0",
        run="7:pig@0",
        name="Half a pig, cut up",
        made=[
            line | {"product": "Pork shoulder, boned", "food": "pork shoulder", "mass_g": 6000.0},
            line | {"product": "Pork belly", "food": "pork belly", "mass_g": 4000.0},
        ],
    )
    early = [{"food": "pork belly, fresh", "mass_g": 1500.0, "origin": "pig@0"}]
    offered(household, key="7:salt@0", run="7:salt@0", taken=early, used_at=aware(OUT))
    amounts = [actions.Bundle(1, "", 6000.0), actions.Bundle(1, "", 4000.0)]
    actions.keep_made(cut, amounts, now=aware(OUT), at=aware(OUT))
    found = {lot.food: lot.mass_g for lot in household.lots.filter(key__in=cut.lots)}
    assert found == {"pork shoulder": 6000, "pork belly": 2500}
    later = [{"food": "pork shoulder, fresh", "mass_g": 2000.0, "origin": "pig@0"}]
    jars = offered(household, key="7:jars@1", run="7:jars@1", taken=later)
    actions.keep_made(jars, [actions.Bundle(2, "freezer pack", 1800.0)], now=aware(OUT), at=aware(OUT))
    assert household.lots.get(food="pork shoulder", key__in=cut.lots).mass_g == 4000


def as_planned(product: Product, day: date, *, jars: int) -> Made:
    """What two units of a product are in a plan."""
    ready_on = day + timedelta(days=product.ready_day)
    best_by = ready_on + timedelta(days=product.keeps_days)
    mass_g = 2 * product.mass_g_per_unit
    return Made(product.name, product.container, product.place, mass_g, jars or None, ready_on, best_by)


PUT_BY = [recipe for recipe in all_recipes() if recipe.use not in (Use.EAT_NOW, Use.BAKE)]


@pytest.mark.parametrize("recipe", PUT_BY, ids=lambda recipe: recipe.key)
def test_every_recipe_that_puts_something_by_makes_lots_that_can_be_planned_with(
    household: Household, recipe: Recipe
) -> None:
    """None is past what is published as safe, and the reader of a household folder takes all of them."""
    jars = 7 if recipe.use is Use.JAR else 0
    made_of = next((one.foods[0] for one in recipe.ingredients if one.main), "")
    run = PlannedRun(
        key="x@0",
        recipe=recipe.key,
        name=recipe.name,
        use=recipe.use,
        day=OUT.date(),
        units=2.0,
        unit=recipe.unit,
        taken=(TakenFood(f"{made_of}, fresh", 1000.0, "x"),) if made_of else (),
        made=tuple(as_planned(product, OUT.date(), jars=jars) for product in recipe.products),
        sheets=(Sheet(1, 2.0, jars, ()),),
        cautions=(),
        reasons=(),
        jar="300 ml" if jars else "",
        jars=jars,
        loads=1 if jars else 0,
    )
    lines = put_up.lines_of(recipe, run, "x@0")
    row = offered(household, made=lines, ready_on=max(made.ready_on for made in run.made))
    if jars:
        row.jar, row.jars, row.most_jars = run.jar, jars, jars
        actions.out_of_canner(row, jars, now=aware(OUT), at=aware(OUT))
        actions.look_at_lids(row, jars, None, now=row.looked_at_from, at=row.looked_at_from)
    else:
        bundles = [actions.Bundle(line["count"], line["container"], line["mass_g"]) for line in lines]
        ready = aware(datetime.combine(max(row.ready_on, OUT.date()), OUT.time()))
        actions.keep_made(row, bundles, now=aware(OUT), at=aware(OUT))
        actions.keep_made(row, bundles, now=ready, at=ready)
    assert row.ended_at is not None
    assert len(row.lots) == len(recipe.products)
    read = {lot.key: lot for lot in folder_of(household, start=row.made_on).larder}
    assert {read[key].product for key in row.lots} == {product.name for product in recipe.products}
    assert sum(read[key].mass_g for key in row.lots) == pytest.approx(sum(made.mass_g for made in run.made), abs=2)


def test_a_strike_out_is_not_taken_back_beside_a_new_offer(beans: PutUp, made: MadePlan, press: Press) -> None:
    actions.strike_out(beans, at=aware(OUT))
    change = Change.objects.get()
    task_actions.reopen(current(made), UNLOAD, at=aware(OUT))
    task_actions.finish(current(made), UNLOAD, at=aware(OUT))
    answer = press(f"/frame/undo/{change.pk}", {}, page="/larder/")
    assert 400 <= answer.status_code < 500
    assert "can&#x27;t be taken back" in answer.content.decode()
    change.refresh_from_db()
    assert (change.undone_at, made.household.put_ups.count()) == (None, 1)


def test_what_was_used_before_is_borne_by_all_batches(household: Household) -> None:
    """2.5 kg taken, of which the first kilogram kept bears one and the second the rest: 2.5 of 4 kg are gone."""
    line = {"product": "Pork belly", "food": "pork belly", "place": "fridge", "container": "", "count": 1}
    made = [line | {"keeps_days": 3, "mass_g": 1000.0}]
    rows = [offered(household, key=f"7:pig@0#{n}", run="7:pig@0", made=made) for n in range(4)]
    early = [{"food": "pork belly, fresh", "mass_g": 2500.0, "origin": "pig@0"}]
    offered(household, key="7:salt@0", run="7:salt@0", taken=early, used_at=aware(OUT))
    for minute, row in enumerate(rows):
        at = aware(OUT + timedelta(minutes=minute))
        actions.keep_made(row, [actions.Bundle(1, "", 1000.0)], now=at, at=at)
    kept = [household.lots.filter(key__in=row.lots).first() for row in rows]
    assert [lot.mass_g if lot else 0 for lot in kept] == [0, 0, 500, 1000]
