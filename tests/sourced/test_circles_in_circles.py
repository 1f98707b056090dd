"""Circles in Circles: n unit circles in the smallest known circle; Graham 1968, Pirl 1969, Kravitz 1967 and others.

Publisher: E. Friedman, Packing Center, with the authors named for each figure; copy read: the table of pictures for
n = 1 to 20 at cnblogs.com/Uinkanade/articles/4199069.html, and the same figures at handwiki (Circle packing in a
circle). The page prints three decimals and a plus: the true ratio is at most a thousandth larger.
"""

from __future__ import annotations

import math

import pytest

from stillroom.tables.circles import circles_that_fit, packings

PRINTED = {
    1: 1.0, 2: 2.0, 3: 2.154, 4: 2.414, 5: 2.701, 6: 3.0, 7: 3.0, 8: 3.304, 9: 3.613, 10: 3.813,
    11: 3.923, 12: 4.029, 13: 4.236, 14: 4.328, 15: 4.521, 16: 4.615, 17: 4.792, 18: 4.863, 19: 4.863, 20: 5.122,
}  # fmt: skip
CLOSED_FORM = {
    3: 1 + 2 / math.sqrt(3),
    4: 1 + math.sqrt(2),
    7: 3.0,
    8: 1 + 1 / math.sin(math.pi / 7),
    11: 1 + 1 / math.sin(math.pi / 9),
    13: 2 + math.sqrt(5),
    19: 1 + math.sqrt(2) + math.sqrt(6),
}


@pytest.mark.parametrize("row", packings(), ids=lambda row: f"n={row.n}")
def test_ratio_is_the_printed_one(row: object) -> None:
    ratio, printed = row.ratio, PRINTED[row.n]  # type: ignore[attr-defined]
    assert printed - 1e-9 <= ratio <= printed + 0.001


def test_every_printed_number_of_circles_is_there() -> None:
    assert [row.n for row in packings()] == list(PRINTED)


@pytest.mark.parametrize(("n", "ratio"), CLOSED_FORM.items())
def test_as_many_circles_fit_as_geometry_says(n: int, ratio: float) -> None:
    """A hair more room than the closed form holds n; a hundredth less does not."""
    assert circles_that_fit(ratio + 0.001) >= n
    assert circles_that_fit(ratio - 0.01) < n
