"""Mistakes made at an air handler, and whether the reductions notice them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from covered.air_handler import (
    blank,
    draw_system,
    with_fan_curve,
    with_heat,
    with_registers,
    with_slot,
    with_statics,
)
from mistakes.mistake import Mistake
from rooftree.readings.air_handler import (
    AirHandlerTest,
    Component,
    Operation,
    RegisterSide,
    reduce_air_handler,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

    from rooftree.finding import Finding

INCH_OF_WATER = 249.089
CFM_PER_LITRE = 2.118880


def reduce(test: AirHandlerTest) -> tuple[Finding, ...]:
    """Return the findings."""
    return reduce_air_handler(test).findings


def clean_statics(random: Generator) -> AirHandlerTest:
    """Read both sides of the equipment and every drop."""
    system = draw_system(random)
    return with_statics(blank(system, random), system, random)


def clean_registers(random: Generator) -> AirHandlerTest:
    """Read all registers and grilles of a system whose two sides leak alike."""
    system = draw_system(random)
    leak = random.uniform(0.02, 0.08) * system.flow
    system = replace(system, supply_leak=leak, return_leak=leak)
    return with_registers(blank(system, random), system, random)


def clean_heating(random: Generator) -> AirHandlerTest:
    """Read registers and temperature rise of a furnace."""
    system = draw_system(random, Operation.HEATING)
    return with_heat(with_registers(blank(system, random), system, random), system, random)


def clean_tables(random: Generator) -> AirHandlerTest:
    """Enter the fan table with the static pressure, beside a measuring plate."""
    system = draw_system(random)
    test = with_statics(blank(system, random), system, random)
    return with_slot(with_fan_curve(test, system, random), system, random)


def clean_wet_bulb(random: Generator) -> AirHandlerTest:
    """Read both bulbs of the return air."""
    system = draw_system(random)
    test = replace(blank(system, random), return_humidity=None)
    return replace(test, return_wet_bulb=system.back - random.uniform(4.0, 8.0))


def _scaled_statics(factor: float) -> Callable[[AirHandlerTest, Generator], AirHandlerTest]:
    def spoil(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
        return replace(
            test,
            entering_static=factor * (test.entering_static or 0.0),
            leaving_static=factor * (test.leaving_static or 0.0),
            drops=tuple(replace(row, drop=factor * row.drop) for row in test.drops),
        )

    return spoil


def _scaled_registers(factor: float) -> Callable[[AirHandlerTest, Generator], AirHandlerTest]:
    def spoil(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
        rows = tuple(replace(row, flow=factor * row.flow) for row in test.registers)
        return replace(test, registers=rows)

    return spoil


def before_filter(test: AirHandlerTest, random: Generator) -> AirHandlerTest:
    """Put the return probe on the room side of the filter."""
    back = next(row.drop for row in test.drops if row.part is Component.RETURN)
    return replace(test, entering_static=-back + random.normal(0.0, test.static_uncertainty))


def in_turbulence(test: AirHandlerTest, random: Generator) -> AirHandlerTest:
    """Put the supply probe where the air swirls: a wrong and unsteady pressure."""
    off = random.uniform(0.4, 0.9) * random.choice((-1.0, 1.0))
    wrong = (1.0 + off) * (test.leaving_static or 0.0)
    return replace(test, leaving_static=wrong, static_swing=random.uniform(10.0, 60.0))


def one_drop_in_inches(test: AirHandlerTest, random: Generator) -> AirHandlerTest:
    """Enter one drop in inches of water as if it were pascals."""
    odd = int(random.integers(len(test.drops)))
    rows = tuple(
        replace(row, drop=row.drop / INCH_OF_WATER) if i == odd else row
        for i, row in enumerate(test.drops)
    )
    return replace(test, drops=rows)


def swapped_hoses(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
    """Swap the hoses of both probes."""
    return replace(test, entering_static=test.leaving_static, leaving_static=test.entering_static)


def missed_grille(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
    """Leave out the largest return grille but one, or half of the only one."""
    grilles = [row for row in test.registers if row.side is RegisterSide.RETURN]
    if len(grilles) == 1:
        rows = tuple(
            replace(row, flow=0.5 * row.flow) if row in grilles else row for row in test.registers
        )
        return replace(test, registers=rows)
    return replace(test, registers=tuple(row for row in test.registers if row is not grilles[0]))


def swapped_sensors(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
    """Swap supply and return temperature."""
    return replace(
        test,
        return_temperature=test.supply_temperature,
        supply_temperature=test.return_temperature,
    )


def fahrenheit_as_celsius(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
    """Enter degrees Fahrenheit as degrees Celsius."""
    back, out = (
        1.8 * ((value or 0.0) - 273.15) + 32.0 + 273.15
        for value in (test.return_temperature, test.supply_temperature)
    )
    return replace(test, return_temperature=back, supply_temperature=out)


def swapped_bulbs(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
    """Swap dry and wet bulb of the return air."""
    return replace(
        test, return_temperature=test.return_wet_bulb, return_wet_bulb=test.return_temperature
    )


def half_a_turn(test: AirHandlerTest, _: Generator) -> AirHandlerTest:
    """Clock the meter over half a turn of its dial, and enter it as a whole one."""
    return replace(test, heat_input=2.0 * (test.heat_input or 0.0))


def wrong_speed(test: AirHandlerTest, random: Generator) -> AirHandlerTest:
    """Copy the column of another fan speed."""
    factor = random.choice((random.uniform(0.55, 0.7), random.uniform(1.4, 1.8)))
    rows = tuple(replace(point, flow=factor * point.flow) for point in test.fan_curve)
    return replace(test, fan_curve=rows)


MISTAKES: tuple[Mistake, ...] = (
    Mistake(
        20,
        "return probe on the room side of the filter",
        ("air_handler/drops",),
        clean_statics,
        before_filter,
        reduce,
    ),
    Mistake(
        20,
        "supply probe in turbulent air",
        ("air_handler/drops", "air_handler/static-swing"),
        clean_statics,
        in_turbulence,
        reduce,
    ),
    Mistake(
        29,
        "static pressures: inches of water entered as pascals",
        ("air_handler/static-units",),
        clean_statics,
        _scaled_statics(1.0 / INCH_OF_WATER),
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "static pressures: pascals entered as inches of water",
        ("air_handler/static-units",),
        clean_statics,
        _scaled_statics(INCH_OF_WATER),
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "one component drop: inches of water entered as pascals",
        ("air_handler/drops",),
        clean_statics,
        one_drop_in_inches,
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "register flows: L/s entered as cfm",
        ("air_handler/flow-units", "air_handler/methods-disagree"),
        clean_registers,
        _scaled_registers(1.0 / CFM_PER_LITRE),
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "register flows: cfm entered as L/s",
        ("air_handler/flow-units", "air_handler/methods-disagree"),
        clean_registers,
        _scaled_registers(CFM_PER_LITRE),
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        29,
        "return air: °F entered as °C",
        ("air_handler/temperature-units",),
        clean_statics,
        fahrenheit_as_celsius,
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        3,
        "hoses of the two static probes swapped",
        ("air_handler/static-sign",),
        clean_statics,
        swapped_hoses,
        reduce,
    ),
    Mistake(
        21,
        "a return grille missed, or half of the only one covered",
        ("air_handler/registers-balance",),
        clean_registers,
        missed_grille,
        reduce,
    ),
    Mistake(
        None,
        "supply and return temperature swapped",
        ("air_handler/split-sign",),
        clean_statics,
        swapped_sensors,
        reduce,
    ),
    Mistake(
        None,
        "dry and wet bulb swapped",
        ("air_handler/wet-bulb",),
        clean_wet_bulb,
        swapped_bulbs,
        reduce,
    ),
    Mistake(
        None,
        "gas meter clocked over half a turn",
        ("air_handler/methods-disagree", "air_handler/heat-balance"),
        clean_heating,
        half_a_turn,
        reduce,
        factor_of_two=True,
    ),
    Mistake(
        None,
        "fan table of another speed",
        ("air_handler/methods-disagree",),
        clean_tables,
        wrong_speed,
        reduce,
    ),
)
