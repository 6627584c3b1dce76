"""How warm undisturbed ground is, at any depth and hour of the year.

Sources
-------
[KUSUDA1965] Kusuda, T., Achenbach, P. R., "Earth Temperature and Thermal Diffusivity at
    Selected Stations in the United States", ASHRAE Transactions 71(1), 1965; NBS Report
    8972. The equation is recalled in the form that is commonly quoted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.weather.year import HOURS

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

SOIL_DIFFUSIVITY = 6.0e-7
"""Thermal diffusivity of ordinary moist soil [m²/s]; recalled, dry sand 3e-7, wet clay 8e-7."""

DEEPEST = 50.0
"""Greatest depth taken; the flow of heat from below is not modelled [m]."""

_OMEGA = 2.0 * math.pi / (HOURS * 3600.0)


@dataclass(frozen=True, slots=True)
class GroundClimate:
    """The yearly wave of temperature at the surface of the ground.

    Attributes
    ----------
    mean : float
        Mean of the year [K].
    amplitude : float
        Half the swing between the warmest and coldest moment of the wave [K].
    coldest_hour : float
        When the surface is coldest, since midnight of 1 January [h].
    """

    mean: float
    amplitude: float
    coldest_hour: float


def fit_ground_climate(temperature: ArrayLike, first_hour: float = 0.0) -> GroundClimate:
    """Return the yearly wave that fits the hourly air temperatures best.

    Parameters
    ----------
    temperature : array_like, shape (n,)
        Dry-bulb temperature, of a year or more [K].
    first_hour : float
        Hours since midnight of 1 January at which they begin [h].

    Returns
    -------
    GroundClimate
        Mean, amplitude and coldest hour.

    Raises
    ------
    NotEnoughDataError
        If there is less than a year of temperatures.

    Notes
    -----
    Least squares; over a full year this is the first Fourier component. The surface of the
    ground is taken to follow the air; under snow it is warmer, under dry bare soil in
    full sun warmer by one to three kelvin over the year (recalled).
    """
    air = np.asarray(temperature, dtype=float)
    if air.size < HOURS:
        raise NotEnoughDataError(
            f"the yearly wave of the ground needs {HOURS} hours of air temperature; there are "
            f"{air.size}: give the ground climate of the place"
        )
    angle = 2.0 * np.pi * (first_hour + np.arange(air.size) + 0.5) / HOURS
    waves = np.stack([np.ones_like(angle), np.cos(angle), np.sin(angle)], axis=1)
    mean, cosine, sine = (float(part) for part in np.linalg.lstsq(waves, air, rcond=None)[0])
    coldest = math.atan2(-sine, -cosine) % (2.0 * math.pi) / (2.0 * math.pi) * HOURS
    return GroundClimate(mean, math.hypot(cosine, sine), coldest)


def ground_temperature(
    climate: GroundClimate,
    depth: float,
    hours: ArrayLike | None = None,
    diffusivity: float = SOIL_DIFFUSIVITY,
) -> NDArray[np.float64]:
    """Return the temperature of undisturbed ground at a depth.

    Parameters
    ----------
    climate : GroundClimate
        The yearly wave at the surface.
    depth : float
        Below the surface, 0 to 50 [m].
    hours : array_like, shape (n,), optional
        Moments since midnight of 1 January; the middle of every hour if left out [h].
    diffusivity : float
        Thermal diffusivity of the soil, 1e-8 to 1e-5 [m²/s].

    Returns
    -------
    ndarray, shape (n,) or (8760,)
        Ground temperature [K].

    Raises
    ------
    OutOfRangeError
        If depth or diffusivity lies outside its range.

    Notes
    -----
    T(z, t) = Tm - A exp(-z/d) cos(w (t - t0) - z/d), d = sqrt(2 a / w), the solution for
    a half-space under a yearly wave [KUSUDA1965]_. Uniform soil, no snow, no moisture
    moving, no house above.

    References
    ----------
    [KUSUDA1965] Kusuda, T., Achenbach, P. R., "Earth Temperature and Thermal Diffusivity
    at Selected Stations in the United States", ASHRAE Transactions 71(1), 1965.
    """
    if not 0.0 <= depth <= DEEPEST:
        raise OutOfRangeError("depth", depth, 0.0, DEEPEST, "m")
    if not 1e-8 <= diffusivity <= 1e-5:
        raise OutOfRangeError("soil diffusivity", diffusivity, 1e-8, 1e-5, "m²/s")
    moments = np.arange(HOURS) + 0.5 if hours is None else np.asarray(hours, dtype=float)
    damping = depth / math.sqrt(2.0 * diffusivity / _OMEGA)
    phase = _OMEGA * 3600.0 * (moments - climate.coldest_hour) - damping
    wave = climate.amplitude * math.exp(-damping) * np.cos(phase)
    return np.asarray(climate.mean - wave, dtype=np.float64)
