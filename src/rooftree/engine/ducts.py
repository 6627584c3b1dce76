"""Ducts: where heat, air and vapor of the air handler end up.

The chain is that of ASHRAE Standard 152 (recalled): air comes back from the living
spaces, gains or loses heat through the return ducts, is joined by what leaks into them,
passes the coil, gains or loses heat through the supply ducts, loses what leaks out, and
what is left reaches the living spaces. Every step is linear in temperature; so the whole
is one matrix for air at the temperatures of the spaces and one list of shares for the
heat of the coil.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.conduction import HOUR
from rooftree.engine.moist import HEAT_OF_AIR
from rooftree.errors import HouseError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.house import DuctRun, House


MOST_STARTS = 3.0
"""Starts of a thermostat in an hour, at half run time [1/h] (common practice)."""

PAUSE = 600.0
"""Pause between two runs at that rate [s]."""

DUCT_CAPACITY = 500.0
"""Heat capacity of a duct's wall and air by its surface [J/(m²·K)]: the liner of a flexible duct
with its air, by our estimate; half a millimetre of sheet steel holds 1900 (by density and
specific heat)."""


@dataclass(frozen=True, slots=True, eq=False)
class DuctBalance:
    """What one kilogram of air through the air handler does to the spaces.

    Attributes
    ----------
    heat, vapor : ndarray, shape (n, n)
        Heat and vapor balance of each space by temperature and humidity of all [-]; rows
        sum to zero.
    heat_shares, latent_shares : ndarray, shape (n,)
        Where the heat and the dryness of the coil end up [0-1]; both sum to 1.
    net_supply : ndarray, shape (n,)
        Air blown into less air drawn from each space [-]; sums to zero.
    return_mix : ndarray, shape (n,)
        Origin of the air at the coil [0-1]; sums to 1.
    """

    heat: NDArray[np.float64]
    vapor: NDArray[np.float64]
    heat_shares: NDArray[np.float64]
    latent_shares: NDArray[np.float64]
    net_supply: NDArray[np.float64]
    return_mix: NDArray[np.float64]


def supply_shares(house: House) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the shares of the living spaces in the system's output and return air.

    Parameters
    ----------
    house : House
        The house.

    Returns
    -------
    tuple of ndarray, shape (n,)
        Supply and return shares [0-1]; each sums to 1.
    """
    living = {space.id for space in house.living_spaces}
    supply = np.zeros(len(house.spaces))
    silent = [i for i, s in enumerate(house.spaces) if s.id in living and s.supply_share is None]
    for i, space in enumerate(house.spaces):
        supply[i] = space.supply_share or 0.0
    left, floor = max(1.0 - supply.sum(), 0.0), sum(house.spaces[i].floor_area for i in silent)
    for i in silent:
        supply[i] = left * house.spaces[i].floor_area / floor
    if supply.sum() == 0.0:
        message = "no space takes a share of heating and cooling; give one a supply share"
        raise HouseError(message)
    supply /= supply.sum()
    back = np.array(
        [
            share if space.return_share is None else space.return_share
            for share, space in zip(supply, house.spaces, strict=True)
        ]
    )
    return supply, back / back.sum() if back.sum() > 0.0 else supply


def duct_balance(house: House, mass_flow: float, *, standing: bool = False) -> DuctBalance:
    """Return what the ducts of a house do.

    Parameters
    ----------
    house : House
        The house; without ducts, air goes straight to and from the living spaces.
    mass_flow : float
        Through the air handler when it runs [kg/s], > 0.
    standing : bool
        Whether the supply ducts also lose what they took on while they stood still, as
        they would at run times near nothing.

    Returns
    -------
    DuctBalance

    Raises
    ------
    HouseError
        If the ducts lose more than all of the flow.

    Notes
    -----
    Runs on one side are parallel branches, with air in proportion to their surface; a
    branch keeps ``B = exp(-A / (R m c))`` of its temperature difference to the space it
    runs through, `A` being all of that side's surface. Leaks out of the supply have the
    mean temperature of the branches' ends; leaks into the return join before the coil.

    A duct that stands takes on the temperature around it, and each start blows that out
    into the rooms. With ``4 N x (1 - x)`` starts an hour at run time `x`, `N` being the
    most (`MOST_STARTS`, common practice), that costs the share ``4 N (1 - x) C / (m c)`` of
    the difference, `C` being the heat that the duct holds per hour.
    """
    supply, back = supply_shares(house)
    n = supply.size
    index = {space.id: i for i, space in enumerate(house.spaces)}
    touch_out, lost = _side(house.ducts, "supply", index, n, mass_flow)
    touch_back, drawn = _side(house.ducts, "return", index, n, mass_flow)
    if standing:
        touch_out = touch_out + _taken_on(house.ducts, index, n, mass_flow, 1.0 - touch_out.sum())
    keep_out, keep_back = 1.0 - float(touch_out.sum()), 1.0 - float(touch_back.sum())
    spaces = np.eye(n)
    # Temperature of the air, as a row of weights on the temperatures of the spaces.
    returned = keep_back * back + touch_back
    mixed = (1.0 - drawn.sum()) * returned + drawn
    arriving = keep_out * mixed + touch_out
    reaching = supply * (1.0 - lost.sum()) + lost
    heat = reaching[:, None] * (arriving[None, :] - spaces)
    heat += touch_out[:, None] * (mixed[None, :] - spaces)
    heat += (1.0 - drawn.sum()) * touch_back[:, None] * (back[None, :] - spaces)
    blend = (1.0 - drawn.sum()) * back + drawn
    vapor = reaching[:, None] * (blend[None, :] - spaces)
    return DuctBalance(
        heat=heat,
        vapor=vapor,
        heat_shares=keep_out * reaching + touch_out,
        latent_shares=reaching,
        net_supply=reaching - (1.0 - drawn.sum()) * back - drawn,
        return_mix=blend,
    )


def _side(
    ducts: tuple[DuctRun, ...], side: str, index: dict[str, int], n: int, mass_flow: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return where a side loses its difference, and where it leaks."""
    runs = [run for run in ducts if run.side == side]
    touch, leaks = np.zeros(n), np.zeros(n)
    area = sum(run.area for run in runs)
    for run in runs:
        leaks[index[run.space]] += run.leakage
        if run.area > 0.0:
            kept = math.exp(-area / (run.resistance * mass_flow * HEAT_OF_AIR))
            touch[index[run.space]] += run.area / area * (1.0 - kept)
    if leaks.sum() >= 1.0:
        message = (
            f"the {side} ducts leak {leaks.sum():.0%} of the air handler's flow; "
            "the parts must sum to less than all of it"
        )
        raise HouseError(message)
    return touch, leaks


def _taken_on(
    ducts: tuple[DuctRun, ...], index: dict[str, int], n: int, mass_flow: float, kept: float
) -> NDArray[np.float64]:
    """Return where supply ducts lose what they take on while they stand [-].

    At most half of what arrives at the registers, the share `kept`.
    """
    touch = np.zeros(n)
    for run in ducts:
        if run.side == "supply":
            warmed = 1.0 - math.exp(-PAUSE / (run.resistance * DUCT_CAPACITY))
            held = run.area * DUCT_CAPACITY * warmed
            starts = 4.0 * MOST_STARTS / HOUR
            touch[index[run.space]] += starts * held / (mass_flow * HEAT_OF_AIR)
    return np.asarray(touch * min(1.0, 0.5 * kept / max(float(touch.sum()), 1e-12)))
