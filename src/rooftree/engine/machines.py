"""What heating and cooling machines do at one state of the air, for use outside the hour loop."""

from __future__ import annotations

from typing import Any, NamedTuple

from rooftree.engine.arrays import (
    AIR_OUTDOORS,
    FIRST_COLUMN,
    HUMIDITY,
    PRESSURE,
    Plant,
    Work,
    read_plant,
    read_work,
)
from rooftree.engine.compiled import compile_entry
from rooftree.engine.equipment import rate_cold, rate_heat
from rooftree.engine.lanes import addresses, kind_of, lanes_of, spread


class Outdoors(NamedTuple):
    """Air outdoors.

    Attributes
    ----------
    temperature : float
        [K].
    humidity : float
        Vapor per dry air [kg/kg].
    pressure : float
        [Pa].
    """

    temperature: float
    humidity: float
    pressure: float


class HeatAtFullRun(NamedTuple):
    """Output with the heat of the fan, and input without its power [W]."""

    output: float
    power: float


class ColdAtFullRun(NamedTuple):
    """Sensible output less the heat of the fan, input without its power [W], sensible share."""

    output: float
    power: float
    sensible: float


def heat_at_full_run(plant: Plant, indoor: float, outdoors: Outdoors) -> HeatAtFullRun:
    """Return what the central heating does while it runs.

    Parameters
    ----------
    plant : Plant
        Of a house, from :func:`rooftree.engine.plant.make_plant`.
    indoor : float
        Temperature of the air that it heats [K].
    outdoors : Outdoors
        Air outdoors.

    Returns
    -------
    HeatAtFullRun
    """
    work = _rated(plant, indoor, 0.0, outdoors)
    return HeatAtFullRun(float(work.hot_full[0, 0]), float(work.hot_input[0, 0]))


def cold_at_full_run(
    plant: Plant, indoor: float, humidity: float, outdoors: Outdoors
) -> ColdAtFullRun:
    """Return what the central cooling does while it runs.

    Parameters
    ----------
    plant : Plant
        Of a house, from :func:`rooftree.engine.plant.make_plant`.
    indoor, humidity : float
        Temperature [K] and vapor [kg/kg] of the air that reaches the coil.
    outdoors : Outdoors
        Air outdoors.

    Returns
    -------
    ColdAtFullRun
    """
    work = _rated(plant, indoor, humidity, outdoors)
    return ColdAtFullRun(
        float(work.cold_full[0, 0]), float(work.cold_input[0, 0]), float(work.sensible[0, 0])
    )


def _rated(plant: Plant, indoor: float, humidity: float, outdoors: Outdoors) -> Work:
    """Return the scratch of an hour in which the machines were asked what they can do."""
    lanes = {name: _spread_out(plant, name) for name in Plant._fields}
    shapes = {"Row": (FIRST_COLUMN,), "Grid": (1, 1)}
    work = Work(
        **{
            name: lanes_of(*shapes.get(kind_of(Work, name), (1,))).reshape(-1)
            if kind_of(Work, name) == "Floats"
            else lanes_of(*shapes[kind_of(Work, name)])
            for name in Work._fields
        }
    )
    work.now[AIR_OUTDOORS] = outdoors.temperature
    work.now[HUMIDITY] = outdoors.humidity
    work.now[PRESSURE] = outdoors.pressure
    groups = Plant(**lanes), work
    _rate(*(addresses(group) for group in groups), indoor, humidity)
    return work


def _spread_out(plant: Plant, name: str) -> Any:
    value = getattr(plant, name)
    if kind_of(plant, name) not in ("Row", "Grid"):
        return value
    array = lanes_of(*value.shape)
    array[:] = value[..., None]
    return array


@compile_entry
def _rate(plant_table: Any, work_table: Any, indoor: float, humidity: float) -> None:
    plant, work = read_plant(plant_table), read_work(work_table)
    rate_heat(plant, 0, spread(indoor), work)
    rate_cold(plant, 0, spread(indoor), spread(humidity), work)
