"""Films of air and heat radiation at the faces of surfaces.

Inside, heat goes from a face to the air by convection, and to the other faces by
radiation through one radiant point of the space. Outside, it goes to the wind, and by
radiation to the sky, to the air and to the ground.

Sources
-------
[CARROLL1980] Carroll, J. A., "An MRT method of computing radiant energy exchange in
    rooms", 2nd Systems Simulation and Economic Analysis Conference, 1980 (recalled).
[YAZDANIAN1994] Yazdanian, M., Klems, J. H., "Measurement of the exterior convective film
    coefficient for windows in low-rise buildings", ASHRAE Transactions 100(1), 1994
    (recalled: coefficients of wind on the windward and leeward side).
[WALTON1983] Walton, G. N., NBSIR 83-2655, 1983 (recalled: natural convection, roughness
    multipliers, share of the sky that a face trades with the air).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

STEFAN_BOLTZMANN = 5.670374419e-8
"""Radiation of a black body [W/(m²·K⁴)]."""

LEAST_CONVECTION = 0.02
"""What a face gives to still air of nearly its own temperature [W/(m²·K)]: conduction
through air (0.026 W/(m·K)) over half the height of a room."""

ROUGHNESS = 1.52
"""Wind on brick, siding and shingles over wind on glass [-] [WALTON1983]_ (medium rough)."""

STILL_AIR = 1.31
"""Convection at an upright face in still air, over the cube root of the difference
[W/(m²·K^(4/3))] [WALTON1983]_; outdoors at faces of any tilt."""

WINDWARD, LEEWARD = (3.26, 0.89), (3.55, 0.617)
"""Factor [W/(m²·K)] and exponent [-] on the wind speed [m/s] [YAZDANIAN1994]_."""

GLASS_EMITTANCE = 0.84
"""Of both faces of a window [0-1]."""


def convection(tilt: float) -> tuple[float, float]:
    """Return how strongly a face trades heat with the still air of a space.

    Parameters
    ----------
    tilt : float
        Angle between the face's outward normal, away from the air, and straight up [°].

    Returns
    -------
    tuple of float
        Factor on the cube root of the temperature difference, while heat flows up and
        while it flows down [W/(m²·K^(4/3))].

    Notes
    -----
    Natural convection of [WALTON1983]_: upright 1.31, heat flowing up
    ``9.482 / (7.283 - |cos|)``, heat flowing down ``1.810 / (1.382 + |cos|)``. At the 5.5 K
    of the handbook's film table an upright face has 2.3 W/(m²·K), the table 3.06 (total
    at emittance 0.05 less the radiation in it): rooms with fans and registers
    lie between the two.

    References
    ----------
    [WALTON1983] Walton, G. N., NBSIR 83-2655, 1983 (recalled).

    Examples
    --------
    >>> [round(h, 2) for h in convection(0.0)]
    [1.51, 0.76]
    """
    level = abs(math.cos(math.radians(tilt)))
    if level < 0.01:
        return STILL_AIR, STILL_AIR
    return 9.482 / (7.283 - level), 1.810 / (1.382 + level)


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
    areas, emittances = (np.asarray(each, dtype=float) for each in (area, emittance))
    share = _radiant_shares(tuple(areas.tolist()), tuple(emittances.tolist()))
    return np.array(share)


@lru_cache(maxsize=256)
def _radiant_shares(area: tuple[float, ...], emittance: tuple[float, ...]) -> tuple[float, ...]:
    """Return the shares of one space; variants of a house mostly have the same faces."""
    areas, emittances = np.array(area), np.array(emittance)
    factor = np.ones_like(areas)
    for _ in range(60):
        weight = areas * factor
        of_all = weight / weight.sum()
        factor = 0.5 * (factor + 1.0 / (1.0 - np.minimum(of_all, 0.5)))
    share = 1.0 / (1.0 / factor + (1.0 - emittances) / emittances)
    return tuple(share.tolist())


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
    factor = np.where(leeward, LEEWARD[0], WINDWARD[0])
    exponent = np.where(leeward, LEEWARD[1], WINDWARD[1])
    return np.asarray(factor * np.power(speed, exponent), dtype=np.float64)


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
