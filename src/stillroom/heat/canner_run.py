"""The run of the canner that a card asks for, and what spreads around it."""

from __future__ import annotations

from stillroom import units
from stillroom.heat.pack import Pack
from stillroom.model.process import CannerKind, ProcessCard
from stillroom.physics.canner import BoilingSetting, PressureSetting
from stillroom.physics.uncertainty import Spread, Surroundings
from stillroom.tables.constants import constant

TESTED_GAUGE_PSI, UNTESTED_GAUGE_PSI = 0.5, 1.0  # how far a dial may be off beyond its record: judgement
WEIGHT_PSI = 0.25  # how far a weight may be off: judgement
SMALL_JAR_ML = 500.0
COOLING_SMALL_MIN, COOLING_LARGE_MIN = Spread(110, 165, 330), Spread(110, 250, 330)
"""Time constants of 20, 30 and 60 min, and of 20, 45 and 60 min, from 240 °F to no pressure (R014, R015)."""
COLD_START_C = 15.0  # smoked fish goes into cool water that is not heated before (its steps say so)


def setting_for(card: ProcessCard, *, canner: CannerKind | None = None) -> PressureSetting | BoilingSetting:
    """The run as the card prints it; `canner` puts the same minutes into another kind, to show what is lost."""
    start_c = COLD_START_C if card.row.food == "smoked fish" else _water_c(card.pack)
    if (canner or card.canner).is_pressure and card.pressure_psi is not None:
        return PressureSetting(card.pressure_psi, float(card.minutes), card.altitude_m, start_c=start_c)
    return BoilingSetting(float(card.minutes), card.altitude_m, start_c=start_c)


def surroundings_for(pack: Pack, canner: CannerKind, *, gauge_error_psi: float, is_gauge_tested: bool) -> Surroundings:
    """Fill temperature, what the gauge may hide, and how slowly the canner cools."""
    return Surroundings(
        fill_temp_c=pack.fill_temp_c,
        gauge_error_psi=_gauge_psi(canner, gauge_error_psi, is_gauge_tested=is_gauge_tested),
        cooling_time_constant_min=COOLING_SMALL_MIN if pack.jar_ml <= SMALL_JAR_ML else COOLING_LARGE_MIN,
    )


def _gauge_psi(canner: CannerKind, error_psi: float, *, is_gauge_tested: bool) -> Spread:
    if not canner.is_pressure:
        return Spread(0.0, 0.0, 0.0)
    if canner is CannerKind.WEIGHTED:
        return Spread(-WEIGHT_PSI, 0.0, WEIGHT_PSI)
    more_psi = TESTED_GAUGE_PSI if is_gauge_tested else UNTESTED_GAUGE_PSI
    return Spread(error_psi - more_psi, error_psi, error_psi + more_psi)


def _water_c(pack: str) -> float:
    return units.celsius(constant("hot_pack_preheat_f" if pack == "hot" else "raw_pack_preheat_f").value)
