"""Combustion air: whether the burners of a room get air by its volume or its openings."""

from rooftree.readings.combustion_air.makeup import makeup_air
from rooftree.readings.combustion_air.openings import OpeningRule, free_area, opening_rules
from rooftree.readings.combustion_air.readings import (
    AirOpening,
    AirSpace,
    CombustionAirTest,
    Cover,
    Joined,
    OpeningKind,
    OpeningPlace,
    RoomBurner,
)
from rooftree.readings.combustion_air.reduction import (
    CAUTIONS,
    CombustionAirResult,
    reduce_combustion_air,
)
from rooftree.readings.combustion_air.volume import (
    burner_air,
    known_air_volume,
    standard_volume,
)

__all__ = [
    "CAUTIONS",
    "AirOpening",
    "AirSpace",
    "CombustionAirResult",
    "CombustionAirTest",
    "Cover",
    "Joined",
    "OpeningKind",
    "OpeningPlace",
    "OpeningRule",
    "RoomBurner",
    "burner_air",
    "free_area",
    "known_air_volume",
    "makeup_air",
    "opening_rules",
    "reduce_combustion_air",
    "standard_volume",
]
