"""Run a house, or many, through a year of weather."""

from __future__ import annotations

import os
from collections import defaultdict
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING, Any

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
    HOURS,
    IMBALANCE,
    INFILTRATION,
    MOVING,
    NET_HEAT,
    NET_VAPOR,
    THROUGHPUT,
    USES,
    VAPOR_THROUGHPUT,
    WATER,
    Records,
    Totals,
)
from rooftree.engine.batch import (
    Batch,
    Run,
    lay_side_by_side,
    make_records,
    shape_of,
    start_run,
)
from rooftree.engine.climate import DAYS_IN_MONTH, STRIDE, Directions, slowed
from rooftree.engine.compile import Compiled, compile_house, exposure_of
from rooftree.engine.kernel import PASSES, run_days, run_days_alike
from rooftree.engine.lanes import WIDTH, addresses, kind_of
from rooftree.engine.network import FEW_SWEEPS, MOST_SWEEPS
from rooftree.engine.results import Hourly, YearResult
from rooftree.errors import HouseError
from rooftree.house import OUTDOORS, EndUse, Fuel

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from numpy.typing import NDArray

    from rooftree.engine.arrays import Weather
    from rooftree.engine.imposed import Imposed
    from rooftree.house import House
    from rooftree.weather import WeatherYear

YEAR = 365
"""Days in a year of weather."""

