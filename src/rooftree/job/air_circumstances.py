"""What air handler and room pressures take from the rest of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.air_handler import AirHandlerResult, AirHandlerTest, reduce_air_handler
from rooftree.readings.room_pressures import (
    RoomPressureResult,
    RoomPressureTest,
    reduce_room_pressures,
)

if TYPE_CHECKING:
    from rooftree.job.kinds import Circumstances

TWO_SIDED = 2.0
"""Standard uncertainties between a value and its 95 % limits [-]."""


def reduce_air_handler_of(reading: AirHandlerTest, at: Circumstances) -> AirHandlerResult:
    """Reduce an air handler; the house tells the capacity that the nameplate did not.

    Parameters
    ----------
    reading : AirHandlerTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    AirHandlerResult
    """
    cooling = at.house.cooling
    capacity = cooling.capacity if cooling and cooling.ducted else None
    return reduce_air_handler(reading, rated_capacity=capacity)


def reduce_room_pressures_of(reading: RoomPressureTest, at: Circumstances) -> RoomPressureResult:
    """Reduce room pressures by the leakage curve of the house.

    Parameters
    ----------
    reading : RoomPressureTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    RoomPressureResult
    """
    tested = at.airtightness
    if tested is None:
        return reduce_room_pressures(reading)
    flow = tested.flow50
    fits = [result.fit.exponent_error for result in tested.results]
    return reduce_room_pressures(
        reading,
        flow_50=flow.value,
        exponent=tested.curve.exponent,
        flow_50_uncertainty=(flow.high - flow.low) / (2.0 * TWO_SIDED * flow.value),
        exponent_uncertainty=max(fits),
    )
