"""Duct runs: a wall, a flow and surroundings drawn, read with the noise of instruments."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from covered.method import Method
from rooftree.physics.dew_point import dew_point
from rooftree.readings.duct_heat import DuctHeatTest, DuctRunReading, RunResult, reduce_duct_heat
from rooftree.readings.duct_heat.conduction import arriving_temperature
from rooftree.readings.duct_heat.run import build_run
from rooftree.readings.duct_heat.standing import after_standing, start_of

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated

ZERO, INCH, FOOT, R = 273.15, 0.0254, 0.3048, 0.176110
DEW = dew_point(2300.0)
"""Of the air round the runs, for those trials that do not need it [K]."""


class Truth(NamedTuple):
    """A run as it is, beside what its tests say of it."""

    register: float
    heat: float
    conductance: float
    blanket: float
    jacket: float
    first: float
    seconds: float | None
    delivered: float
    result: RunResult


def attic_run(random: Generator) -> Truth:
    """Draw a run as it is, read it, reduce it."""
    entering, around, room = (
        random.uniform(11.0, 15.0) + ZERO,
        random.uniform(42.0, 58.0) + ZERO,
        random.uniform(23.0, 26.0) + ZERO,
    )
    noted = DuctRunReading(
        "bedroom",
        random.uniform(20.0, 45.0) * FOOT,
        entering,
        around,
        diameter=float(random.choice([6.0, 7.0, 8.0])) * INCH,
        air_speed=random.uniform(350.0, 700.0) * FOOT / 60.0,
        insulation_resistance=R * float(random.choice([4.2, 6.0, 8.0])),
        surroundings_dew_point=DEW,
        standing_time=random.uniform(600.0, 3600.0),
    )
    wrap, film = (max(1.0 + random.normal(0.0, s), 0.2) for s in (0.15, 0.20))
    flow = (noted.air_speed or 0.0) * max(1.0 + random.normal(0.0, 0.10), 0.3)
    length = noted.length + random.normal(0.0, 0.3)
    true = replace(noted, air_speed=flow, length=length)
    run = build_run(true, 101_325.0)
    # Films as the reduction has them, at the flow that was noted.
    as_noted = build_run(noted, 101_325.0)
    if run is None or as_noted is None:
        raise SystemExit("a drawn run cannot be built")
    run = replace(as_noted, length=length, flow=run.flow, capacity_rate=run.capacity_rate)
    each = run.conductance(wrap, film)
    register = arriving_temperature(entering, around, each * length, run.capacity_rate)
    # The blanket that lies there, of the wrap as drawn.
    growth = np.expm1(2.0 * np.pi * 0.047 * wrap * run.wrap)
    blanket = run.size.perimeter * growth / (2.0 * np.pi) / 0.047
    store = max(1.0 + random.normal(0.0, 0.3), 0.2)
    start = start_of(true, run, 101_325.0, [(0.0, 0.0, store, 1.0, 1.0, wrap, film)])
    times, temperatures = after_standing(start, noted.standing_time or 0.0)
    helping = np.flatnonzero(temperatures[0][1:] <= room)
    seconds = None
    if helping.size and helping[0] > 0:
        k = int(helping[0]) + 1
        (t0, t1), (a, b) = times[0][k - 1 : k + 1], temperatures[0][k - 1 : k + 1]
        seconds = float(t0 + (t1 - t0) * (a - room) / (a - b))
    reading = replace(
        noted,
        entering_temperature=entering + random.normal(0.0, 0.4),
        surroundings_temperature=around + random.normal(0.0, 2.0),
        register_temperature=register + random.normal(0.0, 0.4),
    )
    result = reduce_duct_heat(DuctHeatTest((reading,), room_temperature=room)).runs[0]
    return Truth(
        register,
        run.capacity_rate * (register - entering),
        each,
        float(blanket),
        run.jacket(entering, around, wrap, film),
        float(temperatures[0][0]),
        seconds,
        (register - room) / (entering - room),
        result,
    )


def register_trial(random: Generator) -> tuple[float, Propagated]:
    """Register predicted from the wrap."""
    truth = attic_run(random)
    return truth.register, truth.result.register


def heat_trial(random: Generator) -> tuple[float, Propagated]:
    """Heat gained on the way."""
    truth = attic_run(random)
    return truth.heat, truth.result.heat


def delivered_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Share of the entering air's cooling that arrives."""
    truth = attic_run(random)
    found = truth.result.delivered
    return None if found is None else (truth.delivered, found)


def conductance_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Conductance from the temperatures at both ends."""
    truth = attic_run(random)
    found = truth.result.found_conductance
    return None if found is None else (truth.conductance, found)


def blanket_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Blanket from the temperatures at both ends."""
    truth = attic_run(random)
    found = truth.result.found_resistance
    return None if found is None else (truth.blanket, found)


def jacket_trial(random: Generator) -> tuple[float, Propagated]:
    """Coldest face of the jacket."""
    truth = attic_run(random)
    return truth.jacket, truth.result.jacket


def first_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Air that comes first after a stand."""
    truth = attic_run(random)
    burst = truth.result.burst
    return None if burst is None else (truth.first, burst.first)


def seconds_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Seconds until the register helps the room."""
    truth = attic_run(random)
    burst = truth.result.burst
    if burst is None or burst.seconds is None or truth.seconds is None:
        return None
    return truth.seconds, burst.seconds


DRAWN = (
    "6 to 8 in, 20 to 45 ft, 350 to 700 ft/min, R-4.2 to R-8, attic of 42 to 58 °C; wrap ±15 %,"
    " films ±20 %, flow ±10 %, length 0.3 m, surroundings 2 K, air 0.4 K, all standard"
)

METHODS = (
    Method("register temperature from the wrap", register_trial, DRAWN),
    Method("heat gained on the way", heat_trial, DRAWN),
    Method("share of the cooling that arrives", delivered_trial, DRAWN),
    Method("conductance from the temperatures at both ends", conductance_trial, DRAWN),
    Method("blanket from the temperatures at both ends", blanket_trial, DRAWN),
    Method("coldest face of the jacket", jacket_trial, DRAWN),
    Method("first air after a stand", first_trial, DRAWN + "; store ±30 %"),
    Method("seconds until the register helps the room", seconds_trial, DRAWN + "; store ±30 %"),
)
