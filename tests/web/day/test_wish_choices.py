"""What may be wished of a food is what the planner knows a way to do; why not the rest stands beside it."""

import html
import re
from collections.abc import Callable
from typing import Any
from urllib.parse import quote

from django.test import Client
from django.utils import timezone

from stillroom.model.recipe import Use
from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.pipeline import work_out
from stillroom.web.day.models import MadePlan, Wish
from stillroom.web.exchange.folder import folder_of
from stillroom.web.kitchen.models import Household

Press = Callable[..., Any]


def page(browser: Client, food: str) -> str:
    return html.unescape(browser.get(f"/split/food/{quote(food)}").content.decode())


def offered(text: str) -> set[str]:
    return set(re.findall(r'<option value="([^"]+)"', text))


def planned(household: Household, name: str, days: int = 2) -> MadePlan:
    """Only this food of the demo, with a short search: what may be done with it matters, not what is."""
    household.arrivals.exclude(name=name).delete()
    household.arrivals.update(day=household.today, is_here=True)
    household.plan_days = days
    household.save()
    folder = folder_of(household)
    found = work_out(folder, days=days, seconds=1.0, progress=lambda _: None, is_explained=False)
    kept = KeptPlan(folder=folder, worked_out=found).as_text()
    return MadePlan.objects.create(household=household, made_at=timezone.now(), kept=kept)


def test_it_works(made: MadePlan, browser: Client) -> None:
    """Tomatoes: every use that a recipe of ours has for them, and no other."""
    text = page(browser, "tomato")
    assert {"jar", "freeze", "dry", "eat now"} <= offered(text)
    assert not {"cure", "ferment", "bake"} & offered(text)
    assert "no recipe here begins with tomatoes" in text


def test_whole_birds_go_into_no_jar(household: Household, browser: Client, press: Press) -> None:
    planned(household, "whole chickens")
    text = page(browser, "chicken, whole")
    assert Use.JAR.value not in offered(text)
    assert Use.FREEZE.value in offered(text)
    assert "once cut up, the parts may be" in text
    answer = press("/split/food/chicken%2C whole", {"use": "jar", "amount": "3 kg"})
    assert answer.status_code == 422
    assert not Wish.objects.exists()


def test_where_every_jar_is_refused_it_says_so(household: Household, browser: Client) -> None:
    """Only jars larger than any tested one: in jars is not offered, and the refusal stands below."""
    household.jars.exclude(kind__startswith="1").delete()
    assert household.jars.count() == 1
    planned(household, "green beans", days=6)  # they don't outlast it
    text = page(browser, "green bean")
    assert Use.JAR.value not in offered(text)
    assert "In jars: refused, since no tested process covers it here" in text
    assert "larger than the largest tested jar" in text


def test_without_any_jar_it_says_so(household: Household, browser: Client) -> None:
    household.jars.all().delete()
    planned(household, "green beans")
    assert "In jars: no tested process with the jars and canners of this kitchen" in page(browser, "green bean")
