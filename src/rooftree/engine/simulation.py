"""Run a house, or many, through a year of weather."""

from __future__ import annotations

import os
from concurrent.futures import FIRST_COMPLETED, ThreadPoolExecutor, wait
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.arrays import (
    BACKUP,
    COLD,
    COLD_DELIVERED,
    COLD_PEAK,
    COLD_UNMET,
    DRYING,
    HEAT_DELIVERED,
    HEAT_PEAK,
    HEAT_UNMET,
    HOT,
    IMBALANCE,
    INFILTRATION,
    MOVING,
    NET_HEAT,
    SUMS,
    THROUGHPUT,
    USES,
    Records,
    Totals,
)
from rooftree.engine.climate import DAYS_IN_MONTH
from rooftree.engine.compile import Compiled, compile_house, make_state, make_work
from rooftree.engine.kernel import PASSES, run_hours
from rooftree.engine.results import Hourly, YearResult
from rooftree.house import OUTDOORS, EndUse, Fuel

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from rooftree.house import House
    from rooftree.weather import WeatherYear

WARM_UP = 14 * 24
"""Hours of the end of the year that are run before its beginning, to forget the start [h]."""

SPANS = 2
"""Parts of the year that are run apart, so that one house uses two cores."""

_SECONDS = np.array(DAYS_IN_MONTH) * 86400.0


def simulate(
    house: House, year: WeatherYear, *, hourly: bool = False, together: bool = True
) -> YearResult:
    """Run a house through a year of weather, hour by hour.

    Parameters
    ----------
    house : House
        The house.
    year : WeatherYear
        The weather.
    hourly : bool
        Whether to keep the year hour by hour.
    together : bool
        Whether the parts of the year run at the same time, on several cores; the result
        is the same.

    Returns
    -------
    YearResult

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    """
    compiled = compile_house(house, year)
    totals, records = run_compiled(compiled, hourly=hourly, together=together)
    return _result(house, compiled, totals, records)


def run_compiled(
    compiled: Compiled, *, hourly: bool = False, warm_up: int = WARM_UP, together: bool = True
) -> tuple[Totals, Records]:
    """Run the hour loop on arrays.

    Parameters
    ----------
    compiled : Compiled
        The house as arrays.
    hourly : bool
        Whether to keep every hour.
    warm_up : int
        Hours before each part of the year to run first [h].
    together : bool
        Whether the parts of the year run at the same time, on several cores.

    Returns
    -------
    tuple of Totals and Records

    Notes
    -----
    The year is run in `SPANS` parts, each from a house at rest `warm_up` hours before:
    after two weeks the start is forgotten (see `WARM_UP`).
    """
    n, hours = compiled.air.volume.size, compiled.weather.temperature.size
    m, rows = compiled.elements.area.size, hours if hourly else 0
    records = Records(
        temperature=np.zeros((rows, n)),
        humidity=np.zeros((rows, n)),
        pressure=np.zeros((rows, n)),
        flow=np.zeros((rows, compiled.air.first.size)),
        heating=np.zeros((rows, n)),
        cooling=np.zeros((rows, n)),
        infiltration=np.zeros(rows),
        runtime=np.zeros(rows),
        radiant=np.zeros((rows, n)),
        face_inside=np.zeros((rows, m)),
        face_outside=np.zeros((rows, m)),
        conducted_inside=np.zeros((rows, m)),
        conducted_outside=np.zeros((rows, m)),
        sun=np.zeros((rows, n)),
        entering=np.zeros((rows, n, n + 1)),
        supply_temperature=np.full(rows, np.nan),
        condensate=np.zeros(rows),
        bought=np.zeros((rows, USES)),
    )

    def run(span: tuple[int, int]) -> Totals:
        totals = _totals(n)
        state = make_state(compiled, span[0] - warm_up)
        run_hours(
            *span, warm_up, PASSES, compiled.elements, compiled.air, compiled.plant,
            compiled.weather, state, make_work(compiled), totals, records,
        )  # fmt: skip
        return totals

    spans = _spans(hours, warm_up)
    if not together or len(spans) == 1:
        return _added([run(span) for span in spans]), records
    with ThreadPoolExecutor(len(spans)) as pool:
        return _added(list(pool.map(run, spans))), records


