"""Every kind of test that a job can hold, and how each is reduced.

A kind is named here once; its readings, its method and its limits live in its own
package of `rooftree.readings`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from rooftree.job.air_circumstances import reduce_air_handler_of, reduce_room_pressures_of
from rooftree.job.burner_circumstances import (
    reduce_combustion_air_of,
    reduce_combustion_of,
    reduce_worst_case_of,
)
from rooftree.job.damp_circumstances import reduce_duct_heat_of, reduce_moisture_of
from rooftree.job.duct_circumstances import (
    reduce_delta_q_of,
    reduce_duct_leakage_of,
    reduce_duct_subtraction_of,
)
from rooftree.job.fresh_air_circumstances import reduce_tracer_decay_of, reduce_ventilation_of
from rooftree.job.sealing_circumstances import reduce_air_sealing_of
from rooftree.readings.air_handler import AirHandlerTest
from rooftree.readings.air_sealing import AirSealingLog
from rooftree.readings.airtightness import FanTest, reduce_fan_test
from rooftree.readings.ambient_co import AmbientTest, reduce_ambient_co
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.combustion_air import CombustionAirTest
from rooftree.readings.duct_heat import DuctHeatTest
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.duct_leakage_from_house import DeltaQTest, DuctSubtractionTest
from rooftree.readings.duct_pans import DuctPanTest, reduce_duct_pans
from rooftree.readings.gas_leaks import GasLeakTest, reduce_gas_leaks
from rooftree.readings.insulation import InsulationSurvey, reduce_insulation
from rooftree.readings.moisture import MoistureTest
from rooftree.readings.room_pressures import RoomPressureTest
from rooftree.readings.tracer_decay import TracerDecayTest
from rooftree.readings.ventilation import VentilationTest
from rooftree.readings.worst_case import WorstCaseTest
from rooftree.readings.zone_pressures import (
    AddedHoleTest,
    OpenedHatchTest,
    ZonePressureTest,
    reduce_added_hole,
    reduce_opened_hatch,
    reduce_zone_pressure,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from rooftree.finding import Finding
    from rooftree.house import House
    from rooftree.job.leakage_outlook import LeakageOutlook
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
    outlook : callable or None
        Gives what leakage means in this house when asked; None where that is not at hand.
    """

    enclosure: Enclosure
    house: House
    readings: tuple[object, ...] = ()
    airtightness: AirtightnessResult | None = None
    year: Callable[[], WeatherYear] | None = None
    outlook: Callable[[], LeakageOutlook] | None = None

    @property
    def flow_50(self) -> float | None:
        """Leakage at 50 Pa by the fan tests [m³/s]; None without one."""
        return self.airtightness.sizes.flow50.value if self.airtightness else None


REDUCERS: Mapping[type, Callable[[Any, Circumstances], Result]] = {
    FanTest: lambda reading, at: reduce_fan_test(reading, at.enclosure),
    ZonePressureTest: lambda reading, at: reduce_zone_pressure(reading, at.flow_50),
    AddedHoleTest: lambda reading, _: reduce_added_hole(reading),
    OpenedHatchTest: lambda reading, _: reduce_opened_hatch(reading),
    DuctLeakageTest: reduce_duct_leakage_of,
    DuctPanTest: lambda reading, _: reduce_duct_pans(reading),
    DuctSubtractionTest: reduce_duct_subtraction_of,
    DeltaQTest: reduce_delta_q_of,
    AirHandlerTest: reduce_air_handler_of,
    RoomPressureTest: reduce_room_pressures_of,
    VentilationTest: reduce_ventilation_of,
    TracerDecayTest: reduce_tracer_decay_of,
    AmbientTest: lambda reading, _: reduce_ambient_co(reading),
    GasLeakTest: lambda reading, _: reduce_gas_leaks(reading),
    WorstCaseTest: reduce_worst_case_of,
    CombustionTest: reduce_combustion_of,
    CombustionAirTest: reduce_combustion_air_of,
    DuctHeatTest: reduce_duct_heat_of,
    MoistureTest: reduce_moisture_of,
    InsulationSurvey: lambda reading, _: reduce_insulation(reading),
    AirSealingLog: reduce_air_sealing_of,
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
