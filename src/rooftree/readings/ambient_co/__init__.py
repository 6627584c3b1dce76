"""Carbon monoxide in room air over a visit."""

from rooftree.known import Answer
from rooftree.readings.ambient_co.judge import CAUTIONS
from rooftree.readings.ambient_co.readings import AmbientReading, AmbientTest
from rooftree.readings.ambient_co.reduction import AmbientResult, reduce_ambient_co
from rooftree.readings.ambient_co.trend import PlaceResult, trend_of

__all__ = [
    "CAUTIONS",
    "AmbientReading",
    "AmbientResult",
    "AmbientTest",
    "Answer",
    "PlaceResult",
    "reduce_ambient_co",
    "trend_of",
]
