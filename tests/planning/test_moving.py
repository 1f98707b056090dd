"""A task moved by hand: it stays there, the rest makes way, no clock is broken, or a sentence says why not."""

import pytest
from kept_day import DINNER, SIX, kept_day

from stillroom.planning.kept_plan import KeptPlan
from stillroom.planning.moving import Offer, held_in_place, move
from stillroom.timetable.check import check
from stillroom.timetable.problem import Placed, Span
from stillroom.timetable.progress import Progress

BEFORE = Progress(0)


@pytest.fixture(scope="module")
def kept() -> KeptPlan:
    return kept_day()


def spans(offer: Offer) -> dict[str, Placed]:
    assert offer.found is not None, offer.sentence
    return {item.task: item for item in offer.found.timetable.placed}


def planned(kept: KeptPlan, key: str) -> Placed:
    return next(item for item in kept.worked_out.timetable.placed if item.task == key)


def test_it_works(kept: KeptPlan) -> None:
    """The beans half an hour later: what follows them follows, the clocks hold, dinner stays."""
    offer = move(kept, BEFORE, "trim", planned(kept, "trim").start + 30)
    found = spans(offer)
    assert found["trim"].start == planned(kept, "trim").start + 30
    assert found["boil"].start >= found["trim"].end
    assert 0 <= found["fill"].start - found["boil"].end <= 15
    assert 0 <= found["heat"].start - found["fill"].end <= 10
    assert found["cook"].end <= DINNER
    assert offer.found is not None
    assert check(offer.found.problem, offer.found.timetable) == ()


def test_where_nothing_is_in_the_way_nothing_else_moves(kept: KeptPlan) -> None:
    later = planned(kept, "sweep").end + 40
    offer = move(kept, BEFORE, "sweep", later)
    assert offer.found is not None
    assert [moved.task for moved in offer.found.moved] == ["sweep"]


def test_what_was_put_somewhere_stays(kept: KeptPlan) -> None:
    free = move(kept, BEFORE, "cut", planned(kept, "trim").start)
    held = move(kept, BEFORE, "cut", planned(kept, "trim").start, pinned=["trim"])
    assert spans(held)["trim"].start == planned(kept, "trim").start
    assert spans(free)["cut"].start == spans(held)["cut"].start == planned(kept, "trim").start
    assert spans(held)["cut"].worker != spans(held)["trim"].worker


def test_a_late_meal_is_told(kept: KeptPlan) -> None:
    offer = move(kept, BEFORE, "cook", DINNER - 20)
    assert offer.found is not None
    assert offer.found.late_min["cook"] == 20  # and so sit down A and B


def test_an_hour_at_which_nobody_is_there(kept: KeptPlan) -> None:
    offer = move(kept, BEFORE, "trim", 8 * 60)
    assert offer.found is None
    assert offer.sentence == "It can begin at 16:00 on Friday at the earliest."
    late = move(kept, BEFORE, "trim", 23 * 60)
    assert late.found is None
    assert "It must end by" in late.sentence


def test_what_can_not_be_is_explained(kept: KeptPlan) -> None:
    """Filled jars would wait: the canner is heated at six, filling can't be at ten past eight."""
    offer = move(kept, BEFORE, "fill", 19 * 60 + 40)
    assert offer.found is None
    assert "Beans in jars" in offer.sentence


def test_nothing_moves_into_the_past(kept: KeptPlan) -> None:
    now = Progress(SIX, finished={"trim": Span(960, 990), "boil": Span(990, 1005), "fill": Span(1005, 1020)})
    assert "18:00 on Friday already" in move(kept, now, "sweep", SIX - 30).sentence


def test_what_is_done_stays_done(kept: KeptPlan) -> None:
    with pytest.raises(ValueError, match="begun or done"):
        move(kept, Progress(SIX, finished={"trim": Span(960, 990)}), "trim", SIX)


def test_pins_hold_for_any_search(kept: KeptPlan) -> None:
    worked_out = kept.worked_out
    held = held_in_place(worked_out.problem, worked_out.timetable, ["trim", "of another plan"])
    trim = next(task for task in held.tasks if task.key == "trim")
    assert (trim.earliest, trim.latest_end) == (planned(kept, "trim").start, planned(kept, "trim").end)
    assert check(held, worked_out.timetable) == ()
