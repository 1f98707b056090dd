"""`stillroom heat FOOD`: the tested process and what the heat model adds to it, or the refusal and why it stands."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from stillroom.cli.process_command import (
    REFUSED,
    AltitudeOption,
    AmountOption,
    CannerOption,
    FoodWords,
    FormOption,
    GaugeErrorOption,
    GaugeTestedOption,
    JarOption,
    JsonOption,
    PackOption,
    card_text,
    jars_keys,
    jars_text,
    read_day,
    refusal_text,
)
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.process.altitude_text import read_altitude
from stillroom.process.answer_keys import card_keys, refusal_keys
from stillroom.process.canner_text import read_canner
from stillroom.quantities.measured_text import read_length_mm

if TYPE_CHECKING:
    from stillroom.heat.question import HeatQuestion
    from stillroom.heat.role import CardAndNote, HeatNote, RefusalAndNote
    from stillroom.heat.weighed import WeighedLogs


def heat_command(
    food: FoodWords,
    jar: JarOption,
    canner: CannerOption,
    altitude: AltitudeOption,
    *,
    form: FormOption = "",
    pack: PackOption = "",
    gauge_error: GaugeErrorOption = 0.0,
    gauge_tested: GaugeTestedOption = "",
    amount: AmountOption = "",
    svg: Annotated[str, typer.Option("--svg", help="Write the chart of the cold spot to this file.")] = "",
    log: Annotated[
        list[str] | None, typer.Option("--log", help="CSV of a probe in the jar: minutes,jar_c,canner_c; repeat.")
    ] = None,
    inside: Annotated[str, typer.Option("--inside", help="Your jar measured across the inside, “82 mm”.")] = "",
    as_json: JsonOption = False,
) -> None:
    """Model the cold spot of a jar, for caution only; exit code 3 when there is no tested process."""
    from stillroom.heat.answer import answer
    from stillroom.heat.question import HeatQuestion
    from stillroom.heat.role import RefusalAndNote

    question = HeatQuestion(
        food=food,
        form=form or None,
        pack=pack or None,
        jar=jar,
        canner=read_canner(canner),
        altitude_m=read_altitude(altitude),
        gauge_error_psi=gauge_error,
        gauge_tested_on=read_day(gauge_tested),
        today=date.today(),  # noqa: DTZ011 - the household's own calendar day
        inside_diameter_mm=read_length_mm(inside) if inside else None,
    )
    found = answer(question)
    if isinstance(found, RefusalAndNote):
        print(_refused(found, as_json=as_json))
        raise typer.Exit(REFUSED)
    jars = jars_keys(found.card, amount) if amount else {}
    logged = _weighed(question, found, log or [])
    if svg:
        _draw(Path(svg), found.note)
    print(_tested(found, jars, logged, as_json=as_json))


def _refused(found: RefusalAndNote, *, as_json: bool) -> str:
    from stillroom.cli.heat_text import lag_keys, lag_text

    if as_json:
        return _json(refusal_keys(found.refusal) | {"heat": lag_keys(found.note)})
    return wrapped(f"{refusal_text(found.refusal)}\n{lag_text(found.note)}")


def _weighed(question: HeatQuestion, found: CardAndNote, logs: list[str]) -> WeighedLogs | None:
    if not logs:
        return None
    from stillroom.heat.weighed import weigh

    return weigh(question, found, [Path(log) for log in logs])


def _tested(found: CardAndNote, jars: dict[str, Any], logged: WeighedLogs | None, *, as_json: bool) -> str:
    from stillroom.cli.heat_log_text import logs_keys, logs_text
    from stillroom.cli.heat_text import note_keys, note_text

    card = logged.in_own_canner.card if logged and logged.in_own_canner else found.card
    if as_json:
        keys = card_keys(card) | jars | {"heat": note_keys(found.note)}
        return _json(keys | (logs_keys(logged) if logged else {}))
    parts = [card_text(card) + jars_text(jars), note_text(found.note)]
    return wrapped("\n".join(parts + ([logs_text(card, logged)] if logged else [])))


def _draw(path: Path, note: HeatNote) -> None:
    from stillroom.heat.chart import chart_spec, svg
    from stillroom.heat.note_words import chart_words

    title = f"Inside the jar: {note.about}"
    drawn = svg(chart_spec(note.curve, title=title, said=chart_words(note)))
    try:
        path.write_text(drawn, encoding="utf-8")
    except OSError as problem:
        raise InputError(f"The chart can't be written to {path} ({problem.strerror}). Name another file.") from None


def _json(keys: dict[str, Any]) -> str:
    return json.dumps(keys, ensure_ascii=False, indent=2)
