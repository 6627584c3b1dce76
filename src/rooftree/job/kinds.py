"""Every kind of test that a job can hold, and how each is reduced.

A kind is named here once; its readings, its method and its limits live in its own
package of `rooftree.readings`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from rooftree.job.air_circumstances import reduce_air_handler_of, reduce_room_pressures_of
from rooftree.job.damp_circumstances import reduce_duct_heat_of, reduce_moisture_of
from rooftree.readings.air_handler import AirHandlerTest
from rooftree.readings.airtightness import FanTest, reduce_fan_test
from rooftree.readings.combustion import CombustionTest, reduce_combustion
from rooftree.readings.duct_heat import DuctHeatTest
from rooftree.readings.duct_leakage import DuctLeakageTest, reduce_duct_leakage
from rooftree.readings.moisture import MoistureTest
from rooftree.readings.room_pressures import RoomPressureTest
from rooftree.readings.zone_pressures import ZonePressureTest, reduce_zone_pressure

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.finding import Finding
    from rooftree.house import House
    from rooftree.readings.airtightness import AirtightnessResult, Enclosure
    from rooftree.weather import WeatherYear


class Result(Protocol):
    """What every reduced test has."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Doubts and limits."""


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What a test may need to know of the rest of the job.

    Attributes
    ----------
    enclosure : Enclosure
        The tested enclosure.
    house : House
        As described.
    readings : tuple of object
        Raw readings of all tests of the same state of the house, as found or after work.
    airtightness : AirtightnessResult or None
        Mean of the fan tests of the house as found; None without one.
    year : callable or None
        Gives the typical year of the job when asked; None where there is no access to it.
    """

    enclosure: Enclosure
    house: House
    readings: tuple[object, ...] = ()
    airtightness: AirtightnessResult | None = None
    year: Callable[[], WeatherYear] | None = None

    @property
    def flow_50(self) -> float | None:
        """Leakage at 50 Pa by the fan tests [m³/s]; None without one."""
        return self.airtightness.sizes.flow50.value if self.airtightness else None


REDUCERS: Mapping[type, Callable[[Any, Circumstances], Result]] = {
    FanTest: lambda reading, at: reduce_fan_test(reading, at.enclosure),
    ZonePressureTest: lambda reading, at: reduce_zone_pressure(reading, at.flow_50),
    DuctLeakageTest: lambda reading, at: reduce_duct_leakage(reading, at.enclosure.floor_area),
    AirHandlerTest: reduce_air_handler_of,
    RoomPressureTest: reduce_room_pressures_of,
    CombustionTest: lambda reading, _: reduce_combustion(reading),
    DuctHeatTest: reduce_duct_heat_of,
    MoistureTest: reduce_moisture_of,
}
"""What reduces each kind of reading."""


def reduce_reading(reading: object, circumstances: Circumstances) -> Result:
    """Reduce one test by its published method.

    Parameters
    ----------
    reading : object
        Raw readings of any kind in `REDUCERS`.
    circumstances : Circumstances
        What the rest of the job tells.

    Returns
    -------
    Result
        Of that kind, with its findings.

    Raises
    ------
    RooftreeError
        If the readings cannot be reduced.
    """
    return REDUCERS[type(reading)](reading, circumstances)
