"""Sun through glass: how it falls off with the angle, and how it splits in the panes.

Sources
-------
[STD140] ANSI/ASHRAE Standard 140: one clear pane of 3.048 mm passes 0.834 and reflects
    0.075 of the sun straight on (2020); films under which windows are rated (2011, 5.2).
[DUFFIE] Duffie, J. A., Beckman, W. A., "Solar Engineering of Thermal Processes":
    Fresnel's equations and the sum over reflections between panes (recalled).
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 15: inward-flowing fraction of what
    a pane absorbs (recalled).
[LBNL2804] Arasteh, D., Kohler, C., Griffith, B., LBNL-2804E, 2009: solar transmittance
    of a window from its solar heat gain coefficient and U-value (recalled).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

REFRACTIVE_INDEX = 1.5207
"""Of window glass against air [-]: with `OPTICAL_DEPTH`, that which gives the reflectance
and the transmittance of a clear pane [STD140]_."""

OPTICAL_DEPTH = 0.0958
"""Extinction coefficient times thickness of one clear pane [-]."""

PANE_REFLECTANCE = 0.075
"""Of one clear pane, straight on [0-1] [STD140]_."""

INSIDE_COEFFICIENT, OUTSIDE_COEFFICIENT = 8.29, 29.3
"""Film coefficients under which windows are rated [W/(m²·K)] [STD140]_."""

LEAST_RESISTANCE = 0.003
"""Of one pane of 3 mm, for windows whose U-value hardly leaves room for films [m²·K/W]
[STD140]_."""

_GRID = np.linspace(0.0, 1.0, 201)


@dataclass(frozen=True, slots=True, eq=False)
class GlassCurve:
    """What clear panes let through and take up, relative to the sun straight on.

    Attributes
    ----------
    transmitted, absorbed : ndarray, shape (201,)
        By the cosine of the angle of incidence from 0 to 1 in equal steps [-].
    diffuse_transmitted, diffuse_absorbed : float
        For light from all directions of the hemisphere alike [-].
    normal_transmittance, normal_absorptance : float
        Of the clear panes at normal incidence [0-1].
    """

    transmitted: NDArray[np.float64]
    absorbed: NDArray[np.float64]
    diffuse_transmitted: float
    diffuse_absorbed: float
    normal_transmittance: float
    normal_absorptance: float

    def beam_transmitted(self, cosine: ArrayLike) -> NDArray[np.float64]:
        """Return transmittance over that at normal incidence, by cosine of incidence [-]."""
        return np.asarray(
            np.interp(np.asarray(cosine, dtype=np.float64), _GRID, self.transmitted),
            dtype=np.float64,
        )

    def beam_absorbed(self, cosine: ArrayLike) -> NDArray[np.float64]:
        """Return absorptance over that at normal incidence, by cosine of incidence [-]."""
        return np.asarray(
            np.interp(np.asarray(cosine, dtype=np.float64), _GRID, self.absorbed), dtype=np.float64
        )


@lru_cache(maxsize=8)
def glass_curve(panes: int) -> GlassCurve:
    """Return how clear panes treat the sun at every angle.

    Parameters
    ----------
    panes : int
        Number of panes, 1 to 3.

    Returns
    -------
    GlassCurve

    Notes
    -----
    Fresnel's reflection at each face for both polarizations, absorption along the bent
    path, and all reflections between the panes summed [DUFFIE]_. Coated panes fall off
    somewhat differently; their level comes from the window's own coefficient.

    References
    ----------
    [DUFFIE] Duffie, J. A., Beckman, W. A., "Solar Engineering of Thermal Processes".
    """
    halves = [_stacked(panes, *pane) for pane in _single_pane(_GRID)]
    transmitted = np.mean([half[0] for half in halves], axis=0)
    absorbed = 1.0 - transmitted - np.mean([half[1] for half in halves], axis=0)
    through, taken = transmitted / transmitted[-1], absorbed / absorbed[-1]
    return GlassCurve(
        through,
        taken,
        _hemispherical(through),
        _hemispherical(taken),
        float(transmitted[-1]),
        float(absorbed[-1]),
    )


def _single_pane(
    cosine: NDArray[np.float64],
) -> list[tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """Return transmittance and reflectance of one pane for the two polarizations."""
    bent = np.sqrt(1.0 - (1.0 - cosine**2) / REFRACTIVE_INDEX**2)
    passing = np.exp(-OPTICAL_DEPTH / bent)
    across = ((cosine - REFRACTIVE_INDEX * bent) / (cosine + REFRACTIVE_INDEX * bent)) ** 2
    along = ((REFRACTIVE_INDEX * cosine - bent) / (REFRACTIVE_INDEX * cosine + bent)) ** 2
    panes = []
    for face in (across, along):
        many = 1.0 - (face * passing) ** 2
        many[many == 0.0] = 1.0
        transmitted = passing * (1.0 - face) ** 2 / many
        panes.append((transmitted, face * (1.0 + passing * transmitted)))
    return panes


def _stacked(
    panes: int, transmitted: NDArray[np.float64], reflected: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return transmittance and reflectance of several equal panes."""
    through, back = transmitted, reflected
    for _ in range(panes - 1):
        many = np.maximum(1.0 - back * reflected, 1e-12)
        through, back = (
            through * transmitted / many,
            reflected + transmitted**2 * back / many,
        )
    return through, back


