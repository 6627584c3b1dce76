"""The air in both plenums: its density and the water it carries."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.physics.air import (
    humidity_ratio,
    moist_air_density,
    relative_humidity,
)
from rooftree.readings.air_handler.heat import humidity_from_wet_bulb
from rooftree.readings.air_handler.readings import RegisterSide

if TYPE_CHECKING:
    from rooftree.readings.air_handler.readings import AirHandlerTest

ASSUMED_TEMPERATURE = 294.0
"""Of air whose temperature was not read [K]."""

ASSUMED_HUMIDITY = 0.5
"""Relative humidity of return air that was not read [0-1]: moves density by less than 0.5 %."""

COLDEST, HOTTEST = 255.0, 360.0
"""Between which a plenum temperature can be one [K]."""


@dataclass(frozen=True, slots=True)
class PlenumAir:
    """Air in both plenums.

    Attributes
    ----------
    barometer : float
        [Pa].
    return_density, supply_density : float
        Of moist air [kg/m³].
    humidity : float
        Humidity ratio of the return air [kg/kg].
    knows_humidity : bool
        Whether that was read.
    """

    barometer: float
    return_density: float
    supply_density: float
    humidity: float
    knows_humidity: bool

    def density(self, side: RegisterSide) -> float:
        """Return the density on one side [kg/m³]."""
        return self.return_density if side is RegisterSide.RETURN else self.supply_density


def plenum_air(test: AirHandlerTest) -> PlenumAir:
    """Return the state of the air that the readings tell.

    Parameters
    ----------
    test : AirHandlerTest
        Readings; a temperature that cannot be one counts as not read.

    Returns
    -------
    PlenumAir
    """
    barometer = test.barometric_pressure
    back = _possible(test.return_temperature) or ASSUMED_TEMPERATURE
    out = _possible(test.supply_temperature) or back
    carried = plenum_humidity(test, RegisterSide.RETURN)
    humidity = humidity_ratio(back, ASSUMED_HUMIDITY, barometer) if carried is None else carried
    return PlenumAir(
        barometer=barometer,
        return_density=_density(back, humidity, barometer),
        supply_density=_density(out, humidity, barometer),
        humidity=humidity,
        knows_humidity=carried is not None,
    )


def plenum_humidity(test: AirHandlerTest, side: RegisterSide) -> float | None:
    """Return the water that the air of one plenum carries.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    side : RegisterSide
        Which plenum.

    Returns
    -------
    float or None
        Humidity ratio [kg/kg]; None where it was not read or cannot be.
    """
    barometer = test.barometric_pressure
    is_return = side is RegisterSide.RETURN
    dry = _possible(test.return_temperature if is_return else test.supply_temperature)
    wet = test.return_wet_bulb if is_return else test.supply_wet_bulb
    share = test.return_humidity if is_return else test.supply_humidity
    try:
        if dry is not None and wet is not None:
            return humidity_from_wet_bulb(dry, wet, barometer)
        if dry is not None and share is not None:
            return humidity_ratio(dry, share, barometer)
    except OutOfRangeError:
        return None
    return None


def _possible(temperature: float | None) -> float | None:
    return temperature if temperature is not None and COLDEST <= temperature <= HOTTEST else None


def _density(temperature: float, humidity: float, barometer: float) -> float:
    share = min(1.0, relative_humidity(temperature, humidity, barometer))
    return moist_air_density(temperature, barometer, share)
