"""How large a quantity of a house or of an instrument can be at all.

A slipped finger types 1e30 as easily as 1e3. What lies beyond these limits is no reading,
no size and no price of any house, and no formula need be held against it; the limits are
far wider than what is sensible, which the findings judge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.units import Kind

if TYPE_CHECKING:
    from collections.abc import Mapping

SMALLEST = 1e-30
"""What is nearer to zero than this without being zero is a slip, in the unit of any kind."""

COLDEST = 180.0
"""Below the coldest air ever read outdoors, 184 K [K]."""

GREATEST: Mapping[Kind, float] = {
    Kind.FLOW: 1e3,
    Kind.PRESSURE: 2e5,
    Kind.STATIC_PRESSURE: 2e5,
    Kind.LENGTH: 1e4,
    Kind.THICKNESS: 1e2,
    Kind.AREA: 1e7,
    Kind.LEAKAGE_AREA: 1e4,
    Kind.VOLUME: 1e8,
    Kind.TEMPERATURE: 3e3,
    Kind.TEMPERATURE_DIFFERENCE: 3e3,
    Kind.THERMAL_RESISTANCE: 1e4,
    Kind.U_VALUE: 1e5,
    Kind.CONDUCTIVITY: 1e4,
    Kind.LEAKAGE_COEFFICIENT: 1e3,
    Kind.SPEED: 1e3,
    Kind.DUCT_SPEED: 1e3,
    Kind.DENSITY: 3e4,
    Kind.DURATION: 1e11,
    Kind.CONCENTRATION: 1e6,
    Kind.AIR_CHANGES: 1e5,
    Kind.VAPOR_FLOW: 1e3,
    Kind.DRYING_EFFICIENCY: 1.0,
    Kind.ANGLE: 1e4,
    Kind.AZIMUTH: 1e4,
    Kind.FRACTION: 1e6,
    Kind.LABOR_RATE: 1e6,
    Kind.ELECTRICITY_PRICE: 1e3,
    Kind.FUEL_PRICE: 1e3,
    Kind.EMISSION: 1.0,
}
"""Greatest size of a quantity, either way, in the unit of the core."""

ANYTHING = 1e15
"""Greatest size of a kind that `GREATEST` does not name, such as money and energy."""


def greatest(kind: Kind) -> float:
    """Return how large a quantity of a kind may be, either way, in the unit of the core."""
    return GREATEST.get(kind, ANYTHING)