def _hemispherical(curve: NDArray[np.float64]) -> float:
    """Return the mean of a curve over the hemisphere, weighted by the cosine."""
    return float(np.trapezoid(2.0 * _GRID * curve, _GRID))


def normal_transmittance(
    u_value: float, solar_heat_gain_coefficient: float, stated: float = 0.0
) -> float:
    """Return the solar transmittance of a window, straight on, stated or from its ratings.

    Parameters
    ----------
    u_value : float
        Of the whole window with standard films [W/(m²·K)].
    solar_heat_gain_coefficient : float
        At normal incidence [0-1].
    stated : float
        Transmittance of the whole window where its data sheet gives it; 0 for none [0-1].

    Returns
    -------
    float
        Transmittance [0-1].

    Notes
    -----
    One pane (U above 4.5): of what it absorbs, ``N = U / ho`` flows inward [HOF2021]_, so
    that ``g = t + N (1 - r - t)`` gives the transmittance `t` with the reflectance `r` of
    clear glass; below a gain of about a third the glass must reflect more, and the fit of
    [LBNL2804]_ gives the larger value. Insulating glass (U below 3.4): the fit of
    [LBNL2804]_. Between them a straight line.

    The fit does not know which pane a coating is on: 0.349 for the 0.389 of a coated pane
    before a clear one. What panes absorb does not fall off with the angle as what they pass
    does, so that the sun of a year then brings up to 5 % too much cold.

    References
    ----------
    [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 15, inward-flowing fraction.
    [LBNL2804] Arasteh, D., Kohler, C., Griffith, B., LBNL-2804E, 2009.

    Examples
    --------
    >>> round(normal_transmittance(2.1, 0.769), 3)
    0.707
    """
    if stated > 0.0:
        return stated
    g = solar_heat_gain_coefficient
    inward = min(u_value / OUTSIDE_COEFFICIENT, 0.3)
    clear = (g - inward * (1.0 - PANE_REFLECTANCE)) / (1.0 - inward)
    single = max(clear, 0.939998 * g**2 + 0.20332 * g if g < 0.7206 else 1.30415 * g - 0.30515)
    double = 0.085775 * g**2 + 0.963954 * g - 0.084958 if g > 0.15 else 0.4104 * g
    share = min(max((u_value - 3.4) / 1.1, 0.0), 1.0)
    return share * single + (1.0 - share) * double


def glass_resistance(u_value: float) -> float:
    """Return the resistance of a window without the standard films.

    Parameters
    ----------
    u_value : float
        Of the whole window with standard films [W/(m²·K)].

    Returns
    -------
    float
        Resistance between its two faces [m²·K/W].
    """
    films = 1.0 / INSIDE_COEFFICIENT + 1.0 / OUTSIDE_COEFFICIENT
    return max(1.0 / u_value - films, LEAST_RESISTANCE)


def inward_absorption(
    u_value: float, solar_heat_gain_coefficient: float, stated: float = 0.0
) -> float:
    """Return the sun's heat that the inside face must be given for the rated gain.

    Parameters
    ----------
    u_value : float
        Of the whole window with standard films [W/(m²·K)].
    solar_heat_gain_coefficient : float
        At normal incidence [0-1].
    stated : float
        Transmittance of the whole window where its data sheet gives it; 0 for none [0-1].

    Returns
    -------
    float
        Heat released at the inside face over the sun that falls on the window [-].

    Notes
    -----
    The rated gain is what passes straight through and what the panes pass on inward.
    Heat released at the inside face flows inward by the share ``1 - U / h``, with `h`
    the standard inside film; so what is released must be larger by its inverse.
    """
    passed_on = solar_heat_gain_coefficient - normal_transmittance(
        u_value, solar_heat_gain_coefficient, stated
    )
    u_with_films = 1.0 / (
        glass_resistance(u_value) + 1.0 / INSIDE_COEFFICIENT + 1.0 / OUTSIDE_COEFFICIENT
    )
    return max(passed_on, 0.0) / (1.0 - u_with_films / INSIDE_COEFFICIENT)


def light_lost(
    u_value: float, solar_heat_gain_coefficient: float, panes: int, stated: float = 0.0
) -> float:
    """Return the share of the light that falls on a window from inside and is lost.

    Parameters
    ----------
    u_value : float
        Of the whole window with standard films [W/(m²·K)].
    solar_heat_gain_coefficient : float
        At normal incidence [0-1].
    panes : int
        Number of panes.
    stated : float
        Transmittance of the whole window where its data sheet gives it; 0 for none [0-1].

    Returns
    -------
    float
        Share of diffuse light that leaves the house [0-1].

    Notes
    -----
    What passes, and of what the panes absorb the part that flows outward: ``U / hi`` from
    the innermost pane, ``1 - U / ho`` from the outermost, the mean of the two for all.
    """
    curve = glass_curve(panes)
    passed = normal_transmittance(u_value, solar_heat_gain_coefficient, stated)
    outward = 0.5 * (u_value / INSIDE_COEFFICIENT + 1.0 - u_value / OUTSIDE_COEFFICIENT)
    absorbed = curve.normal_absorptance * curve.diffuse_absorbed
    return passed * curve.diffuse_transmitted + absorbed * min(outward, 1.0)
