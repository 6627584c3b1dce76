"""Put the leakage that a duct test found into the ducts of the house."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house import SpaceKind

if TYPE_CHECKING:
    from rooftree.house import DuctRun, House


def fit_duct_leakage(house: House, leakage: float) -> House:
    """Return the house with this much duct leakage to outdoors.

    Parameters
    ----------
    house : House
        With an air handler and at least one duct run outside the living spaces.
    leakage : float
        Flow to outdoors at 25 Pa, supply and return sides together [m³/s], >= 0.

    Returns
    -------
    House

    Raises
    ------
    HouseError
        If there is no air handler, or no duct outside the living spaces.
    OutOfRangeError
        If the leakage is negative or more than the air handler moves.

    Notes
    -----
    The leakage at 25 Pa is taken as the leakage in operation, and one half of it is put
    on each side when only the whole was measured (common practice; ASHRAE 152 asks for
    the sides separately when they can be had). Within a side it is shared in proportion
    to the leakages the record already guesses, or to duct surface where it guesses none.
    The error of the halving does not change the sum of the losses much, but it does
    change the pressure that unequal sides put on the house.
    """
    handler = house.air_handler
    living = {space.id for space in house.living_spaces}
    outside = [run for run in house.ducts if run.space not in living]
    if handler is None or not outside:
        message = (
            "the house has no air handler with ducts outside the living spaces, yet there is a "
            "duct leakage test to outdoors; enter the air handler and the duct runs"
        )
        raise HouseError(message)
    if not 0.0 <= leakage <= handler.flow:
        raise OutOfRangeError("duct leakage to outdoors", leakage, 0.0, handler.flow, "m³/s")
    sides = {run.side for run in outside}
    share = leakage / handler.flow / len(sides)
    found = {run.id: run for run in house.ducts}
    for side in sides:
        runs = [run for run in outside if run.side == side]
        for run, weight in zip(runs, _weights(runs), strict=True):
            found[run.id] = replace(run, leakage=share * weight)
    return replace(house, ducts=tuple(found[run.id] for run in house.ducts))


def _weights(runs: list[DuctRun]) -> list[float]:
    """Return each run's part of its side's leakage; sums to 1."""
    guessed = sum(run.leakage for run in runs)
    if guessed > 0.0:
        return [run.leakage / guessed for run in runs]
    surface = sum(run.area for run in runs)
    return [run.area / surface for run in runs]


def duct_leakage(house: House) -> float:
    """Return the duct leakage to outside the living spaces, both sides together.

    Parameters
    ----------
    house : House
        With or without ducts.

    Returns
    -------
    float
        [m³/s].
    """
    if house.air_handler is None:
        return 0.0
    inside = {s.id for s in house.spaces if s.kind is SpaceKind.LIVING}
    share = sum(run.leakage for run in house.ducts if run.space not in inside)
    return share * house.air_handler.flow
