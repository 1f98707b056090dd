"""What to do when food has waited longer than it may: chill, freeze, do again or throw out.

The usual cautions of the rules named. They replace no local authority and no licensed practitioner.
"""

from __future__ import annotations

from collections.abc import Mapping

LAST_WORD = (
    "When in doubt throw it out, untasted; your local food-safety authority and extension service have the last word."
)
# By how the food stands while it waits; rules by their numbers in the table of rules.
_BY_HOLD: Mapping[str, str] = {
    "hot jars": (
        "Do not process jars that have cooled: the time was tested hot. Empty them, bring the food back to a full "
        "boil, fill hot jars with new lids and process for the full time; or chill it, and freeze it. Perishable food "
        "that has been below 60 °C for more than two hours is thrown out."
    ),
    "raw jars": (
        "Put the filled jars into the fridge until the canner is ready for them, and start with the canner no hotter "
        "than its instructions say; meat, fish and cut food that has been out of the cold for more than two hours is "
        "thrown out."
    ),
    "cooling": (
        "If it is still above 57 °C, start to cool it now. If it has been below that and is not at 21 °C within two "
        "hours, reheat it to 74 °C and start again, or throw it out."
    ),
    "hot": ("Keep it above 60 °C until it goes on; what has been below that for more than two hours is thrown out."),
    "fridge": (
        "If it is still at 4 °C or colder, do it next, or freeze it. What has been out of the cold for more than two "
        "hours is thrown out."
    ),
    "canner": (
        "Take the jars out now. They were processed in full, but jars that cool slowly in the closed canner may turn "
        "flat-sour: mark them, eat them first, and throw out what smells or looks wrong, untasted."
    ),
    "room": (
        "Put it into the cold now. Perishable food that has been out of it for more than two hours, one hour above "
        "32 °C, is thrown out; fruit and dough have lost quality: look at them."
    ),
    "proof": "Bake it now or put it into the cold; dough with egg or milk is not left warm for hours.",
    "dryer closed": "Dry it once more until it passes the test, then pack it; mouldy food is thrown out.",
    "cellar": "Look at it and smell it before it goes on; what is sour, slimy or mouldy by mistake is thrown out.",
}


def what_now(hold: str, reason: str, *, is_in_jars: bool) -> str:
    """One instruction for food that has waited too long, held like `hold` for the reason of its clock."""
    if is_in_jars and hold in ("hot", "room") and "canner" in reason:
        return _BY_HOLD["hot jars" if hold == "hot" else "raw jars"]
    if hold == "hot" and ("cool" in reason or "°C" in reason):
        return _BY_HOLD["cooling"]
    return _BY_HOLD.get(hold, _BY_HOLD["room"])