def _spans(hours: int, warm_up: int) -> list[tuple[int, int]]:
    """Return the parts of the weather that are run apart, each after its own warm-up.

    Always the same ones, whether on one core or several, so that a house has one result.
    """
    if warm_up == 0 or hours < SPANS * warm_up:
        return [(0, hours)]
    ends = [hours * part // SPANS for part in range(SPANS + 1)]
    return list(pairwise(ends))


def _totals(n: int) -> Totals:
    temperature = np.zeros((3, n))
    temperature[1] = np.inf
    return Totals(
        np.zeros(SUMS), np.zeros((12, USES)), temperature, np.zeros((2, n)), np.zeros(n + 1),
        np.zeros((n, n + 1)),
    )


def _added(parts: list[Totals]) -> Totals:
    """Return what several parts of a year add up to."""
    whole = parts[0]
    for part in parts[1:]:
        largest = np.maximum(whole.sums, part.sums)
        whole.sums[:] += part.sums
        whole.sums[[HEAT_PEAK, COLD_PEAK, IMBALANCE]] = largest[[HEAT_PEAK, COLD_PEAK, IMBALANCE]]
        whole.bought[:] += part.bought
        whole.temperature[0] += part.temperature[0]
        np.minimum(whole.temperature[1], part.temperature[1], out=whole.temperature[1])
        np.maximum(whole.temperature[2], part.temperature[2], out=whole.temperature[2])
        whole.humidity[:] += part.humidity
        whole.sources[:] += part.sources
        whole.entering[:] += part.entering
    return whole


def _result(house: House, compiled: Compiled, totals: Totals, records: Records) -> YearResult:
    sums = totals.sums
    hours = compiled.weather.temperature.size
    mass = float(totals.sources.sum())
    origins = (*(space.id for space in house.spaces), OUTDOORS)
    return YearResult(
        space_ids=tuple(space.id for space in house.spaces),
        leak_ids=tuple(leak.id for leak in house.leaks),
        element_ids=compiled.element_ids,
        energy=_energy(house, totals.bought),
        heating_load=float(sums[HEAT_DELIVERED]),
        cooling_load=float(sums[COLD_DELIVERED]),
        peak_heating=float(sums[HEAT_PEAK]),
        peak_cooling=float(sums[COLD_PEAK]),
        unmet_heating_hours=int(sums[HEAT_UNMET]),
        unmet_cooling_hours=int(sums[COLD_UNMET]),
        mean_infiltration=float(sums[INFILTRATION]) / hours,
        source_shares={
            origin: float(share) / mass
            for origin, share in zip(origins, totals.sources, strict=True)
            if share > 0.0
        },
        entering=totals.entering,
        mean_temperature=totals.temperature[0] / hours,
        minimum_temperature=totals.temperature[1],
        maximum_temperature=totals.temperature[2],
        mean_relative_humidity=totals.humidity[0] / hours,
        hours_above_80_percent=totals.humidity[1].astype(np.int64),
        heat_balance_error=float(abs(sums[NET_HEAT]) / max(sums[THROUGHPUT], 1.0)),
        mass_residual=float(sums[IMBALANCE]),
        hourly=_hourly(compiled, records) if records.temperature.size else None,
    )


def _hourly(compiled: Compiled, records: Records) -> Hourly:
    order = compiled.leak_order
    flow = np.empty((records.flow.shape[0], order.size))
    flow[:, order] = records.flow[:, : order.size]
    return Hourly(
        temperature=records.temperature,
        humidity_ratio=records.humidity,
        pressure=records.pressure,
        leak_flow=flow,
        heating=records.heating,
        cooling=records.cooling,
        infiltration=records.infiltration,
        runtime=records.runtime,
        radiant=records.radiant,
        face_inside=records.face_inside,
        face_outside=records.face_outside,
        conducted_inside=records.conducted_inside,
        conducted_outside=records.conducted_outside,
        sun=records.sun,
        entering=records.entering,
        supply_temperature=records.supply_temperature,
        condensate=records.condensate,
        bought=records.bought,
    )


def _energy(
    house: House, bought: NDArray[np.float64]
) -> dict[tuple[Fuel, EndUse], NDArray[np.float64]]:
    """Return what is bought by fuel, end use and month [J]."""
    energy: dict[tuple[Fuel, EndUse], NDArray[np.float64]] = {}

    def add(fuel: Fuel, use: EndUse, months: NDArray[np.float64]) -> None:
        if months.any():
            energy[fuel, use] = energy.get((fuel, use), 0.0) + months

    use, heater = house.use, house.water_heater
    if house.heating is not None:
        add(house.heating.fuel, EndUse.HEATING, bought[:, HOT])
    add(Fuel.ELECTRICITY, EndUse.HEATING, bought[:, BACKUP])
    add(Fuel.ELECTRICITY, EndUse.COOLING, bought[:, COLD])
    add(Fuel.ELECTRICITY, EndUse.AIR_MOVING, bought[:, MOVING])
    add(Fuel.ELECTRICITY, EndUse.DRYING, bought[:, DRYING])
    if heater is not None:
        add(heater.fuel, EndUse.HOT_WATER, use.hot_water_heat / heater.efficiency * _SECONDS)
    for fan in house.fans:
        power = fan.power * float(np.mean(fan.hours))
        add(Fuel.ELECTRICITY, EndUse.VENTILATION, power * _SECONDS)
    add(Fuel.ELECTRICITY, EndUse.OTHER, use.electricity * _SECONDS)
    add(Fuel.GAS, EndUse.OTHER, use.cooking_gas * _SECONDS)
    return energy


def simulate_many(
    houses: Sequence[House],
    year: WeatherYear,
    *,
    workers: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> tuple[YearResult, ...]:
    """Run many houses through the same year, on several cores.

    Parameters
    ----------
    houses : sequence of House
        The houses, usually variants of one.
    year : WeatherYear
        The weather.
    workers : int or None
        Threads; None for one on each core.
    progress : callable or None
        Called with the number done and the number of all, in this thread.
    cancelled : callable or None
        Asked between houses; what is done so far is returned once it says so.

    Returns
    -------
    tuple of YearResult
        In the order of the houses; shorter if cancelled.

    Notes
    -----
    The hour loop releases the interpreter's lock, so threads run on all cores and share
    the weather; nothing is copied or pickled. For a cluster, send `simulate` itself to any
    `concurrent.futures.Executor`: it needs no state of this process.
    """
    results: dict[int, YearResult] = {}
    alone = partial(simulate, together=False)
    cores = workers or os.cpu_count() or 1
    with ThreadPoolExecutor(max_workers=cores) as pool:
        waiting, coming = {}, iter(enumerate(houses))
        for number, house in coming:
            waiting[pool.submit(alone, house, year)] = number
            if len(waiting) >= 2 * cores:
                break
        while waiting:
            done, _ = wait(waiting, return_when=FIRST_COMPLETED)
            for future in done:
                results[waiting.pop(future)] = future.result()
                if cancelled is not None and cancelled():
                    continue
                for number, house in coming:
                    waiting[pool.submit(alone, house, year)] = number
                    break
            if progress is not None:
                progress(len(results), len(houses))
    complete = next((i for i in range(len(houses)) if i not in results), len(houses))
    return tuple(results[i] for i in range(complete))
