"""One-way bodies against the tables of roots and the worked examples of textbooks; charts are up to 14 % off."""

import re

import pytest
from check_rows import Row, group, row, untested

from stillroom.physics.first_term import Shape, coefficients, fourier_for_ratio, roots, temperature_ratio

SHAPES = {
    "first_term_slab": Shape.SLAB,
    "first_term_cylinder": Shape.CYLINDER,
    "first_term_sphere": Shape.SPHERE,
}
ELSEWHERE = {"CO-fc2", "CO-e11"}  # test_cold_spot.py: both ways heat flows in a can
HERE = {"CO-as1", "CO-e1", "CO-e2", "CO-e4", "CO-e5", "CO-e8", "CO-e9"}
DIFFUSIVITIES = {"thermal_diffusivity"}  # test_printed_diffusivities.py


def by_id(checks: list[Row]):
    return pytest.mark.parametrize("check", checks, ids=lambda check: check.id)


def test_no_numeric_row_is_left_out():
    assert untested("conduction", {*SHAPES, "series_check", *DIFFUSIVITIES}, ELSEWHERE | HERE) == set()


@by_id(group("conduction", *SHAPES))
def test_first_root_and_coefficient(check):
    shape, biot = SHAPES[check.group], check.number("Bi")
    root, coefficient = check.values
    assert roots(shape, biot, 1)[0] == pytest.approx(root, abs=float(check.tolerance))
    assert coefficients(shape, biot, 1)[0] == pytest.approx(coefficient, abs=float(check.tolerance))


@by_id(group("conduction", "series_check"))
def test_full_series(check):
    shape = Shape.SLAB if "plane wall" in check.description else Shape.CYLINDER
    ratio = temperature_ratio(shape, check.number("Bi"), check.number("Fo"))
    assert ratio == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_f_and_j_of_a_slab_without_surface_resistance():
    check = row("conduction", "CO-as1")
    f, j = check.values
    assert 2.302585 / roots(Shape.SLAB, 1e6, 1)[0] ** 2 == pytest.approx(f, abs=float(check.tolerance))
    assert coefficients(Shape.SLAB, 1e6, 1)[0] == pytest.approx(j, abs=float(check.tolerance))


def test_steak_until_its_surface_is_cold():
    check = row("conduction", "CO-e1")
    fourier = fourier_for_ratio(Shape.SLAB, 9 * 0.01 / 0.45, (2 + 11) / (25 + 11), place=1.0)
    assert fourier * 0.01**2 / 0.91e-7 == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_egg_in_boiling_water():
    check = row("conduction", "CO-e2")
    around, start = check.number("T_inf"), check.number("T_i")
    biot = check.number("h") * 0.0275 / check.number("k")
    fourier = fourier_for_ratio(Shape.SPHERE, biot, (70 - around) / (start - around), terms=1)
    assert fourier * 0.0275**2 / check.number("alpha") == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_steel_shaft_with_one_term_and_with_all():
    check = row("conduction", "CO-e4")
    one, full = (150 + 250 * temperature_ratio(Shape.CYLINDER, 60 * 0.175 / 14.9, 0.1548, terms=n) for n in (1, 40))
    assert one == pytest.approx(check.values[0], abs=float(check.tolerance))
    assert full == pytest.approx(float(re.search(r"full series ([\d.]+)", check.note).group(1)), abs=0.1)


def test_short_brass_cylinder():
    check = row("conduction", "CO-e5")
    seconds, diffusivity = 15 * 60, check.number("alpha")
    around = temperature_ratio(Shape.CYLINDER, 40 * 0.02 / 110, diffusivity * seconds / 0.02**2)
    middle, end = (
        temperature_ratio(Shape.SLAB, 40 * 0.1 / 110, diffusivity * seconds / 0.1**2, place=x) for x in (0.0, 1.0)
    )
    assert [20 + 130 * around * axial for axial in (middle, end)] == pytest.approx(check.values, abs=0.2)


def test_steel_rod_below_its_surface():
    check = row("conduction", "CO-e8")
    ratio = temperature_ratio(Shape.CYLINDER, 50 * (4 / 12) / 25, 0.425 * 0.25 / (4 / 12) ** 2, place=0.5)
    assert ratio == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_pea_puree_in_the_middle_of_a_stack():
    check = row("conduction", "CO-e9")
    radius_m = 0.0681 / 2
    biot = check.number("h") * radius_m / check.number("k")
    ratio = temperature_ratio(Shape.CYLINDER, biot, check.number("alpha") * 45 * 60 / radius_m**2)
    assert 115.6 - ratio * (115.6 - 29.4) == pytest.approx(check.values[0], abs=float(check.tolerance))


def test_what_makes_no_sense_is_refused():
    with pytest.raises(ValueError, match="Biot"):
        roots(Shape.SLAB, 0.0, 1)
    with pytest.raises(ValueError, match="ratio"):
        fourier_for_ratio(Shape.SLAB, 1.0, 1.0)
