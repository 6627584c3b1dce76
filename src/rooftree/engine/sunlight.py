"""Where the sun that came through the windows ends up in a space."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray


def sun_shares(
    area: NDArray[np.float64],
    absorptance: NDArray[np.float64],
    is_floor: NDArray[np.bool_],
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return how the beam and the diffuse light let into a space are taken up.

    Parameters
    ----------
    area : ndarray, shape (n,)
        Areas of all faces of the space, windows included [m²].
    absorptance : ndarray, shape (n,)
        Share of the light that each takes up; for a window, that it lets out again [0-1].
    is_floor : ndarray of bool, shape (n,)
        Faces that look up, on which the beam falls first [-].

    Returns
    -------
    tuple of ndarray, shape (n,)
        Shares of the beam and of diffuse light [0-1]; both sum to 1. What falls to a
        window is lost.

    Notes
    -----
    The beam strikes the floor, which takes up its absorptance; the rest meets the other
    faces in proportion to their areas, and what these throw back is spread as diffuse
    light. Diffuse light is spread in proportion to area times absorptance, as in a space
    whose faces see each other equally. For the test room of ANSI/ASHRAE Standard 140
    (absorptance 0.6 everywhere) the standard gives 0.642 of all sun to the floor, 0.168
    to the ceiling and 0.035 lost (recalled).
    """
    taking = area * absorptance
    if taking.sum() == 0.0:
        return np.zeros_like(area), np.zeros_like(area)
    diffuse = taking / taking.sum()
    if not is_floor.any() or is_floor.all():
        return diffuse, diffuse
    floor = np.where(is_floor, area, 0.0)
    floor /= floor.sum()
    above = np.where(is_floor, 0.0, area)
    above /= above.sum()
    first = floor * absorptance
    second = (1.0 - first.sum()) * above * absorptance
    rest = 1.0 - first.sum() - second.sum()
    return first + second + rest * diffuse, diffuse
