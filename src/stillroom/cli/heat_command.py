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
    card_keys,
    card_text,
    jars_keys,
    jars_text,
    read_day,
    refusal_keys,
    refusal_text,
)
from stillroom.cli.terminal_text import wrapped
from stillroom.errors import InputError
from stillroom.process.altitude_text import read_altitude
from stillroom.process.canner_text import read_canner
from stillroom.process.jar_text import read_jar

if TYPE_CHECKING:
    from stillroom.heat.canner_times import CannerTimes
    from stillroom.heat.fitting import Fit
    from stillroom.heat.logged import Comparison
    from stillroom.heat.role import CardAndNote, HeatNote, RefusalAndNote

    Weighed = tuple[Fit, Comparison, CannerTimes | None]


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
    log: Annotated[str, typer.Option("--log", help="CSV of a probe in the jar: minutes,jar_c,canner_c.")] = "",
    as_json: JsonOption = False,
) -> None:
    """Model the cold spot of a jar, for caution only; exit code 3 when there is no tested process."""
    from stillroom.heat.answer import answer
    from stillroom.heat.question import HeatQuestion
    from stillroom.heat.role import RefusalAndNote

    found = answer(
        HeatQuestion(
            food=food,
            form=form or None,
            pack=pack or None,
            jar=jar,
            canner=read_canner(canner),
            altitude_m=read_altitude(altitude),
            gauge_error_psi=gauge_error,
            gauge_tested_on=read_day(gauge_tested),
            today=date.today(),  # noqa: DTZ011 - the household's own calendar day
        )
    )
    if isinstance(found, RefusalAndNote):
        print(_refused(found, as_json=as_json))
        raise typer.Exit(REFUSED)
    jars = jars_keys(found.card, amount) if amount else {}
    logged = _weigh(Path(log), found, jar, gauge_error) if log else None
    if svg:
        _draw(Path(svg), found.note)
    print(_tested(found, jars, log, logged, as_json=as_json))


def _refused(found: RefusalAndNote, *, as_json: bool) -> str:
    from stillroom.cli.heat_text import lag_keys, lag_text

    if as_json:
        return _json(refusal_keys(found.refusal) | {"heat": lag_keys(found.note)})
    return wrapped(f"{refusal_text(found.refusal)}\n{lag_text(found.note)}")


def _tested(found: CardAndNote, jars: dict[str, Any], log: str, logged: Weighed | None, *, as_json: bool) -> str:
    from stillroom.cli.heat_text import log_keys, log_text, note_keys, note_text

    if as_json:
        keys = card_keys(found.card) | jars | {"heat": note_keys(found.note)}
        return _json(keys | ({"log": log_keys(*logged)} if logged else {}))
    parts = [card_text(found.card) + jars_text(jars), note_text(found.note)]
    return wrapped("\n".join(parts + ([log_text(Path(log).name, found.card, *logged)] if logged else [])))


def _weigh(path: Path, found: CardAndNote, jar: str, gauge_error_psi: float) -> Weighed:
    """The log fitted, laid over what was expected of this pack, and what it tells of the canner."""
    from stillroom.heat.canner_times import canner_times
    from stillroom.heat.fitting import fit
    from stillroom.heat.logged import compare
    from stillroom.heat.pack import filling_of, pack_of
    from stillroom.heat.probe_file import read_probe

    log, note = read_probe(path), found.note
    pack = pack_of(filling_of(found.card, read_jar(jar).volume_ml, found.card.canner))
    fitted = fit(log, hold_c=max(note.curve.canner_c), reference=note.yardstick.reference)
    times = canner_times(log, found.card, gauge_error_psi=gauge_error_psi)
    return fitted, compare(log, pack, note.curve), times


def _draw(path: Path, note: HeatNote) -> None:
    from stillroom.heat.chart import chart_spec, svg
    from stillroom.heat.role import span

    title = f"Inside the jar: {note.about}"
    drawn = svg(chart_spec(note.curve, title=title, said=f"{note.yardstick.name} {span(note.lethality)}."))
    try:
        path.write_text(drawn, encoding="utf-8")
    except OSError as problem:
        raise InputError(f"The chart can't be written to {path} ({problem.strerror}). Name another file.") from None


def _json(keys: dict[str, Any]) -> str:
    return json.dumps(keys, ensure_ascii=False, indent=2)
