"""Ducts as bodies of air of their own: registers, leaks, and the air handler between them.

While the air handler runs, supply and return ducts are two bodies of air, and its fan moves
air from one to the other; while it stands still they are one. Registers and leaks get the
sizes at which the ducts stand at their operating pressure while everything around them is
calm: then each leak passes the share of the flow that the house says.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import TYPE_CHECKING

from rooftree.engine.ducts import supply_shares
from rooftree.errors import HouseError
from rooftree.house import Leak, LeakKind

if TYPE_CHECKING:
    from rooftree.house import DuctRun, House

OPERATING_PRESSURE = 25.0
"""Of the ducts against the house while the air handler runs [Pa]: the pressure at which duct
leakage is stated, so that a share of the flow and a leakage at 25 Pa are one number."""

DUCT_EXPONENT = 0.6
"""Of the leaks of ducts [-]; usual (ASHRAE Standard 152, recalled)."""

REGISTER_EXPONENT = 0.5
"""Of registers and grilles with the ducts behind them [-]: turbulent."""

DUCTS, SUPPLY_DUCTS, RETURN_DUCTS = "(ducts)", "(supply ducts)", "(return ducts)"
"""Ids of ducts among the bodies of air."""

BRANCH = "(branch)"
"""Id of the piece of duct behind one register that is covered by a pan."""


class Ducts(StrEnum):
    """How the ducts take part in a test."""

    LEFT_OUT = "left out"
    OPEN = "registers open"
    SEALED = "registers sealed"


def duct_places(ducts: Ducts, *, air_handler: bool) -> tuple[str, ...]:
    """Return the bodies of air that ducts are.

    Parameters
    ----------
    ducts : Ducts
        How they take part.
    air_handler : bool
        Whether the air handler runs.

    Returns
    -------
    tuple of str
    """
    if ducts is Ducts.LEFT_OUT:
        return ()
    return (SUPPLY_DUCTS, RETURN_DUCTS) if air_handler else (DUCTS,)


def lay_ducts(house: House, ducts: Ducts, *, air_handler: bool = False) -> tuple[Leak, ...]:
    """Return leaks and registers of the ducts as paths for air.

    Parameters
    ----------
    house : House
        With an air handler and duct runs, unless the ducts are left out.
    ducts : Ducts
        How they take part.
    air_handler : bool
        Whether the air handler runs, so that supply and return are two bodies of air.

    Returns
    -------
    tuple of Leak
        The leak of a run has the run's id.

    Raises
    ------
    HouseError
        If there is no air handler with a flow, or no duct run.
    """
    if ducts is Ducts.LEFT_OUT:
        return ()
    flow = _flow(house)
    bodies = _bodies(air_handler)
    leaks = tuple(_leak(house, run, bodies[run.side]) for run in house.ducts)
    if ducts is Ducts.SEALED:
        return leaks
    return (*leaks, *_registers(house, bodies, flow))


def leak_coefficient(house: House, leakage: float) -> float:
    """Return the leakage coefficient of a duct leak.

    Parameters
    ----------
    house : House
        With an air handler.
    leakage : float
        Share of the air handler's flow that is lost in operation [0-1].

    Returns
    -------
    float
        [m³/(s·Paⁿ)], with the exponent `DUCT_EXPONENT`.
    """
    return leakage * _flow(house) / math.pow(OPERATING_PRESSURE, DUCT_EXPONENT)


def idle_duct_leaks(house: House) -> tuple[Leak, ...]:
    """Return what the ducts leak while the air handler stands still, as leaks of the house.

    Parameters
    ----------
    house : House
        With or without ducts.

    Returns
    -------
    tuple of Leak
        One between the largest living space and the space of each run that lies outside the
        living spaces; the resistance of the open registers is left out (they are 5 to 20
        times as wide, which makes these leaks up to 1 % too large).
    """
    living = {space.id for space in house.living_spaces}
    if house.air_handler is None or not living:
        return ()
    main = max(house.living_spaces, key=lambda space: space.volume).id
    return tuple(
        _leak(house, run, main)
        for run in house.ducts
        if run.space not in living and run.leakage > 0.0
    )


def _flow(house: House) -> float:
    handler = house.air_handler
    if handler is None or not handler.flow > 0.0 or not house.ducts:
        message = (
            "the house has no air handler with a flow and no duct runs, so that its ducts cannot "
            "be tested; enter the air handler and the duct runs"
        )
        raise HouseError(message)
    return handler.flow


def _bodies(air_handler: bool) -> dict[str, str]:
    if air_handler:
        return {"supply": SUPPLY_DUCTS, "return": RETURN_DUCTS}
    return {"supply": DUCTS, "return": DUCTS}


def _leak(house: House, run: DuctRun, body: str) -> Leak:
    space = house.space(run.space)
    level = space.floor_level + 0.5 * space.height
    coefficient = leak_coefficient(house, run.leakage)
    return Leak(run.id, run.name, body, run.space, level, None, coefficient, DUCT_EXPONENT)


def _registers(house: House, bodies: dict[str, str], flow: float) -> tuple[Leak, ...]:
    """Return one opening for each side and space that has a share in it."""
    made = []
    for side, shares in zip(("supply", "return"), supply_shares(house), strict=True):
        lost = sum(run.leakage for run in house.ducts if run.side == side)
        through = (1.0 - lost) * flow / math.pow(OPERATING_PRESSURE, REGISTER_EXPONENT)
        for space, share in zip(house.spaces, shares, strict=True):
            if share > 0.0:
                name = f"{side} registers of {space.id}"
                level = space.floor_level + 0.1
                made.append(
                    Leak(name, name, bodies[side], space.id, level, None, float(share) * through,
                         REGISTER_EXPONENT, LeakKind.HOLE)
                )  # fmt: skip
    return tuple(made)
