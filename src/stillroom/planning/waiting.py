"""How warm the hot-packed jars of a run still are that stand between filling and the canner."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from stillroom.errors import InputError
from stillroom.planning.held import Held
from stillroom.planning.variants import Variant
from stillroom.quantities.cold_text import temp_words
from stillroom.quantities.food_parts import food_parts
from stillroom.quantities.waiting import Jar, Start, waiting
from stillroom.tables.constants import constant
from stillroom.units import celsius

HOT = "hot"


def waiting_advice(variant: Variant, held: Sequence[Held], room_c: float) -> tuple[str, ...]:
    """Where the jar that is filled first may have cooled by the time the canner is heated; else nothing.

    It stands from the beginning of the filling to the beginning of the load that waits longest.
    """
    work = variant.jar_work
    if work is None or work.card.pack != HOT:
        return ()
    fills = {after.step for step in variant.recipe.steps if step.is_canner_cycle for after in step.after}
    waits = [(each.then - each.begin) / timedelta(minutes=1) for each in held if each.step.key in fills]
    jar = Jar(work.jar.volume_ml, work.jar.diameter_mm, work.jar.height_mm, work.card.headspace_in)
    try:
        found = waiting(food_parts(work.card.food), jar, max(waits, default=0.0), Start(room_c=room_c))
    except InputError:  # dry, sweet, or a jar of no usual size
        return ()
    if found.is_surely_hot:
        return ()
    water_c = celsius(constant("hot_pack_preheat_f").value)
    return (
        f"The jar that is filled first stands {max(waits):.0f} min before the canner is heated. Alone on the table it "
        f"may be down to {found.after.low:.0f} °C by then, and below {found.mark_c:.0f} °C after "
        f"{found.until_mark.low:.0f} min at the soonest: stand each filled jar in the canner's hot water, "
        f"{temp_words(water_c)} for hot pack.",
    )
