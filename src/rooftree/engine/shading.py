"""What an overhang and upright fins keep off a window.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 15, "Exterior shading": profile
    angle, shadow of an overhang and of a fin, sunlit area (recalled).
[HOTTEL] Hottel, H. C., Sarofim, A. F., "Radiative Transfer", 1967: view factors of long
    strips by crossed strings (recalled).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from rooftree.errors import OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray


class Projections(NamedTuple):
    """A window's glass and what stands out from the wall beside it.

    Attributes
    ----------
    width, height : float
        Of the glass [m], > 0.
    overhang_depth, overhang_gap : float
        How far the overhang stands out square to the glass, and its distance from the top
        of the glass [m], >= 0.
    fin_depth, fin_gap : float
        The same for fins on both sides, from the edges of the glass [m], >= 0.
    """

    width: float
    height: float
    overhang_depth: float = 0.0
    overhang_gap: float = 0.0
    fin_depth: float = 0.0
    fin_gap: float = 0.0


class Shading(NamedTuple):
    """What is left of the light that falls on a window.

    Attributes
    ----------
    beam : ndarray, shape (n,)
        Sunlit share of the glass, hour by hour [0-1]; 0 while the sun is behind it.
    sky : float
        Share of the even light of the sky that still reaches the glass [0-1].
    ground : float
        Share of the light from the ground that still reaches the glass [0-1].
    """

    beam: NDArray[np.float64]
    sky: float
    ground: float


def shade_window(
    sun_altitude: ArrayLike,
    sun_azimuth: ArrayLike,
    tilt: float,
    azimuth: float,
    projections: Projections,
) -> Shading:
    """Return what an overhang and fins leave of the light on a window.

    Parameters
    ----------
    sun_altitude, sun_azimuth : array_like, shape (n,)
        Where the sun stands; azimuth clockwise from north [°].
    tilt, azimuth : float
        Of the outward normal of the glass; tilt 0 to 90 [°].
    projections : Projections
        Sizes of glass, overhang and fins.

    Returns
    -------
    Shading

    Raises
    ------
    OutOfRangeError
        If the glass faces down, has no size, or something stands out by less than nothing.

    Notes
    -----
    The overhang is much longer than the glass is wide and the fins much taller than it is
    high, so that no sun comes past their ends: the shade is a little too large in the hours
    when it would. The light that comes from close around the sun is shaded like the beam.

    What stands out is black: light that a pale soffit or fin throws back on the glass is
    left out. A soffit of reflectance 0.5 over ground of reflectance 0.2 would give back at
    most a tenth of what it hides of an even sky. Where overhang and fins meet, what both
    hide is counted by the product of what each leaves, which errs by up to 0.04
    of the sky towards too little.

    Examples
    --------
    >>> window = Projections(1.0, 1.5, overhang_depth=0.5)
    >>> shading = shade_window([60.0], [180.0], 90.0, 180.0, window)
    >>> round(float(shading.beam[0]), 3), round(shading.sky, 3), shading.ground
    (0.423, 0.721, 1.0)
    """
    _require_sizes(tilt, projections)
    sides = _open_share(projections.width, projections.fin_depth, projections.fin_gap)
    return Shading(
        sunlit_fraction(sun_altitude, sun_azimuth, tilt, azimuth, projections),
        sides * _sky_below_overhang(tilt, projections),
        sides,
    )


def sunlit_fraction(
    sun_altitude: ArrayLike,
    sun_azimuth: ArrayLike,
    tilt: float,
    azimuth: float,
    projections: Projections,
) -> NDArray[np.float64]:
    """Return the share of the glass that the sun reaches past overhang and fins.

    Parameters
    ----------
    sun_altitude, sun_azimuth : array_like, shape (n,)
        Where the sun stands; azimuth clockwise from north [°].
    tilt, azimuth : float
        Of the outward normal of the glass [°].
    projections : Projections
        Sizes of glass, overhang and fins.

    Returns
    -------
    ndarray, shape (n,)
        Share [0-1]; 0 while the sun is down or behind the glass.

    Notes
    -----
    On a wall the shadow of the overhang reaches down by ``depth * tan(altitude) / cos(turn)``
    and that of a fin sideways by ``depth * |tan(turn)|``, where `turn` is the angle between
    the azimuths of sun and wall; what is lit is
    ``(width - sideways + gap) * (height - down + gap)`` [HOF2021]_. For glass of any tilt the
    same follows from the parts of the direction to the sun along the slope, along the level
    line and along the normal of the glass.

    The sun moves 15° in an hour and stands at its middle here: over an hour in which the
    shadow runs across an edge of the glass, the share is off by up to a tenth, over the year
    by far less, since what is too large in one hour is too small in the next.

    References
    ----------
    [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 15.

    Examples
    --------
    >>> fins = Projections(1.0, 1.5, fin_depth=0.3)
    >>> lit = sunlit_fraction([20.0, 20.0], [180.0, 225.0], 90.0, 180.0, fins)
    >>> [round(float(share), 3) for share in lit]
    [1.0, 0.7]
    """
    height, slope = np.radians(np.asarray(sun_altitude, dtype=float)), math.radians(tilt)
    turn = np.radians(np.asarray(sun_azimuth, dtype=float) - azimuth)
    upward, ahead = np.sin(height), np.cos(height) * np.cos(turn)
    along_normal = upward * math.cos(slope) + ahead * math.sin(slope)
    along_slope = upward * math.sin(slope) - ahead * math.cos(slope)
    along_level = np.abs(np.cos(height) * np.sin(turn))
    is_lit = (along_normal > 1e-6) & (upward > 0.0)
    steepness = np.where(is_lit, along_normal, 1.0)
    down = projections.overhang_depth * np.maximum(along_slope, 0.0) / steepness
    sideways = projections.fin_depth * along_level / steepness
    below = _left_over(projections.height, down - projections.overhang_gap)
    beside = _left_over(projections.width, sideways - projections.fin_gap)
    return np.where(is_lit, below * beside, 0.0)


def _left_over(size: float, shadow: NDArray[np.float64]) -> NDArray[np.float64]:
    return np.asarray(np.clip(1.0 - shadow / size, 0.0, 1.0), dtype=np.float64)


def _open_share(size: float, depth: float, gap: float) -> float:
    """Return the share of the light from one side that passes a long strip square to the glass.

    A strip at distance `y` from a point hides ``(1 - y / sqrt(y² + depth²)) / 2`` of all
    directions, half of which lie on its side; the mean over the glass is that of crossed
    strings [HOTTEL]_: ``(sqrt((gap + size)² + depth²) - sqrt(gap² + depth²)) / size``. Two
    fins each hide so much of their own half, so that the same share is left of the whole.
    """
    return (math.hypot(gap + size, depth) - math.hypot(gap, depth)) / size


def _sky_below_overhang(tilt: float, projections: Projections) -> float:
    """Return the share of the sky's light that the overhang leaves; all it hides is sky."""
    view = 0.5 * (1.0 + math.cos(math.radians(tilt)))
    size, depth, gap = projections.height, projections.overhang_depth, projections.overhang_gap
    return 1.0 - 0.5 * (1.0 - _open_share(size, depth, gap)) / view


def _require_sizes(tilt: float, projections: Projections) -> None:
    if not 0.0 <= tilt <= 90.0:
        raise OutOfRangeError("tilt of a shaded window", tilt, 0.0, 90.0, "°")
    for name, value in projections._asdict().items():
        least = 0.01 if name in ("width", "height") else 0.0
        if not least <= value <= 100.0:
            raise OutOfRangeError(f"window {name.replace('_', ' ')}", value, least, 100.0, "m")
