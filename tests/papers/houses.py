"""Houses of several shapes for the section drawing, and a state to show in them."""

from __future__ import annotations

from dataclasses import replace

from job.jobs import BATT, BOARD, CONCRETE, GYPSUM, make_surface, small_house
from rooftree.house import (
    GROUND,
    OUTDOORS,
    AirHandler,
    Draft,
    DuctRun,
    Fuel,
    Heating,
    House,
    Space,
    SpaceKind,
    Surface,
    WaterHeater,
)
from rooftree.papers.section import SectionState

LIVING, ATTIC, KNEE = SpaceKind.LIVING, SpaceKind.ATTIC, SpaceKind.KNEE_WALL_ATTIC
CRAWL, BASEMENT, GARAGE = SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT, SpaceKind.GARAGE


def _space(key: str, kind: SpaceKind, area: float, floor: float, height: float) -> Space:
    return Space(key, key.replace("-", " "), kind, area, area * height, floor, height)


def _house(spaces: tuple[Space, ...], *surfaces: Surface, **parts: object) -> House:
    bare = replace(small_house(), ducts=(), air_handler=None, heating=None, water_heater=None)
    return replace(bare, spaces=spaces, surfaces=surfaces, leaks=(), windows=(), fans=(), **parts)


def _walls(space: str) -> tuple[Surface, ...]:
    return (
        make_surface(f"{space}-west", "wall", space, OUTDOORS, 20.0, GYPSUM, BATT, BOARD,
                     azimuth=270.0),
        make_surface(f"{space}-east", "wall", space, OUTDOORS, 20.0, GYPSUM, BATT, BOARD,
                     azimuth=90.0),
    )  # fmt: skip


def _ceiling(below: str, above: str, area: float) -> Surface:
    return make_surface(f"{below}-ceiling", "ceiling", below, above, area, GYPSUM, BATT)


def _slab(space: str, area: float) -> Surface:
    return make_surface(f"{space}-slab", "slab", space, GROUND, area, CONCRETE)


def slab_house() -> House:
    """Return one storey on a slab under a vented attic that holds the ducts."""
    return _house(
        (_space("living", LIVING, 110.0, 0.2, 2.4), _space("attic", ATTIC, 110.0, 2.6, 1.0)),
        *_walls("living"),
        _ceiling("living", "attic", 110.0),
        _slab("living", 110.0),
        ducts=(
            DuctRun("s", "supply", "supply", "attic", 20.0, 0.7, 0.1),
            DuctRun("r", "return", "return", "attic", 6.0, 0.7, 0.1),
        ),
        air_handler=AirHandler("attic", 0.4, 300.0),
    )


def cathedral_house() -> House:
    """Return one storey whose sloped ceiling is the roof; no attic at all."""
    return _house(
        (_space("living", LIVING, 90.0, 0.2, 3.0),),
        *_walls("living"),
        make_surface("slope", "roof", "living", OUTDOORS, 100.0, GYPSUM, BATT, BOARD),
        _slab("living", 90.0),
    )


def two_storey_house() -> House:
    """Return two storeys over a basement with burners in it, under an insulated roof."""
    return _house(
        (
            _space("basement", BASEMENT, 70.0, -2.0, 2.3),
            _space("ground-floor", LIVING, 70.0, 0.5, 2.5),
            _space("upper-floor", LIVING, 70.0, 3.2, 2.4),
            _space("attic", ATTIC, 70.0, 5.7, 1.0),
        ),
        *_walls("ground-floor"),
        *_walls("upper-floor"),
        make_surface("floor", "floor", "ground-floor", "basement", 70.0, BOARD),
        make_surface("between", "ceiling", "ground-floor", "upper-floor", 70.0, GYPSUM, BOARD),
        make_surface("top", "ceiling", "upper-floor", "attic", 70.0, GYPSUM),
        make_surface("roof", "roof", "attic", OUTDOORS, 80.0, BATT, BOARD),
        make_surface("basement-wall", "wall", "basement", GROUND, 60.0, CONCRETE, BATT),
        _slab("basement", 70.0),
        heating=Heating("furnace", Fuel.GAS, 20_000.0, 0.8, True, Draft.FAN_ASSISTED, "basement"),
        water_heater=WaterHeater("tank", Fuel.GAS, 0.56, "basement", Draft.NATURAL),
    )


def garage_beside_house() -> House:
    """Return one storey on a crawlspace with a lower garage beside it."""
    return _house(
        (
            _space("living", LIVING, 100.0, 0.9, 2.4),
            _space("attic", ATTIC, 100.0, 3.3, 1.0),
            _space("crawlspace", CRAWL, 100.0, -0.3, 1.2),
            _space("garage", GARAGE, 36.0, 0.0, 2.5),
        ),
        *_walls("living"),
        _ceiling("living", "attic", 100.0),
        make_surface("floor", "floor", "living", "crawlspace", 100.0, BOARD, BATT),
        make_surface("common", "wall", "living", "garage", 15.0, GYPSUM, BATT, GYPSUM),
        _slab("crawlspace", 100.0),
        _slab("garage", 36.0),
        water_heater=WaterHeater("tank", Fuel.GAS, 0.56, "garage", Draft.NATURAL),
    )


