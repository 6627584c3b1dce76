"""Wind at a height over one terrain from the wind at a station over another.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 24, Table 1 and eq. 4.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Mapping

STATION_HEIGHT = 10.0
"""Height of the wind instrument of a weather station, normally [m]."""


@dataclass(frozen=True, slots=True)
class Terrain:
    """How the wind grows with height over one kind of ground.

    Attributes
    ----------
    exponent : float
        Of the power law [-].
    boundary_layer : float
        Thickness of the layer that the ground slows down [m].
    """

    exponent: float
    boundary_layer: float


@cache
def terrains() -> Mapping[str, Terrain]:
    """Return the kinds of terrain: ``"city"``, ``"suburban"``, ``"open"``, ``"water"``."""
    return MappingProxyType(
        {
            row["terrain"]: Terrain(float(row["exponent"]), float(row["boundary_layer_m"]))
            for row in table_rows("rooftree.physics", "terrain.csv")
        }
    )


def wind_ratio(
    height: float,
    terrain: str,
    *,
    station_height: float = STATION_HEIGHT,
    station_terrain: str = "open",
) -> float:
    """Return the wind speed at a height over the site, as a share of the station's.

    Parameters
    ----------
    height : float
        Height above the site's ground [m], > 0 and below the boundary layer.
    terrain : str
        Terrain of the site: ``"city"``, ``"suburban"``, ``"open"`` or ``"water"``.
    station_height : float
        Height of the station's instrument [m], > 0.
    station_terrain : str
        Terrain of the station, normally open.

    Returns
    -------
    float
        Ratio of the two speeds [-]; no sheltering by neighbouring things in it.

    Raises
    ------
    OutOfRangeError
        If a height is not above the ground, or above the boundary layer.

    Notes
    -----
    Equation 4 of chapter 24 [HOF2021]_:
    ``U = U_met (d_met / H_met)^a_met (H / d)^a``.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 24, Table 1 and eq. 4.

    Examples
    --------
    >>> round(10.0 * wind_ratio(15.0, "suburban"), 2)
    7.84
    """
    site, station = terrains()[terrain], terrains()[station_terrain]
    _require_height("height", height, site)
    _require_height("station_height", station_height, station)
    at_gradient = (station.boundary_layer / station_height) ** station.exponent
    return float(at_gradient * (height / site.boundary_layer) ** site.exponent)


def _require_height(name: str, height: float, terrain: Terrain) -> None:
    if not 0.0 < height <= terrain.boundary_layer:
        raise OutOfRangeError(name, height, 0.0, terrain.boundary_layer, "m")
