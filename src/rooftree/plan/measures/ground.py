"""Measures below the floor and against damp: drainage, closed crawlspace, dehumidifier."""

from __future__ import annotations

from dataclasses import replace

from rooftree.errors import PlanError
from rooftree.house import Dehumidifier, House, Layer, LeakKind, SpaceKind, Surface
from rooftree.plan.measures.enclosure import R_VALUE
from rooftree.plan.measures.kind import Setting, Settings, number, word
from rooftree.plan.measures.parts import (
    demand,
    insulation_resistance,
    largest_living,
    spaces_of,
    with_surfaces,
)
from rooftree.units.kinds import Kind as Quantity

OPEN_SOIL = 0.4 / 86_400.0
"""Water vapor that open damp soil gives off, mean [kg/(s·m²)]; recalled: Trethowen, about
0.4 kg/(m²·day) for houses in New Zealand."""

FOAM_CONDUCTIVITY = 0.029
"""Of foam board [W/(m·K)]; common practice, R-5 per inch."""

BOARD = "foam board on the wall"

DRAINAGE_SETTINGS = {
    "vapor_left": Setting(
        Quantity.FRACTION,
        "share of the present moisture that is left once rain and ground water are led away "
        "[0-1]; judgement, to be measured afterwards",
        0.7,
        low=0.0,
        high=1.0,
    )
}
CRAWLSPACE_SETTINGS = {
    "vents_left": Setting(
        Quantity.FRACTION,
        "share of the vents' opening left as cracks [0-1]",
        0.02,
        low=0.001,
        high=1.0,
    ),
    "vapor_left": Setting(
        Quantity.FRACTION,
        "what still passes the ground cover, of what open damp soil gives off [0-1]; judgement",
        0.05,
        low=0.0,
        high=1.0,
    ),
    "resistance": Setting(
        Quantity.THERMAL_RESISTANCE,
        "of insulation on the crawlspace walls; 0 for none [m²·K/W]",
        10.0 * R_VALUE,
        low=0.0,
        high=6.0,
    ),
}
DEHUMIDIFIER_SETTINGS = {
    "space": Setting(None, "id of the space; a crawlspace or basement where left out", ""),
    "capacity": Setting(
        Quantity.VAPOR_FLOW, "water removed at 26.7 °C and 60 % [kg/s]", 3.8e-4, low=1e-5, high=5e-3
    ),
    "energy_factor": Setting(
        Quantity.DRYING_EFFICIENCY,
        "water removed per energy [kg/J]",
        2.0 / 3.6e6,
        low=1e-7,
        high=3e-6,
    ),
    "setpoint": Setting(
        Quantity.FRACTION, "relative humidity above which it runs [0-1]", 0.55, low=0.3, high=0.8
    ),
}


def drain(house: House, settings: Settings) -> House:
    """Return the house with rain and ground water led away from below its floor.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``vapor_left`` [0-1].

    Returns
    -------
    House
        The house after.
    """
    kinds = (SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT)
    demand("drainage", spaces_of(house, *kinds), "a crawlspace or a basement")
    left = number(settings, "vapor_left")
    return replace(
        house,
        spaces=tuple(
            replace(space, vapor_source=space.vapor_source * left) if space.kind in kinds else space
            for space in house.spaces
        ),
    )


def close_crawlspace(house: House, settings: Settings) -> House:
    """Return the house with its crawlspace vents shut, ground covered, walls insulated.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``vents_left`` and ``vapor_left`` [0-1], ``resistance`` [m²·K/W].

    Returns
    -------
    House
        The house after.

    Notes
    -----
    A shut vent stays as a crack, so that the crawlspace still has a path to outdoors.
    """
    crawlspaces = {space.id for space in spaces_of(house, SpaceKind.CRAWLSPACE)}
    demand("crawlspace-closing", crawlspaces, "a crawlspace")
    left = number(settings, "vents_left")
    cover = number(settings, "vapor_left") * OPEN_SOIL
    resistance = number(settings, "resistance")
    leaks = tuple(
        replace(leak, coefficient=leak.coefficient * left, kind=LeakKind.CRACK)
        if leak.kind is LeakKind.VENT and {leak.first, leak.second} & crawlspaces
        else leak
        for leak in house.leaks
    )
    spaces = tuple(
        replace(space, vapor_source=min(space.vapor_source, cover * space.floor_area))
        if space.id in crawlspaces
        else space
        for space in house.spaces
    )
    walls = [
        surface
        for surface in house.surfaces
        if surface.kind == "wall" and surface.inside in crawlspaces
    ]

    def lined(surface: Surface) -> Surface:
        missing = resistance - insulation_resistance(surface)
        if missing <= 0.0:
            return surface
        board = Layer(BOARD, missing * FOAM_CONDUCTIVITY, FOAM_CONDUCTIVITY, role="insulation")
        return replace(surface, layers=(board, *surface.layers))

    return with_surfaces(replace(house, leaks=leaks, spaces=spaces), walls, lined)


def dehumidify(house: House, settings: Settings) -> House:
    """Return the house with a dehumidifier in one space; one already there is replaced.

    Parameters
    ----------
    house : House
        The house before.
    settings : mapping from str to float or str
        ``space``, ``capacity`` [kg/s], ``energy_factor`` [kg/J], ``setpoint`` [0-1].

    Returns
    -------
    House
        The house after.
    """
    low = spaces_of(house, SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT)
    space = word(settings, "space") or (low[0].id if low else largest_living(house).id)
    if space not in {known.id for known in house.spaces}:
        raise PlanError(f"dehumidifier.space is {space!r}; the house has no such space")
    machine = Dehumidifier(
        space,
        number(settings, "capacity"),
        number(settings, "energy_factor"),
        number(settings, "setpoint"),
    )
    others = tuple(other for other in house.dehumidifiers if other.space != space)
    return replace(house, dehumidifiers=(*others, machine))
