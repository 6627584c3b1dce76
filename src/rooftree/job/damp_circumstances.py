"""What moisture readings and duct runs take from the rest of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.errors import RooftreeError
from rooftree.readings.duct_heat import DuctHeatResult, DuctHeatTest, reduce_duct_heat
from rooftree.readings.moisture import MoistureResult, MoistureTest, reduce_moisture
from rooftree.readings.tracer_decay import TracerDecayTest, reduce_tracer_decay
from rooftree.weather.climate import climate_zone, monthly_means

if TYPE_CHECKING:
    from rooftree.job.kinds import Circumstances
    from rooftree.physics.propagation import Propagated
    from rooftree.weather import WeatherYear


def reduce_moisture_of(reading: MoistureTest, at: Circumstances) -> MoistureResult:
    """Reduce moisture readings with the coldest month of the place and a measured air flow.

    Parameters
    ----------
    reading : MoistureTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    MoistureResult
    """
    year = _year(at)
    winter = None if year is None else float(monthly_means(year.temperature).min())
    flow = _air_flow(at)
    if flow is None:
        return reduce_moisture(reading, winter)
    return reduce_moisture(reading, winter, flow.value, flow.standard / flow.value)


def reduce_duct_heat_of(reading: DuctHeatTest, at: Circumstances) -> DuctHeatResult:
    """Reduce duct runs with the climate zone of the place.

    Parameters
    ----------
    reading : DuctHeatTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    DuctHeatResult
    """
    year = _year(at)
    if year is None:
        return reduce_duct_heat(reading)
    zone = climate_zone(year)
    return reduce_duct_heat(reading, f"{zone.number}{zone.moisture}")


def _year(at: Circumstances) -> WeatherYear | None:
    try:
        return at.year() if at.year is not None else None
    except RooftreeError:  # the job says elsewhere that its weather is missing
        return None


def _air_flow(at: Circumstances) -> Propagated | None:
    """Return the outdoor air that a tracer decay of the same visit has measured."""
    for other in at.readings:
        if isinstance(other, TracerDecayTest):
            try:
                flow = reduce_tracer_decay(other, volume=at.enclosure.volume).flow
            except RooftreeError:
                continue
            if flow is not None and flow.value > 0.0:
                return flow
    return None
