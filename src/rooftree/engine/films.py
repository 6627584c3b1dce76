"""Films of air and heat radiation at the faces of surfaces.

Inside, heat goes from a face to the air by convection, and to the other faces by
radiation through one radiant point of the space. Outside, it goes to the wind, and by
radiation to the sky, to the air and to the ground.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 26, table 10: film conductances
    for emittances 0.90 and 0.05, whose difference separates convection from radiation.
[CARROLL1980] Carroll, J. A., "An MRT method of computing radiant energy exchange in
    rooms", 2nd Systems Simulation and Economic Analysis Conference, 1980 (recalled).
[YAZDANIAN1994] Yazdanian, M., Klems, J. H., "Measurement of the exterior convective film
    coefficient for windows in low-rise buildings", ASHRAE Transactions 100(1), 1994
    (recalled: coefficients of wind on the windward and leeward side).
[WALTON1983] Walton, G. N., NBSIR 83-2655, 1983 (recalled: roughness multipliers, share
    of the sky that a face trades with the air, convection in still air).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from numba import njit

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

STEFAN_BOLTZMANN = 5.670374419e-8
"""Radiation of a black body [W/(m²·K⁴)]."""

_TILTS = (0.0, 45.0, 90.0)
_FILMS = {  # total film conductance at emittance 0.90 and 0.05 [W/(m²·K)] [HOF2021]
    "up": ((9.26, 4.32), (9.09, 4.15), (8.29, 3.35)),
    "down": ((6.13, 1.25), (7.50, 2.56), (8.29, 3.35)),
}

ROUGHNESS = 1.52
"""Wind on brick, siding and shingles over wind on glass [-] [WALTON1983]_ (medium rough)."""

STILL_AIR = 1.31
"""Convection outdoors without wind, over the cube root of the difference
[W/(m²·K^(4/3))] [WALTON1983]_ (upright face)."""

WINDWARD, LEEWARD = (3.26, 0.89), (3.55, 0.617)
"""Factor [W/(m²·K)] and exponent [-] on the wind speed [m/s] [YAZDANIAN1994]_."""

GLASS_EMITTANCE = 0.84
"""Of both faces of a window [0-1]."""


def convection(tilt: float) -> tuple[float, float]:
    """Return convection between a face and the air of a space.

    Parameters
    ----------
    tilt : float
        Angle between the face's outward normal, away from the air, and straight up [°].

    Returns
    -------
    tuple of float
        Coefficient while heat flows up and while it flows down [W/(m²·K)].

    Notes
    -----
    The handbook's films at emittances 0.90 and 0.05 share one radiative conductance, so
    convection is ``h(0.05) - 0.05 / 0.85 * (h(0.90) - h(0.05))`` [HOF2021]_; between
    level, 45° and upright it is interpolated.

    References
    ----------
    [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 26, table 10.

    Examples
    --------
    >>> [round(h, 2) for h in convection(90.0)]
    [3.06, 3.06]
    """
    steepness = min(tilt, 180.0 - tilt)
    up, down = (
        float(
            np.interp(
                steepness, _TILTS, [low - 0.05 / 0.85 * (high - low) for high, low in _FILMS[way]]
            )
        )
        for way in ("up", "down")
    )
    return up, down


def radiant_share(area: ArrayLike, emittance: ArrayLike) -> NDArray[np.float64]:
    """Return how strongly each face of a space trades radiation with its radiant point.

    Parameters
    ----------
    area : array_like, shape (n,)
        Areas of the faces of one space [m²].
    emittance : array_like, shape (n,)
        Their emittances [0-1].

    Returns
    -------
    ndarray, shape (n,)
        Factor on ``4 * sigma * T**3`` [-].

    Notes
    -----
    The exchange factor of a face with all others is ``F = 1 / (1 - A F / sum(A F))``
    [CARROLL1980]_, found by iteration; in series with it stands ``(1 - e) / e``. For two
    equal plates this is the exact law of parallel plates. A face that alone makes up more
    than half of its space is given no more than two equal plates have.

    References
    ----------
    [CARROLL1980] Carroll, J. A., "An MRT method of computing radiant energy exchange in
    rooms", 1980.

    Examples
    --------
    >>> float(round(radiant_share([1.0, 1.0], [0.9, 0.9])[0], 4))
    1.6364
    """
    areas, emittances = np.asarray(area, dtype=float), np.asarray(emittance, dtype=float)
    factor = np.ones_like(areas)
    for _ in range(60):
        weight = areas * factor
        share = weight / weight.sum()
        factor = 0.5 * (factor + 1.0 / (1.0 - np.minimum(share, 0.5)))
    return 1.0 / (1.0 / factor + (1.0 - emittances) / emittances)


def wind_convection(
    wind_speed: ArrayLike, wind_direction: ArrayLike, tilt: float, azimuth: float
) -> NDArray[np.float64]:
    """Return the convection that wind alone causes at smooth glass.

    Parameters
    ----------
    wind_speed : array_like, shape (n,)
        At the height of the house [m/s].
    wind_direction : array_like, shape (n,)
        Where it blows from [°].
    tilt, azimuth : float
        Of the face; a face within 10° of level always counts as windward [°].

    Returns
    -------
    ndarray, shape (n,)
        Coefficient [W/(m²·K)].

    References
    ----------
    [YAZDANIAN1994] Yazdanian, M., Klems, J. H., ASHRAE Transactions 100(1), 1994.
    """
    speed = np.asarray(wind_speed, dtype=float)
    away = np.cos(np.radians(np.asarray(wind_direction, dtype=float) - azimuth)) < 0.0
    leeward = away & (10.0 < tilt < 170.0)
    return np.where(
        leeward, LEEWARD[0] * speed ** LEEWARD[1], WINDWARD[0] * speed ** WINDWARD[1]
    )


def view_of_sky(tilt: float) -> tuple[float, float]:
    """Return how a face outdoors trades radiation with the sky and with air and ground.

    Parameters
    ----------
    tilt : float
        Angle between the outward normal and straight up [°].

    Returns
    -------
    tuple of float
        Weight of the sky and weight of air and ground together; they sum to 1 [0-1].

    Notes
    -----
    View factor ``F = (1 + cos(tilt)) / 2``; of what goes to the sky, the share
    ``1 - sqrt(F)`` meets air at its temperature on the way [WALTON1983]_. The ground is
    taken to be as warm as the air.
    """
    view = max(0.0, 0.5 * (1.0 + math.cos(math.radians(tilt))))
    sky = view * math.sqrt(view)
    return sky, 1.0 - sky


@njit(inline="always", error_model="numpy")
def outdoor_convection(wind: Any, difference: Any, roughness: Any) -> Any:
    """Return convection outdoors [W/(m²·K)] from wind on glass and the face's excess [K].

    The convection of still air and of wind combine as a root of squares; a rough face
    enlarges what wind adds.
    """
    still = STILL_AIR * np.cbrt(abs(difference))
    return still + roughness * (math.sqrt(still * still + wind * wind) - still)


@njit(inline="always", error_model="numpy")
def radiation_coefficient(face: Any, other: Any) -> Any:
    """Return the exact radiative coefficient between two black faces [W/(m²·K)]."""
    return STEFAN_BOLTZMANN * (face * face + other * other) * (face + other)

