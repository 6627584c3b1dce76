"""Air through a closed door, and the opening that relieves a room.

Sources
-------
[BERNOULLI] Flow through a sharp opening, with a discharge coefficient for its edge. The trade's
    form, flow in cfm = 1.07 × area in in² × (pressure in Pa)^½, is a coefficient of 0.607
    (recalled).
"""

from __future__ import annotations

import math

from rooftree.physics.openings import SHARP_EDGE, opening_area, opening_flow


def door_flow(
    area: float, pressure: float, *, discharge: float = SHARP_EDGE, density: float = 1.2041
) -> float:
    """Return the flow out of a room through its openings to the main space.

    Parameters
    ----------
    area : float
        Of undercut and grilles together [m²], >= 0.
    pressure : float
        Room with reference to the main space, signed [Pa].
    discharge : float
        Discharge coefficient [-].
    density : float
        Of the air [kg/m³].

    Returns
    -------
    float
        [m³/s]; below zero where air goes into the room.

    Notes
    -----
    :func:`~rooftree.physics.openings.opening_flow` with the sign of the pressure.

    Examples
    --------
    >>> round(door_flow(0.0145, 6.2), 4)
    0.0279
    """
    size = opening_flow(area, abs(pressure), discharge=discharge, density=density)
    return math.copysign(size, pressure)


def relief_area(
    flow: float,
    there: float,
    allowed: float,
    *,
    discharge: float = SHARP_EDGE,
    density: float = 1.2041,
) -> float:
    """Return the clear area to add so that a room comes down to the allowed pressure.

    Parameters
    ----------
    flow : float
        That has to pass to the main space at the allowed pressure [m³/s], >= 0.
    there : float
        Clear area of the openings that are there [m²], >= 0.
    allowed : float
        Pressure of the room that is allowed [Pa], > 0.
    discharge : float
        Discharge coefficient of all openings [-].
    density : float
        Of the air [kg/m³].

    Returns
    -------
    float
        Clear area of grille, jump duct or undercut to add [m²]; below zero where what is
        there is enough.

    Raises
    ------
    OutOfRangeError
        If the flow is negative or the pressure not positive.

    Notes
    -----
    ``Q / (Cd (2 p / rho)^½)`` less what is there [BERNOULLI]_. What the room gains in supply
    when it is relieved is left out.

    References
    ----------
    .. [BERNOULLI] Flow through a sharp opening.

    Examples
    --------
    A room of 100 cfm behind a door with half the area that 3 Pa needs.

    >>> round(relief_area(0.0472, 0.0176, 3.0), 4)
    0.0176
    """
    return opening_area(flow, allowed, discharge=discharge, density=density) - there
