"""How often the ranges of the air-handler reductions hold the truth."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from covered.method import Method
from rooftree.physics.air import (
    REFERENCE_DENSITY,
    humidity_ratio,
    moist_air_density,
    pressure_at_altitude,
    relative_humidity,
)
from rooftree.readings.air_handler import (
    AirHandlerTest,
    Component,
    ComponentDrop,
    DuctShape,
    FanCurvePoint,
    Operation,
    RegisterFlow,
    RegisterSide,
    TraversePoint,
    TraverseRule,
    reduce_air_handler,
    traverse_places,
)
from rooftree.readings.air_handler.heat import sensible_heat

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from numpy.random import Generator

    from rooftree.physics.propagation import Propagated

CFM, TON = 4.719474e-4, 3516.853
SHARES = (0.45, 0.30, 0.25)
"""Of the external static pressure: supply duct, filter, return duct, before they are drawn."""


@dataclass(frozen=True, slots=True)
class System:
    """A system as it is: what the readings are drawn from, in SI."""

    operation: Operation
    capacity: float
    flow: float  # at the density of the return air
    static: float
    drops: tuple[float, float, float]
    back: float
    out: float
    humidity: float
    altitude: float
    supply_leak: float
    return_leak: float

    @property
    def barometer(self) -> float:
        """Barometric pressure [Pa]."""
        return pressure_at_altitude(self.altitude)

    def density(self, temperature: float) -> float:
        """Density of air that carries what the return air carries [kg/m³]."""
        share = min(relative_humidity(temperature, self.humidity, self.barometer), 1.0)
        return moist_air_density(temperature, self.barometer, share)


def draw_system(random: Generator, operation: Operation = Operation.COOLING) -> System:
    """Draw a system that works as such systems do."""
    capacity = random.uniform(1.5, 5.0) * TON
    flow = random.uniform(330.0, 450.0) * CFM / TON * capacity
    static = random.uniform(70.0, 200.0)
    shares = np.array(SHARES) * random.uniform(0.7, 1.3, 3)
    shares /= shares.sum()
    back = random.uniform(293.0, 298.0)
    change = -10.5 if operation is Operation.COOLING else 0.0
    if operation is Operation.HEATING:
        change = random.uniform(20.0, 38.0)
    leaks = np.clip(random.normal(0.08, 0.04, 2), 0.0, 0.25)
    altitude = random.uniform(0.0, 1800.0)
    return System(
        operation=operation,
        capacity=capacity,
        flow=flow,
        static=static,
        drops=tuple(float(static * share) for share in shares),
        back=back,
        out=back + change,
        humidity=humidity_ratio(back, 0.5, pressure_at_altitude(altitude)),
        altitude=altitude,
        supply_leak=float(leaks[0]) * flow,
        return_leak=float(leaks[1]) * flow,
    )


def blank(system: System, random: Generator) -> AirHandlerTest:
    """Return temperatures and capacity as read, nothing else."""
    sigma = AirHandlerTest().plenum_uncertainty
    return AirHandlerTest(
        operation=system.operation,
        return_temperature=system.back + random.normal(0.0, sigma),
        supply_temperature=system.out + random.normal(0.0, sigma),
        return_humidity=0.5,
        rated_capacity=system.capacity,
        barometric_pressure=system.barometer,
    )


def with_statics(test: AirHandlerTest, system: System, random: Generator) -> AirHandlerTest:
    """Add static pressures and drops as a gauge with probes shows them."""
    sigma = test.static_uncertainty
    supply, filtering, back = system.drops
    shown = [float(value) for value in random.normal((supply, filtering, back), sigma)]
    parts = (Component.SUPPLY, Component.FILTER, Component.RETURN)
    return replace(
        test,
        entering_static=-(filtering + back) + random.normal(0.0, sigma),
        leaving_static=supply + random.normal(0.0, sigma),
        rated_static=250.0,
        drops=tuple(ComponentDrop(part, drop) for part, drop in zip(parts, shown, strict=True)),
    )


def with_fan_curve(test: AirHandlerTest, system: System, random: Generator) -> AirHandlerTest:
    """Add a table of a fan that gives the true flow at the true static pressure."""
    thinner = REFERENCE_DENSITY / system.density(system.back)
    stall = random.uniform(1.5, 2.5) * system.static * thinner
    shape = random.uniform(1.6, 2.4)
    most = system.flow / (1.0 - 0.5 * (system.static * thinner / stall) ** shape)
    off = 1.0 + test.fan_curve_uncertainty * random.standard_normal()
    points = np.linspace(0.1, 1.3, 7) * system.static * thinner
    return replace(
        test,
        fan_curve=tuple(
            FanCurvePoint(float(p), float(off * most * (1.0 - 0.5 * (p / stall) ** shape)))
            for p in points
        ),
    )


def with_registers(test: AirHandlerTest, system: System, random: Generator) -> AirHandlerTest:
    """Add every register as a hood with one bias and a scatter shows it."""
    supply = (system.flow - system.supply_leak) * system.density(system.back)
    supply /= system.density(system.out)
    back = system.flow - system.return_leak
    bias = 1.0 + test.flow_uncertainty * random.standard_normal()
    rows = [
        RegisterFlow(
            f"{side.value} {i}",
            side,
            float(
                share * whole * bias * (1.0 + test.flow_repeatability * random.standard_normal())
            ),
        )
        for side, whole, count in (
            (RegisterSide.SUPPLY, supply, int(random.integers(6, 12))),
            (RegisterSide.RETURN, back, int(random.integers(1, 4))),
        )
        for i, share in enumerate(random.dirichlet(np.full(count, 20.0)))
    ]
    return replace(test, registers=tuple(rows))


def with_slot(test: AirHandlerTest, system: System, random: Generator) -> AirHandlerTest:
    """Add a measuring plate in the filter's place, which changes the flow a little."""
    change = random.uniform(0.85, 1.05)
    usual = system.drops[0]
    shown = system.flow * change * math.sqrt(system.density(system.back) / REFERENCE_DENSITY)
    sigma = test.static_uncertainty
    return replace(
        test,
        slot_flow=shown * (1.0 + test.slot_uncertainty * random.standard_normal()),
        usual_static=usual + random.normal(0.0, sigma),
        slot_static=usual * change**2 + random.normal(0.0, sigma),
    )


