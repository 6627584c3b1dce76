"""How air handler, closed doors and exhaust fans move the pressure of the whole house."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated, propagate_positive
from rooftree.readings.room_pressures.house_shift import stepped_shift
from rooftree.readings.room_pressures.results import DuctSide, HouseEffect
from rooftree.readings.room_pressures.states import State, StateTable, difference

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.readings.room_pressures.curve import HouseCurve

CLEAR_SIGN = 2.0
"""Standard uncertainties that a change must be off zero to have a sign [-]; ours."""

AIR_HANDLER, CLOSED_DOORS = "air handler on, doors open", "inside doors closed, air handler on"


def house_effects(table: StateTable, curve: HouseCurve | None) -> tuple[HouseEffect, ...]:
    """Return what each thing that was switched does to the pressure of the house.

    Parameters
    ----------
    table : StateTable
        Readings by state.
    curve : HouseCurve or None
        Leakage of the house; without it changes have no flow.

    Returns
    -------
    tuple of HouseEffect
        Air handler, closed doors, then exhaust fans; each from two states that differ in
        that one thing.
    """
    found = [
        HouseEffect(cause, exhaust, change, _net_flow(change, curve))
        for cause, exhaust, after, before in _pairs(table)
        if (change := _change(table, after, before)) is not None
    ]
    return tuple(found)


def _pairs(table: StateTable) -> Iterator[tuple[str, str, State, State]]:
    yield AIR_HANDLER, "", State(False, True), State(False, False)
    yield CLOSED_DOORS, "", State(True, True), State(False, True)
    for names in sorted({state.running for state in table.house if state.running}, key=sorted):
        label = ", ".join(sorted(names))
        for doors in (False, True):
            for handler in (False, True):
                after, before = State(doors, handler, names), State(doors, handler)
                if after in table.house and before in table.house:
                    where = "doors closed" if doors else "doors open"
                    with_fan = ", air handler on" if handler else ""
                    yield f"{label} on, {where}{with_fan}", label, after, before


def _change(table: StateTable, after: State, before: State) -> Propagated | None:
    one, other = table.main(after), table.main(before)
    return difference(one, other) if one and other else None


def _net_flow(change: Propagated, curve: HouseCurve | None) -> Propagated | None:
    if curve is None or abs(change.value) < CLEAR_SIGN * change.standard:
        return None
    sign = math.copysign(1.0, change.value)
    size = propagate_positive(
        lambda moved, flow_50, exponent, spread: stepped_shift(moved, flow_50, exponent, spread),
        [abs(change.value), *curve.values()],
        [change.standard, *curve.doubts()],
    )
    low, high = sorted((sign * size.low, sign * size.high))
    return Propagated(sign * size.value, size.standard, low, high, is_by_factor=True)


def duct_side(effects: tuple[HouseEffect, ...]) -> tuple[DuctSide | None, Propagated | None]:
    """Return which side of the ducts leaks more to outdoors, and by how much.

    Parameters
    ----------
    effects : tuple of HouseEffect
        On the pressure of the house.

    Returns
    -------
    DuctSide or None
        None where the air handler's effect was not read.
    Propagated or None
        Its leakage less that of the other side [m³/s].

    Notes
    -----
    What supply ducts lose to outdoors is missing in the house, which sinks; what return
    ducts draw from outdoors is too much in it, and it rises. A fresh-air intake counts as
    return leakage.
    """
    effect = next((effect for effect in effects if effect.cause == AIR_HANDLER), None)
    if effect is None:
        return None, None
    change, flow = effect.change, effect.flow
    if abs(change.value) < CLEAR_SIGN * change.standard:
        return DuctSide.NEITHER, None
    side = DuctSide.SUPPLY if change.value < 0.0 else DuctSide.RETURN
    if flow is None:
        return side, None
    low, high = sorted((abs(flow.low), abs(flow.high)))
    return side, Propagated(abs(flow.value), flow.standard, low, high, is_by_factor=True)
