"""The weather-and-shielding factor of a place, computed from its hourly year.

ASHRAE 62.2 prints the factor for each weather station. Those values, and the settings of
the house behind them, are not available to us, so the factor here is *computed*, by the
same definition, for a reference house of our own. It says so wherever it is shown; a value
from the standard's table goes before it.

Sources
-------
[UMC] Uniform Mechanical Code, appendix E, eq. 605.1.3.2, turned round: the definition.
[TURNER2012] W. Turner, M. Sherman, I. Walker, HVAC&R Research 18, 2012: how the printed
    table was made, hour by hour with effective ventilation (settings not available).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.aim2 import LeakDistribution, aim2_eave_wind, aim2_infiltration
from rooftree.physics.infiltration import leakage_coefficient
from rooftree.readings.ventilation.effective import effective_air_change

if TYPE_CHECKING:
    from rooftree.weather.year import WeatherYear


@dataclass(frozen=True, slots=True)
class ReferenceHouse:
    """The house for which the factor is computed; ours, every value of it.

    Attributes
    ----------
    floor_area, height : float
        Floor area [m²] and ceiling height [m] of one storey.
    normalized_leakage : float
        Leakage area at 4 Pa over a thousandth of the floor area [-].
    leaks : LeakDistribution
        Where the leaks are.
    shelter : float
        Share of the wind at the eaves that reaches the house [0-1].
    coolest, warmest : float
        Indoor temperature when it is colder and warmer outdoors than that [K]; in
        between the house follows the outdoors.
    """

    floor_area: float = 150.0
    height: float = 2.5
    normalized_leakage: float = 0.5
    leaks: LeakDistribution = LeakDistribution(0.67, 0.5)  # noqa: RUF009 - frozen
    shelter: float = 0.7
    coolest: float = 293.15
    warmest: float = 298.15

    @property
    def says(self) -> str:
        """Return the assumptions in one sentence."""
        return (
            f"computed for an assumed house: one storey of {self.height:g} m on a slab, half its"
            " leakage in the walls and the rest equally in floor and ceiling, no flue,"
            f" exponent {self.leaks.exponent:g}, normalized leakage {self.normalized_leakage:g},"
            f" suburban with shelter factor {self.shelter:g}, {self.coolest - 273.15:.0f} to"
            f" {self.warmest - 273.15:.0f} °C indoors. The settings behind the standard's own"
            " table are not available; its values are recalled as higher, so this credits less"
            " air than the standard would"
        )


REFERENCE_HOUSE = ReferenceHouse()
"""The house that is taken when none is given."""


@dataclass(frozen=True, slots=True)
class WeatherFactor:
    """A computed weather-and-shielding factor.

    Attributes
    ----------
    value : float
        The factor [1/h].
    station : str
        Name of the weather year.
    effective, mean : float
        Effective and mean air change of the reference house [1/h].
    says : str
        That it is computed, and for which house.
    """

    value: float
    station: str
    effective: float
    mean: float
    says: str


def weather_shielding_factor(
    year: WeatherYear, house: ReferenceHouse = REFERENCE_HOUSE
) -> WeatherFactor:
    """Compute the weather-and-shielding factor of a place.

    Parameters
    ----------
    year : WeatherYear
        Hourly weather.
    house : ReferenceHouse
        For which house.

    Returns
    -------
    WeatherFactor

    Notes
    -----
    ``1.44 Q_eff / (NL A)`` with Q_eff in L/s and A in m² [UMC]_: infiltration by AIM-2
    each hour, and of its air changes the effective one over the year. Between houses
    from normalized leakage 0.2 to 1.0 the factor moves by less than a tenth; from one
    shelter class to the next by a quarter to a third. For Greensboro NC it comes out at
    0.32; the printed values are recalled as 0.4 to 0.7 for most US stations, so the
    computed factor errs towards a larger fan.

    References
    ----------
    .. [UMC] Uniform Mechanical Code, appendix E, eq. 605.1.3.2.
    .. [TURNER2012] W. Turner, M. Sherman, I. Walker, 2012.
    """
    area = house.normalized_leakage * house.floor_area / 1000.0 / (house.height / 2.5) ** 0.4
    parts = aim2_infiltration(
        leakage_coefficient(area, house.leaks.exponent),
        house.leaks,
        house.height,
        np.clip(year.temperature, house.coolest, house.warmest),
        year.temperature,
        aim2_eave_wind(year.wind_speed, house.height),
        shelter=house.shelter,
        density=year.pressure / (287.055 * year.temperature),
    )
    volume = house.floor_area * house.height
    changes = parts.flow * 3600.0 / volume
    effective = effective_air_change(changes)
    flow = 1000.0 * effective * volume / 3600.0
    value = 1.44 * flow / (house.normalized_leakage * house.floor_area)
    return WeatherFactor(value, year.name, effective, float(changes.mean()), house.says)
