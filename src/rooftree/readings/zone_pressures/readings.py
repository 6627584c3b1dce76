"""What a person reads of a buffer space while the fan holds the house."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ZonePressureTest:
    """Pressure of one buffer space during the fan test.

    Attributes
    ----------
    space : str
        Id of the buffer space.
    house_pressure : float
        House with reference to outdoors, signed, baseline taken off [Pa].
    zone_pressure : float
        House with reference to the zone, signed like `house_pressure` [Pa].
    exponent : float
        Assumed for both boundaries [-], 0.5 to 1.
    pressure_uncertainty : float
        Standard uncertainty of one reading [Pa].
    """

    space: str
    house_pressure: float
    zone_pressure: float
    exponent: float = 0.65
    pressure_uncertainty: float = 0.5
