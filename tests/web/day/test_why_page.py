"""The question of a cook: why not this recipe on that day."""

from django.test import Client

from stillroom.planning.kept_plan import read_plan
from stillroom.web.day.models import MadePlan


def ask(browser: Client, recipe: str, day: str = "") -> str:
    return browser.get("/split/why", {"recipe": recipe, "day": day}).content.decode()


def test_it_works(made: MadePlan, browser: Client) -> None:
    """What is in the plan is said to be; another thing gets a reason."""
    run = next(run for run in read_plan(made.kept).worked_out.plan.runs if run.jars)
    assert "It is in the plan." in ask(browser, run.name, run.day.isoformat())
    text = ask(browser, "Apple slices in jars", run.day.isoformat())
    assert 'id="answer"' in text
    assert "It is in the plan." not in text


def test_the_form_alone(made: MadePlan, browser: Client) -> None:
    text = browser.get("/split/why").content.decode()
    assert "<datalist" in text
    assert 'id="answer"' not in text


def test_what_can_not_be_read_is_told_beside_it(made: MadePlan, browser: Client) -> None:
    answer = browser.get("/split/why", {"recipe": "moon cheese"})
    assert answer.status_code == 422
    assert "There is no one recipe" in answer.content.decode()
    assert browser.get("/split/why", {"recipe": "Salad", "day": "2031-01-01"}).status_code == 422


def test_without_a_plan(browser: Client) -> None:
    assert "Make one on the page of the split" in browser.get("/split/why").content.decode()
