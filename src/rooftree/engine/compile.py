"""From a house and a year of weather to the arrays of the hour loop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from rooftree.engine.arrays import MADE, Air, Elements, Plant, State, Weather, Work
from rooftree.engine.climate import (
    Exposure,
    Glazing,
    Plane,
    climate_of,
    rounded_direction,
)
from rooftree.engine.conduction import Response, interrupted_layers, surface_response
from rooftree.engine.films import (
    GLASS_EMITTANCE,
    ROUGHNESS,
    STEFAN_BOLTZMANN,
    convection,
    radiant_share,
    view_of_sky,
)
from rooftree.engine.glazing import (
    glass_resistance,
    inward_absorption,
    light_lost,
    normal_transmittance,
)
from rooftree.engine.ground import layers_to_ground
from rooftree.engine.moist import GAS_CONSTANT, HEAT_OF_AIR
from rooftree.engine.network import make_scratch
from rooftree.engine.paths import lay_paths, require_paths_outdoors
from rooftree.engine.plant import make_plant
from rooftree.engine.sunlight import sun_shares
from rooftree.engine.wind import wall_height
from rooftree.errors import HouseError
from rooftree.house import GROUND, OUTDOORS, Layer, LeakKind, Surface

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from rooftree.house import House, Window
    from rooftree.weather import WeatherYear

BUFFERING = 15.0
"""Water that materials of a space hold and give back within hours, over what its air
holds [-]: usual values are 10 to 25 (recalled)."""

LANES = 8
"""Paths that the compiler solves at once."""

DISCHARGE = 0.6
"""Discharge coefficient of an opening [-]."""

DOOR_HEIGHT = 2.0
"""Of an opening between two living spaces through which air is exchanged both ways [m]."""

FLOORS, CEILINGS = 135.0, 45.0
"""Tilt from which a surface is a floor of its space, and below which it is the floor of the
space above [°]."""


@dataclass(frozen=True, slots=True, eq=False)
class Compiled:
    """A house as arrays, ready to run.

    Attributes
    ----------
    elements, air, plant, weather : see :mod:`rooftree.engine.arrays`
        What the hour loop reads.
    leak_order : ndarray of int64, shape (leaks,)
        Position in the house's leaks of each path.
    element_ids : tuple of str
        Ids of surfaces and windows in the order of the elements.
    """

    elements: Elements
    air: Air
    plant: Plant
    weather: Weather
    leak_order: NDArray[np.int64]
    element_ids: tuple[str, ...]


@dataclass(slots=True)
class _Element:
    """One element on its way into the arrays."""

    area: float
    space: int
    other: int
    tilt: float
    azimuth: float
    response: Response
    emittance: tuple[float, float]
    sunlit: tuple[float, float]
    surface: Surface | None = None
    window: Window | None = None


def compile_house(house: House, year: WeatherYear) -> Compiled:
    """Turn a house and a year into the arrays of the hour loop.

    Parameters
    ----------
    house : House
        The house.
    year : WeatherYear
        The weather; what depends on it and on directions alone is remembered.

    Returns
    -------
    Compiled

    Raises
    ------
    HouseError
        If the house names spaces that it does not have, or a space that is cut off from
        outdoors although air is forced into it.
    """
    index = {space.id: i for i, space in enumerate(house.spaces)}
    elements = list(_sorted_elements(house, index))
    planes: dict[Plane, int] = {}
    glazings: dict[Glazing, int] = {}
    packed = _pack(elements, len(house.spaces), planes, glazings)
    facades: dict[float | None, int] = {}
    density = float(np.mean(year.pressure)) / (GAS_CONSTANT * 293.15)
    air, order = _air(house, index, facades, density)
    exposure = Exposure(
        max(round(wall_height(house), 2), 1.0), house.site.terrain, house.site.shelter
    )
    weather = climate_of(year).weather_on(tuple(planes), tuple(glazings), tuple(facades), exposure)
    ids = tuple((each.surface or each.window).id for each in elements)  # type: ignore[union-attr]
    return Compiled(packed, air, make_plant(house, density), weather, order, ids)


def _index_of(index: dict[str, int], space: str, owner: str) -> int:
    if space not in index:
        message = f"{owner} names the space {space}, which the house does not have"
        raise HouseError(message)
    return index[space]


def _sorted_elements(house: House, index: dict[str, int]) -> Iterable[_Element]:
    """Yield elements in the order of the arrays: outdoors, windows, ground, partitions."""
    outdoors = [s for s in house.surfaces if s.outside == OUTDOORS]
    ground = [s for s in house.surfaces if s.outside == GROUND]
    between = [s for s in house.surfaces if s.outside not in (OUTDOORS, GROUND)]
    for group in (outdoors, house.windows, ground, between):
        made = [
            _opaque(each, house, index) if isinstance(each, Surface) else _glass(each, index)
            for each in group
        ]
        yield from sorted(made, key=lambda element: (element.space, element.other))


def _opaque(surface: Surface, house: House, index: dict[str, int]) -> _Element:
    space = _index_of(index, surface.inside, f"surface {surface.id}")
    other = -1
    if surface.outside == GROUND:
        layers = layers_to_ground(surface, house.spaces[space].floor_level)
    else:
        layers = interrupted_layers(surface.layers, surface.framing_fraction, surface.void_fraction)
        if surface.outside != OUTDOORS:
            other = _index_of(index, surface.outside, f"surface {surface.id}")
    return _Element(
        surface.area,
        space,
        other,
        surface.tilt,
        surface.azimuth,
        surface_response(layers),
        (surface.inside_emittance, surface.emittance),
        (surface.inside_absorptance, surface.solar_absorptance),
        surface=surface,
    )


def _glass(window: Window, index: dict[str, int]) -> _Element:
    gain, panes = window.solar_heat_gain_coefficient, window.panes
    resistance = glass_resistance(window.u_value)
    return _Element(
        window.area,
        _index_of(index, window.space, f"window {window.id}"),
        -1,
        window.tilt,
        window.azimuth,
        surface_response((Layer("glass", resistance, 1.0),)),
        (GLASS_EMITTANCE, GLASS_EMITTANCE),
        (light_lost(window.u_value, gain, panes), 0.0),
        window=window,
    )


def _pack(
    elements: list[_Element],
    spaces: int,
    planes: dict[Plane, int],
    glazings: dict[Glazing, int],
) -> Elements:
    """Lay the elements out as arrays; fill in the planes and glazings that they need."""
    n_out = sum(1 for e in elements if e.surface and e.surface.outside == OUTDOORS)
    windows = [e.window for e in elements if e.window]
    first_ground = n_out + len(windows)
    n_ground = sum(1 for e in elements if e.surface and e.surface.outside == GROUND)
    responses = [e.response for e in elements]
    counts = [r.fade.size for r in responses]
    radiant, beam, diffuse = (_by_side(each) for each in _shares(elements, spaces))
    warm, cold = (_by_side(each) for each in _films(elements))
    views = np.array([view_of_sky(e.tilt) for e in elements]).reshape(-1, 2)
    emittance = np.array([e.emittance[1] for e in elements])
    outdoors = np.arange(len(elements)) < first_ground
    return Elements(
        first_window=n_out,
        first_ground=first_ground,
        first_partition=first_ground + n_ground,
        area=np.array([e.area for e in elements], dtype=float),
        space=np.array([e.space for e in elements], dtype=np.int64),
        other=np.array([e.other for e in elements], dtype=np.int64),
        plane=np.array(
            [
                _plane(e, planes) if is_out else 0
                for e, is_out in zip(elements, outdoors, strict=True)
            ],
            dtype=np.int64,
        ),
        inside=np.array([r.inside for r in responses]),
        outside=np.array([r.outside for r in responses]),
        across=np.array([r.across for r in responses]),
        mode=np.concatenate([[0], np.cumsum(counts)]).astype(np.int64),
        owner=np.repeat(np.arange(len(counts)), counts).astype(np.int64),
        fade=np.concatenate([r.fade for r in responses]),
        feel_inside=np.concatenate([r.feel_inside for r in responses]),
        feel_outside=np.concatenate([r.feel_outside for r in responses]),
        push_inside=np.concatenate([r.push_inside for r in responses]),
        push_outside=np.concatenate([r.push_outside for r in responses]),
        store=np.concatenate([r.store for r in responses]),
        absorptance=np.array([e.sunlit[1] for e in elements], dtype=float),
        sky_factor=STEFAN_BOLTZMANN * emittance * views[:, 0],
        air_factor=STEFAN_BOLTZMANN * emittance * views[:, 1],
        roughness=np.array([ROUGHNESS if e.surface else 1.0 for e in elements]),
        warm_inside=warm[0],
        cold_inside=cold[0],
        warm_outside=warm[1],
        cold_outside=cold[1],
        radiant_inside=radiant[0],
        radiant_outside=radiant[1],
        beam_inside=beam[0],
        beam_outside=beam[1],
        diffuse_inside=diffuse[0],
        diffuse_outside=diffuse[1],
        glazing=np.array([_column(_glazing(w), glazings) for w in windows], dtype=np.int64),
        glass_area=np.array(
            [
                w.area
                * w.shading_factor
                * normal_transmittance(w.u_value, w.solar_heat_gain_coefficient)
                for w in windows
            ]
        ),
        glass_taken=np.array(
            [
                w.shading_factor * inward_absorption(w.u_value, w.solar_heat_gain_coefficient)
                for w in windows
            ]
        ),
    )


def _by_side(faces: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return values of inside and outside faces as two rows, each in one piece of memory."""
    return np.ascontiguousarray(faces.T)


