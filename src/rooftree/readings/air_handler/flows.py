"""Flow of the air handler by each method that the readings allow.

Sources
-------
[FANLAWS] At one speed a fan moves the same volume in any air, against a pressure that goes
    with its density (ANSI/AMCA 210, recalled).
[SLOT] Flow through a plate in the filter's place, brought to the usual pressure by the root
    of the pressures in the supply plenum (ASTM E1554 and ANSI/RESNET/ACCA 310, recalled).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.air import REFERENCE_DENSITY
from rooftree.readings.air_handler.fan_curve import falls_throughout, follow_fan_curve
from rooftree.readings.air_handler.heat import flow_from_rise
from rooftree.readings.air_handler.note import note, static_of
from rooftree.readings.air_handler.readings import DuctShape, Operation
from rooftree.readings.air_handler.told import told
from rooftree.readings.air_handler.traverse import duct_area, mean_speed, speed_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_handler.air import PlenumAir
    from rooftree.readings.air_handler.readings import AirHandlerTest
    from rooftree.readings.air_handler.results import MethodFlow

SLOWEST = 4.0
"""Velocity pressures have to be this many times their standard uncertainty [-]; ours."""


def flow_by_fan_curve(
    test: AirHandlerTest, static: Propagated | None, air: PlenumAir
) -> MethodFlow | Finding | None:
    """Return the flow that the maker's table gives at the static pressure.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    static : Propagated or None
        Total external static pressure [Pa].
    air : PlenumAir
        In the plenums.

    Returns
    -------
    MethodFlow, Finding or None
        None where there is no table; a finding where it cannot be used.

    Notes
    -----
    The table is for standard air: it is entered with the pressure over the ratio of
    densities, and gives the volume in the air that is there [FANLAWS]_.
    """
    table = test.fan_curve
    if not table:
        return None
    at = [point.static for point in table]
    is_curve = len(at) >= 2 and len(set(at)) == len(at) and falls_throughout(table)
    if not is_curve or min(point.flow for point in table) <= 0.0:
        return note(
            "fan-curve",
            "The fan table needs two or more lines, one for each static pressure, and less flow"
            " at more pressure, never none. Copy the lines of the speed that is set, from one"
            " column.",
        )
    if static is None:
        return note(
            "fan-curve-without-static",
            "The fan table is there but no static pressure to enter it with: read the supply"
            " and the return side of the equipment.",
        )
    thinner = REFERENCE_DENSITY / air.return_density
    referred = static.value * thinner
    if not min(at) <= referred <= max(at):
        return note(
            "outside-fan-curve",
            f"The fan table ends before this static pressure: {static_of(referred)} in standard air"
            f" against {static_of(min(at))} to {static_of(max(at))}. No flow is taken from it. Look"
            " up more lines, check the speed and the unit, or measure the flow another way.",
            referred,
            max(at) if referred > max(at) else min(at),
            "Pa",
            "the maker's table",
        )
    return told(
        "fan table",
        lambda pressure, factor: factor * follow_fan_curve(table, pressure),
        [referred, 1.0],
        [static.standard * thinner, test.fan_curve_uncertainty],
    )


def flow_by_traverse(test: AirHandlerTest, air: PlenumAir) -> MethodFlow | Finding | None:
    """Return the flow by speeds in one duct that carries all the air.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    air : PlenumAir
        In the plenums.

    Returns
    -------
    MethodFlow, Finding or None
        None where there is no traverse; a finding where it cannot be used.
    """
    if not test.traverse:
        return None
    area = duct_area(test.duct_shape, test.duct_diameter, test.duct_width, test.duct_height)
    if area is None:
        return note(
            "traverse-size",
            "The traverse has speeds but no duct to go with them: measure the inside of the duct"
            " where the points lie.",
        )
    density = air.density(test.traverse_side)
    pressures = [
        row.velocity_pressure for row in test.traverse if row.velocity_pressure is not None
    ]
    speeds = [row.speed for row in test.traverse if row.velocity_pressure is None and row.speed]
    refused = _refused_traverse(test, pressures, speeds)
    if refused is not None:
        return refused
    lengths = _lengths(test)

    def formula(offset: float, factor: float, *sides: float) -> float:
        there = [speed_of(max(pressure + offset, 0.0), density) for pressure in pressures]
        clear = _area(test, sides)
        return factor * clear * mean_speed([*there, *speeds])

    return told(
        "duct traverse",
        formula,
        [0.0, density / air.return_density, *lengths],
        [
            test.velocity_pressure_uncertainty,
            test.traverse_uncertainty * density / air.return_density,
            *(test.length_uncertainty for _ in lengths),
        ],
    )


def _lengths(test: AirHandlerTest) -> list[float]:
    if test.duct_shape is DuctShape.ROUND:
        return [test.duct_diameter or 0.0]
    return [test.duct_width or 0.0, test.duct_height or 0.0]


def _area(test: AirHandlerTest, sides: Sequence[float]) -> float:
    if test.duct_shape is DuctShape.ROUND:
        return duct_area(test.duct_shape, sides[0], None, None) or 0.0
    return duct_area(test.duct_shape, None, sides[0], sides[1]) or 0.0


def _refused_traverse(
    test: AirHandlerTest, pressures: list[float], speeds: list[float]
) -> Finding | None:
    if any(value < 0.0 for value in (*pressures, *speeds)):
        return note(
            "traverse-backwards",
            "A velocity pressure or speed of the traverse is below zero. Likely the tube points"
            " the wrong way, its hoses are swapped, or the place is too near an elbow: turn the"
            " nose into the flow, or move to a straighter piece.",
            min((*pressures, *speeds)),
            0.0,
        )
    middle = sorted(pressures)[len(pressures) // 2] if pressures else 0.0
    least = SLOWEST * test.velocity_pressure_uncertainty
    if pressures and middle < least:
        return note(
            "traverse-too-slow",
            f"Velocity pressures of about {middle:.1f} Pa cannot be told from the gauge's own"
            f" doubt of {test.velocity_pressure_uncertainty:.2f} Pa. Use a narrower duct, a hot"
            " wire or a vane, or another method; if the gauge was set to inches of water, enter"
            " the unit.",
            middle,
            least,
            "Pa",
            "ours",
        )
    return (
        None
        if pressures or speeds
        else note("traverse-empty", "No point of the traverse has a velocity pressure or a speed.")
    )


def flow_by_slot(test: AirHandlerTest, air: PlenumAir) -> MethodFlow | Finding | None:
    """Return the flow by a measuring plate in the place of the filter.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    air : PlenumAir
        In the plenums.

    Returns
    -------
    MethodFlow, Finding or None
        None where there is no plate.

    Notes
    -----
    ``flow (usual / with plate)^½`` of the supply plenum's pressures [SLOT]_. The plate shows
    flow in standard air; a flow through an opening goes with the root of the density.
    """
    if test.slot_flow is None:
        return None
    usual, there = test.usual_static, test.slot_static
    if test.slot_flow <= 0.0 or (usual is not None) is not (there is not None):
        return note(
            "slot",
            "The measuring plate needs its flow and the supply plenum's pressure twice, as usual"
            " with the filter and with the plate in its place.",
        )
    pressures = [usual, there] if usual is not None and there is not None else [1.0, 1.0]
    doubt = test.static_uncertainty if usual is not None else 0.05
    if min(pressures) <= 2.0 * doubt:
        return note(
            "slot",
            "The supply plenum's pressures beside the measuring plate have to be clearly above"
            f" zero ({2.0 * doubt:.0f} Pa or more, else take the plate's flow without them):"
            " put the hose of the plenum on the gauge's input, the other side open to the room.",
            min(pressures),
            2.0 * doubt,
            "Pa",
        )
    return told(
        "measuring plate",
        lambda plate, before, after: plate * math.sqrt(before / after),
        [test.slot_flow * math.sqrt(REFERENCE_DENSITY / air.return_density), *pressures],
        [test.slot_uncertainty * test.slot_flow, doubt, doubt],
    )


def flow_by_rise(test: AirHandlerTest, air: PlenumAir) -> MethodFlow | Finding | None:
    """Return the flow that a known heat warms by the measured rise.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    air : PlenumAir
        In the plenums.

    Returns
    -------
    MethodFlow, Finding or None
        None where it does not heat, or the heat is not known.

    Notes
    -----
    Fuel or electric input times the share that reaches the air, and the fan's own power.
    """
    if test.operation is not Operation.HEATING or test.heat_input is None:
        return None
    if test.return_temperature is None or test.supply_temperature is None:
        return note(
            "rise-without-temperatures",
            "The heat input is there but not both plenum temperatures: read them after ten"
            " minutes of steady running, out of sight of burner and elements.",
        )
    if test.heat_input <= 0.0 or not 0.0 < test.heat_efficiency <= 1.0:
        return note(
            "heat-input",
            "The heat input has to be above zero and the efficiency between 0 and 100 %: clock the"
            " gas meter, or read volts and amperes of the elements.",
            test.heat_input if test.heat_input <= 0.0 else test.heat_efficiency,
        )
    rise = test.supply_temperature - test.return_temperature
    heat = test.heat_input * test.heat_efficiency
    if rise <= SLOWEST * test.plenum_uncertainty:
        return None
    blower = max(test.blower_power or 0.0, 0.0)
    dry = air.return_density / (1.0 + air.humidity)
    return told(
        "temperature rise",
        lambda warmth, change: flow_from_rise(warmth + blower, dry, change, air.humidity),
        [heat, rise],
        [test.heat_input_uncertainty * heat, math.sqrt(2.0) * test.plenum_uncertainty],
    )
