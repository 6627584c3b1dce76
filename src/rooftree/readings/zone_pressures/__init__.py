"""Zone pressures: how a buffer space is joined to house and outdoors."""

from rooftree.readings.zone_pressures.readings import (
    AddedHoleTest,
    Boundary,
    OpenedHatchTest,
    ZoneKind,
    ZonePressureTest,
)
from rooftree.readings.zone_pressures.reduction import ZonePressureResult, reduce_zone_pressure
from rooftree.readings.zone_pressures.sizing import (
    ZoneLeaks,
    reduce_added_hole,
    reduce_opened_hatch,
)

__all__ = [
    "AddedHoleTest",
    "Boundary",
    "OpenedHatchTest",
    "ZoneKind",
    "ZoneLeaks",
    "ZonePressureResult",
    "ZonePressureTest",
    "reduce_added_hole",
    "reduce_opened_hatch",
    "reduce_zone_pressure",
]
