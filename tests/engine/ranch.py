"""An invented ranch house of six spaces with ducts, fans and machines, for whole-house tests."""

from __future__ import annotations

from rooftree.house import (
    GROUND,
    OUTDOORS,
    AirHandler,
    Cooling,
    Draft,
    DuctRun,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    Leak,
    LeakKind,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    WaterHeater,
    Window,
)

BOARD = Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0)
BATT = Layer("batt", 0.089, 0.042, 10.0, 840.0, role="insulation")
LOOSE_FILL = Layer("loose fill", 0.12, 0.05, 12.0, 840.0, role="insulation")
SHEATHING = Layer("sheathing", 0.0127, 0.12, 500.0, 1630.0)
SIDING = Layer("siding", 0.012, 0.14, 530.0, 900.0)
SHINGLES = Layer("shingles", 0.006, 0.08, 1100.0, 1260.0)
SUBFLOOR = Layer("subfloor", 0.019, 0.12, 540.0, 1630.0)
FLOORING = Layer("oak", 0.019, 0.16, 700.0, 1630.0)
CONCRETE = Layer("concrete", 0.10, 1.7, 2300.0, 900.0)
BLOCK = Layer("block", 0.19, 0.9, 1400.0, 900.0)
FILM = Layer("plastic sheet", 0.001, 0.3)

WALL = (BOARD, BATT, SHEATHING, SIDING)
ATTIC_FLOOR = (BOARD, LOOSE_FILL)
ROOF = (SHEATHING, SHINGLES)
FLOOR = (FLOORING, SUBFLOOR, BATT)
PARTITION = (BOARD, BATT, BOARD)

MAIN, BEDS, BONUS = "main", "beds", "bonus"
ATTIC, CRAWL, GARAGE = "attic", "crawl", "garage"
SIDES = (("north", 0.0), ("east", 90.0), ("south", 180.0), ("west", 270.0))
MORNING = tuple(1.0 if hour in (7, 18) else 0.0 for hour in range(24))


def spaces() -> tuple[Space, ...]:
    """Return three living spaces over a crawlspace and a garage, under an attic."""
    return (
        Space(MAIN, "Main rooms", SpaceKind.LIVING, 80.0, 195.0, 0.6, 2.44, 4.0e6),
        Space(BEDS, "Bedrooms", SpaceKind.LIVING, 50.0, 122.0, 0.6, 2.44, 2.5e6),
        Space(BONUS, "Bonus room", SpaceKind.LIVING, 30.0, 66.0, 2.9, 2.2, 1.5e6),
        Space(ATTIC, "Attic", SpaceKind.ATTIC, 130.0, 130.0, 3.1, 1.0, 1.0e6),
        Space(CRAWL, "Crawlspace", SpaceKind.CRAWLSPACE, 130.0, 90.0, -0.2, 0.7, 1.0e6, 4.0e-5),
        Space(GARAGE, "Garage", SpaceKind.GARAGE, 40.0, 100.0, 0.1, 2.5, 1.0e6),
    )


def _walls() -> tuple[Surface, ...]:
    areas = {MAIN: (22.0, 10.0, 22.0, 8.0), BEDS: (14.0, 9.0, 14.0, 9.0),
             BONUS: (9.0, 10.0, 9.0, 4.0)}  # fmt: skip
    living = tuple(
        Surface(f"{space}-{side}", f"{side} wall", "wall", space, OUTDOORS, area, 90.0, azimuth,
                WALL, framing_fraction=0.23)
        for space, row in areas.items()
        for (side, azimuth), area in zip(SIDES, row, strict=True)
    )  # fmt: skip
    garage = tuple(
        Surface(f"garage-{side}", f"{side} wall", "wall", GARAGE, OUTDOORS, 14.0, 90.0, azimuth,
                (SHEATHING, SIDING))
        for side, azimuth in SIDES
    )  # fmt: skip
    crawl = tuple(
        Surface(f"crawl-{side}", f"{side} wall", "wall", CRAWL, OUTDOORS, 8.0, 90.0, azimuth,
                (BLOCK,))
        for side, azimuth in SIDES
    )  # fmt: skip
    return living + garage + crawl


