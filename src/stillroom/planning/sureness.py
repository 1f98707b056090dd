"""How sure the days of a plan are, in words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from stillroom.model.plan import Clock, LaterEvening, Sureness
from stillroom.planning.tasks import Piece
from stillroom.timetable.problem import Lag
from stillroom.timetable.secure import Secured

TELL_CLOCKS = 3
SURE = 0.995  # a clock that is kept so often needs no telling


def sureness(
    secured: Secured, pieces: Mapping[str, Piece], names: Mapping[str, str], left_out: tuple[str, ...], start: date
) -> Sureness:
    """The chances for people; `names` of runs by their keys."""
    chances = secured.chances
    weakest = sorted(chances.clocks.items(), key=lambda item: item[1])[:TELL_CLOCKS]
    return Sureness(
        days=chances.days,
        meals=chances.of_all_meals,
        clocks=chances.of_all_clocks,
        is_enough=secured.is_sure,
        weakest=tuple(Clock(_words(lag, pieces, names), share) for lag, share in weakest if share < SURE),
        slack=secured.slack,
        evenings=tuple(LaterEvening(start + timedelta(price.day), price.later_min) for price in secured.prices),
        left_out=left_out,
    )


def _words(lag: Lag, pieces: Mapping[str, Piece], names: Mapping[str, str]) -> str:
    run = pieces[lag.after].run
    name = names.get(f"{run[0]}@{run[1]}", "") if run else ""
    return f"{name}: {lag.reason}" if name else lag.reason
