"""The tables in the order in which a cook asks for them."""

from __future__ import annotations

from functools import cache, partial

from stillroom.heat import heating_kind
from stillroom.model.process import ProcessRow
from stillroom.process.jar_text import jar_name
from stillroom.tables import (
    acids,
    baking,
    circles,
    composition,
    densities,
    drying,
    fermentation,
    freezing,
    gel_point,
    jars,
    keeping,
    no_process,
    portions,
    processes,
    rules,
    syrups,
    verifications,
    vocabulary,
    yields,
)
from stillroom.tables.constants import constants
from stillroom.tables.csv_rows import DATA, CsvRow, read_csv
from stillroom.web.sources.labels import label, value
from stillroom.web.sources.shelf import Row, Table, make_row

_ABOUT_A_ROW = ("source", "url", "evidence", "note")
_DIAL = ("to 2,000 ft", "to 4,000 ft", "to 6,000 ft", "to 8,000 ft")
_WEIGHTED = ("to 1,000 ft", "above 1,000 ft")
_BOILING = ("to 1,000 ft", "to 3,000 ft", "to 6,000 ft", "above 6,000 ft")


def tables() -> tuple[Table, ...]:
    """All tables."""
    return _TABLES


def table(key: str) -> Table | None:
    """The table with this key."""
    return next((one for one in _TABLES if one.key == key), None)


def not_verified() -> tuple[tuple[Table, int], ...]:
    """Tables in which something is not verified, and how many rows."""
    return tuple((one, one.unverified) for one in _TABLES if one.unverified)


@cache
def _process_rows(name: str) -> tuple[Row, ...]:
    return tuple(_process_row(row) for row in processes.rows() if row.key.startswith(f"{name}:"))


def _process_row(row: ProcessRow) -> Row:
    if row.is_pressure:
        facts = [
            ("process", f"{row.minutes[0]} min"),
            ("dial gauge", _bands(_DIAL, row.dial_psi, "psi")),
            ("weighted gauge", _bands(_WEIGHTED, row.weighted_psi, "psi")),
        ]
    else:
        facts = [("process", _bands(_BOILING, row.minutes, "min"))]
    facts += [("headspace", f"{row.headspace_in:g} in"), ("acid", row.acidification), ("printed in", row.guide_table)]
    name = f"{row.food}, {row.form}, {row.pack} pack, {jar_name(row.jar)}"
    return make_row(name, facts, note=row.note, source=row.source, url=row.url, evidence=row.evidence.value)


def _bands(bands: tuple[str, ...], figures: tuple[int | None, ...], unit: str) -> str:
    said = [f"{band}: {figure} {unit}" for band, figure in zip(bands, figures, strict=True) if figure is not None]
    return "; ".join(said)


@cache
def _csv_rows(file: str, columns: tuple[str, ...], named_by: tuple[str, ...]) -> tuple[Row, ...]:
    return tuple(_csv_row(row, columns, named_by) for row in read_csv(DATA / file, columns))


def _csv_row(row: CsvRow, columns: tuple[str, ...], named_by: tuple[str, ...]) -> Row:
    name = ", ".join(value(column, row.cells[column]) for column in named_by if row.cells[column])
    told = (column for column in columns if column not in (*named_by, *_ABOUT_A_ROW))
    facts = ((label(column), value(column, row.cells[column])) for column in told)
    return make_row(name, facts, **{column: row.cells[column] for column in _ABOUT_A_ROW if column in columns})


@cache
def _constant_rows() -> tuple[Row, ...]:
    found = []
    for name, constant in constants().items():
        rule = rules.rule(constant.rule)
        facts = (("value", f"{constant.value:g} {constant.unit}"), ("rule", f"{rule.id}: {rule.rule}"))
        cells = {"source": rule.source, "url": rule.url, "evidence": rule.evidence, "note": constant.note}
        found.append(make_row(name.replace("_", " "), facts, **cells))
    return tuple(found)


@cache
def _heating_rows() -> tuple[Row, ...]:
    found = []
    for (food, form, pack), (kind, because) in heating_kind.listed().items():
        name = ", ".join(part for part in (food, form, f"{pack} pack") if not part.startswith(heating_kind.ANY))
        facts = (("heats by", kind.value), ("because", because))
        found.append(make_row(name, facts, source="how the pack lies in the jar", evidence="judgement"))
    return tuple(found)


def _of(file: str, columns: tuple[str, ...], *named_by: str) -> partial[tuple[Row, ...]]:
    return partial(_csv_rows, file, columns, named_by)


