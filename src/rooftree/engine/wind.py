"""Wind on the walls: from the speed at the weather station to the pressure on a facade.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 26 (pressure on the walls
    of a low building) and 29 to 31.
[WALKER1994] Walker and Wilson, 1994, quoted in [HOF2021]: the wall pressure equation.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import HouseError, OutOfRangeError
from rooftree.physics.terrain import terrains, wind_ratio

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.house import House


WINDWARD, LEEWARD, SIDE = 0.6, -0.3, -0.65
"""Pressure coefficients of a wall at 0°, 180° and 90° to the wind [-], [HOF2021] eq. 26."""


def terrain_factor(height: float, terrain: str) -> float:
    """Return the wind speed at a height near the house, per speed at the station.

    Parameters
    ----------
    height : float
        Height of the wall above ground [m], > 0 and below the boundary layer.
    terrain : str
        ``"city"``, ``"suburban"``, ``"open"`` or ``"water"``.

    Returns
    -------
    float
        Ratio of speeds [-].

    Raises
    ------
    OutOfRangeError
        If the height is not above the ground, or above the boundary layer.
    HouseError
        If the terrain is none of those.

    Notes
    -----
    :func:`rooftree.physics.terrain.wind_ratio`; the station stands in open country, 10 m
    high. Close to the ground among houses the profile is only a convention: the shelter
    factor is there to make up for neighbours.

    Examples
    --------
    >>> round(terrain_factor(5.0, "suburban"), 4)
    0.6154
    """
    if terrain not in terrains():
        message = f"terrain is {terrain}; use one of {', '.join(terrains())}"
        raise HouseError(message)
    return wind_ratio(height, terrain)


def wall_pressure_coefficient(angle: ArrayLike) -> NDArray[np.float64]:
    """Return the mean pressure coefficient of a wall of a low building.

    Parameters
    ----------
    angle : array_like
        From the wall's outward normal to where the wind comes from [°].

    Returns
    -------
    ndarray
        Pressure over the velocity pressure at the height of the wall [-].

    Notes
    -----
    [HOF2021]_ chapter 16, eq. 26, with the typical values for windward, leeward and side
    walls; the two side walls are alike, so that the equation's last term vanishes. It is
    the mean over a whole wall: corners and eaves differ by more.

    Examples
    --------
    >>> wall_pressure_coefficient([0.0, 90.0, 180.0]).round(2).tolist()
    [0.6, -0.65, -0.3]
    """
    radians = np.radians(np.asarray(angle, dtype=np.float64))
    cosine, sine = np.cos(radians), np.sin(radians)
    along = np.sign(cosine) * np.abs(cosine) ** 0.75
    ends = (WINDWARD + LEEWARD) * np.sqrt(np.abs(cosine)) + (WINDWARD - LEEWARD) * along
    return np.asarray(0.5 * ends + SIDE * sine**4)


def wind_pressure_factor(
    azimuth: float | None,
    wind_direction: ArrayLike,
    *,
    height: float,
    terrain: str,
    shelter: float,
) -> NDArray[np.float64]:
    """Return what turns density and station wind speed into the pressure on a facade.

    Parameters
    ----------
    azimuth : float or None
        Of the facade's outward normal [°]; None where no wind pressure acts.
    wind_direction : array_like, shape (n,)
        Where the wind blows from [°].
    height : float
        Of the walls above ground [m]: `wall_height` of the house.
    terrain : str
        As for `terrain_factor`.
    shelter : float
        Factor on the wind speed at the walls [0-1].

    Returns
    -------
    ndarray, shape (n,)
        ``pressure / (outdoor density * speed at the station ** 2)`` [-].

    Raises
    ------
    OutOfRangeError
        If the shelter factor is outside 0 to 1.

    Notes
    -----
    [HOF2021]_ chapter 16, eq. 29 to 31: ``s**2 * Cp * rho * U**2 / 2`` with `U` at the
    height of the walls; one pressure for a whole facade, whatever the height of the leak.
    Soffit and gable vents take the coefficient of the wall below them. Ridge vents, roof
    vents and flues with a cap are taken as sheltered from wind, at outdoor pressure; in
    truth they are under some suction, which helps the flue and dries the attic.
    """
    if not 0.0 <= shelter <= 1.0:
        raise OutOfRangeError("shelter", shelter, 0.0, 1.0, "-")
    direction = np.asarray(wind_direction, dtype=np.float64)
    if azimuth is None:
        return np.zeros(direction.shape)
    speed = shelter * terrain_factor(height, terrain)
    return 0.5 * speed**2 * wall_pressure_coefficient(direction - azimuth)


def wall_height(house: House) -> float:
    """Return the height of the eaves: the top of the highest living space.

    Parameters
    ----------
    house : House
        The house; of one without living spaces, all spaces count.

    Returns
    -------
    float
        Height above ground [m].
    """
    spaces = house.living_spaces or house.spaces
    return max(space.floor_level + space.height for space in spaces)
