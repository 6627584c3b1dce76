"""From a house and a year of weather to the arrays of the hour loop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.engine.arrays import (
    CALM,
    HOURS,
    NEVER_FIRED,
    NOT_DRAWN,
    NOT_HEATING,
    WATER_DRAW,
    WHILE_DRAWN,
    WHILE_HEATING,
    Air,
    Elements,
    Paths,
    Plant,
    Weather,
)
from rooftree.engine.climate import (
    Directions,
    Exposure,
    Given,
    Glazing,
    HotWater,
    Light,
    Sun,
    WindFilm,
    WindPressure,
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
from rooftree.engine.paths import lay_paths
from rooftree.engine.plant import make_plant
from rooftree.engine.shading import Projections
from rooftree.engine.sunlight import sun_shares
from rooftree.engine.wind import wall_height
from rooftree.errors import HouseError
from rooftree.house import GROUND, OUTDOORS, Layer, LeakKind, Surface
from rooftree.house.sound import require_sound
from rooftree.weather import HOURS as YEAR_HOURS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from rooftree.engine.imposed import Imposed
    from rooftree.house import House, Leak, Window
    from rooftree.weather import WeatherYear

LAYOUTS_KEPT = 256
"""Sets of surfaces whose arrays are remembered for the variants of a house."""

DISCHARGE = 0.6
"""Discharge coefficient of an opening [-]."""

DOOR_HEIGHT = 2.0
"""Of an opening between two living spaces through which air is exchanged both ways [m]."""

EARTH_FILM = 0.002
"""Vapor that damp earth gives off, by its area and by the difference of humidity
[kg/(s·m²)]: Lewis's relation ``h_c / c_p`` with 2 W/(m²·K) of still air over a floor."""

FLOORS, CEILINGS = 135.0, 45.0
"""Tilt from which a surface is a floor of its space, and below which it is the floor of the
space above [°]."""


@dataclass(frozen=True, slots=True, eq=False)
class Compiled:
    """A house as arrays without lanes, ready to be laid beside others (batch.py).

    Attributes
    ----------
    elements, air, paths, plant : see :mod:`rooftree.engine.arrays`
        What the hour loop reads.
    weather : Weather
        The year, with a column for every direction of the house.
    directions : Directions
        What the columns of the weather are.
    leak_order : ndarray of int64, shape (paths,)
        Position in the house's leaks of each path.
    element_ids : tuple of str
        Ids of surfaces and windows in the order of the elements.
    """

    elements: Elements
    air: Air
    paths: Paths
    plant: Plant
    weather: Weather
    directions: Directions
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


def exposure_of(house: House) -> Exposure:
    """Return how the wind at the station reaches the walls of a house.

    Parameters
    ----------
    house : House
        The house.

    Returns
    -------
    Exposure
    """
    height = max(round(wall_height(house), 2), 1.0)
    return Exposure(height, house.site.terrain, house.site.shelter)


def compile_house(
    house: House, year: WeatherYear, directions: Directions | None = None,
    imposed: Imposed | None = None,
) -> Compiled:  # fmt: skip
    """Turn a house and a year into the arrays of the hour loop.

    Parameters
    ----------
    house : House
        The house.
    year : WeatherYear
        The weather; what depends on it and on directions alone is remembered.
    directions : Directions or None
        Columns of weather that other variants of the house asked for, to share a table
        with them.
    imposed : Imposed or None
        What was measured and replaces what the model would find.

    Returns
    -------
    Compiled

    Raises
    ------
    HouseError
        If the house does not hold together (:func:`rooftree.house.sound.require_sound`), or
        something is imposed on a space that it does not have.
    """
    require_sound(house)
    index = {space.id: i for i, space in enumerate(house.spaces)}
    directions = directions or Directions(exposure_of(house))
    packed, ids = _elements(house, index, directions)
    density = float(np.mean(year.pressure)) / (GAS_CONSTANT * 293.15)
    given = _given(imposed, index)
    air, paths, order = _air(house, index, directions, density, given)
    if imposed is not None:
        air = air._replace(imposed_radiant=np.array([imposed.radiant_fraction]))
    water = _water_column(house, year, directions)
    weather = climate_of(year).table(directions, given)
    plant = make_plant(house, density)._replace(water_column=water)
    return Compiled(packed, air, paths, plant, weather, directions, order, ids)


def _water_column(house: House, year: WeatherYear, directions: Directions) -> int:
    """Return the column of what hot water takes in each month over its mean.

    If the house does not say, it follows the temperature of the mains.
    """
    months = house.use.hot_water_months
    if not months and house.water_heater is not None and year.temperature.size == YEAR_HOURS:
        months = climate_of(year).water_months(house.use.bedrooms)
    return directions.column(HotWater(months)) if months else WATER_DRAW


