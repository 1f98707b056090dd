"""Whether a food has any tested hot pack at all in a jar: nothing is said of a filled jar that can't be canned."""

from __future__ import annotations

from stillroom.errors import Refusal
from stillroom.process.jar_text import JarAsked
from stillroom.process.no_process_match import warning_for
from stillroom.process.row_choice import is_tested, size_for
from stillroom.tables.processes import rows_for
from stillroom.tables.vocabulary import hear


def check_hot_pack(food: str, jar: JarAsked) -> None:
    """Raises Refusal where no canner and no form has a tested hot pack of the food in a jar of that size."""
    heard = hear(food)
    process_food = heard.food.process_food
    tested = [row for row in rows_for(process_food or "") if row.pack == "hot" and is_tested(row)]
    if warning_for(heard.food.key, process_food, heard.form) is None and size_for(tested, jar) is not None:
        return
    raise Refusal(
        f"There is no tested process for {heard.food.key} packed hot in a jar of {jar.volume_ml:.0f} ml: however "
        "warm it stays, it is not canned. Ask `stillroom process` what can be done instead."
    )
