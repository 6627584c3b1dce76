"""Fans with a known flow, read with a hood of known error, and the need of 62.2."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from covered.method import Method
from rooftree.readings.ventilation import (
    FanPurpose,
    FanReading,
    FlowMethod,
    Running,
    VentilationTest,
    reduce_ventilation,
    required_fan_flow,
)
from rooftree.readings.ventilation.fans import UNEVEN, placement_uncertainties

if TYPE_CHECKING:
    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated

METER = 0.05


def _read(
    rng: Generator, name: str, true: float, method: FlowMethod, gain: float, *, is_even: bool
) -> FanReading:
    """Return a fan that runs all the time, read with and sometimes without turning the hood."""
    spread = placement_uncertainties()[method]
    spread = spread if is_even else math.hypot(spread, UNEVEN)
    first, second = (true * gain * math.exp(rng.normal(0.0, spread)) for _ in range(2))
    return FanReading(
        name, FanPurpose.WHOLE_EXHAUST, first, turned_flow=None if is_even else second,
        method=method, is_even=is_even, running=Running.ALWAYS,
    )  # fmt: skip


def _fans(rng: Generator, count: int) -> tuple[float, tuple[FanReading, ...]]:
    gain = math.exp(rng.normal(0.0, METER))
    methods = list(placement_uncertainties())
    total, readings = 0.0, []
    for index in range(count):
        true = rng.uniform(0.008, 0.06)
        total += true
        method = methods[int(rng.integers(0, len(methods)))]
        even = bool(rng.random() < 0.5)
        readings.append(_read(rng, f"fan {index + 1}", true, method, gain, is_even=even))
    return total, tuple(readings)


def _one_fan(rng: Generator) -> tuple[float, Propagated]:
    true, readings = _fans(rng, 1)
    return true, reduce_ventilation(VentilationTest(readings)).provided


def _several_fans(rng: Generator) -> tuple[float, Propagated]:
    true, readings = _fans(rng, 4)
    return true, reduce_ventilation(VentilationTest(readings)).provided


def _house(rng: Generator) -> tuple[dict[str, float], float, VentilationTest, float]:
    """Return sizes, true leakage, test and true flow of a house with one or two fans."""
    sizes = {
        "floor_area": rng.uniform(90.0, 300.0), "bedrooms": int(rng.integers(1, 6)),
        "height": rng.uniform(2.5, 6.0),
    }  # fmt: skip
    leakage = math.exp(rng.normal(math.log(0.0015), 0.4)) * sizes["floor_area"]
    true, readings = _fans(rng, int(rng.integers(1, 3)))
    return sizes, leakage, VentilationTest(readings), true


def _printed_factor(rng: Generator) -> tuple[float, Propagated] | None:
    sizes, leakage, test, true = _house(rng)
    factor = rng.uniform(0.3, 0.8)
    need = required_fan_flow("2019", flow_50=leakage, weather_factor=factor, **sizes)  # type: ignore[arg-type]
    read = leakage * math.exp(rng.normal(0.0, 0.05))
    result = reduce_ventilation(
        VentilationTest(test.fans, weather_factor=factor),
        flow_50=read,
        **sizes,  # type: ignore[arg-type]
    )
    return None if result.balance is None else (true - need.fan, result.balance)


METHODS = (
    Method(
        "one fan by any meter, turned where uneven: flow", _one_fan,
        "gain of the meter 5 %, placement by method 3 to 12 %, uneven grilles 15 % more",
    ),
    Method(
        "four fans by one meter: whole flow", _several_fans,
        "as above, the gain common to all four",
    ),
    Method(
        "provided less required by 62.2-2019, printed factor", _printed_factor,
        "houses of 90 to 300 m², leakage 50 % up and down and read to 5 %, one or two fans",
    ),
)  # fmt: skip
"""Round trips of ventilation."""
