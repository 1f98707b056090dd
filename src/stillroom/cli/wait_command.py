"""`stillroom wait FOOD --jar quart`: how warm hot-packed jars still are that stand before the canner."""

from __future__ import annotations

from typing import Annotated

import typer

from stillroom.cli.process_command import FoodWords, JarOption, JsonOption
from stillroom.cli.sums_output import band_keys, print_json, refusal_said
from stillroom.cli.terminal_text import wrapped
from stillroom.heat.pack import jar_geometry
from stillroom.process.hot_packs import check_hot_pack
from stillroom.process.jar_text import read_jar
from stillroom.quantities.food_parts import FoodParts, food_parts
from stillroom.quantities.measured_text import read_temp_c, read_time_min
from stillroom.quantities.waiting import Jar, Start, Waiting, waiting, waiting_cautions, waiting_sources


def wait_command(
    food: FoodWords,
    jar: JarOption,
    *,
    minutes: Annotated[str, typer.Option("--for", help="From filling to the hot canner.")] = "10 min",
    filled: Annotated[str, typer.Option("--filled", help="How warm the food was.")] = "90 C",
    jar_was: Annotated[str, typer.Option("--jar-was", help="How warm the empty jar was.")] = "60 C",
    room: Annotated[str, typer.Option("--room", help="The kitchen.")] = "20 C",
    draughty: Annotated[bool, typer.Option("--draughty", help="By an open window or a fan.")] = False,
    mark: Annotated[str, typer.Option("--mark", help="Tell when it falls below this.")] = "70 C",
    as_json: JsonOption = False,
) -> None:
    """How warm hot-packed jars still are after waiting for the canner, and how long they may wait."""
    with refusal_said(as_json):
        parts, asked, wait_min = food_parts(food), read_jar(jar), read_time_min(minutes)
        check_hot_pack(food, asked)
        start = Start(read_temp_c(filled), read_temp_c(jar_was), read_temp_c(room), draughty)
        found = waiting(parts, _jar(asked.volume_ml), wait_min, start, mark_c=read_temp_c(mark))
    if as_json:
        print_json(_as_json(parts, asked.volume_ml, wait_min, found))
        return
    lines = (
        f"{parts.food.key}, hot pack in a jar of {asked.volume_ml:.0f} ml, alone on the table",
        *(f"  {words}" for words in found.sentences(wait_min)),
        *(f"  ! {words}" for words in waiting_cautions()),
        f"  Worked out from {parts.basis}.",
        f"  Source: {waiting_sources()}",
    )
    print(wrapped("\n".join(lines)))


def _jar(volume_ml: float) -> Jar:
    known = jar_geometry(volume_ml)
    return Jar(volume_ml, 2 * (known.radius_mm + known.wall_mm), known.height_mm + known.wall_mm)


def _as_json(parts: FoodParts, jar_ml: float, wait_min: float, found: Waiting) -> dict[str, object]:
    return {
        "food": parts.food.key,
        "basis": parts.basis,
        "jar_ml": jar_ml,
        "waited_min": wait_min,
        "filled": band_keys(found.filled),
        "after": band_keys(found.after),
        "mark_c": found.mark_c,
        "until_mark": band_keys(found.until_mark),
        "is_surely_above_mark": found.is_surely_hot,
        "cautions": list(waiting_cautions()),
        "source": waiting_sources(),
    }