def _films(elements: list[_Element]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return convection at both faces while they are warmer and colder than the air.

    A warm face that looks up, or a cold one that looks down, lets heat flow up.
    """
    up, down = np.array([convection(e.tilt) for e in elements]).reshape(-1, 2).T
    looks_down = np.array([e.tilt < 90.0 for e in elements])
    face_down = np.stack([looks_down, ~looks_down], axis=1)
    return (
        np.where(face_down, down[:, None], up[:, None]),
        np.where(face_down, up[:, None], down[:, None]),
    )


def _plane(element: _Element, planes: dict[Plane, int]) -> int:
    surface = element.surface
    direction = rounded_direction(element.tilt, element.azimuth)
    if surface is None:
        return _column(Plane(*direction, False, True), planes)
    return _column(Plane(*direction, surface.sun_exposed, surface.wind_exposed), planes)


def _glazing(window: Window) -> Glazing:
    return Glazing(*rounded_direction(window.tilt, window.azimuth), window.panes)


def _column(key: Any, columns: dict[Any, int]) -> int:
    return columns.setdefault(key, len(columns))


def _shares(
    elements: list[_Element], spaces: int
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Return radiant shares, and shares of beam and diffuse light per area, of all faces."""
    shape = (len(elements), 2)
    radiant, beam, diffuse = np.zeros(shape), np.zeros(shape), np.zeros(shape)
    area = np.array([[e.area, e.area] for e in elements]).reshape(shape)
    emittance = np.array([e.emittance for e in elements]).reshape(shape)
    sunlit = np.array([e.sunlit for e in elements]).reshape(shape)
    owner = np.array([[e.space, e.other] for e in elements]).reshape(shape)
    tilt = np.array([e.tilt for e in elements])
    floor = np.stack([tilt > FLOORS, tilt < CEILINGS], axis=1)
    for space in range(spaces):
        faces = owner == space
        if not faces.any():
            continue
        radiant[faces] = radiant_share(area[faces], emittance[faces])
        beam[faces], diffuse[faces] = sun_shares(area[faces], sunlit[faces], floor[faces])
    lost = [e.window is not None for e in elements]
    beam[lost], diffuse[lost] = 0.0, 0.0
    return radiant, beam / area, diffuse / area


def _air(
    house: House, index: dict[str, int], facades: dict[float | None, int], density: float
) -> tuple[Air, NDArray[np.int64]]:
    """Lay out spaces, leaks, fans and gains."""
    if house.leaks or any(fan.kind != "balanced" for fan in house.fans):
        require_paths_outdoors(house)
    paths = lay_paths(house)
    position = {leak.id: i for i, leak in enumerate(house.leaks)}
    exhaust, supplied, balanced, unrecovered = _fans(house, index)
    doors = _doors(house, index)
    volume = np.array([space.volume for space in house.spaces])
    furnishings = np.array([space.capacity for space in house.spaces])
    living = np.array([space in house.living_spaces for space in house.spaces])
    convective, radiant, vapor = _gains(house, index)
    air = Air(
        volume=volume,
        capacity=furnishings + volume * density * HEAT_OF_AIR,
        living=living.astype(np.int64),
        first=_padded(paths.first, len(house.spaces)),
        second=_padded(paths.second, len(house.spaces)),
        level=_padded(paths.level, 0.0),
        coefficient=_padded(paths.coefficient, 0.0),
        exponent=_padded(paths.exponent, 0.65),
        facade=_padded(
            np.array(
                [_column(_facade(leak.azimuth), facades) for leak in paths.leaks], dtype=np.int64
            ),
            0,
        ),
        door_first=np.array([door[0] for door in doors], dtype=np.int64),
        door_second=np.array([door[1] for door in doors], dtype=np.int64),
        door_size=np.array([door[2] for door in doors], dtype=float),
        exhaust=exhaust,
        supplied=supplied,
        balanced=balanced,
        unrecovered=unrecovered,
        convective=convective,
        radiant=radiant,
        vapor=vapor,
        buffering=np.full(volume.size, BUFFERING),
    )
    return air, np.array([position[leak.id] for leak in paths.leaks], dtype=np.int64)


def _padded(values: NDArray[Any], filler: float) -> NDArray[Any]:
    """Return values for a number of paths that fills the lanes of the processor.

    Paths beyond the leaks of the house lead from outdoors to outdoors and are closed.
    """
    return np.concatenate([values, np.full(-values.size % LANES, filler, dtype=values.dtype)])


def _facade(azimuth: float | None) -> float | None:
    return None if azimuth is None else rounded_direction(90.0, azimuth)[1]


def _doors(house: House, index: dict[str, int]) -> list[tuple[int, int, float]]:
    """Return the openings between living spaces through which air is exchanged both ways.

    Through a tall opening between two spaces of different temperature, warm air flows
    above and cold air below: ``Cd / 3 * A * sqrt(g H dT / T)`` each way (the orifice law
    over the height; recalled). The area follows from the leakage coefficient.
    """
    living = {space.id for space in house.living_spaces}
    doors = []
    for leak in house.leaks:
        if leak.kind is LeakKind.HOLE and leak.first in living and leak.second in living:
            area = leak.coefficient / (DISCHARGE * np.sqrt(2.0 / 1.2))
            size = DISCHARGE / 3.0 * area * np.sqrt(9.80665 * DOOR_HEIGHT)
            doors.append((index[leak.first], index[leak.second], float(size)))
    return doors


def _fans(house: House, index: dict[str, int]) -> tuple[NDArray[np.float64], ...]:
    """Return the flows that fans exhaust, supply and exchange, and the unrecovered part."""
    flows = {kind: np.zeros((24, len(house.spaces))) for kind in ("exhaust", "supply", "balanced")}
    unrecovered = np.zeros((24, len(house.spaces)))
    for fan in house.fans:
        if fan.kind not in flows:
            message = f"fan {fan.id} is {fan.kind}; use exhaust, supply or balanced"
            raise HouseError(message)
        space = _index_of(index, fan.space, f"fan {fan.id}")
        mean = fan.flow * np.array(fan.hours)
        flows[fan.kind][:, space] += mean
        if fan.kind == "balanced":
            unrecovered[:, space] += (1.0 - fan.recovery) * mean
    return flows["exhaust"], flows["supply"], flows["balanced"], unrecovered


def _gains(house: House, index: dict[str, int]) -> tuple[NDArray[np.float64], ...]:
    """Return convective, radiant [W] and vapor gains [kg/s] by hour of the day and space."""
    use = house.use
    share = np.array([s.floor_area if s in house.living_spaces else 0.0 for s in house.spaces])
    share = share / share.sum() if share.sum() > 0.0 else share
    sensible = np.array(use.sensible_gain)[:, None] * share
    convective = (1.0 - use.radiant_fraction) * sensible
    heater = house.water_heater
    if heater is not None:
        space = _index_of(index, heater.space, "the water heater")
        gain = heater.standby_loss
        if heater.kind == "heat pump":
            gain = use.hot_water_heat / heater.efficiency - use.hot_water_heat
        convective[:, space] += gain
    sources = np.array([space.vapor_source for space in house.spaces])
    vapor = np.tile(use.vapor_gain * share + sources, (24, 1))
    return convective, use.radiant_fraction * sensible, vapor


SETTLING = 30 * 24
"""Hours of outdoor air that buffer spaces and layers remember when a run starts [h]."""


def make_state(compiled: Compiled, hour: int = 0) -> State:
    """Return the state from which a warm-up starts: a steady one for the weeks before.

    Parameters
    ----------
    compiled : Compiled
        The house as arrays.
    hour : int
        Hour of the weather at which it starts; the end stands before the beginning.

    Returns
    -------
    State
        Living spaces at 20 °C; buffer spaces halfway between that and outdoors, those on
        the ground halfway between this and the ground.
    """
    elements, air, weather = compiled.elements, compiled.air, compiled.weather
    before = np.arange(hour - SETTLING, hour) % weather.temperature.size
    outdoor = float(weather.temperature[before].mean())
    ground = float(weather.ground[before[-1]])
    spaces = np.where(air.living == 1, 293.15, 0.5 * (293.15 + outdoor))
    on_ground = np.zeros(spaces.size, dtype=bool)
    on_ground[elements.space[elements.first_ground : elements.first_partition]] = True
    on_ground &= air.living == 0
    spaces[on_ground] = 0.5 * (spaces[on_ground] + ground)
    inside = spaces[elements.space]
    outside = np.full(inside.size, outdoor)
    outside[elements.first_ground : elements.first_partition] = ground
    between = slice(elements.first_partition, None)
    outside[between] = spaces[elements.other[between]]
    modes = np.zeros(elements.fade.size)
    for e in range(inside.size):
        own = slice(int(elements.mode[e]), int(elements.mode[e + 1]))
        pushed = elements.push_inside[own] * inside[e] + elements.push_outside[own] * outside[e]
        modes[own] = pushed / (1.0 - elements.fade[own])
    return State(
        air=spaces.copy(),
        radiant=spaces.copy(),
        humidity=np.full(spaces.size, min(float(weather.humidity[before].mean()), 0.012)),
        pressure=np.zeros(spaces.size),
        face_inside=inside,
        face_outside=outside,
        modes=modes,
        drying_heat=np.zeros(spaces.size),
    )


def make_work(compiled: Compiled) -> Work:
    """Return the scratch arrays of the hour loop.

    Parameters
    ----------
    compiled : Compiled
        The house as arrays.

    Returns
    -------
    Work
    """
    n, m = compiled.air.volume.size, compiled.elements.area.size
    paths = compiled.air.first.size
    net_paths, net_spaces = make_scratch(n, paths)
    return Work(
        **{name: np.zeros(m) for name in Work._fields[:12]},
        sun_beam=np.zeros(n),
        sun_diffuse=np.zeros(n),
        matrix=np.zeros((2 * n, 2 * n)),
        right=np.zeros(2 * n),
        system=np.zeros((n, n)),
        free=np.zeros(n),
        unit=np.zeros(n),
        inflow=np.zeros((n, n + 1)),
        density=np.zeros(n + 1),
        supply=np.zeros(n),
        flow=np.zeros(paths),
        wind=np.zeros(paths),
        net_paths=net_paths,
        net_spaces=net_spaces,
        output=np.zeros(n),
        drying=np.zeros(n),
        saturated=np.zeros(n),
        used=np.zeros(n),
        past=np.zeros(n),
        made=np.zeros(MADE),
    )
