"""The air handler of the demo house: first with a probe in the wrong place, then right."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.job import Test
from rooftree.physics.air import moist_air_density
from rooftree.readings.air_handler import (
    AirHandlerTest,
    Component,
    ComponentDrop,
    FanCurvePoint,
    Operation,
    RegisterFlow,
    RegisterSide,
)
from rooftree.readings.air_handler.heat import sensible_heat

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.random import Generator

    from rooftree.house import House

CFM, WATER_INCH, BTU_PER_HOUR = 4.719474e-4, 249.089, 0.2930711
RETURN_DROP, FILTER_DROP, SUPPLY_DROP, COIL_DROP = 0.13, 0.24, 0.14, 0.21
"""Of the true house [in. w.c.]: a filter too dense, and a coil on the furnace."""

REGISTERS = (
    ("living room", 0.17), ("dining room", 0.12), ("kitchen", 0.10), ("bath", 0.05),
    ("bedroom 1", 0.15), ("bedroom 2", 0.13), ("bedroom 3", 0.13), ("hall", 0.06),
    ("bonus room", 0.09),
)  # fmt: skip
"""Share of each in what comes out of the registers."""


def tests(house: House, rng: Generator) -> Iterator[Test]:
    """Yield both tests."""
    right = _heating(house, rng)
    wrong = replace(
        right,
        entering_static=_inches(-RETURN_DROP, rng),
        fan_curve=(),
        registers=(),
        heat_input=None,
    )
    yield _test("test-air-handler-first", "Air handler, first try", wrong)
    yield _test("test-air-handler", "Air handler, probe moved behind the filter", right)


def _test(key: str, name: str, reading: AirHandlerTest) -> Test:
    return Test(
        id=key,
        name=name,
        visit="visit-1",
        place="furnace-place",
        instrument="gauge-1",
        reading=reading,
    )


def _inches(value: float, rng: Generator) -> float:
    return round(value + float(rng.normal(0.0, 0.006)), 2) * WATER_INCH


def _heating(house: House, rng: Generator) -> AirHandlerTest:
    handler, heating = house.air_handler, house.heating
    if handler is None or heating is None:
        message = "the demo house has an air handler and a furnace"
        raise ValueError(message)
    back = (67.0 + 459.67) / 1.8
    dry = moist_air_density(back)
    rise = (heating.capacity + handler.power) / sensible_heat(handler.flow, dry, 1.0)
    leak = sum(run.leakage for run in house.ducts if run.side == "supply")
    out = handler.flow * (1.0 - leak) * (back + rise) / back
    hood = 1.0 + float(rng.normal(0.0, 0.03))
    table = ((0.3, 1365.0), (0.5, 1240.0), (0.7, 1095.0), (0.9, 925.0))
    return AirHandlerTest(
        operation=Operation.HEATING,
        entering_static=_inches(-RETURN_DROP - FILTER_DROP, rng),
        leaving_static=_inches(SUPPLY_DROP + COIL_DROP, rng),
        rated_static=0.5 * WATER_INCH,
        drops=tuple(
            ComponentDrop(part, _inches(value, rng))
            for part, value in (
                (Component.RETURN, RETURN_DROP),
                (Component.FILTER, FILTER_DROP),
                (Component.COIL, COIL_DROP),
                (Component.SUPPLY, SUPPLY_DROP),
            )
        ),
        fan_curve=tuple(
            FanCurvePoint(pressure * WATER_INCH, flow * CFM) for pressure, flow in table
        ),
        registers=tuple(
            RegisterFlow(
                name,
                RegisterSide.SUPPLY,
                round(share * out * hood * (1.0 + float(rng.normal(0.0, 0.02))) / CFM) * CFM,
            )
            for name, share in REGISTERS
        ),
        return_temperature=_degrees(back, rng),
        supply_temperature=_degrees(back + rise, rng),
        heat_input=round(heating.capacity / 0.80 / BTU_PER_HOUR, -3) * BTU_PER_HOUR,
        heat_efficiency=0.80,
        blower_power=handler.power,
        rated_capacity=3.0 * 3516.853,
        rated_rise_low=35.0 / 1.8,
        rated_rise_high=65.0 / 1.8,
    )


def _degrees(kelvins: float, rng: Generator) -> float:
    shown = 1.8 * (kelvins + float(rng.normal(0.0, 0.3))) - 459.67
    return (round(shown, 1) + 459.67) / 1.8
