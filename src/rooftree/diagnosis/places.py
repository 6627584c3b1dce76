"""The faces that can get wet: their temperature, and the vapor that reaches them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np

from rooftree.diagnosis.materials import MaterialKind, material_kind
from rooftree.diagnosis.words import the
from rooftree.house import OUTDOORS, Surface
from rooftree.physics.condensation import jacket_temperature
from rooftree.physics.mould_index import Sensitivity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.diagnosis.simulated_year import SimulatedYear
    from rooftree.house import Layer

    Floats = NDArray[np.float64]


class Where(StrEnum):
    """What sort of place can get wet."""

    FACE = "face"
    GLASS = "glass"
    WITHIN = "within"
    JACKET = "duct"


GLASS = MaterialKind(Sensitivity.RESISTANT, 0.1, False, "ours: dirt on glass and its frame")
JACKET = MaterialKind(Sensitivity.RESISTANT, 0.1, False, "ours: dirt on a duct")


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """One face that can get wet.

    Attributes
    ----------
    where : Where
        What sort of place.
    id : str
        Of the surface, window or duct run.
    name : str
        What it is called in a sentence.
    space : str
        Id of the space whose air is at it, or ``outdoors``.
    material : MaterialKind
        What it is made of.
    area : float
        [m²].
    temperature : ndarray, shape (hours,)
        Of the face [K].
    vapor : ndarray, shape (hours,)
        Vapor pressure of the air that reaches it [Pa].
    wets : ndarray, shape (hours,)
        Share of the hour in which it has that temperature [0-1].
    is_sure : bool
        False where air of the space reaches it through gaps only, if at all.
    """

    where: Where
    id: str
    name: str
    space: str
    material: MaterialKind
    area: float
    temperature: Floats
    vapor: Floats
    wets: Floats
    is_sure: bool


def find_places(year: SimulatedYear) -> tuple[Place, ...]:
    """Find the faces of a house that can get wet.

    Parameters
    ----------
    year : SimulatedYear
        The year.

    Returns
    -------
    tuple of Place

    Notes
    -----
    Faces towards the air of a space, and glass: as simulated; of a window the mean of
    glass and frame, so that edges of the glass are wet sooner. Not the outside faces
    towards weather, which are meant to get wet.

    Within a surface to outdoors with insulation: the face next to it on its outer side,
    the sheathing, with the vapor of the space; and on its inner side, with the vapor of
    outdoors. Temperatures between the faces are divided by resistance, as in a steady
    state: storage in light walls shifts them by an hour or two, in masonry by many. That
    the air there holds what the air of the space (or outdoors) holds is the worst that
    gaps can do: without gaps vapor creeps through the layers and less arrives. Neither
    sun-driven vapor from wet cladding nor rain is counted.

    Ducts: jackets of supply runs while the air is cold behind the coil, by the resistance
    of the run; air is taken as cold as at the coil, so that far ends are warmer.
    """
    vapor, always = year.vapor(), np.ones(year.hours)
    return (*_faces(year, vapor, always), *_within(year, vapor, always), *_ducts(year, vapor))


def _faces(year: SimulatedYear, vapor: Floats, always: Floats) -> Iterator[Place]:
    hourly, spaces = year.hourly, len(year.house.spaces)
    for e, element in enumerate(year.elements):
        here, there = int(year.inside[e]), int(year.beyond[e])
        if not isinstance(element, Surface):
            yield Place(
                Where.GLASS, element.id, f"glass of {element.name}", element.space, GLASS,
                element.area, hourly.face_inside[:, e], vapor[:, here], always, True,
            )  # fmt: skip
            continue
        room = year.name(here)
        yield Place(
            Where.FACE, element.id, f"inside of {element.name} in {the(room)}", element.inside,
            material_kind(element.layers[0].name), element.area, hourly.face_inside[:, e],
            vapor[:, here], always, True,
        )  # fmt: skip
        if there < spaces and there != here:
            yield Place(
                Where.FACE, element.id, f"{element.name}, face to {the(year.name(there))}",
                element.outside, material_kind(element.layers[-1].name), element.area,
                hourly.face_outside[:, e], vapor[:, there], always, True,
            )  # fmt: skip


def _within(year: SimulatedYear, vapor: Floats, always: Floats) -> Iterator[Place]:
    hourly = year.hourly
    for e, element in enumerate(year.elements):
        if not isinstance(element, Surface) or element.outside != OUTDOORS:
            continue
        insulation = [k for k, layer in enumerate(element.layers) if layer.role == "insulation"]
        if not insulation:
            continue
        first, last = insulation[0], insulation[-1]
        for k, layer, reaches, side in (
            (last + 1, last + 1, int(year.inside[e]), "behind the insulation of"),
            (first, first - 1, -1, "before the insulation of"),
        ):
            if not 0 <= layer < len(element.layers):
                continue
            share = _depth(element, k)
            inner, outer = hourly.face_inside[:, e], hourly.face_outside[:, e]
            yield Place(
                Where.WITHIN, element.id,
                f"{element.layers[layer].name} {side} {element.name}",
                OUTDOORS if reaches == -1 else element.inside,
                material_kind(element.layers[layer].name), element.area,
                inner + share * (outer - inner), vapor[:, reaches], always, False,
            )  # fmt: skip


def _depth(surface: Surface, k: int) -> float:
    """Return the share of the resistance between the faces before the layer `k` [0-1]."""
    resistances = tuple(accumulate((_resistance(layer) for layer in surface.layers), initial=0.0))
    return resistances[k] / resistances[-1]


def _resistance(layer: Layer) -> float:
    return layer.resistance


def _ducts(year: SimulatedYear, vapor: Floats) -> Iterator[Place]:
    hourly = year.hourly
    cold = year.cools & (hourly.runtime > 0.0) & np.isfinite(hourly.supply_temperature)
    supply = np.where(cold, hourly.supply_temperature, hourly.temperature[:, year.thermostat])
    for run in year.house.ducts:
        if run.side != "supply" or run.area <= 0.0:
            continue
        space = year.result.space_ids.index(run.space)
        around = hourly.temperature[:, space]
        jacket = np.where(cold, jacket_temperature(around, supply, run.resistance), around)
        yield Place(
            Where.JACKET, run.id, f"jacket of {run.name}", run.space, JACKET, run.area, jacket,
            vapor[:, space], np.where(cold, hourly.runtime, 0.0), True,
        )  # fmt: skip