def _roofs() -> tuple[Surface, ...]:
    attic = tuple(
        Surface(f"roof-{side}", f"{side} roof", "roof", ATTIC, OUTDOORS, 72.0, 25.0, azimuth, ROOF,
                solar_absorptance=0.9)
        for side, azimuth in (("north", 0.0), ("south", 180.0))
    )  # fmt: skip
    gables = tuple(
        Surface(f"gable-{side}", f"{side} gable", "wall", ATTIC, OUTDOORS, 8.0, 90.0, azimuth,
                (SHEATHING, SIDING))
        for side, azimuth in (("east", 90.0), ("west", 270.0))
    )  # fmt: skip
    bonus = tuple(
        Surface(f"bonus-roof-{side}", f"{side} roof", "roof", BONUS, OUTDOORS, 17.0, 35.0, azimuth,
                (BOARD, BATT, *ROOF), framing_fraction=0.12, void_fraction=0.05,
                solar_absorptance=0.9)
        for side, azimuth in (("east", 90.0), ("west", 270.0))
    )  # fmt: skip
    return attic + gables + bonus


def _between() -> tuple[Surface, ...]:
    def surface(name: str, kind: str, inside: str, outside: str, area: float, tilt: float,
                layers: tuple[Layer, ...], framing: float = 0.1) -> Surface:  # fmt: skip
        return Surface(name, name, kind, inside, outside, area, tilt, 0.0, layers,
                       framing_fraction=framing)  # fmt: skip

    return (
        surface("main-ceiling", "ceiling", MAIN, ATTIC, 80.0, 0.0, ATTIC_FLOOR),
        surface("beds-ceiling", "ceiling", BEDS, ATTIC, 50.0, 0.0, ATTIC_FLOOR),
        surface("main-floor", "floor", MAIN, CRAWL, 80.0, 180.0, FLOOR),
        surface("beds-floor", "floor", BEDS, CRAWL, 50.0, 180.0, FLOOR),
        surface("bonus-floor", "floor", BONUS, GARAGE, 30.0, 180.0, FLOOR),
        surface("bonus-knee-wall", "wall", BONUS, ATTIC, 12.0, 90.0, WALL[:2]),
        surface("main-garage", "wall", MAIN, GARAGE, 16.0, 90.0, PARTITION),
        surface("main-beds", "wall", MAIN, BEDS, 24.0, 90.0, (BOARD, BOARD), 0.0),
        surface("main-mass", "wall", MAIN, MAIN, 40.0, 90.0, (BOARD, BOARD), 0.0),
    )


def _ground() -> tuple[Surface, ...]:
    return (
        Surface("crawl-ground", "ground", "floor", CRAWL, GROUND, 130.0, 180.0, 0.0, (FILM,)),
        Surface("slab", "slab", "slab", GARAGE, GROUND, 40.0, 180.0, 0.0, (CONCRETE,),
                perimeter=20.0),
    )  # fmt: skip


def _windows() -> tuple[Window, ...]:
    areas = {MAIN: (4.0, 2.0, 6.0, 2.0), BEDS: (3.0, 2.0, 3.0, 2.0), BONUS: (1.5, 1.0, 1.5, 1.0)}
    return tuple(
        Window(f"{space}-{side}-window", f"{side} window", space, area, 90.0, azimuth, 3.4, 0.67, 2,
               shading_factor=0.8)
        for space, row in areas.items()
        for (side, azimuth), area in zip(SIDES, row, strict=True)
    )  # fmt: skip


