"""Which printed row applies: evidence first, then the sizing rule, then one line of several alternatives."""

from __future__ import annotations

import re
from collections.abc import Sequence

from stillroom.model.process import CannerKind, Evidence, JarSize, ProcessRow
from stillroom.process.jar_text import JarAsked

_RECALLED = re.compile(r"\bweighted (?:row|lines?)\b[^;]*(?:common line|recalled|seen only)")
ROUNDING_ML = 0.5  # jars carry whole millilitres: a half-pint of 236.6 ml is sold as 237 ml
_COMMON_DIAL_PSI, _COMMON_WEIGHTED_PSI = 11, 10  # first band of the line that most foods share


def is_tested(row: ProcessRow) -> bool:
    """Whether a row may be served: its figures were read on a page, not recalled."""
    return row.evidence is not Evidence.MEMORY


def is_weighted_recalled(row: ProcessRow) -> bool:
    """Whether the note of the row says that its weighted figures were not read on the page, only its dial figures."""
    return bool(_RECALLED.search(row.note))


def for_method(rows: Sequence[ProcessRow], canner: CannerKind) -> tuple[ProcessRow, ...]:
    """The rows for a pressure canner, or those for boiling water, which steam shares."""
    return tuple(row for row in rows if row.is_pressure == canner.is_pressure)


def size_for(rows: Sequence[ProcessRow], jar: JarAsked) -> JarSize | None:
    """The tested size that a jar counts as: the next larger one (R041, R042), or None when it is too large (R043)."""
    large_enough = [row.jar for row in rows if jar.volume_ml <= row.jar.volume_ml + ROUNDING_ML]
    return min(large_enough, key=lambda size: size.volume_ml, default=None)


def default_line(lines: Sequence[ProcessRow]) -> ProcessRow:
    """One of several printed alternatives for the same jar.

    Every line is a full process by itself. Taken is the line that starts at 11 psi dial or 10 psi weighted, because
    every reprint has it and no canner lacks the weight for it; failing that the longest.
    """
    return max(lines, key=lambda row: (_is_common_line(row), row.minutes[0]))


def _is_common_line(row: ProcessRow) -> bool:
    return row.dial_psi[:1] == (_COMMON_DIAL_PSI,) or row.weighted_psi[:1] == (_COMMON_WEIGHTED_PSI,)
