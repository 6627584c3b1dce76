"""Years whose hours are written down by hand, so that every number can be worked out."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from engine.weather_years import even_year
from rooftree.diagnosis.simulated_year import SimulatedYear, read_year
from rooftree.engine import Hourly, YearResult

if TYPE_CHECKING:
    from rooftree.house import House
    from rooftree.weather import WeatherYear

HOURS = 8760


def held_result(house: House, temperature: float = 293.15, **changes: Any) -> YearResult:
    """Return a year in which nothing moves and all is as warm, but for the hourly changes."""
    spaces, elements = len(house.spaces), len(house.surfaces) + len(house.windows)

    def rows(columns: int, value: float = 0.0) -> np.ndarray:
        return np.full((HOURS, columns), value)

    hourly = Hourly(
        temperature=rows(spaces, temperature), humidity_ratio=rows(spaces, 0.005),
        pressure=rows(spaces), leak_flow=rows(len(house.leaks)), heating=rows(spaces),
        cooling=rows(spaces), aired=rows(spaces), infiltration=np.zeros(HOURS),
        runtime=np.zeros(HOURS),
        radiant=rows(spaces, temperature), face_inside=rows(elements, temperature),
        face_outside=rows(elements, temperature), conducted_inside=rows(elements),
        conducted_outside=rows(elements), sun=rows(spaces),
        entering=np.zeros((HOURS, spaces, spaces + 1)),
        supply_temperature=np.full(HOURS, np.nan), condensate=np.zeros(HOURS), bought=rows(6),
    )  # fmt: skip
    return YearResult(
        space_ids=tuple(space.id for space in house.spaces),
        leak_ids=tuple(leak.id for leak in house.leaks),
        element_ids=tuple(part.id for part in (*house.surfaces, *house.windows)),
        energy={}, heating_load=0.0, cooling_load=0.0, peak_heating=0.0, peak_cooling=0.0,
        unmet_heating_hours=0, unmet_cooling_hours=0, mean_infiltration=0.0, source_shares={},
        entering=np.zeros((spaces, spaces + 1)), mean_temperature=np.zeros(spaces),
        minimum_temperature=np.zeros(spaces), maximum_temperature=np.zeros(spaces),
        mean_relative_humidity=np.zeros(spaces), hours_above_80_percent=np.zeros(spaces, int),
        heat_balance_error=0.0, mass_residual=0.0,
        hourly=replace(hourly, **{name: np.asarray(value) for name, value in changes.items()}),
    )  # fmt: skip


def held_year(
    house: House, weather: WeatherYear | None = None, temperature: float = 293.15, **changes: Any
) -> SimulatedYear:
    """Return such a year beside its house, in frost without wind and sun."""
    result = held_result(house, temperature, **changes)
    return read_year(house, result, weather or even_year())


def all_year(*values: float) -> np.ndarray:
    """Return one column for each value, the same in every hour."""
    return np.tile(np.array(values, dtype=float), (HOURS, 1))
