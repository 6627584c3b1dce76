"""How cold the sky is: the black body that gives off as much infrared as the sky does.

Sources
-------
[CLARK1978] Clark, G., Allen, C., "The estimation of atmospheric radiation for clear and
    cloudy skies", 2nd National Passive Solar Conference, 1978, 675-678.
[WALTON1983] Walton, G. N., "Thermal Analysis Research Program Reference Manual",
    NBSIR 83-2655, 1983: the cloud factor. Recalled: its linear coefficient 0.0224 (a
    public weather library prints 0.022).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

STEFAN_BOLTZMANN = 5.670374419e-8
"""Radiation of a black body [W/(m²·K⁴)]."""


def sky_emissivity(dew_point: ArrayLike, cloud_cover: ArrayLike) -> NDArray[np.float64]:
    """Return the emissivity of the sky, seen from below at air temperature.

    Parameters
    ----------
    dew_point : array_like
        Dew-point temperature near the ground [K].
    cloud_cover : array_like
        Share of the sky that opaque cloud covers, 0 to 1 [0-1].

    Returns
    -------
    ndarray
        Emissivity [-].

    Notes
    -----
    Clear sky: 0.787 + 0.764 ln(Tdp/273) [CLARK1978]_. Clouds, N in tenths of the sky:
    times 1 + 0.0224 N - 0.0035 N² + 0.00028 N³ [WALTON1983]_. Both were fitted to
    American stations; single hours scatter by about 10 W/m² on a clear night and more
    under broken cloud (recalled).

    References
    ----------
    [CLARK1978] Clark, G., Allen, C., "The estimation of atmospheric radiation for clear
    and cloudy skies", 1978. [WALTON1983] Walton, G. N., NBSIR 83-2655, 1983.

    Examples
    --------
    >>> round(float(sky_emissivity(283.15, 0.0)), 4)
    0.8149
    """
    tenths = 10.0 * np.asarray(cloud_cover, dtype=float)
    clear = 0.787 + 0.764 * np.log(np.asarray(dew_point, dtype=float) / 273.0)
    cloudy = 1.0 + 0.0224 * tenths - 0.0035 * tenths**2 + 0.00028 * tenths**3
    return np.asarray(clear * cloudy, dtype=np.float64)


def sky_infrared(
    temperature: ArrayLike, dew_point: ArrayLike, cloud_cover: ArrayLike
) -> NDArray[np.float64]:
    """Return the infrared that the sky sends down on level ground.

    Parameters
    ----------
    temperature, dew_point : array_like
        Dry-bulb and dew-point temperature near the ground [K].
    cloud_cover : array_like
        Share of the sky that opaque cloud covers, 0 to 1 [0-1].

    Returns
    -------
    ndarray
        Horizontal infrared [W/m²].
    """
    emitted = STEFAN_BOLTZMANN * np.asarray(temperature, dtype=float) ** 4
    return np.asarray(sky_emissivity(dew_point, cloud_cover) * emitted, dtype=np.float64)


def sky_temperature(infrared: ArrayLike) -> NDArray[np.float64]:
    """Return the temperature of a black body that sends down this infrared.

    Parameters
    ----------
    infrared : array_like
        Horizontal infrared from the sky [W/m²].

    Returns
    -------
    ndarray
        Sky temperature [K].
    """
    return np.asarray(
        (np.asarray(infrared, dtype=float) / STEFAN_BOLTZMANN) ** 0.25, dtype=np.float64
    )