def leaks() -> tuple[Leak, ...]:
    """Return cracks to four sides, to buffer spaces and between rooms, and vents."""
    sides = tuple(
        Leak(f"{space}-{side}-crack", f"{side} cracks", space, OUTDOORS, level, azimuth, 0.004)
        for space, level in ((MAIN, 1.8), (BEDS, 1.8), (BONUS, 4.0))
        for side, azimuth in SIDES
    )
    buffers = (
        Leak("ceiling-main", "ceiling", MAIN, ATTIC, 3.04, None, 0.015),
        Leak("ceiling-beds", "ceiling", BEDS, ATTIC, 3.04, None, 0.010),
        Leak("knee-wall", "knee wall", BONUS, ATTIC, 3.5, None, 0.010),
        Leak("floor-main", "floor", MAIN, CRAWL, 0.6, None, 0.012),
        Leak("floor-beds", "floor", BEDS, CRAWL, 0.6, None, 0.008),
        Leak("bonus-garage", "floor of the bonus room", BONUS, GARAGE, 2.9, None, 0.008),
        Leak("main-garage-door", "door to the garage", MAIN, GARAGE, 1.5, None, 0.003),
        Leak("main-beds-door", "hall", MAIN, BEDS, 1.6, None, 1.2, 0.5, LeakKind.HOLE),
        Leak("main-bonus-door", "stair door", MAIN, BONUS, 2.9, None, 0.03, 0.5, LeakKind.CRACK),
    )
    vents = (
        Leak("soffit-north", "soffit", ATTIC, OUTDOORS, 3.0, 0.0, 0.10, 0.5, LeakKind.VENT),
        Leak("soffit-south", "soffit", ATTIC, OUTDOORS, 3.0, 180.0, 0.10, 0.5, LeakKind.VENT),
        Leak("ridge", "ridge vent", ATTIC, OUTDOORS, 4.6, None, 0.10, 0.5, LeakKind.VENT),
        Leak("crawl-north", "vents", CRAWL, OUTDOORS, 0.3, 0.0, 0.06, 0.5, LeakKind.VENT),
        Leak("crawl-south", "vents", CRAWL, OUTDOORS, 0.3, 180.0, 0.06, 0.5, LeakKind.VENT),
        Leak("garage-door", "garage door", GARAGE, OUTDOORS, 0.8, 270.0, 0.05),
    )
    return sides + buffers + vents


def ranch() -> House:
    """Return the house as found: leaky ducts in the crawlspace, furnace, air conditioner."""
    return House(
        name="A ranch house",
        site=Site(36.1, -79.95, 270.0),
        spaces=spaces(),
        surfaces=(*_walls(), *_roofs(), *_between(), *_ground()),
        windows=_windows(),
        leaks=leaks(),
        use=Use(
            3, 3, (293.15,) * 24, (298.15,) * 24, (500.0,) * 24, vapor_gain=1.0e-4,
            electricity=700.0, hot_water_heat=350.0, cooking_gas=30.0,
        ),
        ducts=(
            DuctRun("supply-crawl", "supply", "supply", CRAWL, 30.0, 0.9, 0.10),
            DuctRun("supply-garage", "supply", "supply", GARAGE, 6.0, 0.9, 0.02),
            DuctRun("return-crawl", "return", "return", CRAWL, 12.0, 0.5, 0.08),
        ),
        air_handler=AirHandler(CRAWL, 0.52, 400.0),
        heating=Heating("furnace", Fuel.GAS, 20000.0, 0.78, draft=Draft.FAN_ASSISTED),
        cooling=Cooling("air conditioner", 10500.0, 3.4),
        water_heater=WaterHeater("tank", Fuel.GAS, 0.58, MAIN, Draft.NATURAL, 120.0),
        fans=(
            Fan("bath", "bath fan", "exhaust", BEDS, 0.03, MORNING, 30.0, purpose="bath"),
            Fan("range", "range hood", "exhaust", MAIN, 0.08, MORNING, 90.0, purpose="kitchen"),
        ),
    )  # fmt: skip
