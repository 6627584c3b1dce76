"""Floors and walls against the ground.

Sources
-------
[ISO13370] ISO 13370:2017, "Thermal performance of buildings - Heat transfer via the
    ground" (equations recalled; they reproduce published tables of U-values).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.engine.conduction import interrupted_layers, resistance_between_faces
from rooftree.house import Layer

if TYPE_CHECKING:
    from rooftree.house import Surface

SOIL = Layer("soil", 0.5, 1.5, density=1500.0, specific_heat=2000.0)
"""Clay or silt [ISO13370]_, half a metre of which takes part in the swings of the seasons."""

FLOOR_FILM, WALL_FILM, OUTSIDE_FILM = 0.17, 0.13, 0.04
"""Film resistances [m²·K/W] [ISO13370]_."""

WALL_THICKNESS = 0.3
"""Of the walls that stand around a floor [m]."""

GROUND_DEPTH = 1.0
"""Depth of the ground temperature in a year of weather [m]."""


def floor_transmittance(
    area: float,
    perimeter: float,
    resistance: float,
    *,
    conductivity: float = SOIL.conductivity,
    films: float = FLOOR_FILM + OUTSIDE_FILM,
    wall: float = WALL_THICKNESS,
) -> float:
    """Return the U-value of a floor on the ground, soil included.

    Parameters
    ----------
    area : float
        Of the floor [m²], > 0.
    perimeter : float
        Length of its edge that is exposed to outdoors [m], > 0.
    resistance : float
        Of the floor's own layers [m²·K/W].
    conductivity : float
        Of the soil [W/(m·K)], > 0.
    films : float
        Film resistances inside and outdoors together [m²·K/W].
    wall : float
        Thickness of the walls around the floor [m].

    Returns
    -------
    float
        From inside air to outdoor air [W/(m²·K)].

    Notes
    -----
    [ISO13370]_ with B' = A / (0.5 P) and d = w + lambda (Rsi + R + Rse): for d < B'
    ``U = 2 lambda / (pi B' + d) ln(pi B' / d + 1)``, otherwise
    ``U = lambda / (0.457 B' + d)``. Against the steady ground-coupled cases of ANSI/ASHRAE
    Standard 140 (12 m by 12 m) it is 3 % above the analytic heat flow into deep soil, and 3 to
    7 % below where cold ground lies at 15 m depth, which the equations do not know.

    References
    ----------
    [ISO13370] ISO 13370:2017.

    Examples
    --------
    >>> round(floor_transmittance(100.0, 40.0, 0.0), 2)
    0.6
    """
    width = area / (0.5 * perimeter)
    depth = wall + conductivity * (films + resistance)
    if depth >= width:
        return conductivity / (0.457 * width + depth)
    spread = math.pi * width
    return 2.0 * conductivity / (spread + depth) * math.log(spread / depth + 1.0)


def wall_transmittance(depth: float, resistance: float) -> float:
    """Return the U-value of a wall against the ground, soil included.

    Parameters
    ----------
    depth : float
        Of the wall's foot below the ground [m], > 0.
    resistance : float
        Of the wall's own layers [m²·K/W].

    Returns
    -------
    float
        From inside air to outdoor air [W/(m²·K)].

    Notes
    -----
    [ISO13370]_: ``U = 2 lambda / (pi z) (1 + 0.5 d / (d + z)) ln(z / d + 1)``, where
    d = lambda (Rsi + R + Rse); the floor is taken to be no better insulated than the wall.

    References
    ----------
    [ISO13370] ISO 13370:2017.
    """
    reach = SOIL.conductivity * (WALL_FILM + resistance + OUTSIDE_FILM)
    spread = 2.0 * SOIL.conductivity / (math.pi * depth)
    return spread * (1.0 + 0.5 * reach / (reach + depth)) * math.log(depth / reach + 1.0)


def layers_to_ground(surface: Surface, floor_level: float) -> tuple[Layer, ...]:
    """Return the layers of a surface against the ground, soil included.

    Parameters
    ----------
    surface : Surface
        A floor or wall whose other side is the ground.
    floor_level : float
        Level of the floor of its space, below 0 for a cellar [m].

    Returns
    -------
    tuple of Layer
        From inside to undisturbed ground, whose temperature is that at 1 m depth.

    Notes
    -----
    Half a metre of soil stores heat; beyond it a layer without mass makes up the
    resistance of ISO 13370. A floor without exposed perimeter loses heat straight down
    through the metre of soil to the depth at which the temperature of the ground is known.
    The path to outdoor air at the edge is thereby given the ground's damped temperature,
    which smooths the loss over the year and hardly changes its sum.
    """
    own = interrupted_layers(surface.layers, surface.framing_fraction, surface.void_fraction)
    resistance = resistance_between_faces(own)
    if surface.tilt < 135.0:
        depth = max(-floor_level, surface.area / surface.perimeter if surface.perimeter else 0.5)
        soil = 1.0 / wall_transmittance(depth, resistance) - WALL_FILM - resistance
    elif surface.perimeter > 0.0:
        total = 1.0 / floor_transmittance(surface.area, surface.perimeter, resistance)
        soil = total - FLOOR_FILM - resistance
    else:
        soil = GROUND_DEPTH / SOIL.conductivity
    thickness = min(SOIL.thickness, soil * SOIL.conductivity)
    moist = Layer("soil", thickness, SOIL.conductivity, SOIL.density, SOIL.specific_heat)
    beyond = soil - moist.resistance
    if beyond < 1e-3:
        return (*own, moist)
    return (*own, moist, Layer("soil beyond", 1.0, 1.0 / beyond))