_NO_PERMISSION = "A time or a measure here is no permission to jar anything: that takes a row of the process tables."
_TABLES = (
    Table(
        "low-acid",
        "Processes: low-acid food under pressure",
        "Minutes and pressure by food, form, pack and jar. What stands in no row has no tested process.",
        partial(_process_rows, "low_acid"),
        "Never interpolate, never take a neighbour's time: a missing row means none. None above 8,000 ft.",
    ),
    Table(
        "acid-boiling-water",
        "Processes: acid food in boiling water",
        "Minutes by altitude for fruit, tomatoes with acid, pickles and spreads.",
        partial(_process_rows, "acid_boiling_water"),
        "Low-acid food never belongs here. Recipes are part of these processes: their vinegar, lemon and sugar stay.",
    ),
    Table(
        "acid-pressure",
        "Processes: acid food under pressure",
        "Minutes and pressure for fruit and tomatoes in a pressure canner.",
        partial(_process_rows, "acid_pressure"),
        "Tomatoes are acidified under pressure, too.",
    ),
    Table(
        "no-process",
        "What has no process",
        "Foods and preparations that may not stand on a shelf in jars, why, and what to do instead.",
        _of("no_process.csv", no_process.COLUMNS, "foods", "preparation"),
        "This list is not complete and need not be: what stands in no process table has no process.",
    ),
    Table(
        "verifications",
        "Rows confirmed later",
        "Rows that were typed from memory and then read on a page; they count as tested since.",
        _of("verifications.csv", verifications.COLUMNS, "food", "form", "pack", "jar"),
    ),
    Table(
        "rules",
        "Rules",
        "Canner, jars, cooling, thawing, drying, curing, keeping: each rule with its figure.",
        _of("rules.csv", rules.COLUMNS, "id", "rule"),
    ),
    Table(
        "constants",
        "Figures the program counts with",
        "Each figure is bound to the rule that carries its source.",
        _constant_rows,
    ),
    Table(
        "acids",
        "Acid for each jar",
        "Lemon juice, citric acid or vinegar; the rows of one food and jar are alternatives.",
        _of("acids.csv", acids.COLUMNS, "process_food", "jar", "agent"),
        "Bottled lemon juice, not fresh: its acidity is even. Pressure does not replace the acid.",
    ),
    Table(
        "syrups",
        "Syrups",
        "Cups of water and sugar for a load. A syrup keeps shape and colour; it does not preserve.",
        _of("syrups.csv", syrups.COLUMNS, "syrup", "load"),
    ),
    Table(
        "gel-point",
        "Gel point",
        "At what temperature jelly without added pectin sets, by altitude.",
        _of("gel_point.csv", gel_point.COLUMNS, "altitude_ft"),
        "Better than any table: 8 °F (4.4 °C) above where water boils in your kitchen that day.",
    ),
    Table(
        "jars",
        "Jars",
        "Outside measures of common jars.",
        _of("jars.csv", jars.COLUMNS, "name"),
        "The pages disagree: measure your own.",
    ),
    Table(
        "jars-in-a-canner",
        "Jars in one layer of a canner",
        "How wide a circle must be to hold so many equal circles.",
        _of("circles.csv", circles.COLUMNS, "n"),
    ),
    Table(
        "produce-per-load",
        "Fresh food for a canner load",
        "Pounds as bought for 7 quarts, 9 pints, or a quart.",
        _of("produce_per_load.csv", yields.LOAD_COLUMNS, "process_food", "form"),
        _NO_PERMISSION,
    ),
    Table(
        "yields",
        "Yields",
        "What is left after trimming, boning, cooking or drying.",
        _of("yields.csv", yields.COLUMNS, "food", "from_state", "to_state"),
        "“Worked out” rows are estimates; doubtful ones contradict themselves.",
    ),
    Table(
        "keeping",
        "Keeping times",
        "How long food keeps, by state and place. 0 days: not recommended there.",
        _of("keeping.csv", keeping.COLUMNS, "food", "state", "place"),
        "Freezer times are for quality; fridge times of meat, fish and dishes are for safety. " + _NO_PERMISSION,
    ),
    Table(
        "blanching",
        "Blanching",
        "Minutes before freezing, by size of piece; for quality, not for safety.",
        _of("blanching.csv", freezing.BLANCHING_COLUMNS, "food", "piece"),
    ),
    Table(
        "freezer-headspace",
        "Headspace in the freezer",
        "Room to leave, by pack and mouth of the container.",
        _of("freezer_headspace.csv", freezing.HEADSPACE_COLUMNS, "pack", "mouth", "container"),
    ),
    Table(
        "freezes-badly",
        "What the freezer spoils",
        "What happens to it, and what to do instead.",
        _of("freezes_badly.csv", freezing.BADLY_COLUMNS, "foods", "preparation"),
    ),
    Table(
        "drying",
        "Drying yields",
        "How much dried food a fresh amount gives.",
        _of("drying_yields.csv", drying.COLUMNS, "food"),
        "Meat is heated before it is dried; see the rules.",
    ),
    Table(
        "fermentation",
        "Fermentation",
        "Salt, days and temperatures for cabbage and cucumbers.",
        _of("fermentation.csv", fermentation.COLUMNS, "product", "quantity"),
        "The salt is never cut: it selects what grows.",
    ),
    Table(
        "baking",
        "Dough",
        "Shares of flour, temperatures, friction.",
        _of("baking.csv", baking.COLUMNS, "quantity"),
    ),
    Table(
        "portions",
        "Portions",
        "Sizes by food group and eater.",
        _of("portions.csv", portions.COLUMNS, "food_group", "role", "eater"),
        "Look at the basis: raw, dried and cooked weight differ by up to three times.",
    ),
    Table(
        "composition",
        "Composition",
        "Water, protein, fat, carbohydrate, ash and salt in 100 g of the edible part.",
        _of("composition.csv", composition.COLUMNS, "name"),
        "No acidity and no water activity: nothing here tells whether a food is safe in a jar.",
    ),
    Table(
        "measures",
        "What measures weigh",
        "Cups, pieces and bushels in grams.",
        _of("densities.csv", densities.COLUMNS, "food", "measure"),
    ),
    Table(
        "heating",
        "How packs heat",
        "What the heat model takes: by turning liquid, as a solid, or both.",
        _heating_rows,
        "Only for the heat model, which may add caution and nothing else.",
    ),
    Table(
        "foods",
        "Foods",
        "The names used here, and which printed process a name reaches.",
        _of("vocabulary.csv", vocabulary.FOOD_COLUMNS, "key"),
    ),
    Table(
        "names",
        "Other names of foods",
        "British, American and Australian words.",
        _of("synonyms.csv", vocabulary.SYNONYM_COLUMNS, "name"),
    ),
    Table(
        "several-meanings",
        "Names with several meanings",
        "Names that are asked back, because the other reading has another process.",
        _of("several_meanings.csv", vocabulary.MEANING_COLUMNS, "name"),
    ),
)
