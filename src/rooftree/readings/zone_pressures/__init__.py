"""Zone pressures: how a buffer space is joined to house and outdoors."""

from rooftree.readings.zone_pressures.readings import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZonePressureTest,
)
from rooftree.readings.zone_pressures.reduction import (
    ZoneLeaks,
    ZonePressureResult,
    reduce_added_hole,
    reduce_opened_hatch,
    reduce_zone_pressure,
)

__all__ = [
    "AddedHoleTest",
    "Boundary",
    "OpenedHatchTest",
    "ZoneLeaks",
    "ZonePressureResult",
    "ZonePressureTest",
    "reduce_added_hole",
    "reduce_opened_hatch",
    "reduce_zone_pressure",
]
