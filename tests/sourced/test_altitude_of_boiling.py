"""The altitude told by where water boils, against printed boiling points.

The gel point of jelly is printed as 8 °F above the boiling point of water (Michigan State Univ. Extension, Preserving
Food Safely, file 01600890, restating USDA Complete Guide to Home Canning, rev. 1994), for 0 to 8,000 ft as 220, 218,
216, 214, 212, 211, 209, 207 and 205 °F.
"""

import numpy as np
import pytest

from stillroom import units
from stillroom.physics import atmosphere, steam

GEL_POINT_F = (220, 218, 216, 214, 212, 211, 209, 207, 205)


@pytest.mark.parametrize("thousand_ft", range(9))
def test_within_the_rounding_of_the_printed_boiling_points(thousand_ft: int) -> None:
    """Printed to a whole °F, which is 550 ft; the air of that table is of one temperature at all heights."""
    boiling_c = units.celsius(GEL_POINT_F[thousand_ft] - 8)
    assert units.feet(float(steam.altitude_of_boiling_m(boiling_c))) == pytest.approx(1000 * thousand_ft, abs=600)


def test_it_is_the_boiling_point_the_other_way_round() -> None:
    altitude_m = np.linspace(-400, 5000, 55)
    assert steam.altitude_of_boiling_m(steam.boiling_point_c(altitude_m)) == pytest.approx(altitude_m, abs=0.01)


@pytest.mark.parametrize("altitude_m, pressure_pa", [(0, 101325), (1000, 89876.3), (3000, 70121.2), (5000, 54048.3)])
def test_altitude_by_pressure_of_the_standard_atmosphere(altitude_m: float, pressure_pa: float) -> None:
    """ISO 2533 / U.S. Standard Atmosphere 1976, table of pressures (values from memory, geometric ≈ geopotential)."""
    assert float(atmosphere.altitude_m(pressure_pa)) == pytest.approx(altitude_m, abs=5)


def test_what_no_kitchen_has_is_refused() -> None:
    with pytest.raises(ValueError, match="altitude between"):
        atmosphere.altitude_m(10_000.0)
