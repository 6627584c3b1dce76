"""The leakage of the house as this test needs it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.openings import stack_pressure
from rooftree.readings.room_pressures.house_shift import (
    ASSUMED_SPREAD,
    ASSUMED_SPREAD_UNCERTAINTY,
)

if TYPE_CHECKING:
    from rooftree.readings.room_pressures.readings import RoomPressureTest

KNOWN_SPREAD_UNCERTAINTY = 0.3
"""Standard uncertainty of a spread from height and temperatures [0-1], relative: leaks are not
spread evenly; ours."""


@dataclass(frozen=True, slots=True)
class HouseCurve:
    """Leakage of the house and the stack on the day, with standard uncertainties.

    Attributes
    ----------
    flow_50, flow_50_uncertainty : float
        Leakage at 50 Pa [m³/s].
    exponent, exponent_uncertainty : float
        Of the leakage curve [-].
    spread, spread_uncertainty : float
        Stack pressure from the lowest to the highest leak [Pa].
    """

    flow_50: float
    flow_50_uncertainty: float
    exponent: float
    exponent_uncertainty: float
    spread: float
    spread_uncertainty: float

    def values(self) -> tuple[float, float, float]:
        """Return flow at 50 Pa, exponent and spread."""
        return self.flow_50, self.exponent, self.spread

    def doubts(self) -> tuple[float, float, float]:
        """Return their standard uncertainties."""
        return self.flow_50_uncertainty, self.exponent_uncertainty, self.spread_uncertainty


def house_curve(
    test: RoomPressureTest,
    flow_50: float | None,
    exponent: float,
    flow_50_uncertainty: float,
    exponent_uncertainty: float,
) -> HouseCurve | None:
    """Return the leakage of the house and the stack on the day.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    flow_50 : float or None
        Leakage at 50 Pa [m³/s].
    exponent : float
        Of the leakage curve [-].
    flow_50_uncertainty : float
        Standard uncertainty of `flow_50` [0-1], relative.
    exponent_uncertainty : float
        Standard uncertainty of `exponent` [-].

    Returns
    -------
    HouseCurve or None
        None where the leakage is not known.
    """
    if not flow_50:
        return None
    spread, doubt = ASSUMED_SPREAD, ASSUMED_SPREAD_UNCERTAINTY
    height, inside, outside = (
        test.house_height,
        test.indoor_temperature,
        test.outdoor_temperature,
    )
    if height is not None and inside is not None and outside is not None:
        spread = abs(stack_pressure(height, inside, outside))
        doubt = KNOWN_SPREAD_UNCERTAINTY * spread
    return HouseCurve(
        flow_50, flow_50_uncertainty * flow_50, exponent, exponent_uncertainty, spread, doubt
    )
