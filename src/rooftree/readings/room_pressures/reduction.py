"""Reduce pressures of rooms and house to what is out of balance."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.readings.room_pressures.curve import house_curve
from rooftree.readings.room_pressures.effects import duct_side, house_effects
from rooftree.readings.room_pressures.judge_house import (
    judge_ducts,
    judge_exhausts,
    judge_lowest,
    judge_missing,
    judge_rooms,
)
from rooftree.readings.room_pressures.judge_readings import judge_readings
from rooftree.readings.room_pressures.results import DuctSide, RoomPressureResult
from rooftree.readings.room_pressures.rooms import reduce_rooms
from rooftree.readings.room_pressures.sound import sound_rooms
from rooftree.readings.room_pressures.states import State, StateTable, sort_readings

if TYPE_CHECKING:
    from rooftree.readings.room_pressures.readings import RoomPressureTest
    from rooftree.readings.room_pressures.results import HouseEffect, RoomResult

EXPONENT, EXPONENT_UNCERTAINTY = 0.65, 0.057
"""Leakage exponent of a house where no fan test tells, and its spread [-] (Chan, Joh &
Sherman, Energy and Buildings 66 (2013) 616)."""


def reduce_room_pressures(
    test: RoomPressureTest,
    *,
    flow_50: float | None = None,
    exponent: float = EXPONENT,
    flow_50_uncertainty: float = 0.05,
    exponent_uncertainty: float = EXPONENT_UNCERTAINTY,
) -> RoomPressureResult:
    """Reduce pressures of rooms and house.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    flow_50 : float or None
        Leakage of the house at 50 Pa by the fan test [m³/s]; without it changes of the
        house's pressure have no flow.
    exponent : float
        Of its leakage curve [-], 0.5 to 1.
    flow_50_uncertainty : float
        Standard uncertainty of `flow_50` [0-1], relative.
    exponent_uncertainty : float
        Standard uncertainty of `exponent` [-].

    Returns
    -------
    RoomPressureResult

    Raises
    ------
    OutOfRangeError
        If the allowed pressure or the discharge coefficient is not above zero.

    Examples
    --------
    >>> from rooftree.readings.room_pressures.readings import PressureReading, Room
    >>> from rooftree.readings.room_pressures.readings import RoomPressureTest
    >>> test = RoomPressureTest(
    ...     pressures=(PressureReading("bedroom", 12.0),),
    ...     rooms=(Room("bedroom", supply_flow=0.0472),),
    ... )
    >>> round(reduce_room_pressures(test).rooms[0].area_to_add.value, 4)
    0.0176
    """
    least = math.nextafter(0.0, 1.0)
    for name, value, unit in (
        ("allowed_pressure", test.allowed_pressure, "Pa"),
        ("discharge", test.discharge, "-"),
    ):
        if not value > 0.0:
            raise OutOfRangeError(name, value, least, math.inf, unit)
    test, impossible = sound_rooms(test)
    table = sort_readings(test)
    curve = house_curve(test, flow_50, exponent, flow_50_uncertainty, exponent_uncertainty)
    rooms = reduce_rooms(test, table, curve)
    effects = house_effects(table, curve)
    side, imbalance = duct_side(effects)
    lowest = _lowest(table)
    findings = (
        *impossible,
        *judge_readings(test, table, rooms),
        *judge_rooms(test, rooms),
        *judge_ducts(side, imbalance, effects),
        *judge_exhausts(test, effects, curve),
        *judge_lowest(lowest),
        *judge_missing(rooms, effects, curve),
    )
    return RoomPressureResult(
        rooms=rooms,
        effects=effects,
        duct_side=side,
        duct_imbalance=imbalance,
        lowest=lowest,
        says=_in_words(test, rooms, effects, side),
        findings=findings,
    )


def _lowest(table: StateTable) -> float | None:
    """Return the lowest house pressure less that with everything off [Pa]."""
    still = table.main(State(False, False)) or table.main(State(True, False))
    if still is None:
        return None
    values = [mean.value for state in table.house if (mean := table.main(state)) is not None]
    return min(values) - still.value


def _in_words(
    test: RoomPressureTest,
    rooms: tuple[RoomResult, ...],
    effects: tuple[HouseEffect, ...],
    side: DuctSide | None,
) -> str:
    parts = []
    beyond = [room.name for room in rooms if abs(room.pressure.value) > test.allowed_pressure]
    if beyond:
        parts.append(
            f"{_list(beyond)} {'go' if len(beyond) > 1 else 'goes'} beyond"
            f" {test.allowed_pressure:g} Pa when the door is closed."
        )
    elif rooms:
        parts.append(f"Every closed room stays within {test.allowed_pressure:g} Pa.")
    if side is DuctSide.NEITHER:
        parts.append("The air handler does not clearly move the pressure of the house.")
    elif side is not None:
        moves = "lowers" if side is DuctSide.SUPPLY else "raises"
        parts.append(
            f"The air handler {moves} the house by {abs(effects[0].change.value):.1f} Pa:"
            f" {side.value} leakage to outdoors dominates."
        )
    return " ".join(parts) or "These readings do not yet tell what is out of balance."


def _list(names: list[str]) -> str:
    named = ", ".join(names[:-1])
    text = f"{named} and {names[-1]}" if named else names[-1]
    return text[0].upper() + text[1:]
