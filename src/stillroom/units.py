"""The only conversions anywhere: printed and kitchen units to the one unit used inside.

Inside: °C, kPa (gauge or absolute, the name says which), g, ml, mm, m, min.
Sources: international yard and pound agreement (1959): 1 lb = 453.59237 g, 1 ft = 0.3048 m;
US gallon = 231 in³ = 3785.411784 ml (NIST Handbook 44, Appendix C);
1 psi = 6.894757 kPa and °C = (°F − 32)/1.8 (NIST SP 811, Appendix B).
"""

from __future__ import annotations

G_PER_LB = 453.59237
G_PER_OZ = G_PER_LB / 16
ML_PER_GALLON = 3785.411784
ML_PER_QUART = ML_PER_GALLON / 4
ML_PER_PINT = ML_PER_GALLON / 8
ML_PER_CUP = ML_PER_GALLON / 16
ML_PER_FLUID_OUNCE = ML_PER_GALLON / 128
ML_PER_TABLESPOON = ML_PER_GALLON / 256
ML_PER_TEASPOON = ML_PER_GALLON / 768
ML_PER_IMPERIAL_GALLON = 4546.09  # UK Weights and Measures Act 1985, Schedule 1
M_PER_FT = 0.3048
MM_PER_IN = 25.4
KPA_PER_PSI = 6.894757293168
L_PER_CUBIC_FOOT = 28.316846592


def celsius(temp_f: float) -> float:
    """Temperature [°C] from °F."""
    return (temp_f - 32) / 1.8


def fahrenheit(temp_c: float) -> float:
    """Temperature [°F] from °C."""
    return temp_c * 1.8 + 32


def kpa(pressure_psi: float) -> float:
    """Pressure [kPa] from psi; gauge stays gauge."""
    return pressure_psi * KPA_PER_PSI


def metres(altitude_ft: float) -> float:
    """Altitude [m] from ft."""
    return altitude_ft * M_PER_FT


def feet(altitude_m: float) -> float:
    """Altitude [ft] from m."""
    return altitude_m / M_PER_FT


def pounds(mass_g: float) -> float:
    """Mass [lb] from g."""
    return mass_g / G_PER_LB
