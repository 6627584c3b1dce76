"""The LBL infiltration model of Sherman and Grimsrud, kept for comparison with old work.

Sources
-------
[SHERMAN1980] M. Sherman, D. Grimsrud, "Measurement of infiltration using fan
    pressurization and weather data", LBL-10852, 1980 (recalled; stack and wind factors
    seen quoted from NOAA Technical Memorandum NOS OR&R 43, 4.6).
"""

from __future__ import annotations

import math
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.physics.infiltration import GRAVITY
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import ArrayLike, NDArray


@cache
def _classes() -> Mapping[int, tuple[float, float, float]]:
    return MappingProxyType(
        {
            int(row["class"]): (
                float(row["shielding"]),
                float(row["terrain_factor"]),
                float(row["terrain_exponent"]),
            )
            for row in table_rows("rooftree.physics", "lbl_classes.csv")
        }
    )


def _require_class(name: str, value: int) -> None:
    if not 1 <= value <= 5:
        raise OutOfRangeError(name, value, 1, 5, "(class)")


def lbl_stack_factor(
    height: float, indoor_temperature: float, ceiling_and_floor: float, ceiling_less_floor: float
) -> float:
    """Return the stack factor of the LBL model.

    Parameters
    ----------
    height : float
        From the lowest floor to the highest ceiling [m], > 0.
    indoor_temperature : float
        Indoor temperature [K].
    ceiling_and_floor : float
        Share of the leakage in ceiling and floor together [0-1].
    ceiling_less_floor : float
        Share in the ceiling less share in the floor [-1 to 1], [-].

    Returns
    -------
    float
        Stack factor [m/(s·K^½)].

    Notes
    -----
    ``(1 + R/2)/3 (1 - X²/(2-R)²)^(3/2) (g H / T)^½`` [SHERMAN1980]_, recalled; seen
    quoted for X = 0.

    References
    ----------
    .. [SHERMAN1980] M. Sherman, D. Grimsrud, LBL-10852, 1980.

    Examples
    --------
    >>> round(lbl_stack_factor(5.0, 295.0, 0.5, 0.0), 4)
    0.1699
    """
    r, x = ceiling_and_floor, ceiling_less_floor
    shape = (1.0 + 0.5 * r) / 3.0 * math.pow(1.0 - (x / (2.0 - r)) ** 2, 1.5)
    return shape * math.sqrt(GRAVITY * height / indoor_temperature)


def lbl_wind_factor(
    height: float,
    ceiling_and_floor: float,
    *,
    shielding_class: int,
    terrain_class: int,
    station_terrain_class: int = 2,
    station_height: float = 10.0,
) -> float:
    """Return the wind factor of the LBL model.

    Parameters
    ----------
    height : float
        Of the ceiling above the ground [m], > 0.
    ceiling_and_floor : float
        Share of the leakage in ceiling and floor together [0-1].
    shielding_class : int
        1 (no obstructions) to 5 (large ones close by).
    terrain_class : int
        1 (open water) to 5 (centre of a city), of the site.
    station_terrain_class : int
        Of the weather station; 2 is flat ground with isolated obstacles, the standard.
    station_height : float
        Height of the station's instrument [m], > 0.

    Returns
    -------
    float
        Factor on the station's wind speed [-].

    Raises
    ------
    OutOfRangeError
        If a class is not 1 to 5.

    Notes
    -----
    ``C' (1-R)^(1/3) alpha (H/10)^gamma`` over ``alpha (H/10)^gamma`` of the station
    [SHERMAN1980]_, recalled; the divisor is 1 for a station of class 2 at 10 m.

    References
    ----------
    .. [SHERMAN1980] M. Sherman, D. Grimsrud, LBL-10852, 1980.

    Examples
    --------
    >>> round(lbl_wind_factor(5.0, 0.5, shielding_class=3, terrain_class=3), 4)
    0.141
    """
    _require_class("shielding_class", shielding_class)
    _require_class("terrain_class", terrain_class)
    _require_class("station_terrain_class", station_terrain_class)
    shielding = _classes()[shielding_class][0]
    ratio = _speed(height, terrain_class) / _speed(station_height, station_terrain_class)
    return shielding * math.pow(1.0 - ceiling_and_floor, 1.0 / 3.0) * ratio


def _speed(height: float, terrain_class: int) -> float:
    _, factor, exponent = _classes()[terrain_class]
    return factor * math.pow(height / 10.0, exponent)


def lbl_infiltration(
    leakage_area: float,
    stack_factor: float,
    wind_factor: float,
    temperature_difference: ArrayLike,
    wind_speed: ArrayLike,
) -> NDArray[np.float64]:
    """Return the infiltration of a house by the LBL model.

    Parameters
    ----------
    leakage_area : float
        Effective leakage area at 4 Pa, discharge coefficient 1 [m²], >= 0.
    stack_factor : float
        Of :func:`lbl_stack_factor` [m/(s·K^½)].
    wind_factor : float
        Of :func:`lbl_wind_factor` [-].
    temperature_difference : array_like
        Indoors less outdoors [K].
    wind_speed : array_like
        At the weather station [m/s].

    Returns
    -------
    ndarray
        Flow [m³/s].

    Notes
    -----
    ``A_L (f_s² |dT| + f_w² U²)^½`` [SHERMAN1980]_.

    References
    ----------
    .. [SHERMAN1980] M. Sherman, D. Grimsrud, LBL-10852, 1980.

    Examples
    --------
    >>> round(float(lbl_infiltration(0.05, 0.1699, 0.14096, 20.0, 4.0)), 4)
    0.0473
    """
    difference = np.abs(np.asarray(temperature_difference, dtype=np.float64))
    speed = np.asarray(wind_speed, dtype=np.float64)
    drive = stack_factor**2 * difference + (wind_factor * speed) ** 2
    return np.asarray(leakage_area * np.sqrt(drive))
