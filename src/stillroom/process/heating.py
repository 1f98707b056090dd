"""How a recipe heats its filled jars, held against how the tested rows heat them."""

from __future__ import annotations

import re

from stillroom.process.row_choice import is_tested
from stillroom.process.screening_rules import Finding, is_taken_back, said_plainly
from stillroom.tables.processes import rows_for
from stillroom.tables.rules import rule

_PRESSURE = re.compile(
    r"\bpressure[- ]?(?:can|process)\w*|\b\d+ ?(?:psi|kpa)\b|\b(?:lbs?|pounds)\.? (?:of )?pressure\b"
    r"|\bat \d+ (?:lbs?|pounds)\b|\b(?:under|by|at|full) pressure\b|\bpressure(?: for)? \d|\btime, pressure\b"
    r"|\b(?:dial|weighted)[- ]gauge\b"
)
_DENIED_AFTER = re.compile(r"\b(?:not|n't|never|unnecessary|optional|unneeded)\b|n't\b")
_INTO_JARS = r"(?:(?!pack|fill|ladl|put|pour|plac|spoon)[^.;,]){0,30}"
_NO_PRESSURE = re.compile(
    r"\bwater[- ]?bath\w*|\bboiling[- ]water (?:bath|cann|process)\w*|\bbwb\b"
    r"|\b(?:process\w*|can|canned|canning|seal\w*|sterili[sz]\w*)\b[^.;]{0,40}\bboiling water\b"
    r"|\bboil(?:ed)? (?:the |your |all |filled |sealed |closed |full |hot |packed )*jars?\b"
    rf"|\bboil(?:ed)?\b{_INTO_JARS}\bin (?:the |their |filled |sealed |closed )*jars?\b"
    r"|\bjars?,? (?:and |then )?(?:boil|boiled|simmer|simmered)\b"
    r"|\bjars?\b[^.;]{0,60}\b(?:rolling|full|hard) boil|\bjars?\b[^.;]{0,60}\bboil\w*[^.;]{0,20}\b(?:hours?|hrs?)\b"
    r"|\bsteam(?:er)?[- ]?cann\w*|\batmospheric steam\b"
    r"|\b(?:process\w*|can|canned|canning)\b[^.;]{0,30}\b(?:in|with) (?:a )?steam(?:er)?\b"
    r"|\b(?:process\w*|can|canned|canning|seal\w*)\b[^.;]{0,30}\boven\b|\boven[- ](?:can|process)\w*"
)
_EMPTY_JARS = re.compile(r"\b(?:empty|clean)\b|\bto sterili[sz]e\b")


def heat_of(process_food: str, form: str | None) -> str:
    """How the tested rows of a food heat the jars, in words for the cook."""
    kinds = {row.is_pressure for row in rows_for(process_food) if is_tested(row) and form in (None, row.form)}
    if kinds == {True}:
        return "only under pressure"
    return "in boiling water" if kinds == {False} else "in boiling water or under pressure"


def against_heating(process_food: str, form: str | None, text: str) -> tuple[Finding, ...]:
    """A finding where food that is tested only under pressure is to be boiled, steamed or baked in its jars."""
    if heat_of(process_food, form) != "only under pressure":
        return ()
    said = said_plainly(text)
    for match in _NO_PRESSURE.finditer(said):
        sentence = re.split(r"[.;]", said[: match.start()])[-1] + re.split(r"[.;]", said[match.start() :])[0]
        if not is_taken_back(said, match) and not _EMPTY_JARS.search(sentence):
            return (
                Finding(
                    match[0],
                    process_food,
                    "needs pressure",
                    f"{process_food} has a tested process only under pressure; no time in boiling water, steam or an "
                    "oven kills the spores that cause botulism",
                    "use a pressure canner and the time of `stillroom process`, or freeze it",
                    rule("R070").source,
                    in_method=True,
                ),
            )
    return ()


def lacks_pressure(process_food: str, form: str | None, text: str) -> str:
    """What a recipe lacks that never says the jars are pressure canned, although nothing else is tested; or ""."""
    if heat_of(process_food, form) != "only under pressure" or _names_pressure(said_plainly(text)):
        return ""
    return (
        "AS WRITTEN IT LACKS PRESSURE: it does not say that the jars go through a pressure canner, and "
        f"{process_food} is safe in no other way"
    )


def _names_pressure(said: str) -> bool:
    for match in _PRESSURE.finditer(said):
        after = re.split(r"[.,;:]", said[match.end() :])[0]
        if not is_taken_back(said, match) and not _DENIED_AFTER.search(after):
            return True
    return False
