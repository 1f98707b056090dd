"""A day by the clock: everything is there, in its place, drawn and as a list."""

from datetime import datetime, time, timedelta

import pytest
from django.test import Client

from stillroom.model.work import Attention
from stillroom.planning.kept_plan import KeptPlan, read_plan
from stillroom.web.day.models import MadePlan
from stillroom.web.day.timetable_page import AXIS, PX_PER_MIN, WIDE, Chart, Day
from stillroom.web.kitchen.models import Household


@pytest.fixture
def kept(made: MadePlan) -> KeptPlan:
    return read_plan(made.kept)


def chart(kept: KeptPlan, number: int = 0) -> Chart:
    return Day(kept, kept.worked_out.plan.start + timedelta(days=number)).chart()


def test_it_works(made: MadePlan, browser: Client) -> None:
    text = browser.get("/timetable/").content.decode()
    day = made.household.today
    assert f"<h1>{day:%A} {day.day} {day:%B}</h1>" in text
    kept = read_plan(made.kept)
    for task in Day(kept, day).tasks():
        assert f"{task.start:%H:%M}" in text
        assert f">{task.text[0].upper()}{task.text[1:20]}".split(";")[0].split("’")[0] in text


def test_every_task_has_its_height_in_the_column_of_who_does_it(kept: KeptPlan) -> None:
    day = Day(kept, kept.worked_out.plan.start)
    columns = {column.name: column for column in day.chart().columns}
    for task in day.tasks():
        if task.attention is Attention.HANDS:
            block = next(block for block in columns[task.person or ""].blocks if block.key == task.key)
            minutes = (task.end - task.start).total_seconds() / 60
            assert block.high == pytest.approx(minutes * PX_PER_MIN - 1.5, abs=0.1) or minutes < 3


def test_blocks_of_a_column_do_not_cover_each_other(kept: KeptPlan) -> None:
    for number in (0, 1):
        for column in chart(kept, number).columns:
            assert column.x >= AXIS
            assert column.x + column.width <= WIDE + 1
            for one in column.blocks:
                assert column.x <= one.x
                assert one.x + one.width <= column.x + column.width + 0.2
                for other in column.blocks:
                    apart_x = one.x + one.width <= other.x + 0.2 or other.x + other.width <= one.x + 0.2
                    apart_y = one.y + one.high <= other.y + 3 or other.y + other.high <= one.y + 3
                    assert one is other or apart_x or apart_y


def test_the_canner_has_a_column_where_it_is_used(kept: KeptPlan) -> None:
    run = next(run for run in kept.worked_out.plan.runs if run.canner)
    number = (run.day - kept.worked_out.plan.start).days
    blocks = next(column.blocks for column in chart(kept, number).columns if column.name == run.canner)
    assert sum("canner:heat" in block.key for block in blocks) >= run.loads


def test_now_is_marked_on_its_day_only(kept: KeptPlan) -> None:
    day = Day(kept, kept.worked_out.plan.start)
    first = day.tasks()[0].start
    assert day.chart(first).now is not None
    assert day.chart(first + timedelta(days=1)).now is None
    assert day.chart(datetime.combine(day.date, time(1))).now is None


def test_one_person_alone(made: MadePlan, browser: Client, kept: KeptPlan) -> None:
    day = Day(kept, made.household.today)
    person = day.people()[0]
    mine = [task for task in day.tasks() if task.person == person]
    others = [task for task in day.tasks() if task.person not in (person, None)]
    text = browser.get("/timetable/", {"person": person}).content.decode()
    text = text.split("As a list")[1].split("Arrange the rest")[0]
    assert text.count('class="row"') == len(mine)
    assert others or len(day.people()) == 1


@pytest.mark.parametrize("day", ["2031-01-01", "yesterday", "2027-13-01"])
def test_a_day_that_is_not_planned_is_told(made: MadePlan, browser: Client, day: str) -> None:
    answer = browser.get("/timetable/", {"day": day})
    assert answer.status_code == 400
    assert "is no day of this plan" in answer.content.decode()


def test_after_the_last_day_the_last_is_shown(made: MadePlan, browser: Client) -> None:
    Household.objects.update(minutes_ahead=made.household.minutes_ahead + 30 * 24 * 60)
    last = made.household.today + timedelta(days=1)
    assert f"<h1>{last:%A} {last.day}" in browser.get("/timetable/").content.decode()


def test_without_a_plan_the_way_to_one_is_shown(browser: Client) -> None:
    assert "Make one on the page of the split" in browser.get("/timetable/").content.decode()


def test_each_task_has_a_page(made: MadePlan, browser: Client, kept: KeptPlan) -> None:
    task = next(task for task in kept.worked_out.plan.tasks if task.must_follow)
    answer = browser.get(f"/timetable/task/{task.key.replace(' ', '%20').replace('#', '%23')}")
    text = answer.content.decode()
    assert task.must_follow.split(":")[0].capitalize() in text
    assert browser.get("/timetable/task/nothing").status_code == 404


def test_the_hour_gives_way_to_the_mark_of_now(kept: KeptPlan) -> None:
    """Both in one place could not be read."""
    day = Day(kept, kept.worked_out.plan.start)
    names = [name for name, _ in day.chart().hours]
    soon = datetime.combine(day.date, time(int(names[1].split(":")[0]), 3))
    assert [name for name, _ in day.chart(soon).hours] == [names[0], "", *names[2:]]