def with_heat(test: AirHandlerTest, system: System, random: Generator) -> AirHandlerTest:
    """Add the input of a furnace that makes the true rise."""
    dry = system.density(system.back) / (1.0 + system.humidity)
    heat = sensible_heat(system.flow, dry, system.out - system.back, system.humidity)
    efficiency, blower = random.uniform(0.76, 0.95), random.uniform(250.0, 600.0)
    off = 1.0 + test.heat_input_uncertainty * random.standard_normal()
    return replace(
        test,
        heat_input=(heat - blower) / efficiency * off,
        heat_efficiency=efficiency,
        blower_power=blower,
    )


def with_traverse(test: AirHandlerTest, system: System, random: Generator) -> AirHandlerTest:
    """Add a traverse of a duct in which the speed falls to the walls by a power law."""
    density = system.density(system.back)
    speed = random.uniform(3.5, 7.0)
    area, power = system.flow / speed, 1.0 / random.uniform(6.0, 10.0)
    is_round = bool(random.integers(2))
    side = math.sqrt(area / random.uniform(1.0, 2.0))
    sizes = (math.sqrt(4.0 * area / math.pi), None) if is_round else (side, area / side)
    shape, rule = (
        (DuctShape.ROUND, TraverseRule.LOG_LINEAR)
        if is_round
        else (DuctShape.RECTANGULAR, TraverseRule.LOG_TCHEBYCHEFF)
    )
    places = traverse_places(shape, rule, 10 if is_round else 5)
    mean = 2.0 / ((1.0 + power) * (2.0 + power)) if is_round else (1.0 / (1.0 + power)) ** 2
    factors = [
        (_from_wall(x) * (1.0 if is_round else _from_wall(y))) ** power
        for x in places
        for y in (places if not is_round else (0.5, 0.5))
    ]
    lopsided = 1.0 + test.traverse_uncertainty * random.standard_normal()  # lopsided, swirling
    offset = random.normal(0.0, test.velocity_pressure_uncertainty)
    rows = []
    for factor in factors:
        there = speed * factor / mean * lopsided * (1.0 + 0.05 * random.standard_normal())
        rows.append(TraversePoint(max(0.5 * density * there**2 + offset, 0.0)))
    first, second = (
        None if size is None else size + random.normal(0.0, test.length_uncertainty)
        for size in sizes
    )
    return replace(
        test,
        traverse=tuple(rows),
        traverse_rule=rule,
        traverse_side=RegisterSide.RETURN,
        duct_shape=shape,
        duct_diameter=first if is_round else None,
        duct_width=None if is_round else first,
        duct_height=second,
    )


