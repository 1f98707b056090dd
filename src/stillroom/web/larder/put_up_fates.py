"""What may become of jars that are not for the shelf, and until when (rules R023 to R027 of the table of rules)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from stillroom.errors import InputError
from stillroom.web.larder.models import PutUp

NOT_KEPT_FOR = timedelta(hours=2)  # rule R024: the process itself was wrong


class Fate(StrEnum):
    """What became of jars that may not stand on the shelf."""

    AGAIN = "again"
    FRIDGE = "fridge"
    FREEZER = "freezer"
    THROWN_OUT = "thrown out"


@dataclass(frozen=True, slots=True)
class InTime:
    """What was done in time and is only said now; both aware. `out_again`: out of the canner a second time."""

    begun: datetime
    out_again: datetime | None = None


def not_kept_until(put_up: PutUp) -> datetime:
    """Until when jars whose process was not kept may be done again, chilled or frozen, by the household's clock."""
    return (put_up.done_at + NOT_KEPT_FOR).astimezone(ZoneInfo(put_up.household.time_zone))


def check_fate(put_up: PutUp, fate: Fate, until: datetime, *, now: datetime, told: InTime | None) -> None:
    """InputError for raw pack done again, and for what was not begun until `until`: that is thrown out, untasted."""
    if fate is Fate.AGAIN and put_up.pack != "hot":
        raise InputError(
            "This was packed raw and is not processed again as it is: chill it, freeze it, or throw it out."
        )
    if fate is Fate.THROWN_OUT:
        return
    begun = told.begun if told else now
    if told and not put_up.done_at <= begun <= now:
        raise InputError("The time it was begun lies before the canner or after now: look at it again.")
    if begun > until:
        raise InputError(
            f"The time for this was over on {until:%A} at {until:%H:%M}: throw these jars out, untasted. "
            "If it was begun before and is only said now, say when."
        )
    if fate is Fate.AGAIN and now > until:
        _check_out_again(begun, told.out_again if told else None, now)


def out_again_at(told: InTime | None, now: datetime) -> datetime:
    """When jars that were done again came out of the canner: their twelve and 24 hours count from there."""
    return told.out_again if told and told.out_again else now


def _check_out_again(begun: datetime, out_again: datetime | None, now: datetime) -> None:
    if out_again is None or not begun < out_again <= now:
        raise InputError("Say when the jars came out of the canner again: after it was begun, and not after now.")
