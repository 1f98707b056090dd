"""The pack and form a recipe names, held against the tested ones of its food."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from stillroom.model.process import ProcessRow
from stillroom.process.ingredient_lines import Line, read_line
from stillroom.process.preparation import before_packing
from stillroom.process.row_choice import is_tested
from stillroom.process.screening_rules import Finding, is_taken_back, said_plainly
from stillroom.tables.processes import rows_for

_RAW = re.compile(
    r"\b(?:raw|cold)[- ]?pack\w*|\bpack\w* (?:it |them |the |in )?(?:raw|cold|uncooked)\b"
    r"|\b(?:pack|fill|put|place)\w*\b[^.;]{0,20}\b(?:raw|uncooked)\b[^.;]{0,30}\bjars?\b"
)
_HOT = re.compile(r"\bhot[- ]?pack\w*|\bpack\w* (?:it |them |the )?hot\b")
_DRY = re.compile(
    r"\bdry[- ]?pack\w*|\bpack\w* (?:it |them |the \w+ )?dry\b|\bno (?:added |extra )?(?:liquid|water)\b"
    r"|\bwithout (?:any |added |adding )*(?:liquid|water|broth)\b"
    r"|\b(?:don't|do not|never) add (?:any )?(?:liquid|water)\b"
)
_SHAPES = (
    "grated",
    "shredded",
    "spirali[sz]ed",
    "julienned",
    "minced",
    "ground",
    "sliced",
    "wedges",
    "fries",
    "meatloaf",
)
_SAME_SHAPE = {"minced": "ground", "sliced": "slice", "spiralized": "spiral", "spiralised": "spiral"}
_PIECES = ("piece", "strip", "slice")  # a form that names these has room for slices
_UNCUT = (
    r"\b(?:can|pack|jar|put|leave|keep|fill|place)\w*\b[^.;]{0,30}\bwhole\b"
    r"|\bwhole\b(?=[^.;]{0,20}\bin (?:a |the )?jars?\b)"
)


def against_packing(
    process_food: str, form: str | None, lines: Sequence[Line], name: str, method: str
) -> tuple[Finding, ...]:
    """Findings for a pack or form that is named and was not tested for this food."""
    tested = [row for row in rows_for(process_food) if is_tested(row) and form in (None, row.form)]
    named = form_named(process_food, lines, method)
    of_form = [row for row in tested if row.form == named] or tested
    said = said_plainly(f"{name}. {method} . {' . '.join(line.text for line in lines)}")
    found = [*_pack(process_food, of_form, said), *_dry_pack(process_food, of_form, said)]
    if form is None:
        found += [*_shape(process_food, tested, said), *_uncut(process_food, tested, said)]
    return tuple(found)


def pack_named(text: str) -> str | None:
    """ "raw" or "hot" where the text names one pack, else None."""
    said = said_plainly(text)
    found = {pack for pack, pattern in (("raw", _RAW), ("hot", _HOT)) if _first(pattern, said)}
    return found.pop() if len(found) == 1 else None


def form_named(process_food: str, lines: Iterable[Line], method: str) -> str | None:
    """The form that a name implies (“ground venison”), in the list or in the method."""
    spoken = [*(heard for line in lines for heard in line.foods), *read_line(method).foods]
    forms = {heard.form for heard in spoken if heard.form and heard.food.process_food == process_food}
    return forms.pop() if len(forms) == 1 else None


def _pack(process_food: str, rows: Sequence[ProcessRow], said: str) -> list[Finding]:
    packs = {row.pack for row in rows}
    found = []
    for pack, pattern in (("raw", _RAW), ("hot", _HOT)):
        words = _first(pattern, said)
        if words and pack not in packs:
            only = " or ".join(sorted(packs))
            why = f"{process_food}{_of(rows)} was tested packed {only} only, and a {pack} pack heats differently"
            found.append(_finding(words, process_food, why, f"pack it {only}", rows))
    return found


def _dry_pack(process_food: str, rows: Sequence[ProcessRow], said: str) -> list[Finding]:
    words = _first(_DRY, said)
    pack = pack_named(said)
    if not words or any(_is_without_liquid(row) for row in rows if pack in (None, row.pack)):
        return []
    why = f"{process_food}{_of(rows)} was tested covered with liquid; packed dry it heats differently"
    return [_finding(words, process_food, why, "cover it with liquid as its process says", rows)]


def _is_without_liquid(row: ProcessRow) -> bool:
    return "no added liquid" in row.form or bool(re.search(r"\bno liquid\b", before_packing(row)))


def _shape(process_food: str, rows: Sequence[ProcessRow], said: str) -> list[Finding]:
    """Shapes that pack more densely than the tested ones; only food tested under pressure alone is held to them."""
    if not all(row.is_pressure for row in rows):
        return []
    forms = " ".join(row.form for row in rows)
    for shape in _SHAPES:
        words = _first(re.compile(rf"\b{shape}\b"), said)
        if words is None or _SAME_SHAPE.get(words, words) in forms:
            continue
        if words == "sliced" and any(piece in forms for piece in _PIECES):
            continue
        if not _is_of_another_food(said[said.index(words) + len(words) :], process_food):
            return [_finding(words, process_food, _untested_form(process_food, rows), "cut it as tested", rows)]
    return []


def _is_of_another_food(after: str, process_food: str) -> bool:
    nearest = read_line(" ".join(after.split()[:2])).foods
    return bool(nearest) and nearest[0].food.process_food != process_food


def _uncut(process_food: str, rows: Sequence[ProcessRow], said: str) -> list[Finding]:
    if any("whole" in row.form for row in rows):
        return []
    match = re.search(_UNCUT, said)
    if match is None or is_taken_back(said, match) or _is_of_another_food(said[match.end() :], process_food):
        return []
    return [_finding(match[0], process_food, _untested_form(process_food, rows), "cut it as tested", rows)]


def _untested_form(process_food: str, rows: Sequence[ProcessRow]) -> str:
    forms = "; ".join(dict.fromkeys(row.form for row in rows))
    return f"{process_food} was tested only as: {forms}; another cut heats differently"


def _of(rows: Sequence[ProcessRow]) -> str:
    forms = {row.form for row in rows}
    return f" ({forms.pop()})" if len(forms) == 1 else ""


def _first(pattern: re.Pattern[str], said: str) -> str | None:
    return next((match[0] for match in pattern.finditer(said) if not is_taken_back(said, match)), None)


def _finding(words: str, process_food: str, why: str, instead: str, rows: Sequence[ProcessRow]) -> Finding:
    return Finding(words, process_food, "untested packing", why, instead, rows[0].source, in_method=True)
