"""The page of the split: asked for by one tap, told in words, right in its sums."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone
from django.utils.html import escape

from stillroom.planning.kept_plan import read_plan
from stillroom.web.day.current import ago
from stillroom.web.day.models import MadePlan, PlanJob
from stillroom.web.day.split_page import Split
from stillroom.web.kitchen.models import Household


def page(browser: Client, address: str = "/split/") -> str:
    answer = browser.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


def test_it_works(made: MadePlan, browser: Client) -> None:
    text = page(browser)
    assert "made 10 minutes ago from 2 arrivals" in text
    assert "Since then" not in text
    assert "tomatoes" in text.lower()
    assert "Freezer" in text


def test_every_gram_of_an_arrival_is_shown(made: MadePlan) -> None:
    kept = read_plan(made.kept)
    for lump in Split(kept, {}).arrivals():
        assert sum(part.mass_g for part in lump.parts) == pytest.approx(lump.mass_g, abs=60)  # crumbs are not told
        assert [leaf.number for leaf in lump.leaves] == list(range(1, len(lump.leaves) + 1))


def test_each_part_tells_the_next_best_in_the_words_of_the_command(made: MadePlan, browser: Client) -> None:
    plan = read_plan(made.kept).worked_out.plan
    shown = page(browser)
    told = [run.next_best for run in plan.runs if run.taken]
    told += [part.next_best for part in plan.left if part.is_given_away]
    assert told
    for best in told:
        assert best is not None
        assert escape(best.words[0].upper() + best.words[1:]) in shown


def test_loads_hold_all_jars_of_a_run(made: MadePlan) -> None:
    kept = read_plan(made.kept)
    parts = [part for lump in Split(kept, {}).arrivals() for part in lump.leaves if part.loads]
    assert parts
    for part in parts:
        assert part.run is not None
        assert sum(load.filled for load in part.loads) == part.run.jars
        assert len(part.loads) == part.run.loads
        assert all(load.filled <= load.places for load in part.loads)


def test_one_tap_asks_for_a_plan_and_two_taps_for_one(small: Household, press: object) -> None:
    answer = press("/split/plan", {"seconds": "12"}, page="/split/", again=True)  # type: ignore[operator]
    assert answer["Location"] == "/split/"
    assert PlanJob.objects.count() == 1


def test_another_length_of_time_is_refused(small: Household, press: object) -> None:
    answer = press("/split/plan", {"seconds": "100000"}, page="/split/")  # type: ignore[operator]
    assert answer.status_code == 400
    assert not PlanJob.objects.exists()


def test_the_wait_works_without_scripts(small: Household, browser: Client) -> None:
    job = PlanJob.objects.create(household=small, asked_at=timezone.now(), seconds=7)
    text = page(browser)
    assert '<noscript><meta http-equiv="refresh" content="2"></noscript>' in text
    assert "A plan waits for its turn" in text
    assert browser.get(f"/split/job/{job.pk}")["Location"] == "/split/"


def test_the_wait_asks_again_and_goes_to_the_plan_when_it_is_over(small: Household, browser: Client) -> None:
    job = PlanJob.objects.create(
        household=small, asked_at=timezone.now(), seconds=7, lines=["a plan is there: 3 kg", *"bcdef"]
    )
    PlanJob.objects.update(state="running", begun_at=timezone.now())
    answer = browser.get(f"/split/job/{job.pk}", headers={"HX-Request": "true"})
    text = answer.content.decode()
    assert "<strong>A plan is there: 3 kg.</strong>" in text
    assert "<li>F</li>" in text
    PlanJob.objects.update(state="done")
    answer = browser.get(f"/split/job/{job.pk}", headers={"HX-Request": "true"})
    assert answer["HX-Redirect"] == "/split/"


def test_what_changed_since_is_counted(made: MadePlan, browser: Client) -> None:
    made.household.arrivals.update(mass_g=5000)
    assert "Since then 2 arrivals have changed: plan again" in page(browser)
    made.household.burners = 3
    made.household.save()
    assert "the kitchen or its people’s hours changed" in page(browser)


def test_a_plan_that_ran_out_says_so(made: MadePlan, browser: Client) -> None:
    Household.objects.update(minutes_ahead=made.household.minutes_ahead + 2 * 24 * 60)
    assert "The last day of this plan was" in page(browser)


def test_a_plan_of_another_version_is_no_plan(made: MadePlan, browser: Client) -> None:
    MadePlan.objects.update(kept=made.kept.replace('"version":1', '"version":0'))
    assert "No plan yet" in page(browser)


def test_each_run_has_a_page_with_its_card(made: MadePlan, browser: Client) -> None:
    plan = read_plan(made.kept).worked_out.plan
    jarred = [run for run in plan.runs if run.card]
    assert jarred
    text = page(browser, f"/split/run/{jarred[0].key.replace(' ', '%20')}")
    assert f"{jarred[0].card.minutes} min" in text  # type: ignore[union-attr]
    assert jarred[0].card.row.guide_table in text  # type: ignore[union-attr]
    assert browser.get("/split/run/no@1").status_code == 404


@pytest.mark.parametrize(
    "seconds, words",
    [
        (0, "just now"),
        (59, "just now"),
        (60, "1 minute ago"),
        (7199, "1 hour ago"),
        (7200, "2 hours ago"),
        (2 * 86400, "2 days ago"),
    ],
)
def test_how_long_ago(seconds: int, words: str) -> None:
    now = timezone.now()
    assert ago(now - timedelta(seconds=seconds), now) == words


def test_what_the_models_advise_is_on_the_page_of_the_run(made: MadePlan, browser: Client) -> None:
    """How to cool, freeze, dry or let rise what the run handles, word for word."""
    advised = [run for run in read_plan(made.kept).worked_out.plan.runs if run.advice]
    assert advised
    for run in advised[:3]:
        text = page(browser, f"/split/run/{run.key.replace(' ', '%20')}")
        assert all(escape(words) in text for words in run.advice)
