"""What fan flows and tracer decays take from the rest of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.tracer_decay import (
    TracerDecayResult,
    TracerDecayTest,
    reduce_tracer_decay,
)
from rooftree.readings.ventilation import (
    VentilationResult,
    VentilationTest,
    reduce_ventilation,
)

if TYPE_CHECKING:
    from rooftree.job.kinds import Circumstances

TWO_SIDED = 2.0
"""Standard uncertainties between a value and its 95 % limits [-]."""

LEAKAGE_DIVISOR = 20.0
"""Air changes at 50 Pa over those of a year [-]: A. Meier, Home Energy magazine, 1986, after
Kronvall and Persily 1982; enough to see a factor of three."""

HOUR = 3600.0


def reduce_ventilation_of(reading: VentilationTest, at: Circumstances) -> VentilationResult:
    """Reduce measured fans, and hold them against what the house needs.

    Parameters
    ----------
    reading : VentilationTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    VentilationResult
    """
    tested = at.airtightness
    flow = tested.sizes.flow50 if tested else None
    living = at.house.living_spaces
    tops = [space.floor_level + space.height for space in living]
    year = at.year() if at.year is not None and reading.weather_factor is None else None
    return reduce_ventilation(
        reading,
        floor_area=at.house.floor_area,
        bedrooms=at.house.use.bedrooms,
        height=max(tops) - min(space.floor_level for space in living),
        flow_50=flow.value if flow else None,
        flow_50_uncertainty=(flow.high - flow.low) / (2.0 * TWO_SIDED * flow.value)
        if flow
        else 0.0,
        year=year,
    )


def reduce_tracer_decay_of(reading: TracerDecayTest, at: Circumstances) -> TracerDecayResult:
    """Reduce a tracer decay in the air of the tested enclosure.

    Parameters
    ----------
    reading : TracerDecayTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    TracerDecayResult
    """
    volume = at.enclosure.volume
    leakage = at.flow_50
    expected = leakage / volume * HOUR / LEAKAGE_DIVISOR if leakage is not None else None
    return reduce_tracer_decay(reading, volume=volume, expected_air_changes=expected)
