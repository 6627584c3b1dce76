"""The leaks of a house as arrays of paths, and whether each space is joined to outdoors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import HouseError
from rooftree.house import OUTDOORS
from rooftree.house.sound import cut_off_spaces

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.house import House, Leak


@dataclass(frozen=True, slots=True, eq=False)
class Paths:
    """Leaks as arrays, sorted by the spaces that they join.

    Attributes
    ----------
    leaks : tuple of Leak
        In the order of the arrays.
    first, second : ndarray of int64, shape (n_paths,)
        Index of the space on each side; the number of spaces stands for outdoors.
    level, coefficient, exponent : ndarray, shape (n_paths,)
        Of each path [m], [m³/(s·Paⁿ)], [-].
    """

    leaks: tuple[Leak, ...]
    first: NDArray[np.int64]
    second: NDArray[np.int64]
    level: NDArray[np.float64]
    coefficient: NDArray[np.float64]
    exponent: NDArray[np.float64]


def lay_paths(house: House, more: tuple[Leak, ...] = ()) -> Paths:
    """Lay the leaks of a house out as arrays.

    Parameters
    ----------
    house : House
        The house.
    more : tuple of Leak
        Openings beyond those of the house, such as a hatch that is open for a test.

    Returns
    -------
    Paths

    Raises
    ------
    HouseError
        If a leak joins a space that the house does not have, or a space to itself.
    """
    return lay_paths_between(tuple(space.id for space in house.spaces), (*house.leaks, *more))


def lay_paths_between(places: tuple[str, ...], leaks: tuple[Leak, ...]) -> Paths:
    """Lay leaks between any bodies of air out as arrays.

    Parameters
    ----------
    places : tuple of str
        Ids of the bodies of air: spaces, and ducts where they are some of their own.
    leaks : tuple of Leak
        Between these and outdoors.

    Returns
    -------
    Paths
        With indices of `places`; their number stands for outdoors.

    Raises
    ------
    HouseError
        If a leak joins something that is not there, or a place to itself.
    """
    index = {place: number for number, place in enumerate((*places, OUTDOORS))}
    for leak in leaks:
        _require_ends(leak, index)
    ordered = sorted(leaks, key=lambda leak: (index[leak.first], index[leak.second]))
    return Paths(
        leaks=tuple(ordered),
        first=np.array([index[leak.first] for leak in ordered], dtype=np.int64),
        second=np.array([index[leak.second] for leak in ordered], dtype=np.int64),
        level=np.array([leak.level for leak in ordered], dtype=np.float64),
        coefficient=np.array([leak.coefficient for leak in ordered], dtype=np.float64),
        exponent=np.array([leak.exponent for leak in ordered], dtype=np.float64),
    )


def require_paths_outdoors(house: House) -> None:
    """Refuse a house that has a space without any path for air to outdoors.

    Parameters
    ----------
    house : House
        The house; leaks with a coefficient of zero do not count.

    Raises
    ------
    HouseError
        Naming each space that is cut off, and the remedy.
    """
    lay_paths(house)  # refuses leaks to nowhere
    cut_off = [space.name for space in cut_off_spaces(house)]
    if cut_off:
        message = (
            f"no air can get from outdoors to {', '.join(cut_off)}, not even through other "
            "spaces; add a leak with a coefficient above zero to each"
        )
        raise HouseError(message)


def spaces_cut_off(
    spaces: int, first: NDArray[np.int64], second: NDArray[np.int64]
) -> tuple[int, ...]:
    """Return the spaces that no chain of paths joins to outdoors.

    Parameters
    ----------
    spaces : int
        Number of spaces; this number itself stands for outdoors.
    first, second : ndarray of int64, shape (n_paths,)
        Spaces that each path joins [-].

    Returns
    -------
    tuple of int
    """
    reached = np.zeros(spaces + 1, dtype=bool)
    reached[spaces] = True
    count = 0
    while count < reached.sum():
        count = int(reached.sum())
        reached[first[reached[second]]] = True
        reached[second[reached[first]]] = True
    return tuple(int(i) for i in np.flatnonzero(~reached))


def _require_ends(leak: Leak, index: dict[str, int]) -> None:
    for end in (leak.first, leak.second):
        if end not in index:
            message = (
                f"leak {leak.id} joins {end}, which is neither a space of the house nor "
                f"{OUTDOORS}; use the id of a space"
            )
            raise HouseError(message)
    if leak.first == leak.second:
        message = f"leak {leak.id} joins {leak.first} to itself; name the space on its other side"
        raise HouseError(message)