def _from_wall(place: float) -> float:
    return 2.0 * min(place, 1.0 - place)


def _flow_trial(
    *steps: Callable[[AirHandlerTest, System, Generator], AirHandlerTest],
    operation: Operation = Operation.COOLING,
    knows_leaks: bool = False,
) -> Callable[[Generator], tuple[float, Propagated] | None]:
    def trial(random: Generator) -> tuple[float, Propagated] | None:
        system = draw_system(random, operation)
        test = blank(system, random)
        for step in steps:
            test = step(test, system, random)
        leaks = (
            leak * (1.0 + 0.25 * random.standard_normal()) if knows_leaks else None
            for leak in (system.supply_leak, system.return_leak)
        )
        supply, back = leaks
        result = reduce_air_handler(test, supply_leakage=supply, return_leakage=back)
        return None if result.flow is None else (system.flow, result.flow)

    return trial


def static_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Read both sides of the equipment."""
    system = draw_system(random)
    result = reduce_air_handler(with_statics(blank(system, random), system, random))
    return None if result.total_static is None else (system.static, result.total_static)


def sensible_trial(random: Generator) -> tuple[float, Propagated] | None:
    """Read flow by the registers, and both temperatures."""
    system = draw_system(random)
    test = with_registers(blank(system, random), system, random)
    result = reduce_air_handler(test)
    dry = system.density(system.back) / (1.0 + system.humidity)
    truth = sensible_heat(system.flow, dry, system.back - system.out, system.humidity)
    return None if result.sensible is None else (truth, result.sensible)


def _methods() -> Iterator[Method]:
    instrument = "instrument errors"
    yield Method("total external static pressure from both sides", static_trial, instrument)
    yield Method(
        "flow from the fan table at the static pressure",
        _flow_trial(with_statics, with_fan_curve),
        "shape of the fan's curve, its error, altitude, static pressure",
    )
    yield Method(
        "flow from a traverse",
        _flow_trial(with_traverse),
        "speed profile and its lopsidedness, turbulence, gauge offset, duct size",
    )
    yield Method(
        "flow from registers, leakage not known",
        _flow_trial(with_registers),
        "leaked shares, hood error, scatter of each register, densities",
    )
    yield Method(
        "flow from registers, leakage known",
        _flow_trial(with_registers, knows_leaks=True),
        "leakage in operation, hood error, scatter of each register, densities",
    )
    yield Method(
        "flow from a measuring plate in the filter's place",
        _flow_trial(with_slot),
        "plate error, change of flow by the plate, plenum pressures",
    )
    yield Method(
        "flow from temperature rise and heat input",
        _flow_trial(with_heat, operation=Operation.HEATING),
        "temperatures, input, altitude",
    )
    yield Method(
        "weighted mean of four methods",
        _flow_trial(
            with_statics,
            with_fan_curve,
            with_registers,
            with_slot,
            with_heat,
            operation=Operation.HEATING,
        ),
        "all of the above",
    )
    yield Method(
        "sensible capacity delivered", sensible_trial, "register flows and both temperatures"
    )


METHODS: tuple[Method, ...] = tuple(_methods())
