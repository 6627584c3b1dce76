"""Moisture readings: air of places, cold surfaces, wood; where the water comes from."""

from rooftree.readings.moisture.air import PlaceAir
from rooftree.readings.moisture.comparison import Comparison
from rooftree.readings.moisture.limits import MoistureLimit, moisture_limit, moisture_limits
from rooftree.readings.moisture.readings import (
    AirReading,
    Finish,
    InspectionRule,
    InTheWay,
    MeterMode,
    MoistureTest,
    PlaceKind,
    Side,
    SurfaceReading,
    Thermometer,
    Wood,
    WoodReading,
)
from rooftree.readings.moisture.reduction import CAUTIONS, MoistureResult, reduce_moisture
from rooftree.readings.moisture.surfaces import Surface
from rooftree.readings.moisture.wood import WoodMoisture

__all__ = [
    "CAUTIONS",
    "AirReading",
    "Comparison",
    "Finish",
    "InTheWay",
    "InspectionRule",
    "MeterMode",
    "MoistureLimit",
    "MoistureResult",
    "MoistureTest",
    "PlaceAir",
    "PlaceKind",
    "Side",
    "Surface",
    "SurfaceReading",
    "Thermometer",
    "Wood",
    "WoodMoisture",
    "WoodReading",
    "moisture_limit",
    "moisture_limits",
    "reduce_moisture",
]
