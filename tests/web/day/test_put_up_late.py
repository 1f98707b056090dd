"""What is said late of jars: the limits of R023 to R025 count from the deed, never from the tap."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from put_up_parts import COLD, KEPT, OUT
from test_said_of_tasks import aware, now_is

from stillroom.errors import InputError
from stillroom.web.larder import put_up_actions as actions
from stillroom.web.larder.models import PutUp

AFTER = {"fridge": "", "freezer": "", "again": "2027-04-10T13:00"}


def said_in_time(begun: str, out_again: str = "") -> dict[str, str]:
    return {"in_time": "on", "begun": begun, "out_again": out_again}


@pytest.mark.parametrize("fate", AFTER)
def test_unsealed_jars_are_not_kept_after_24_hours(
    beans: PutUp, press: Any, monkeypatch: pytest.MonkeyPatch, fate: str
) -> None:
    """R023 and R025: within 24 h done again, chilled or frozen; later thrown out. The time is that of the deed."""
    page, late = f"/larder/put-up/{beans.pk}", OUT + timedelta(days=5)
    press(f"{page}/out", KEPT, page=page)
    beans.refresh_from_db()
    with pytest.raises(InputError, match="throw these jars out, untasted"):
        actions.look_at_lids(beans, 0, actions.Fate(fate), now=aware(late), at=aware(late))
    now_is(monkeypatch, late)
    sent = {"sealed": "0", "fate": fate}
    wrong = [{}, {"in_time": "on"}, {"begun": "2027-04-10T10:00", "out_again": AFTER[fate]}]
    times = ("2027-04-10T18:21", "2027-04-09T18:00", "2027-04-20T10:00", "soon")
    for told in (*wrong, *(said_in_time(time, AFTER[fate]) for time in times)):
        answer = press(f"{page}/lids", sent | told, page=page)
        assert answer.status_code == 422, told
        assert "which is over" in answer.content.decode()
    assert not beans.household.lots.filter(made_on__gte=OUT.date()).exists()
    told = said_in_time("2027-04-10T10:00", AFTER[fate])
    assert press(f"{page}/lids", sent | told, page=page).status_code == 302
    if fate == "again":
        again = beans.household.put_ups.get(ended_at=None)
        assert again.done_at == aware(datetime(2027, 4, 10, 13))  # noqa: DTZ001
    else:
        assert beans.household.lots.get(product="Green beans in jars, to eat up").place == fate


def test_after_24_hours_sealed_jars_are_kept_and_others_thrown_out(
    beans: PutUp, press: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = f"/larder/put-up/{beans.pk}"
    press(f"{page}/out", KEPT, page=page)
    now_is(monkeypatch, OUT + timedelta(days=5))
    assert press(f"{page}/lids", {"sealed": "10", "fate": "thrown out"}, page=page).status_code == 302
    assert beans.household.lots.get(made_on=OUT.date()).count == 10


@pytest.mark.parametrize("out_again", ["", "2027-04-10T09:00", "2027-04-30T09:00"])
def test_done_again_in_time_needs_the_time_it_came_out(beans: PutUp, out_again: str) -> None:
    actions.out_of_canner(beans, 12, now=aware(OUT), at=aware(OUT))
    end = aware(datetime.fromisoformat(out_again)) if out_again else None
    told, late = actions.InTime(aware(COLD), end), aware(OUT + timedelta(days=5))
    with pytest.raises(InputError, match="came out of the canner again"):
        actions.look_at_lids(beans, 0, actions.Fate.AGAIN, now=late, at=late, told=told)


@pytest.mark.parametrize("fate", ["again", "fridge", "freezer"])
@pytest.mark.parametrize("late", [timedelta(hours=2, minutes=1), timedelta(days=3)])
def test_a_process_not_kept_is_mended_within_two_hours(
    beans: PutUp, press: Any, monkeypatch: pytest.MonkeyPatch, fate: str, late: timedelta
) -> None:
    """R024: only two hours."""
    page, now = f"/larder/put-up/{beans.pk}", aware(OUT + late)
    with pytest.raises(InputError, match="throw these jars out, untasted"):
        if fate == "again":
            actions.out_of_canner(beans, 12, now=now, at=now, is_again=True)
        else:
            actions.process_not_kept(beans, 12, actions.Fate(fate), now=now, at=now)
    now_is(monkeypatch, OUT + late)
    sent = KEPT | {"time_kept": "no", "fate": fate}
    out_again = "2027-04-09T20:15" if fate == "again" else ""
    for told in ({}, said_in_time("2027-04-09T20:21", out_again)):
        assert press(f"{page}/out", sent | told, page=page).status_code == 422
    beans.refresh_from_db()
    assert beans.used_at is None
    assert press(f"{page}/out", sent | said_in_time("2027-04-09T18:40", out_again), page=page).status_code == 302
    beans.refresh_from_db()
    assert beans.used_at is not None


def test_raw_pack_is_not_done_again_by_any_way(beans: PutUp) -> None:
    """R023, also where no form stands before it."""
    beans.pack = "raw"
    with pytest.raises(InputError, match="packed raw"):
        actions.out_of_canner(beans, 12, now=aware(OUT), at=aware(OUT), is_again=True)
    actions.out_of_canner(beans, 12, now=aware(OUT), at=aware(OUT))
    with pytest.raises(InputError, match="packed raw"):
        actions.look_at_lids(beans, 0, actions.Fate.AGAIN, now=aware(COLD), at=aware(COLD))
