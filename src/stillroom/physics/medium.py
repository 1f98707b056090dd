"""Where food cools, freezes, thaws or dries: a temperature and a band of surface heat transfer.

The bands are our judgement inside the ranges of heat transfer texts (free convection in gases 2 to 25, forced 25 to
250; water free 50 to 1000 W/(m² K); from memory of Incropera & DeWitt, table 1.1), radiation included in air. The ice
bath was set against one test kitchen's times for soup in a steel and in a glass bowl (tests/physics, rows CL-k1 and
CL-k2). Common practice, no source; always a band.
"""

from __future__ import annotations

from dataclasses import dataclass

from stillroom.errors import OutsideTable


@dataclass(frozen=True, slots=True)
class Medium:
    """Temperature [°C] and low, middle and high surface coefficient [W/(m² K)]; which ends of a vessel it touches.

    A lid keeps it from the top; a shelf or counter under the vessel keeps it from the bottom.
    """

    temp_c: float
    film_low: float
    film_middle: float
    film_high: float
    touches_top: bool = True
    touches_bottom: bool = False
    is_water: bool = False

    def __post_init__(self) -> None:
        if not 0 < self.film_low <= self.film_middle <= self.film_high:
            raise ValueError("Surface coefficients are above zero and run from low to high.")
        if not -45 <= self.temp_c <= 90:
            raise OutsideTable("Surroundings must be −45 to 90 °C.")

    @property
    def ends(self) -> int:
        """How many ends of a vessel it touches."""
        return self.touches_top + self.touches_bottom


def still_air(temp_c: float, *, on_rack: bool = False, covered: bool = False) -> Medium:
    """A kitchen without draught; on a rack air reaches the bottom too."""
    return Medium(temp_c, 6.0, 9.0, 14.0, touches_top=not covered, touches_bottom=on_rack)


def moved_air(temp_c: float, *, on_rack: bool = False, covered: bool = False) -> Medium:
    """Air moved by a fan: fan fridge, fan freezer, drying cabinet, fan over the counter."""
    return Medium(temp_c, 10.0, 17.0, 30.0, touches_top=not covered, touches_bottom=on_rack)


def fridge(temp_c: float = 4.0, *, covered: bool = False) -> Medium:
    """A household fridge without a fan, on a wire shelf."""
    return Medium(temp_c, 5.0, 8.0, 12.0, touches_top=not covered, touches_bottom=True)


def freezer(temp_c: float = -18.0) -> Medium:
    """A household freezer: packs spread out with air between, some touching a cold wall or shelf."""
    return Medium(temp_c, 6.0, 10.0, 18.0, touches_bottom=True)


def water_bath(temp_c: float) -> Medium:
    """Still cold water around the sides and under the bottom."""
    return Medium(temp_c, 80.0, 150.0, 300.0, touches_top=False, touches_bottom=True, is_water=True)


def ice_bath() -> Medium:
    """Ice and water kept together up to the level of the food: 0 °C as long as ice floats."""
    return Medium(0.0, 120.0, 220.0, 400.0, touches_top=False, touches_bottom=True, is_water=True)
