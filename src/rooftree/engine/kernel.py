"""The hour loop: a year of air, heat and moisture, hour by hour.

heat.py, air.py, vapor.py, equipment.py, thermostats.py and books.py hold its parts; every
value is lanes (lanes.py): several houses, or several parts of one year, side by side. In
each hour

1. the sun comes in; face by face, the layers give back what they remember, films and
   radiation follow, and the face is eliminated from the balance of its space;
2. each space has a balance of radiant point and air, from which the radiant points are
   eliminated;
3. the air's balance is solved without equipment and with one watt of each machine; the
   thermostats decide how many watts, within capacity; so the temperatures at the setpoints
   are exact. First with the flows of the last hour; then air moves at these temperatures
   and this run time, and the balance is solved again;
4. vapor is balanced with the same flows;
5. faces and layers follow, and the hour is written down.
"""

from __future__ import annotations

from typing import Any

from rooftree.engine.air import gather_inflow, move_air
from rooftree.engine.arrays import (
    HOURS,
    NET_HEAT,
    read_air,
    read_alike_elements,
    read_elements,
    read_flows,
    read_paths,
    read_plant,
    read_records,
    read_state,
    read_totals,
    read_weather,
    read_work,
)
from rooftree.engine.books import (
    balance_heat,
    balance_water,
    close_day,
    count_delivered,
    count_entering,
    count_state,
    count_unmet,
    write_down,
)
from rooftree.engine.compiled import compile_entry, on_lanes
from rooftree.engine.conduction import HOUR
from rooftree.engine.equipment import heat_water
from rooftree.engine.heat import (
    HELD,
    eliminate_radiant,
    gather_ground,
    gather_outdoors,
    gather_partitions,
    let_sun_in,
    restore_faces,
    restore_radiant,
    start_rooms,
    stored_heat,
)
from rooftree.engine.lanes import WIDTH, any_of, spread
from rooftree.engine.thermostats import count_machines, heat_air, rate_machines
from rooftree.engine.vapor import HELD_DRY, balance_vapor, run_driers

PASSES = 1
"""Times that air is moved in an hour, each between two balances of heat."""


@on_lanes
def look_outdoors(weather: Any, days: Any, day_hour: int, work: Any) -> None:
    """Fetch the weather of the hour in each lane."""
    together = True
    for one in range(1, WIDTH):
        together = together and days[one] == days[0]
    if together:
        hour = days[0] * HOURS + day_hour
        for k in range(weather.count):
            work.now[k] = spread(weather.table[hour, k])
    else:
        for one in range(WIDTH):
            hour = days[one] * HOURS + day_hour
            for k in range(weather.count):
                work.now_numbers[k * WIDTH + one] = weather.table[hour, k]


@on_lanes
def start_hour(air: Any, state: Any, work: Any, totals: Any) -> None:
    """Remember the air of the hour before, and that nothing was bought yet."""
    for p in range(air.spaces):
        work.past[p] = state.air[p]
        work.dried[p] = state.drying_heat[p]
        work.drawn[p] = spread(0.0)
    for u in range(totals.uses):
        work.bought[u] = spread(0.0)


@on_lanes
def run_hours(
    days: int, passes: int, sweeps: int, starts: Any, weather: Any, elements: Any, air: Any,
    paths: Any, plant: Any, state: Any, flows: Any, work: Any, totals: Any, records: Any,
    row: int,
) -> None:  # fmt: skip
    """Run lanes through a number of days, each from its own day of the weather.

    `starts` holds the day from which each lane starts and is moved on; air is moved
    `passes` times in each hour, with at most so many `sweeps`; records are written from
    `row` on.
    """
    n = air.spaces
    counts = any_of(totals.counted[0] > 0.0)
    stored = stored_heat(elements, air, state)
    for _ in range(days):
        for day_hour in range(HOURS):
            look_outdoors(weather, starts, day_hour, work)
            start_hour(air, state, work, totals)
            let_sun_in(elements, air, work)
            start_rooms(air, day_hour, state, work)
            sun = gather_outdoors(elements, air, state, work)
            sun += gather_ground(elements, air, state, work)
            sun += gather_partitions(elements, air, state, work)
            eliminate_radiant(work, n)
            heat_water(air, plant, day_hour, state, work)
            rate_machines(plant, state, work, flows)
            running, burning, left = state.running[0], state.burning[0], spread(0.0)
            wanted = heat_air(air, plant, day_hour, state, work, flows, running)
            for _ in range(passes):
                running = wanted
                left = move_air(
                    air, paths, plant, day_hour, state, work, flows, running, burning, sweeps
                )
                gather_inflow(air, paths, day_hour, state, work, flows)
                wanted = heat_air(air, plant, day_hour, state, work, flows, running)
            burning = count_machines(plant, work)
            balance_vapor(air, plant, day_hour, state, work, flows, running)
            run_driers(air, plant, state, work)
            restore_radiant(work, state, n)
            net, gross = restore_faces(elements, state, work)
            state.running[0] = wanted
            state.burning[0] = burning
            if counts:
                balance_heat(
                    air, paths, plant, day_hour, state, work, flows, net + sun, gross + sun, HELD,
                    totals,
                )  # fmt: skip
                balance_water(air, paths, plant, day_hour, work, flows, HELD_DRY, totals)
                ducted = running * plant.air_flow[0]
                entering = count_entering(air, plant, day_hour, ducted, work, flows, totals)
                count_delivered(air, plant, ducted, running, state, work, totals)
                count_unmet(plant, day_hour, state, work, totals)
                count_state(air, state, work, left, totals)
                for u in range(totals.uses):
                    work.day[u] += work.bought[u] * HOUR
                if records.wanted == 1:
                    write_down(
                        row, elements, air, paths, plant, state, work, flows, entering, wanted,
                        totals, records,
                    )  # fmt: skip
                    row += 1
        if counts:
            close_day(weather, starts, WIDTH, work, totals)
        for one in range(WIDTH):
            starts[one] = (starts[one] + 1) % (weather.hours // HOURS)
    change = stored_heat(elements, air, state) - stored
    totals.sums[NET_HEAT] -= change * totals.counted[0]


@compile_entry
def run_days(
    days: int, passes: int, sweeps: int, starts: Any, weather_table: Any, elements_table: Any,
    air_table: Any, paths_table: Any, plant_table: Any, state_table: Any, flows_table: Any,
    work_table: Any, totals_table: Any, records_table: Any, row: int,
) -> None:  # fmt: skip
    """Run lanes whose surfaces differ; see `run_hours`."""
    run_hours(
        days, passes, sweeps, starts, read_weather(weather_table), read_elements(elements_table),
        read_air(air_table), read_paths(paths_table), read_plant(plant_table),
        read_state(state_table), read_flows(flows_table), read_work(work_table),
        read_totals(totals_table), read_records(records_table), row,
    )  # fmt: skip


@compile_entry
def run_days_alike(
    days: int, passes: int, sweeps: int, starts: Any, weather_table: Any, elements_table: Any,
    air_table: Any, paths_table: Any, plant_table: Any, state_table: Any, flows_table: Any,
    work_table: Any, totals_table: Any, records_table: Any, row: int,
) -> None:  # fmt: skip
    """Run lanes that share their surfaces; see `run_hours`."""
    run_hours(
        days, passes, sweeps, starts, read_weather(weather_table),
        read_alike_elements(elements_table), read_air(air_table), read_paths(paths_table),
        read_plant(plant_table), read_state(state_table), read_flows(flows_table),
        read_work(work_table), read_totals(totals_table), read_records(records_table), row,
    )  # fmt: skip
