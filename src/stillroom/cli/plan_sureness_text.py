"""How sure a plan is and what that costs, printed for people."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from stillroom.model.plan import Plan, Sureness


def print_sureness(out: Console, plan: Plan) -> None:
    """Meals, safety clocks, what is least sure, and the price in evenings."""
    sure = plan.sureness
    out.rule("How sure the days are", align="left")
    out.print(
        f"On {sure.days} simulated days, each step taking its own time: {days_words(sure.meals, 'meals')} are on time "
        f"(within 10 min), {days_words(sure.clocks, 'safety clocks')} are kept."
    )
    for clock in sure.weakest:
        out.print(f"  may run out: {clock.words}: kept on {days_words(clock.kept)}")
    if not sure.is_enough:
        out.print(
            Text(
                "That is less sure than it should be (95 of 100 meals, 99 of 100 clocks): do less on the days above.",
                style="yellow",
            )
        )
    out.print(_price_words(sure))
    if sure.left_out:
        out.print(f"Left out for it: {'; '.join(sure.left_out)}.")


def days_words(share: float, what: str = "days") -> str:
    """96 of 100 days; never 100 for less than all."""
    percent = 100 * share
    if percent > 99 and share < 1:
        return f"{min(percent, 99.9):.1f} of 100 {what}"
    return f"{percent:.0f} of 100 {what}"


def _price_words(sure: Sureness) -> str:
    if sure.slack == 0:
        return "No slack was needed for that." if sure.is_enough else "The days have no room for slack."
    changes = [
        f"{evening.day:%A} ends {abs(evening.later_min)} min {'later' if evening.later_min > 0 else 'sooner'}"
        for evening in sure.evenings
    ]
    beside = "Beside the same work without slack: "
    return beside + ("; ".join(changes) if changes else "no day ends later") + "."
