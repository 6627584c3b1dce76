"""How far mould has grown on a surface, hour by hour: the mould index.

0 is none, 1 some under the microscope, 3 the first that can be seen (10 % of the surface),
6 all of it covered.

Sources
-------
[HUKKA1999] Hukka, A., Viitanen, H. A., "A mathematical model of mould growth on wooden
    material", Wood Science and Technology 33 (1999) 475-485.
[OJANEN2010] Ojanen, T. et al., "Mold growth modeling of building structures using
    sensitivity classes of materials", Buildings XI, 2010. Equations and constants of both
    read in open code of the model.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
from numba import njit

from rooftree.errors import OutOfRangeError
from rooftree.physics.mould import COLDEST, HOTTEST
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

RETREAT_FIRST, RETREAT_LATER = 0.032 / 24.0, 0.016 / 24.0
"""Loss of index in each of the first 6 hours of weather that mould does not like, and in each
hour after 24 of them; between them none [1/h] [HUKKA1999]_."""

FIRST_HOURS, LATER_HOURS = 6, 24
"""Ends of those times [h]."""

MOST = 6.0
"""The highest index [-]."""


class Sensitivity(StrEnum):
    """How easily mould grows on a material [OJANEN2010]_."""

    VERY_SENSITIVE = "very sensitive"
    SENSITIVE = "sensitive"
    MEDIUM_RESISTANT = "medium resistant"
    RESISTANT = "resistant"


@dataclass(frozen=True, slots=True)
class MouldClass:
    """Constants of one class.

    Attributes
    ----------
    sensitivity : Sensitivity
        Which.
    before, after : float
        Speed of growth against pine, below and from an index of 1 [-].
    a, b, c : float
        Of the highest index that a humidity allows, ``a + b x - c x²`` [-].
    least_humidity : float
        Below which none grows [0-1].
    examples : str
        Materials of the class.
    """

    sensitivity: Sensitivity
    before: float
    after: float
    a: float
    b: float
    c: float
    least_humidity: float
    examples: str


@cache
def mould_classes() -> dict[Sensitivity, MouldClass]:
    """Return the table of sensitivity classes.

    Returns
    -------
    dict of Sensitivity to MouldClass
    """
    return {
        Sensitivity(row["class"]): MouldClass(
            sensitivity=Sensitivity(row["class"]),
            before=float(row["k1_before"]),
            after=float(row["k1_after"]),
            a=float(row["a"]),
            b=float(row["b"]),
            c=float(row["c"]),
            least_humidity=float(row["least_humidity"]),
            examples=row["examples"],
        )
        for row in table_rows("rooftree.physics", "mould_classes.csv")
    }


def mould_index(
    temperature: ArrayLike,
    relative_humidity: ArrayLike,
    sensitivity: Sequence[Sensitivity],
    *,
    decline: float = 1.0,
    start: ArrayLike = 0.0,
) -> NDArray[np.float64]:
    """Return the mould index of surfaces after each hour.

    Parameters
    ----------
    temperature : array_like, shape (hours, surfaces)
        Of the surfaces [K].
    relative_humidity : array_like, shape (hours, surfaces)
        At the surfaces; above 1 counts as 1 [0-1].
    sensitivity : sequence of Sensitivity, length surfaces
        Of their materials.
    decline : float
        Speed of decline against that on pine [0-1]: 1 strong, 0.5, 0.25, 0.1 almost none.
    start : array_like, shape (surfaces,) or number
        Index before the first hour [-], 0 to 6.

    Returns
    -------
    ndarray, shape (hours, surfaces)
        Mould index [-], 0 to 6.

    Raises
    ------
    OutOfRangeError
        If `decline` or `start` is outside its range.
    ValueError
        If the shapes do not fit each other.

    Notes
    -----
    Growth in a day, between 0 and 50 °C and from the critical humidity on,
    ``k1 k2 / (7 exp(-0.68 ln t - 13.9 ln H + 66.02))``, with
    ``k2 = max(1 - exp(2.3 (M - M_max)), 0)``, ``M_max = a + b x - c x²`` and
    ``x = (H_crit - H) / (H_crit - 100)`` [OJANEN2010]_; ``H_crit = -0.00267 t³ + 0.160 t²
    - 3.13 t + 100`` up to 20 °C, not below the least humidity of the class, which holds
    above. In unfavourable hours it falls by 0.032 a day in the first 6, stays until the
    24th, then falls by 0.016 a day [HUKKA1999]_. Built for wood in a climate chamber;
    other materials scatter by a class, and a decline is seldom seen on real buildings.

    References
    ----------
    [HUKKA1999] Hukka, A., Viitanen, H. A., 1999.
    [OJANEN2010] Ojanen, T. et al., 2010.

    Examples
    --------
    >>> warm, damp = np.full((720, 1), 293.15), np.full((720, 1), 0.97)
    >>> round(float(mould_index(warm, damp, [Sensitivity.VERY_SENSITIVE])[-1, 0]), 1)
    4.7
    """
    t = np.atleast_2d(np.asarray(temperature, dtype=float))
    humidity = np.atleast_2d(np.asarray(relative_humidity, dtype=float))
    if t.shape != humidity.shape or t.shape[1] != len(sensitivity):
        message = (
            f"temperature {t.shape}, humidity {humidity.shape} and {len(sensitivity)} classes do "
            "not fit: give one column and one class for each surface"
        )
        raise ValueError(message)
    if not 0.0 <= decline <= 1.0:
        raise OutOfRangeError("decline", decline, 0.0, 1.0, "-")
    first = np.broadcast_to(np.asarray(start, dtype=float), t.shape[1]).copy()
    for each in first:
        if not 0.0 <= each <= MOST:
            raise OutOfRangeError("mould index at the start", float(each), 0.0, MOST, "-")
    rows = [mould_classes()[each] for each in sensitivity]
    constants = np.array([(r.before, r.after, r.a, r.b, r.c, r.least_humidity) for r in rows])
    speed, most = _growth(t, humidity, constants)
    return np.asarray(_step(speed, most, constants[:, 1] / constants[:, 0], decline, first))


def highest_mould_index(
    temperature: ArrayLike,
    relative_humidity: ArrayLike,
    sensitivity: Sequence[Sensitivity],
    *,
    decline: float = 1.0,
) -> NDArray[np.float64]:
    """Return the highest mould index in the second of two years that are alike.

    Parameters
    ----------
    temperature, relative_humidity : array_like, shape (hours, surfaces)
        As in :func:`mould_index` [K], [0-1].
    sensitivity : sequence of Sensitivity, length surfaces
        Of their materials.
    decline : float
        Speed of decline against that on pine [0-1].

    Returns
    -------
    ndarray, shape (surfaces,)
        Mould index [-], 0 to 6.

    Notes
    -----
    As :func:`mould_index`, started at 0. Where the first year ends at 0, the second is like it.
    """
    t, humidity = np.asarray(temperature, dtype=float), np.asarray(relative_humidity, dtype=float)
    once = mould_index(t, humidity, sensitivity, decline=decline)
    highest: NDArray[np.float64] = once.max(axis=0)
    lasting = np.flatnonzero(once[-1] > 0.0).tolist()
    if lasting:
        again = mould_index(
            t[:, lasting],
            humidity[:, lasting],
            [sensitivity[k] for k in lasting],
            decline=decline,
            start=once[-1, lasting],
        )
        highest[lasting] = again.max(axis=0)
    return highest


def _growth(
    t: NDArray[np.float64], humidity: NDArray[np.float64], constants: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return growth in an hour below an index of 1, and the highest index, for each hour.

    Growth is negative where none is possible.
    """
    before, _, a, b, c, least = constants.T
    celsius = t - 273.15
    percent = 100.0 * np.minimum(humidity, 1.0)
    curve = -0.00267 * celsius**3 + 0.160 * celsius**2 - 3.13 * celsius + 100.0
    critical = np.where(celsius <= 20.0, np.maximum(curve, 100.0 * least), 100.0 * least)
    grows = (t > COLDEST) & (t < HOTTEST) & (percent >= critical)
    x = (critical - percent) / np.minimum(critical - 100.0, -1e-9)
    speed = np.full_like(t, -1.0)
    warm, damp = np.log(np.maximum(celsius[grows], 1e-3)), np.log(percent[grows])
    weeks = np.exp(-0.68 * warm - 13.9 * damp + 66.02)
    speed[grows] = np.broadcast_to(before, t.shape)[grows] / (7.0 * 24.0 * weeks)
    return speed, a + b * x - c * x * x


@njit(cache=True)
def _step(speed: Any, most: Any, faster: Any, decline: float, start: Any) -> Any:
    """Step the index hour by hour; `faster` is the speed from an index of 1 on."""
    hours, surfaces = speed.shape
    index = np.empty((hours, surfaces))
    for s in range(surfaces):
        m, bad = start[s], 0
        for h in range(hours):
            if speed[h, s] >= 0.0:
                bad = 0
                k1 = faster[s] if m >= 1.0 else 1.0
                m += speed[h, s] * k1 * max(1.0 - np.exp(2.3 * (m - most[h, s])), 0.0)
            else:
                bad += 1
                if bad <= FIRST_HOURS:
                    m -= decline * RETREAT_FIRST
                elif bad > LATER_HOURS:
                    m -= decline * RETREAT_LATER
            m = min(max(m, 0.0), MOST)
            index[h, s] = m
    return index