def _given(imposed: Imposed | None, index: dict[str, int]) -> dict[Given, NDArray[np.float64]]:
    """Return imposed values as columns of the weather."""
    if imposed is None:
        return {}
    parts = {
        "held": imposed.temperature, "wet": imposed.humidity_ratio, "heat": imposed.heat,
        "fan": imposed.supplied,
    }  # fmt: skip
    for what, spaces in parts.items():
        for space in spaces:
            if space not in index:
                message = f"imposed {what} names the space {space}, which the house does not have"
                raise HouseError(message)
    return {
        Given(what, space): np.asarray(values, dtype=float)
        for what, spaces in parts.items()
        for space, values in spaces.items()
    }


def _elements(
    house: House, index: dict[str, int], directions: Directions
) -> tuple[Elements, tuple[str, ...]]:
    """Return the elements as arrays, and their ids.

    Variants of a house mostly have the very same surfaces; what was laid out for one is
    kept for the others, with the surfaces that it stands for.
    """
    parts = (house.surfaces, house.windows, house.spaces)
    known = directions.laid_out.get(tuple(id(part) for part in parts))
    if known is None:
        elements = list(_sorted_elements(house, index))
        ids = tuple((e.surface or e.window).id for e in elements)  # type: ignore[union-attr]
        known = (parts, _pack(elements, len(house.spaces), directions), ids)
        if len(directions.laid_out) >= LAYOUTS_KEPT:
            directions.laid_out.clear()
        directions.laid_out[tuple(id(part) for part in parts)] = known
    return known[1], known[2]


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
    space = index[surface.inside]
    other = -1
    if surface.outside == GROUND:
        layers = layers_to_ground(surface, house.spaces[space].floor_level)
    else:
        layers = interrupted_layers(
            surface.layers,
            surface.framing_fraction,
            surface.void_fraction,
            surface.washed_fraction,
        )
        if surface.outside != OUTDOORS:
            other = index[surface.outside]
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
        index[window.space],
        -1,
        window.tilt,
        window.azimuth,
        surface_response((Layer("glass", resistance, 1.0),)),
        (GLASS_EMITTANCE, GLASS_EMITTANCE),
        (light_lost(window.u_value, gain, panes, window.solar_transmittance), 0.0),
        window=window,
    )


