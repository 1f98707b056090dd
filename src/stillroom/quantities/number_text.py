"""Reads the number in front of a unit: 2, 1.5, 3/4, 1 1/2, 1½; refuses what two people could read two ways."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

from stillroom.errors import UnreadableAmount

NUMBER = r"(?:[0-9]+ +)?[0-9]+ ?/ ?[0-9]+|[0-9]+(?:\.[0-9]+)?"


def plain_text(text: str) -> str:
    """`text` in lower case with single spaces and every vulgar fraction spelt “1/2”.

    Refused with UnreadableAmount: a comma, an apostrophe or a space between digits (1,200 is 1200 to one reader and
    1.2 to another), a point without digits on both sides, a sign, a power of ten, digits of other scripts.
    """
    spelt = "".join(_spelt(letter) for letter in text.replace("⁄", "/"))
    spelt = re.sub(r"\s+", " ", spelt).strip().lower()
    if re.search(r"[0-9] [0-9]+(?![0-9]| ?/)", spelt):
        raise UnreadableAmount(f"“{text}”: write one number without spaces, as in 5000.")
    if re.search(r"[0-9] ?[,'’] ?[0-9]", spelt):
        raise UnreadableAmount(
            f"“{text}”: a comma between figures can mean thousands or decimals; write 1200 or 1.2 instead."
        )
    if re.search(r"(?<![0-9])\.[0-9]|[0-9]\.(?![0-9])", spelt):
        raise UnreadableAmount(f"“{text}”: put figures on both sides of the decimal point, as in 0.5.")
    if re.search(r"[-+−–—±~]", re.sub(r"(?<=[a-z])-(?=[a-z])", "", spelt)):
        raise UnreadableAmount(f"“{text}”: write one amount greater than zero, without a sign and without a range.")
    if re.search(r"[0-9]e[0-9]|(?:^|\W)(?:nan|inf|infinity)(?:\W|$)", spelt):
        raise UnreadableAmount(f"“{text}” is not a plain number; write it out, as in 1500.")
    return spelt


def _spelt(letter: str) -> str:
    if letter.isascii():
        return letter
    if "VULGAR FRACTION" in unicodedata.name(letter, "") and (value := unicodedata.numeric(letter, 0.0)) > 0:
        fraction = Fraction(value).limit_denominator(10)
        return f" {fraction.numerator}/{fraction.denominator}"
    return letter


def read_number(written: str, whole_text: str) -> float:
    """The value of one NUMBER match [-]; always greater than zero, else UnreadableAmount."""
    if "/" not in written:
        value = float(written)
    else:
        whole, numerator, denominator = _fraction_parts(written)
        if denominator == 0 or numerator >= denominator:
            raise UnreadableAmount(f"“{whole_text}”: write the fraction as in 1 1/2 or 3/4, or use decimals.")
        value = whole + numerator / denominator
    if value <= 0:
        raise UnreadableAmount(f"“{whole_text}”: the amount must be greater than zero.")
    return value


def _fraction_parts(written: str) -> tuple[int, int, int]:
    left, denominator = written.split("/")
    *whole, numerator = left.split()
    return (int(whole[0]) if whole else 0), int(numerator), int(denominator)