def room_over_garage_house() -> House:
    """Return one storey with a room in the roof over the garage."""
    beside = garage_beside_house()
    room = _space("bonus-room", LIVING, 25.0, 2.8, 2.2)
    knee = _space("knee-walls", KNEE, 12.0, 2.8, 1.0)
    return replace(
        beside,
        spaces=(*beside.spaces, room, knee),
        surfaces=(
            *beside.surfaces,
            make_surface("bonus-floor", "floor", "bonus-room", "garage", 25.0, BOARD, BATT),
            make_surface("knee-wall", "wall", "bonus-room", "knee-walls", 16.0, GYPSUM, BATT),
            make_surface("slopes", "roof", "bonus-room", OUTDOORS, 18.0, GYPSUM, BATT, BOARD),
            _ceiling("bonus-room", "knee-walls", 10.0),
            make_surface("knee-floor", "floor", "knee-walls", "garage", 12.0, GYPSUM),
        ),
        ducts=(DuctRun("s", "supply", "supply", "knee-walls", 5.0, 0.7, 0.05),),
        air_handler=AirHandler("crawlspace", 0.4, 300.0),
    )


def storey_and_a_half_house() -> House:
    """Return a storey on a basement with the bedroom between knee walls above it."""
    return _house(
        (
            _space("basement", BASEMENT, 60.0, -1.9, 2.2),
            _space("ground-floor", LIVING, 60.0, 0.5, 2.5),
            _space("bedroom", LIVING, 32.0, 3.2, 2.2),
            _space("knee-walls", KNEE, 28.0, 3.2, 1.0),
        ),
        *_walls("ground-floor"),
        make_surface("floor", "floor", "ground-floor", "basement", 60.0, BOARD, BATT),
        make_surface("between", "ceiling", "ground-floor", "bedroom", 32.0, GYPSUM, BOARD),
        make_surface("eaves", "ceiling", "ground-floor", "knee-walls", 28.0, GYPSUM, BATT),
        make_surface("knee-wall", "wall", "bedroom", "knee-walls", 20.0, GYPSUM, BATT),
        make_surface("slopes", "roof", "bedroom", OUTDOORS, 25.0, GYPSUM, BATT, BOARD),
        _slab("basement", 60.0),
    )


def split_house() -> House:
    """Return two living spaces side by side in one storey, the smaller one a problem room."""
    return _house(
        (
            _space("main-rooms", LIVING, 90.0, 0.6, 2.4),
            _space("sun-room", LIVING, 20.0, 0.6, 2.4),
            _space("attic", ATTIC, 110.0, 3.0, 1.0),
            _space("crawlspace", CRAWL, 110.0, 0.0, 0.6),
        ),
        *_walls("main-rooms"),
        *_walls("sun-room"),
        _ceiling("main-rooms", "attic", 90.0),
        _ceiling("sun-room", "attic", 20.0),
        make_surface("floor-1", "floor", "main-rooms", "crawlspace", 90.0, BOARD),
        make_surface("floor-2", "floor", "sun-room", "crawlspace", 20.0, BOARD),
    )


HOUSES = {
    "slab": slab_house,
    "cathedral": cathedral_house,
    "two storeys": two_storey_house,
    "garage beside": garage_beside_house,
    "room over garage": room_over_garage_house,
    "storey and a half": storey_and_a_half_house,
    "split": split_house,
    "small": small_house,
}


def make_state(house: House, *, flow: float = 0.02, neutral_level: float | None = 1.6) -> (
    SectionState
):  # fmt: skip
    """Return a winter state in which air moves both ways across every boundary."""
    flows: dict[tuple[str, str], float] = {}
    pairs = {
        (surface.inside, surface.outside)
        for surface in house.surfaces
        if surface.outside not in (GROUND, surface.inside)
    }
    for place, (inside, outside) in enumerate(sorted(pairs)):
        flows[(inside, outside)] = flow * (1.0 + 0.1 * place)
        flows[(outside, inside)] = flow * (0.9 + 0.1 * place)
    return SectionState(
        when="7 a.m. on 14 January",
        outdoor_temperature=268.0,
        wind_speed=4.0,
        temperature={
            space.id: 293.0 - 4.0 * (space.kind is not LIVING) - k
            for k, space in enumerate(house.spaces)
        },
        relative_humidity={space.id: 0.41 for space in house.spaces},
        flow=flows,
        neutral_level=neutral_level,
    )