PART = -(-YEAR // WIDTH)
"""Days of each part of a year, if its parts lie side by side in the lanes."""

STRIDES, DAYS_BEFORE = 6, 2 * PART
"""What is run before anything counts, to forget the start: mean days of `STRIDE` days each
where a year is run in parts; days hour by hour where it is run from end to end."""

ROUNDS, LEFT = 1, 0.12
"""Times that the parts of a year hand their ends on before they count, and the share of an
error in the ground that a part leaves [-], as found for a crawlspace; it is taken off."""

RECORD_WARM_UP = 20
"""Times that the first day of a record that is not a year is run before it."""

FEW = WIDTH // 2
"""Houses below which each is run alone, its year in parts, because that is faster."""

WINDOW = 64
"""Houses that are looked at together for those of one shape."""

_SECONDS = np.array(DAYS_IN_MONTH) * 86400.0


def simulate(
    house: House, year: WeatherYear, *, hourly: bool = False, imposed: Imposed | None = None
) -> YearResult:
    """Run a house through a year of weather, hour by hour.

    Parameters
    ----------
    house : House
        The house.
    year : WeatherYear
        The weather; a record of other length than a year is run from end to end, whole
        days of it, after its first day was repeated until the start is forgotten.
    hourly : bool
        Whether to keep the year hour by hour.
    imposed : Imposed or None
        What was measured and replaces what the model would find.

    Returns
    -------
    YearResult

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    """
    compiled = compile_house(house, year, imposed=imposed)
    ran = run_compiled(compiled, hourly=hourly)
    return _result(house, compiled, ran)


@dataclass(frozen=True, slots=True, eq=False)
class Ran:
    """One house after its run: totals without lanes, and hours if they were kept.

    Attributes
    ----------
    totals : Totals
        Of all hours that count.
    records : Records
        Rows are the hours; without rows if they were not wanted.
    hours : int
        Hours that count.
    """

    totals: Totals
    records: Records
    hours: int


def run_compiled(compiled: Compiled, *, hourly: bool = False, passes: int = PASSES) -> Ran:
    """Run one house on arrays.

    Parameters
    ----------
    compiled : Compiled
        The house as arrays.
    hourly : bool
        Whether to keep every hour.
    passes : int
        Times that air is moved in an hour.

    Returns
    -------
    Ran

    Notes
    -----
    The parts of a year are run side by side (`_run_parts`): every part has the part before
    it behind it, hour by hour, and before that mean days.
    """
    days = compiled.weather.hours // HOURS
    batch = lay_side_by_side([compiled])
    if days == YEAR:
        return _run_parts(batch, slowed(batch.weather), hourly, passes)
    return _run_record(batch, days, hourly, passes)


def _run_record(batch: Batch, days: int, hourly: bool, passes: int) -> Ran:
    """Run a record of some days in one lane, after its first day was repeated."""
    run = _start_of_record(batch, passes)
    run.totals.counted[0, 0] = 1.0
    records = make_records(batch, days * HOURS if hourly else 0)
    _advance(run, days, passes, records)
    return Ran(_lane(run.totals, 0), _lane(records, 0), days * HOURS)


def _start_of_record(batch: Batch, passes: int) -> Run:
    """Return lanes at the beginning of a record, after its first day was repeated."""
    run = start_run(batch, np.zeros(WIDTH, dtype=np.int64))
    nothing = make_records(batch, 0)
    for _ in range(RECORD_WARM_UP):
        run.days[:] = 0
        _advance(run, 1, passes, nothing)
    run.days[:] = 0
    return run


def _start_of_year(batch: Batch) -> Run:
    """Return lanes at the beginning of the year, after the end of it was run."""
    run = start_run(batch, np.full(WIDTH, YEAR - DAYS_BEFORE, dtype=np.int64))
    _advance(run, DAYS_BEFORE, PASSES, make_records(batch, 0), sweeps=FEW_SWEEPS)
    return run


def _run_parts(batch: Batch, slow: Weather, hourly: bool, passes: int) -> Ran:
    """Run the parts of a year side by side, once more often than `ROUNDS`.

    Each part starts where the part before it came out the time before.
    """
    ends = np.round(np.arange(1, WIDTH + 1) * YEAR / WIDTH).astype(np.int64)
    begins = ends - PART
    is_early = begins < np.concatenate([[0], ends[:-1]])  # the first day is another part's too
    nothing = make_records(batch, 0)
    elements = batch.elements
    in_ground = slice(*elements.mode[[elements.first_ground, elements.first_partition]])
    run = _stride(batch, slow, begins % YEAR, passes)
    for _ in range(ROUNDS):
        started = run.state.modes.copy()
        _advance(run, PART - 1, passes, nothing, sweeps=FEW_SWEEPS)
        a_day_before = [array.copy() for array in _memory(run)]
        _advance(run, 1, passes, nothing, sweeps=FEW_SWEEPS)
        for before, array in zip(a_day_before, _memory(run), strict=True):
            array[:] = np.where(is_early, np.roll(before, 1, axis=-1), np.roll(array, 1, axis=-1))
        change = run.state.modes[in_ground] - started[in_ground]
        run.state.modes[in_ground] += LEFT / (1.0 - LEFT) * change
        run.days[:] = begins % YEAR
    records = make_records(batch, PART * HOURS if hourly else 0)
    run.totals.counted[0] = np.where(is_early, 0.0, 1.0)
    _advance(run, 1, passes, records)
    run.totals.counted[0] = 1.0
    _advance(run, PART - 1, passes, records, HOURS)
    return Ran(_added(run.totals), _joined(records, is_early), YEAR * HOURS)


def _memory(run: Run) -> list[NDArray[np.float64]]:
    """Return the arrays that one hour hands to the next."""
    return [*run.state, *run.flows]


def _stride(batch: Batch, slow: Weather, days: NDArray[np.int64], passes: int) -> Run:
    """Return lanes that come to their days with the weather of weeks behind them, roughly.

    One mean day stands for `STRIDE` days, and the layers are carried on as that many equal
    days would carry them. Against every hour, loads of the weeks after are off by up to 1 %.
    """
    nothing = make_records(batch, 0)
    run = start_run(batch, (days - STRIDES * STRIDE) % YEAR)
    last = np.round(days / STRIDE).astype(np.int64)
    fade = batch.elements.fade[:, None] if batch.alike else batch.elements.fade
    daily = fade**HOURS
    onward = (1.0 - daily**STRIDE) / (1.0 - daily)
    for stride in range(STRIDES):
        run.days[:] = (last - STRIDES + stride) % (YEAR // STRIDE)
        before = run.state.modes.copy()
        _advance(run, 1, passes, nothing, weather=slow, sweeps=FEW_SWEEPS)
        run.state.modes[:] = before + (run.state.modes - before) * onward
    run.days[:] = days
    return run


def _advance(
    run: Run,
    days: int,
    passes: int,
    records: Records,
    row: int = 0,
    *,
    weather: Weather | None = None,
    sweeps: int = MOST_SWEEPS,
) -> None:
    """Run a batch on for some days."""
    tables = list(run.tables)
    if weather is not None:
        tables[0] = addresses(weather)
    go = run_days_alike if run.batch.alike else run_days
    go(days, passes, sweeps, run.days, *tables, addresses(records), row)


def _lane(group: Any, lane: int) -> Any:
    """Return the numbers of one lane of a group."""
    fields = {
        name: np.ascontiguousarray(getattr(group, name)[..., lane])
        if kind_of(group, name) in ("Row", "Grid")
        else getattr(group, name)
        for name in group._fields
    }
    return type(group)(**fields)


def _joined(records: Records, is_early: NDArray[np.bool_]) -> Records:
    """Return the hours of the parts of a year one after the other."""
    if not records.wanted:
        return records
    fields: dict[str, Any] = {"wanted": 1}
    for name in Records._fields[1:]:
        lanes = getattr(records, name)
        parts = [lanes[HOURS if is_early[k] else 0 :, ..., k] for k in range(WIDTH)]
        fields[name] = np.concatenate(parts)
    return Records(**fields)


def _added(lanes: Totals) -> Totals:
    """Return what the parts of a year add up to."""
    sums = lanes.sums.sum(axis=-1)
    for largest in (HEAT_PEAK, COLD_PEAK, IMBALANCE):
        sums[largest] = lanes.sums[largest].max()
    temperature = lanes.temperature.sum(axis=-1)
    temperature[1] = lanes.temperature[1].min(axis=-1)
    temperature[2] = lanes.temperature[2].max(axis=-1)
    return Totals(
        uses=lanes.uses,
        counted=lanes.counted[:, 0],
        sums=sums,
        bought=lanes.bought.sum(axis=-1),
        temperature=temperature,
        humidity=lanes.humidity.sum(axis=-1),
        sources=lanes.sources.sum(axis=-1),
        entering=lanes.entering.sum(axis=-1),
    )


def _result(house: House, compiled: Compiled, ran: Ran) -> YearResult:
    totals, hours = ran.totals, ran.hours
    sums = totals.sums
    if not np.isfinite(sums).all():
        message = (
            "the year has no end: heat or air ran away; look for an ideal machine that several "
            "spaces share, or give it a capacity"
        )
        raise HouseError(message)
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
        vapor_balance_error=float(sums[NET_VAPOR] / max(sums[VAPOR_THROUGHPUT], 1.0)),
        mass_residual=float(sums[IMBALANCE]),
        hourly=_hourly(house, compiled, ran.records) if ran.records.wanted else None,
    )


def _hourly(house: House, compiled: Compiled, records: Records) -> Hourly:
    order, n = compiled.leak_order, len(house.spaces)
    flow = np.zeros((records.flow.shape[0], len(house.leaks)))
    for k, leak in enumerate(order):
        flow[:, leak] += records.flow[:, k]
    stands = records.runtime <= 0.0
    return Hourly(
        temperature=records.temperature,
        humidity_ratio=records.humidity,
        pressure=records.pressure,
        leak_flow=flow,
        heating=records.heating,
        cooling=records.cooling,
        aired=records.aired,
        infiltration=records.infiltration,
        runtime=records.runtime,
        radiant=records.radiant,
        face_inside=records.face_inside,
        face_outside=records.face_outside,
        conducted_inside=records.conducted_inside,
        conducted_outside=records.conducted_outside,
        sun=records.sun,
        entering=records.entering.reshape(-1, n, n + 1),
        supply_temperature=np.where(stands, np.nan, records.supply_temperature),
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
        add(heater.fuel, EndUse.HOT_WATER, bought[:, WATER])
    if house.heating is not None and house.heating.pilot > 0.0:
        add(house.heating.fuel, EndUse.HEATING, house.heating.pilot * _SECONDS)
    for k, unit in enumerate(house.room_units):
        if unit.heating is not None:
            add(unit.heating.fuel, EndUse.HEATING, bought[:, USES + k])
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
    Houses of one shape, which differ in numbers alone, lie side by side in the lanes, each
    through all of the year. Against `simulate`, which runs the parts of one year side by
    side, results of usual houses differ by up to 4e-4 because each part comes to its start by
    an approximation (docs/explanation/engine.md tells what else was found); fewer than
    `FEW` houses are run as `simulate` runs them. A house does not depend on its neighbours
    in the lanes.

    The hour loop releases the interpreter's lock, so threads run on all cores and share
    the weather; nothing is copied or pickled. For a cluster, send `simulate` itself to any
    `concurrent.futures.Executor`: it needs no state of this process.
    """
    results: dict[int, YearResult] = {}
    cores = workers or os.cpu_count() or 1
    stopped = False
    with ThreadPoolExecutor(max_workers=cores) as pool:
        running: dict[Future[list[YearResult]], list[int]] = {}
        for numbers, task in _tasks(houses, year):
            running[pool.submit(task)] = numbers
            while len(running) >= cores + 2:
                _collect(running, results, progress, len(houses))
            stopped = cancelled is not None and cancelled()
            if stopped:
                break
        while running:
            _collect(running, results, progress, len(houses))
    complete = next((i for i in range(len(houses)) if i not in results), len(houses))
    return tuple(results[i] for i in range(complete))


def _collect(
    running: dict[Future[list[YearResult]], list[int]],
    results: dict[int, YearResult],
    progress: Callable[[int, int], None] | None,
    of: int,
) -> None:
    """Wait for a batch and take its results."""
    done, _ = wait(running, return_when=FIRST_COMPLETED)
    for future in done:
        results.update(zip(running.pop(future), future.result(), strict=True))
    if progress is not None:
        progress(len(results), of)


def _tasks(
    houses: Sequence[House], year: WeatherYear
) -> Iterator[tuple[list[int], Callable[[], list[YearResult]]]]:
    """Yield batches of houses of one shape, by their numbers, and what runs them."""
    if len(houses) < FEW:
        for number, house in enumerate(houses):
            yield [number], partial(_run_alone, house, year)
        return
    directions = Directions(exposure_of(houses[0]))
    numbered = iter(enumerate(houses))
    while window := list(islice(numbered, WINDOW)):
        by_shape = defaultdict(list)
        compiled = {}
        for number, house in window:
            compiled[number] = compile_house(house, year, directions)
        for number, arrays in compiled.items():
            by_shape[shape_of(arrays)].append(number)
        for alike in by_shape.values():
            for numbers in _in_batches(alike):
                some = [houses[i] for i in numbers]
                yield numbers, partial(_run_batch, some, [compiled[i] for i in numbers])


def _run_alone(house: House, year: WeatherYear) -> list[YearResult]:
    """Run one house through the year."""
    return [simulate(house, year)]


def _run_batch(houses: list[House], compiled: list[Compiled]) -> list[YearResult]:
    """Run up to `WIDTH` houses of one shape through the year."""
    batch = lay_side_by_side(compiled)
    days = batch.weather.hours // HOURS
    nothing = make_records(batch, 0)
    run = _start_of_year(batch) if days == YEAR else _start_of_record(batch, PASSES)
    run.totals.counted[0] = 1.0
    _advance(run, days, PASSES, nothing)
    return [
        _result(house, each, Ran(_lane(run.totals, k), nothing, days * HOURS))
        for k, (house, each) in enumerate(zip(houses, compiled, strict=True))
    ]


def _in_batches(numbers: list[int]) -> Iterator[list[int]]:
    """Yield numbers in lists that fill the lanes."""
    for first in range(0, len(numbers), WIDTH):
        yield numbers[first : first + WIDTH]
