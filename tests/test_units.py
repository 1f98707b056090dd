"""Conversions against NIST SP 811 (2008), Appendix B, and NIST Handbook 44, Appendix C."""

import pytest

from stillroom import units


@pytest.mark.parametrize(
    ("got", "wanted"),
    [
        (units.celsius(212), 100),  # definition of the scales
        (units.fahrenheit(-40), -40),
        (units.kpa(1), 6.894757),  # SP 811: 1 psi = 6.894757 E+03 Pa
        (units.metres(1000), 304.8),  # SP 811: 1 ft = 3.048 E-01 m
        (units.feet(304.8), 1000),
        (units.pounds(453.59237), 1),  # SP 811: 1 lb = 4.5359237 E-01 kg
        (units.G_PER_OZ, 28.34952),  # SP 811
        (units.ML_PER_QUART, 946.3529),  # SP 811: 1 qt (US liquid) = 9.463529 E-04 m3
        (units.ML_PER_CUP, 236.5882),  # SP 811
        (units.ML_PER_FLUID_OUNCE, 29.57353),  # SP 811
        (units.ML_PER_TABLESPOON, 14.78676),  # SP 811
        (units.ML_PER_TEASPOON, 4.928922),  # SP 811
        (units.L_PER_CUBIC_FOOT, 28.31685),  # SP 811
    ],
)
def test_conversion_equals_the_published_factor(got: float, wanted: float) -> None:
    assert got == pytest.approx(wanted, rel=1e-6)
