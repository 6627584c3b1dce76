"""Measures on floors, walls, ceilings and windows."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from rooftree.house import OUTDOORS, House, Layer, LeakKind, SpaceKind, Surface
from rooftree.plan.measures.kind import Setting, Settings, number
from rooftree.plan.measures.parts import (
    demand,
    filled,
    insulation_resistance,
    joins,
    living_ids,
    scaled,
    spaces_of,
    with_surfaces,
)
from rooftree.units.kinds import Kind as Quantity

if TYPE_CHECKING:
    from rooftree.house import Leak

R_VALUE = 0.1761102
"""One h·ft²·°F/Btu [m²·K/W]."""

COVER = "blown insulation over the framing"
"""Name of the layer that attic insulation adds; it covers the framing, so nothing
interrupts it and it has the role of structure."""

COVER_CONDUCTIVITY = 0.045
"""Of loose-fill insulation, R-3.2 per inch [W/(m·K)]; common practice."""

NEAR_FLOOR = 0.3
"""A leak this close to the floor opens into its joist bays [m]; judgement."""

RESISTANCE_LOW, RESISTANCE_HIGH = 0.2, 18.0
"""Range of resistances that insulation measures take [m²·K/W]; R-1 to R-100."""


def _resistance(says: str, r_value: float) -> Setting:
    return Setting(
        Quantity.THERMAL_RESISTANCE,
        f"{says} [m²·K/W]",
        r_value * R_VALUE,
        low=RESISTANCE_LOW,
        high=RESISTANCE_HIGH,
    )


def _share(says: str, default: float) -> Setting:
    return Setting(Quantity.FRACTION, f"{says} [0-1]", default, low=0.0, high=1.0)


ATTIC_SETTINGS = {
    "resistance": _resistance("of all insulation on the attic floor, old and new", 49.0)
}
BONUS_FLOOR_SETTINGS = {
    "resistance": _resistance("of the insulation in the floor over the garage", 25.0),
    "sealed_share": _share("share of the floor's leaks that air-blocking closes", 0.8),
}
KNEE_WALL_SETTINGS = {
    "resistance": _resistance("of the insulation in the knee walls", 19.0),
    "sealed_share": _share("share of the knee walls' leaks that air-blocking closes", 0.8),
}
WALL_SETTINGS = {
    "resistance": _resistance("of the cavities once filled", 13.0),
    "void_left": _share("share of the cavities that the filling misses", 0.05),
    "sealed_share": _share("share of the walls' cracks that dense filling closes", 0.0),
}
WINDOW_SETTINGS = {
    "u_value": Setting(Quantity.U_VALUE, "of the whole window [W/(m²·K)]", 1.7, low=0.3, high=7.0),
    "solar_heat_gain_coefficient": Setting(
        Quantity.RATIO, "of the whole window at normal incidence [0-1]", 0.3, low=0.05, high=0.9
    ),
    "panes": Setting(Quantity.COUNT, "1, 2 or 3 [-]", 2.0, low=1.0, high=3.0),
}


def insulate_attic(house: House, settings: Settings) -> House:
    """Return the house with its attic floor insulated to a resistance, voids filled.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``resistance`` [m²·K/W].

    Returns
    -------
    House
        The house after.

    Notes
    -----
    The new insulation lies over the joists, so that framing does not interrupt it.
    """
    attics = [space.id for space in spaces_of(house, SpaceKind.ATTIC)]
    living = living_ids(house)
    floors = [surface for surface in house.surfaces if joins(surface, living, attics)]
    demand("attic-insulation", floors, "a ceiling between a living space and an attic")
    wanted = number(settings, "resistance")

    def covered(surface: Surface) -> Surface:
        there = insulation_resistance(surface) + sum(
            layer.resistance for layer in surface.layers if layer.name == COVER
        )
        missing = wanted - there
        if missing <= 0.0:
            return replace(surface, void_fraction=0.0)
        cover = Layer(COVER, missing * COVER_CONDUCTIVITY, COVER_CONDUCTIVITY)
        faces_attic = surface.outside in attics
        layers = (*surface.layers, cover) if faces_attic else (cover, *surface.layers)
        return replace(surface, layers=layers, void_fraction=0.0)

    return with_surfaces(house, floors, covered)


def _cracks(house: House, living: frozenset[str], others: list[str]) -> list[Leak]:
    return [
        leak for leak in house.leaks if leak.kind is LeakKind.CRACK and joins(leak, living, others)
    ]


def _opens_into_floor(house: House, leak: Leak, living: frozenset[str]) -> bool:
    inside = house.space(leak.first if leak.first in living else leak.second)
    return abs(leak.level - inside.floor_level) <= NEAR_FLOOR


def fix_bonus_floor(house: House, settings: Settings) -> House:
    """Return the house with the floor over its garage insulated and air-blocked.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``resistance`` [m²·K/W], ``sealed_share`` [0-1].

    Returns
    -------
    House
        The house after.

    Notes
    -----
    Air-blocking closes the cracks between the room and the garage and those that open
    from the room's joist bays into the attic behind its knee walls.
    """
    garages = [space.id for space in spaces_of(house, SpaceKind.GARAGE)]
    living = living_ids(house)
    floors = [
        surface
        for surface in house.surfaces
        if surface.kind in ("floor", "ceiling") and joins(surface, living, garages)
    ]
    demand("bonus-floor-fix", floors, "a floor of a living space over a garage")
    rooms = living & {end for surface in floors for end in (surface.inside, surface.outside)}
    knees = [space.id for space in spaces_of(house, SpaceKind.KNEE_WALL_ATTIC)]
    bays = [leak for leak in _cracks(house, rooms, knees) if _opens_into_floor(house, leak, living)]
    left = 1.0 - number(settings, "sealed_share")
    resistance = number(settings, "resistance")
    better = with_surfaces(house, floors, lambda surface: filled(surface, resistance))
    return scaled(better, [*_cracks(house, rooms, garages), *bays], left)


def fix_knee_walls(house: House, settings: Settings) -> House:
    """Return the house with its knee walls insulated and air-blocked.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``resistance`` [m²·K/W], ``sealed_share`` [0-1].

    Returns
    -------
    House
        The house after.

    Notes
    -----
    The flat ceiling towards the attic behind the knee walls is brought to the same
    resistance. Joist bays of a floor over a garage belong to the work on that floor.
    """
    knees = [space.id for space in spaces_of(house, SpaceKind.KNEE_WALL_ATTIC)]
    garages = [space.id for space in spaces_of(house, SpaceKind.GARAGE)]
    living = living_ids(house)
    walls = [
        surface
        for surface in house.surfaces
        if surface.kind in ("wall", "ceiling") and joins(surface, living, knees)
    ]
    demand("knee-wall-fix", walls, "a wall between a living space and a knee-wall attic")
    over_garage = living & {
        end
        for surface in house.surfaces
        if surface.kind in ("floor", "ceiling") and joins(surface, living, garages)
        for end in (surface.inside, surface.outside)
    }
    leaks = [
        leak
        for leak in _cracks(house, living, knees)
        if not (_opens_into_floor(house, leak, living) and {leak.first, leak.second} & over_garage)
    ]
    resistance = number(settings, "resistance")
    better = with_surfaces(house, walls, lambda surface: filled(surface, resistance))
    return scaled(better, leaks, 1.0 - number(settings, "sealed_share"))


def insulate_walls(house: House, settings: Settings) -> House:
    """Return the house with the cavities of its outside walls filled.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``resistance`` [m²·K/W], ``void_left`` and ``sealed_share`` [0-1].

    Returns
    -------
    House
        The house after.

    Notes
    -----
    Walls towards a garage count as outside walls. Dense filling also tightens walls;
    how much is left to the assessor, and nothing is taken unless said.
    """
    living = living_ids(house)
    beyond = [OUTDOORS, *(space.id for space in spaces_of(house, SpaceKind.GARAGE))]
    walls = [
        surface
        for surface in house.surfaces
        if surface.kind == "wall" and joins(surface, living, beyond)
    ]
    demand("wall-insulation", walls, "a wall between a living space and outdoors")
    resistance, void = number(settings, "resistance"), number(settings, "void_left")
    better = with_surfaces(house, walls, lambda surface: filled(surface, resistance, void))
    left = 1.0 - number(settings, "sealed_share")
    return scaled(better, _cracks(house, living, [OUTDOORS]), left)


def change_windows(house: House, settings: Settings) -> House:
    """Return the house with its windows replaced where the new ones insulate better.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``u_value`` [W/(m²·K)], ``solar_heat_gain_coefficient`` [0-1], ``panes`` [-].

    Returns
    -------
    House
        The house after.
    """
    living = living_ids(house)
    demand("windows", [w for w in house.windows if w.space in living], "a window of a living space")
    u_value = number(settings, "u_value")
    gain = number(settings, "solar_heat_gain_coefficient")
    panes = int(number(settings, "panes"))
    return replace(
        house,
        windows=tuple(
            replace(window, u_value=u_value, solar_heat_gain_coefficient=gain, panes=panes)
            if window.space in living and window.u_value > u_value
            else window
            for window in house.windows
        ),
    )
