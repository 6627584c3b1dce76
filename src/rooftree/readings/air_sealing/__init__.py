"""Guided air sealing: what each location brought, what is left, and when to stop."""

from rooftree.readings.air_sealing.leak_map import PlaceLeft, Taken
from rooftree.readings.air_sealing.readings import AirSealingLog, LeakPlace, SealingRow
from rooftree.readings.air_sealing.reduction import reduce_air_sealing
from rooftree.readings.air_sealing.results import (
    Advice,
    AirSealingResult,
    FlowPoint,
    LimitAhead,
    LocationResult,
    NextLocation,
)

__all__ = [
    "Advice",
    "AirSealingLog",
    "AirSealingResult",
    "FlowPoint",
    "LeakPlace",
    "LimitAhead",
    "LocationResult",
    "NextLocation",
    "PlaceLeft",
    "SealingRow",
    "Taken",
    "reduce_air_sealing",
]
