"""What heat-penetration studies of home jars report, against the model: directions and ranges, for they print no more.

Jars: half pint and pint with 20 mm headspace; diffusivity from the printed range of moist foods.
"""

import re

import numpy as np
import pytest
from check_rows import row

from stillroom.heat.pack import jar_geometry
from stillroom.physics.canner import BoilingSetting, CannerTiming, PressureSetting
from stillroom.physics.conduction import ConductionJar, axial_series, finite_cylinder_modes, overall_w_m2k
from stillroom.physics.history_response import respond
from stillroom.physics.lethality import F0, P82
from stillroom.physics.steam import gauge_psi

HEADSPACE_MM = 20.0


def lethality(jar, setting, *, diffusivity, fill_c, reference):
    film = float(overall_w_m2k(3000.0, jar.wall_mm))
    food = ConductionJar(jar.radius_mm, jar.height_mm - HEADSPACE_MM, diffusivity, 0.55, film, film, film)
    run = setting.run()
    return respond(finite_cylinder_modes(food), run.history, fill_c).lethality(run.heat_off_kink, reference)


@pytest.mark.parametrize("diffusivity", [1.3e-7, 1.5e-7, 1.8e-7])
@pytest.mark.parametrize("constant_min", [70, 165])
def test_stewed_tomatoes_in_half_pints_gain_most_in_cooling(diffusivity, constant_min):
    """25 min at 121.1 °C after a 10 min vent: F0 3.0 not reached when the heat goes off, most comes in cooling."""
    told = row("lethality", "LE-hc1").description
    assert "25 min after a 10 min vent" in told
    timing = CannerTiming(cooling_time_constant_min=constant_min)
    setting = PressureSetting(float(gauge_psi(121.1, 250)), 25, 250, timing)
    found = lethality(jar_geometry(236.6), setting, diffusivity=diffusivity, fill_c=70.0, reference=F0)
    assert found.heating_min[0] < 3.0
    assert found.cooling_min[0] > found.heating_min[0]


@pytest.mark.parametrize("fill_c", [85.0, 92.0])
@pytest.mark.parametrize("hold_min", [15, 35, 45])
def test_acid_foods_in_pints_gain_half_to_nearly_all_in_cooling(hold_min, fill_c):
    """Boiling water, filled hot: 48 to 95 % of the total F(82.2 °C) came in cooling."""
    low, high = map(float, re.search(r"(\d+) to (\d+) per cent", row("lethality", "LE-hc2").description).groups())
    setting = BoilingSetting(hold_min, 270)
    found = lethality(jar_geometry(473.2), setting, diffusivity=1.4e-7, fill_c=fill_c, reference=P82)
    assert low / 100 < (found.cooling_min / found.total_min)[0] < high / 100


def test_the_cold_spot_of_a_jar_heated_all_round_is_its_middle():
    """Stewed tomatoes and cranberry salsa: cold spot at the geometric centre."""
    assert all("geometric centre" in row("conduction", name).description for name in ("CO-j1", "CO-j2"))
    _, _, place = axial_series(np.array([40.0]), np.array([40.0]), 1)
    assert place[0] == pytest.approx(0.5)


def test_a_quart_heats_longer_than_a_pint_as_the_scaling_of_its_note_says():
    """Geometrically alike jars without glass: fh as the square of the size, (946/473)^(2/3) = 1.587."""
    told = float(re.search(r"= ([\d.]+)", row("conduction", "CO-tp1").note).group(1))
    rates = [
        finite_cylinder_modes(ConductionJar(36 * size, 110 * size, 1.4e-7, 0.55, 1e9, 1e9, 1e9)).rate_per_min[0, 0]
        for size in (1.0, 2 ** (1 / 3))
    ]
    assert rates[0] / rates[1] == pytest.approx(told, abs=0.001)
