"""The pH of a mixture as an estimate that says “measure”, against handbook values and a polynomial solved apart."""

from __future__ import annotations

import numpy as np
import pytest

from stillroom.errors import InputError, OutsideTable
from stillroom.quantities.acid_estimate import NO_PROCESS, mixture, vinegar_ph


def band(*parts: str) -> tuple[float, float]:
    estimate = mixture(list(parts)).estimate
    return estimate.band.low, estimate.band.high


def test_vinegar_of_five_per_cent_as_tabled() -> None:
    """Handbooks give pH 2.4 for vinegar; half of it water raises that by 0.15."""
    low, high = band("vinegar 5%=500 ml")
    assert low < 2.4 < high
    thin = band("vinegar 5%=500 ml", "water=500 ml")
    assert thin[0] - low == pytest.approx(0.15, abs=0.01)


def test_citric_acid_as_measured_in_textbooks() -> None:
    """0.1 mol/L of citric acid (19.2 g/L) has pH 2.08 (from memory); ours spans it."""
    low, high = band("water=1 l", "citric acid=19.2 g")
    assert low < 2.08 < high


def test_two_acids_by_a_polynomial() -> None:
    """Acetic (a, A) and lactic acid (b, B): h³ + (a + b) h² + (a b − a A − b B) h − a b (A + B) = 0, water left out."""
    a, b, acetic, lactic = 10**-4.757, 10**-3.86, 25 / 60.052, 10 / 90.08
    roots = np.roots([1, a + b, a * b - a * acetic - b * lactic, -a * b * (acetic + lactic)])
    ph = -np.log10(max(root.real for root in roots if abs(root.imag) < 1e-12))
    low, high = band("vinegar 5%=500 ml", "water=500 ml", "lactic acid=10 g")
    assert (low + high) / 2 == pytest.approx(ph, abs=0.005)


def test_grams_in_a_litre_by_mass_balance() -> None:
    found = mixture(["white vinegar 10%=250 ml", "water=750 ml", "citric acid=5 g", "citric acid=5 g"])
    assert found.volume_ml == 1000
    assert found.acids_g_l == pytest.approx({"acetic acid": 25.0, "citric acid": 10.0})


def test_it_always_says_measure_and_is_no_number() -> None:
    estimate = vinegar_ph(500.0, 0.05)
    assert "measure" in str(estimate)
    assert "measure" in NO_PROCESS.lower()
    assert "no ground for any process" in NO_PROCESS
    with pytest.raises(TypeError):
        float(estimate)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        assert estimate < 4.6  # type: ignore[operator]


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        (["vinegar=500 ml"], "can't be read"),
        (["vinegar 5%"], "can't be read"),
        (["water=500 ml"], "no acid"),
        (["citric acid=10 g"], "dissolved in"),
        (["lemon juice=100 ml", "water=1 l"], "does not say its acid"),
        (["battery acid=100 ml"], "can't be read"),
        (["vinegar 80%=100 ml"], "at most 30%"),
        (["vinegar 0%=100 ml"], "more than 0%"),
        (["citric acid=3 tbsp", "water=1 l"], "weigh it"),
        (["vinegar 5=100 ml"], "%"),
        (["vinegar 5%=lots"], "lots"),
    ],
)
def test_nonsense_is_refused(parts: list[str], says: str) -> None:
    with pytest.raises(InputError, match=says):
        mixture(parts)


def test_more_acid_than_dissolves_is_beyond_the_table() -> None:
    with pytest.raises(OutsideTable):
        mixture(["water=100 ml", "citric acid=1 kg"])
