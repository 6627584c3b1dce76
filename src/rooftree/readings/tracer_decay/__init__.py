"""A tracer gas that the air of the house carries away."""

from rooftree.readings.tracer_decay.background import Background
from rooftree.readings.tracer_decay.formulas import steady_flow, two_point_air_changes
from rooftree.readings.tracer_decay.generation import Generation, generation_rates
from rooftree.readings.tracer_decay.readings import (
    Activity,
    OutdoorReading,
    SteadyReading,
    Tracer,
    TracerDecayTest,
    TracerReading,
)
from rooftree.readings.tracer_decay.reduction import reduce_tracer_decay
from rooftree.readings.tracer_decay.results import (
    PositionDecay,
    SteadyResult,
    TracerDecayResult,
)

__all__ = [
    "Activity",
    "Background",
    "Generation",
    "OutdoorReading",
    "PositionDecay",
    "SteadyReading",
    "SteadyResult",
    "Tracer",
    "TracerDecayResult",
    "TracerDecayTest",
    "TracerReading",
    "generation_rates",
    "reduce_tracer_decay",
    "steady_flow",
    "two_point_air_changes",
]