def _pack(elements: list[_Element], spaces: int, directions: Directions) -> Elements:
    """Lay the elements out as arrays; ask for the columns of weather that they need."""
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
    outdoors = elements[:first_ground]
    through = [_glazing(window) for window in windows]
    return Elements(
        count=len(elements),
        windows=len(windows),
        modes=sum(counts),
        first_window=n_out,
        first_ground=first_ground,
        first_partition=first_ground + n_ground,
        area=np.array([e.area for e in elements], dtype=float),
        space=np.array([e.space for e in elements], dtype=np.int64),
        other=np.array([e.other for e in elements], dtype=np.int64),
        sun_column=np.array([_sun_column(e, directions) for e in outdoors], dtype=np.int64),
        film_column=np.array([_film_column(e, directions) for e in outdoors], dtype=np.int64),
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
        **{
            name: np.array([getattr(r, name) for r in responses])
            for name in (
                "last_inside",
                "last_across",
                "last_outside",
                "held_inside",
                "held_outside",
            )
        },
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
        beam_column=_light_columns("beam", through, directions),
        diffuse_column=_light_columns("diffuse", through, directions),
        heat_column=_light_columns("heat", through, directions),
        glass_area=np.array(
            [
                w.area
                * w.shading_factor
                * normal_transmittance(
                    w.u_value, w.solar_heat_gain_coefficient, w.solar_transmittance
                )
                for w in windows
            ]
        ),
        glass_taken=np.array(
            [
                w.shading_factor
                * inward_absorption(w.u_value, w.solar_heat_gain_coefficient, w.solar_transmittance)
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


def _sun_column(element: _Element, directions: Directions) -> int:
    surface = element.surface
    if surface is None or not surface.sun_exposed:
        return CALM
    return directions.column(Sun(*rounded_direction(element.tilt, element.azimuth)))


def _film_column(element: _Element, directions: Directions) -> int:
    if element.surface is not None and not element.surface.wind_exposed:
        return CALM
    direction = rounded_direction(element.tilt, element.azimuth)
    height, terrain, _ = directions.exposure
    return directions.column(WindFilm(*direction, height, terrain))


def _glazing(window: Window) -> Glazing:
    shade = Projections(
        window.width, window.height, window.overhang_depth, window.overhang_gap,
        window.fin_depth, window.fin_gap,
    )  # fmt: skip
    stands_out = window.overhang_depth > 0.0 or window.fin_depth > 0.0
    direction = rounded_direction(window.tilt, window.azimuth)
    return Glazing(*direction, window.panes, shade if stands_out else None)


def _light_columns(part: str, glazings: list[Glazing], directions: Directions) -> NDArray[np.int64]:
    columns = [directions.column(Light(part, glazing)) for glazing in glazings]
    return np.array(columns, dtype=np.int64)


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
    house: House,
    index: dict[str, int],
    directions: Directions,
    density: float,
    given: dict[Given, NDArray[np.float64]],
) -> tuple[Air, Paths, NDArray[np.int64]]:
    """Lay out spaces, leaks, fans and gains."""
    laid = lay_paths(house)
    n = len(house.spaces)
    position = {leak.id: i for i, leak in enumerate(house.leaks)}
    # a flue that fires is two paths: while it burns, and while it does not
    rows = [(k, when) for k, leak in enumerate(laid.leaks) for when in _times(leak)]
    which = np.array([k for k, _ in rows], dtype=np.int64)
    fired = [i for i, (_, when) in enumerate(rows) if when != NEVER_FIRED]
    doors = _doors(house, index)
    volume = np.array([space.volume for space in house.spaces], dtype=float)
    furnishings = np.array([space.capacity for space in house.spaces], dtype=float)
    exhaust, supplied, unrecovered, undried = _fans(house, index)
    convective, radiant, vapor = _gains(house)
    air = Air(
        spaces=n,
        doors=len(doors),
        fired_paths=len(fired),
        living=np.array([space in house.living_spaces for space in house.spaces], dtype=np.int64),
        **{
            f"{what}_column": np.array(
                [_given_column(Given(what, s.id), given, directions) for s in house.spaces],
                dtype=np.int64,
            )
            for what in ("held", "wet", "heat", "fan")
        },
        volume=volume,
        capacity=furnishings + volume * density * HEAT_OF_AIR,
        imposed_radiant=np.zeros(1),
        wind_column=np.array(
            [_wind_column(laid.leaks[k].azimuth, directions) for k in which], dtype=np.int64
        ),
        coefficient=laid.coefficient[which],
        fired=np.array(fired, dtype=np.int64),
        when=np.array([rows[i][1] for i in fired], dtype=np.int64),
        chimney=np.array([laid.leaks[which[i]].chimney for i in fired], dtype=float),
        gas_temperature=np.array(
            [laid.leaks[which[i]].gas_temperature for i in fired], dtype=float
        ),
        door_first=np.array([door[0] for door in doors], dtype=np.int64),
        door_second=np.array([door[1] for door in doors], dtype=np.int64),
        door_size=np.array([door[2] for door in doors], dtype=float),
        exhaust=exhaust,
        supplied=supplied,
        unrecovered=unrecovered,
        undried=undried,
        convective=convective,
        radiant=radiant,
        vapor=vapor,
        evaporation=EARTH_FILM * np.array([s.bare_earth for s in house.spaces], dtype=float),
        buffering=np.array([space.buffering for space in house.spaces], dtype=float),
    )
    paths = Paths(
        spaces=n,
        count=which.size,
        first=laid.first[which],
        second=laid.second[which],
        level=laid.level[which],
        exponent=laid.exponent[which],
    )
    order = np.array([position[laid.leaks[k].id] for k in which], dtype=np.int64)
    return air, paths, order


_FIRED = {
    "": (NEVER_FIRED,),
    "heating": (WHILE_HEATING, NOT_HEATING),
    "water heater": (WHILE_DRAWN, NOT_DRAWN),
}


def _times(leak: Leak) -> tuple[int, ...]:
    """Return when the paths of a leak are open."""
    if leak.fired_by not in _FIRED:
        message = f"leak {leak.id} is fired by {leak.fired_by}; use heating or water heater"
        raise HouseError(message)
    return _FIRED[leak.fired_by if leak.chimney > 0.0 else ""]


def _given_column(
    key: Given, given: dict[Given, NDArray[np.float64]], directions: Directions
) -> int:
    return directions.column(key) if key in given else -1


def _wind_column(azimuth: float | None, directions: Directions) -> int:
    if azimuth is None:
        return CALM
    facade = rounded_direction(90.0, azimuth)[1]
    return directions.column(WindPressure(facade, directions.exposure))


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
    """Return the flows that fans exhaust and supply, and exchange without recovery."""
    flows = {kind: np.zeros((HOURS, len(house.spaces))) for kind in ("exhaust", "supply")}
    unrecovered, undried = (np.zeros((HOURS, len(house.spaces))) for _ in range(2))
    for fan in house.fans:
        space = index[fan.space]
        mean = fan.flow * np.array(fan.hours)
        if fan.kind == "balanced":
            unrecovered[:, space] += (1.0 - fan.recovery) * mean
            undried[:, space] += (1.0 - fan.latent_recovery) * mean
        else:
            flows[fan.kind][:, space] += mean
    return flows["exhaust"], flows["supply"], unrecovered, undried


def _gains(house: House) -> tuple[NDArray[np.float64], ...]:
    """Return convective, radiant [W] and vapor gains [kg/s] by hour of the day and space."""
    use = house.use
    share = np.array([s.floor_area if s in house.living_spaces else 0.0 for s in house.spaces])
    share = share / share.sum() if share.sum() > 0.0 else share
    sensible = np.array(use.sensible_gain, dtype=float)[:, None] * share
    convective = (1.0 - use.radiant_fraction) * sensible
    sources = np.array([space.vapor_source for space in house.spaces])
    hours = np.array(use.vapor_hours or (1.0,) * HOURS)
    vapor = use.vapor_gain * hours[:, None] * share + sources
    return convective, use.radiant_fraction * sensible, vapor
