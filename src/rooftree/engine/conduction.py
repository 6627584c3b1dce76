"""Heat through layers: each surface as two faces and a few slow modes between them.

The layers are cut into thin slices with heat capacity. Slices and the resistances
between them are the usual finite-volume network. Because it is linear and the same all
year, it is turned once into its natural modes, each of which fades on its own, and
those that forget within an hour are merged into two, which hold what the last faces
left behind. What the hour loop then needs of a surface is three conductances and five
numbers for each of two to six modes. Faces are taken as constant within an hour; the
heat that passes through them is the exact mean over that hour.

Sources
-------
[SEEM1987] Seem, J. E., "Modeling of heat transfer in buildings", University of
    Wisconsin-Madison, 1987: response of layered walls from the state-space form
    (recalled; here in modal form, with faces held for one step).
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 26, tables 1, 3 and 10; chapter
    27, parallel-path method.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from rooftree.house import Layer
from rooftree.physics.heat_paths import parallel_paths

if TYPE_CHECKING:
    from numpy.typing import NDArray

HOUR = 3600.0
"""Length of one step [s]."""

INSIDE_FILM, OUTSIDE_FILM = 0.12, 0.030
"""Standard film resistances that enter the parallel-path sum only [m²·K/W] [HOF2021]_."""

WOOD = Layer("framing", 1.0, 0.12, density=500.0, specific_heat=1630.0)
"""Softwood framing: conductivity 0.11 to 0.13 [HOF2021]_; density and heat recalled."""

CLOSED_VOID, OPEN_VOID = 0.16, 0.0
"""Resistance of the gap where insulation is missing: between two other layers as a plane
air space 0.15 to 0.18 [HOF2021]_; where the insulation would lie open, none [m²·K/W]."""

STILL_FILM = 0.12
"""Resistance that wind leaves of insulation between two other layers: a film of still air at
a plane face [HOF2021]_; that nothing else is left is a rule of ours [m²·K/W]."""

SLICE_FINENESS = 0.35
"""Thickness of a slice over the depth that heat reaches in an hour [-]."""

MOST_SLICES = 30
"""Slices of one layer at most; a layer this thick has left the hourly swing behind."""

FORGOTTEN = 0.01
"""A mode that fades to less than this in a step is taken to forget what came before [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class Response:
    """What a surface does to heat in one step, for one square metre.

    With `u` and `v` the temperatures of the inside and outside face, `u'` and `v'` those
    of the step before and `z` the modes, the mean heat flow over the step into the inside
    face is ``inside * u - across * v - z @ feel_inside - last_inside * u' - last_across *
    v'``, into the outside face ``outside * v - across * u - z @ feel_outside - last_across
    * u' - last_outside * v'``; after the step ``z = fade * z + push_inside * u +
    push_outside * v``.

    Attributes
    ----------
    inside, outside, across : float
        Conductances within the step [W/(m²·K)].
    fade, feel_inside, feel_outside, push_inside, push_outside : ndarray, shape (modes,)
        The modes, slowest first; their scale is that of ``sqrt(J/m²·K)``.
    store : ndarray, shape (modes,)
        Heat stored per unit of each mode.
    last_inside, last_across, last_outside : float
        What the faces of the step before still do [W/(m²·K)].
    held_inside, held_outside : float
        Heat stored per kelvin of the last faces by what forgets within a step [J/(m²·K)].
    """

    inside: float
    outside: float
    across: float
    fade: NDArray[np.float64]
    feel_inside: NDArray[np.float64]
    feel_outside: NDArray[np.float64]
    push_inside: NDArray[np.float64]
    push_outside: NDArray[np.float64]
    store: NDArray[np.float64]
    last_inside: float = 0.0
    last_across: float = 0.0
    last_outside: float = 0.0
    held_inside: float = 0.0
    held_outside: float = 0.0


def resistance_between_faces(layers: tuple[Layer, ...]) -> float:
    """Return the resistance of layers in series, without films.

    Parameters
    ----------
    layers : tuple of Layer
        From inside to outside.

    Returns
    -------
    float
        Thermal resistance [m²·K/W].
    """
    return sum(layer.resistance for layer in layers)


@lru_cache(maxsize=8192)
def interrupted_layers(
    layers: tuple[Layer, ...],
    framing_fraction: float,
    void_fraction: float,
    washed_fraction: float = 0.0,
) -> tuple[Layer, ...]:
    """Return layers that conduct as the surface does with its framing, voids and wind.

    Parameters
    ----------
    layers : tuple of Layer
        From inside to outside, insulation as it would be without interruption.
    framing_fraction : float
        Share of the area where wood takes the place of insulation [0-1].
    void_fraction : float
        Share of the insulated area where insulation is missing [0-1].
    washed_fraction : float
        Share of the area that has insulation through which wind blows [0-1].

    Returns
    -------
    tuple of Layer
        The same layers, with the conductivity and mass of the insulation changed.

    Notes
    -----
    Parallel-path method: ``U = sum(f / R)`` over the insulated, the framed and the void
    path, each from air to air with standard films [HOF2021]_. The insulation is given
    the one resistance that yields the same U; its mass is the mean over the paths. Heat
    that flows sideways between the paths, and air that moves in a void, are left out:
    measured losses through small voids are larger (a void of 4 % has been seen to halve
    the resistance of ceiling batts).

    Washed insulation is a fourth path, which keeps a film of still air and no more, and where
    it lies open no more than a void does: all that wind can take. What it takes has been
    measured only as savings of repairs (15 % of cooling in six houses); insulation that wind
    reaches at its edge keeps more, so give the share that is blown through and not all that
    lies near the eaves. Layers beyond the insulation are taken to stay between it and the
    wind.

    References
    ----------
    [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 27.

    Examples
    --------
    >>> batt = Layer("batt", 0.09, 0.045, role="insulation")
    >>> board = Layer("board", 0.0127, 0.16)
    >>> mixed = interrupted_layers((board, batt, board), 0.25, 0.0)
    >>> round(mixed[1].resistance, 2)
    1.47
    """
    insulation = [layer for layer in layers if layer.role == "insulation"]
    if not insulation or framing_fraction == void_fraction == washed_fraction == 0.0:
        return layers
    full = resistance_between_faces(tuple(insulation))
    others = resistance_between_faces(layers) - full + INSIDE_FILM + OUTSIDE_FILM
    is_open = "insulation" in (layers[0].role, layers[-1].role)
    wood = sum(layer.thickness for layer in insulation) / WOOD.conductivity
    filled = (1.0 - framing_fraction) * (1.0 - void_fraction)
    insulated = filled * (1.0 - washed_fraction)
    void = OPEN_VOID if is_open else min(CLOSED_VOID, full)
    paths = (
        (insulated, full),
        (framing_fraction, min(wood, full)),
        (1.0 - framing_fraction - filled, void),
        (filled - insulated, min(STILL_FILM, void)),
    )
    shares, through = zip(*paths, strict=True)
    effective = parallel_paths(shares, [others + each for each in through]) - others
    return tuple(
        replace(
            layer,
            conductivity=layer.conductivity * full / max(effective, 1e-6),
            density=filled * layer.density + framing_fraction * WOOD.density,
            specific_heat=_mean_heat(layer, filled, framing_fraction),
        )
        if layer.role == "insulation"
        else layer
        for layer in layers
    )


def _mean_heat(layer: Layer, insulated: float, framed: float) -> float:
    """Return the specific heat of insulation and framing mixed by mass."""
    mass = insulated * layer.density + framed * WOOD.density
    if mass == 0.0:
        return layer.specific_heat
    heat = insulated * layer.density * layer.specific_heat
    return (heat + framed * WOOD.density * WOOD.specific_heat) / mass


@lru_cache(maxsize=8192)
def surface_response(layers: tuple[Layer, ...], step: float = HOUR) -> Response:
    """Return what layers do to heat in one step.

    Parameters
    ----------
    layers : tuple of Layer
        From inside to outside.
    step : float
        Length of the step [s].

    Returns
    -------
    Response

    Notes
    -----
    With capacities `C` and conductances `A` of the slices, ``C dT/dt = -A T + b u``. The
    symmetric form ``C**-1/2 A C**-1/2 = Q L Q.T`` has modes that fade as ``exp(-L t)``;
    their mean over a step with constant faces is known exactly. Modes below `FORGOTTEN`
    follow the faces of the step, so that the last faces are all that is left of them.
    Resistance in the steady state and stored heat are exact whatever is merged.
    """
    capacity, links = _slices(layers, step)
    if not capacity.size:
        static_only, none = 1.0 / float(links[0]), np.zeros(0)
        return Response(static_only, static_only, static_only, *(none,) * 6)
    conductance = 1.0 / links
    network = np.diag(conductance[:-1] + conductance[1:])
    network -= np.diag(conductance[1:-1], 1) + np.diag(conductance[1:-1], -1)
    root = np.sqrt(capacity)
    rate, shape = np.linalg.eigh(network / np.outer(root, root))
    seen_inside = conductance[0] / root[0] * shape[0]
    seen_outside = conductance[-1] / root[-1] * shape[-1]
    fade = np.exp(-rate * step)
    fade[fade < FORGOTTEN] = 0.0
    lag = (1.0 - fade) / (rate * step)
    static, rise = (1.0 - lag) / rate, (1.0 - fade) / rate
    modes = np.array(
        [
            seen_inside * lag,
            seen_outside * lag,
            seen_inside * rise,
            seen_outside * rise,
            root @ shape,
        ]
    )
    slow, fast = modes[:, fade > 0.0], modes[:, fade == 0.0]
    feel_inside, feel_outside, push_inside, push_outside, store = fast
    return Response(
        float(conductance[0] - np.sum(seen_inside**2 * static)),
        float(conductance[-1] - np.sum(seen_outside**2 * static)),
        float(np.sum(seen_inside * seen_outside * static)),
        fade[fade > 0.0],
        slow[0],
        slow[1],
        slow[2],
        slow[3],
        slow[4],
        last_inside=float(feel_inside @ push_inside),
        last_across=float(feel_inside @ push_outside),
        last_outside=float(feel_outside @ push_outside),
        held_inside=float(store @ push_inside),
        held_outside=float(store @ push_outside),
    )


def _slices(
    layers: tuple[Layer, ...], step: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return heat capacities of the slices and resistances before, between, after them."""
    capacity: list[float] = []
    links = [0.0]
    for layer in layers:
        heat = layer.density * layer.specific_heat
        if heat == 0.0:
            links[-1] += layer.resistance
            continue
        reach = math.sqrt(layer.conductivity / heat * step)
        number = min(max(1, math.ceil(layer.thickness / (SLICE_FINENESS * reach))), MOST_SLICES)
        half = 0.5 * layer.resistance / number
        for _ in range(number):
            capacity.append(heat * layer.thickness / number)
            links[-1] += half
            links.append(half)
    return np.array(capacity), np.array(links)
