"""The invented demo house, as it truly is and as its assessor would describe it.

Everything here is made up: the people, the street, the house and every defect. The house
is a one-storey ranch of 1961 in Greensboro, North Carolina, with a bonus room added over
the attached garage, a vented crawlspace that holds the ducts, and a natural-draft water
heater in a utility closet.
"""

from __future__ import annotations

import math
from dataclasses import replace

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
from rooftree.known import How, Known

FOOT = 0.3048
SQUARE_FOOT = FOOT**2
R_VALUE = 0.1761
"""One h·ft²·°F/Btu [m²·K/W]."""

NORTH, EAST, SOUTH, WEST = 0.0, 90.0, 180.0, 270.0

MAIN_LENGTH, MAIN_DEPTH = 50.0 * FOOT, 32.8 * FOOT
GARAGE_LENGTH, GARAGE_DEPTH = 22.0 * FOOT, 20.0 * FOOT
FLOOR_LEVEL = 2.6 * FOOT
CEILING = 8.0 * FOOT
BONUS_LEVEL = 9.2 * FOOT
BONUS_DEPTH = 13.0 * FOOT
KNEE_WALL = 4.0 * FOOT
ROOF_TILT = 22.6
"""Degrees; a pitch of 5 in 12."""

SEEN = Known(How.OBSERVED, "seen at the visit")
TAPED = Known(How.MEASURED, "tape")
TOLD = Known(How.TOLD, "owner")
GUESS = Known(How.ASSUMED, "usual for a house of 1961 in this region")


def wood(name: str, thickness: float) -> Layer:
    """Return a layer of softwood [m]."""
    return Layer(name, thickness, 0.12, 510.0, 1380.0)


def gypsum() -> Layer:
    """Return half an inch of gypsum board."""
    return Layer("gypsum board 1/2 in", 0.0127, 0.16, 800.0, 1090.0)


def insulation(name: str, thickness: float, resistance: float) -> Layer:
    """Return an insulation layer of this thickness [m] and resistance [m²·K/W]."""
    return Layer(name, thickness, thickness / resistance, 12.0, 840.0, role="insulation")


def brick() -> Layer:
    """Return a brick veneer."""
    return Layer("brick veneer", 0.09, 0.9, 1900.0, 800.0)


WALL = (
    gypsum(),
    insulation("thin slumped batt in 2x4 cavity", 0.089, 5.0 * R_VALUE),
    Layer("fibreboard sheathing", 0.0127, 0.055, 290.0, 1300.0),
    Layer("air gap", 0.025, 0.025 / (0.97 * R_VALUE)),
    brick(),
)
GARAGE_WALL = (gypsum(), insulation("empty cavity", 0.089, 1.0 * R_VALUE), gypsum())
BARE_FRAME_WALL = (wood("sheathing and siding", 0.022),)
CEILING_LAYERS = (gypsum(), insulation("batts 3 1/2 in", 0.089, 11.0 * R_VALUE))
FLOOR_LAYERS = (
    wood("oak floor", 0.019),
    wood("board subfloor", 0.019),
    insulation("batts hanging from joists", 0.089, 8.0 * R_VALUE),
)
BONUS_FLOOR = (
    Layer("carpet and pad", 0.02, 0.06, 200.0, 1300.0),
    wood("subfloor", 0.019),
    insulation("batts in open joist bays", 0.14, 13.0 * R_VALUE),
    gypsum(),
)
ROOF = (wood("deck", 0.0159), Layer("asphalt shingles", 0.006, 0.16, 1100.0, 1260.0))
BLOCK = (Layer("concrete block 8 in", 0.2, 0.85, 1100.0, 840.0),)
SLAB = (Layer("concrete slab", 0.1, 1.4, 2300.0, 880.0),)
SOIL = (Layer("soil", 0.15, 1.4, 1700.0, 1000.0),)
DOOR = (wood("door", 0.044),)
PARTITION = (gypsum(), Layer("cavity", 0.089, 0.5), gypsum())


def spaces() -> tuple[Space, ...]:
    """Return the six bodies of air."""
    main = MAIN_LENGTH * MAIN_DEPTH
    garage = GARAGE_LENGTH * GARAGE_DEPTH
    bonus = GARAGE_LENGTH * BONUS_DEPTH
    knee_floor = garage - bonus
    attic_height = 0.5 * MAIN_DEPTH * math.tan(math.radians(ROOF_TILT))
    known = {"floor_area": TAPED, "volume": TAPED, "height": TAPED}
    return (
        Space("living", "living space", SpaceKind.LIVING, main, main * CEILING, FLOOR_LEVEL,
              CEILING, capacity=main * 40_000.0, known=known),
        Space("bonus", "bonus room", SpaceKind.LIVING, bonus, bonus * 2.2, BONUS_LEVEL, 2.2,
              capacity=bonus * 30_000.0, known=known),
        Space("attic", "attic", SpaceKind.ATTIC, main, 0.5 * main * attic_height,
              FLOOR_LEVEL + CEILING, 0.5 * attic_height, known={"floor_area": TAPED}),
        Space("knee", "attic behind the knee walls", SpaceKind.KNEE_WALL_ATTIC, knee_floor,
              knee_floor * 0.8, BONUS_LEVEL, 1.0, known={"floor_area": TAPED, "volume": SEEN}),
        Space("crawl", "crawlspace", SpaceKind.CRAWLSPACE, main, main * 2.4 * FOOT, 0.0,
              2.4 * FOOT, vapor_source=22.0 / 86_400.0,
              known={"floor_area": TAPED, "vapor_source": Known(
                  How.ASSUMED, "bare damp soil; between published rates for open ground")}),
        Space("garage", "garage", SpaceKind.GARAGE, garage, garage * 8.6 * FOOT, 0.0,
              8.6 * FOOT, known=known),
    )  # fmt: skip


def walls() -> list[Surface]:
    """Return the outside walls and doors of the living spaces."""
    door = 20.0 * SQUARE_FOOT
    made = []
    for name, azimuth, length, glass in (
        ("north", NORTH, MAIN_LENGTH, 60.0),
        ("south", SOUTH, MAIN_LENGTH, 96.0),
        ("west", WEST, MAIN_DEPTH, 30.0),
        ("east", EAST, MAIN_DEPTH - GARAGE_DEPTH, 12.0),
    ):
        opening = glass * SQUARE_FOOT + (door if azimuth in (NORTH, SOUTH) else 0.0)
        made.append(
            Surface(f"wall-{name}", f"{name} wall", "wall", "living", OUTDOORS,
                    length * CEILING - opening, 90.0, azimuth, WALL, framing_fraction=0.22,
                    void_fraction=0.2, solar_absorptance=0.7,
                    known={"area": TAPED, "layers": Known(How.OBSERVED, "probe at two outlets")})
        )  # fmt: skip
    for name, azimuth in (("front", SOUTH), ("back", NORTH)):
        made.append(
            Surface(f"door-{name}", f"{name} door", "door", "living", OUTDOORS, door, 90.0,
                    azimuth, DOOR, known={"area": TAPED})
        )  # fmt: skip
    made.append(
        Surface("wall-garage", "wall to the garage", "wall", "living", "garage",
                GARAGE_DEPTH * CEILING - door, 90.0, EAST, GARAGE_WALL, framing_fraction=0.22,
                known={"area": TAPED, "layers": Known(How.NOT_SEEN, "closed wall, painted")})
    )  # fmt: skip
    made.append(
        Surface("door-garage", "door to the garage", "door", "living", "garage", door, 90.0,
                EAST, DOOR, known={"area": TAPED})
    )  # fmt: skip
    for name, azimuth in (("east", EAST), ("west", WEST)):
        made.append(
            Surface(f"bonus-gable-{name}", f"{name} gable of the bonus room", "wall", "bonus",
                    OUTDOORS, BONUS_DEPTH * 2.2 - 12.0 * SQUARE_FOOT, 90.0, azimuth,
                    (gypsum(), insulation("batt", 0.089, 9.0 * R_VALUE), *BARE_FRAME_WALL),
                    framing_fraction=0.2, void_fraction=0.08, known={"area": TAPED})
        )  # fmt: skip
    return made


def between_spaces() -> list[Surface]:
    """Return the surfaces that part the living spaces from buffer spaces and each other."""
    main = MAIN_LENGTH * MAIN_DEPTH
    bonus = GARAGE_LENGTH * BONUS_DEPTH
    slope = 1.6
    return [
        Surface("ceiling", "ceiling under the attic", "ceiling", "living", "attic", main, 0.0,
                0.0, CEILING_LAYERS, framing_fraction=0.09, void_fraction=0.12,
                known={"area": TAPED, "layers": Known(
                    How.MEASURED, "depth at five places, ruler in the picture"),
                    "void_fraction": Known(How.OBSERVED, "gaps over the hall and at the eaves")}),
        Surface("floor", "floor over the crawlspace", "floor", "living", "crawl", main, 180.0,
                0.0, FLOOR_LAYERS, framing_fraction=0.1, void_fraction=0.35,
                known={"area": TAPED, "void_fraction": Known(
                    How.OBSERVED, "a third of the batts hang loose or have fallen")}),
        Surface("bonus-floor", "floor over the garage", "floor", "bonus", "garage", bonus, 180.0,
                0.0, BONUS_FLOOR, framing_fraction=0.1, void_fraction=0.7,
                known={"layers": Known(How.OBSERVED, "through a hole in the garage ceiling"),
                       "void_fraction": Known(
                           How.ASSUMED, "joist bays open to the knee-wall attic")}),
        Surface("knee-wall-north", "north knee wall", "wall", "bonus", "knee",
                GARAGE_LENGTH * KNEE_WALL, 90.0, NORTH,
                (gypsum(), insulation("batt, open back", 0.089, 8.0 * R_VALUE)),
                framing_fraction=0.15, void_fraction=0.55, known={"area": TAPED}),
        Surface("knee-wall-south", "south knee wall", "wall", "bonus", "knee",
                GARAGE_LENGTH * KNEE_WALL, 90.0, SOUTH,
                (gypsum(), insulation("batt, open back", 0.089, 8.0 * R_VALUE)),
                framing_fraction=0.15, void_fraction=0.55, known={"area": TAPED}),
        Surface("bonus-slope-north", "north sloped ceiling", "roof", "bonus", OUTDOORS,
                GARAGE_LENGTH * slope, 40.0, NORTH,
                (gypsum(), insulation("batt in rafters", 0.14, 13.0 * R_VALUE), *ROOF),
                framing_fraction=0.12, void_fraction=0.08, solar_absorptance=0.88,
                known={"layers": Known(How.NOT_SEEN, "closed slope; thickness from the rafters")}),
        Surface("bonus-slope-south", "south sloped ceiling", "roof", "bonus", OUTDOORS,
                GARAGE_LENGTH * slope, 40.0, SOUTH,
                (gypsum(), insulation("batt in rafters", 0.14, 13.0 * R_VALUE), *ROOF),
                framing_fraction=0.12, void_fraction=0.08, solar_absorptance=0.88,
                known={"layers": Known(How.NOT_SEEN, "closed slope; thickness from the rafters")}),
        Surface("bonus-ceiling", "flat ceiling of the bonus room", "ceiling", "bonus", "knee",
                GARAGE_LENGTH * 1.5, 0.0, 0.0,
                (gypsum(), insulation("batts", 0.14, 15.0 * R_VALUE)), framing_fraction=0.09,
                void_fraction=0.35, known={"area": TAPED}),
        Surface("stair-wall", "wall between house and bonus room stair", "partition", "living",
                "bonus", 9.0, 90.0, EAST, PARTITION),
        Surface("partitions", "inside walls", "partition", "living", "living", 130.0, 90.0, 0.0,
                PARTITION),
        Surface("knee-floor", "garage ceiling under the knee-wall attic", "ceiling", "knee",
                "garage", GARAGE_LENGTH * (GARAGE_DEPTH - BONUS_DEPTH), 180.0, 0.0, (gypsum(),)),
    ]  # fmt: skip


def buffer_surfaces() -> list[Surface]:
    """Return the surfaces that part buffer spaces from outdoors and the ground."""
    main = MAIN_LENGTH * MAIN_DEPTH
    attic_rise = 0.5 * MAIN_DEPTH * math.tan(math.radians(ROOF_TILT))
    made = [
        Surface("roof-north", "north roof", "roof", "attic", OUTDOORS, 0.5 * main / math.cos(
            math.radians(ROOF_TILT)), ROOF_TILT, NORTH, ROOF, solar_absorptance=0.88),
        Surface("roof-south", "south roof", "roof", "attic", OUTDOORS, 0.5 * main / math.cos(
            math.radians(ROOF_TILT)), ROOF_TILT, SOUTH, ROOF, solar_absorptance=0.88),
        Surface("attic-gable-west", "west gable", "wall", "attic", OUTDOORS,
                0.5 * MAIN_DEPTH * attic_rise, 90.0, WEST, BARE_FRAME_WALL),
        Surface("attic-gable-east", "east gable", "wall", "attic", OUTDOORS,
                0.3 * MAIN_DEPTH * attic_rise, 90.0, EAST, BARE_FRAME_WALL),
        Surface("knee-roof-north", "north roof over the knee-wall attic", "roof", "knee",
                OUTDOORS, GARAGE_LENGTH * 1.9, 40.0, NORTH, ROOF, solar_absorptance=0.88),
        Surface("knee-roof-south", "south roof over the knee-wall attic", "roof", "knee",
                OUTDOORS, GARAGE_LENGTH * 1.9, 40.0, SOUTH, ROOF, solar_absorptance=0.88),
        Surface("knee-gable-east", "east gable of the knee-wall attic", "wall", "knee",
                OUTDOORS, 3.0, 90.0, EAST, BARE_FRAME_WALL),
        Surface("crawl-ground", "ground in the crawlspace", "slab", "crawl", GROUND, main, 180.0,
                0.0, SOIL, perimeter=2.0 * (MAIN_LENGTH + MAIN_DEPTH)),
        Surface("garage-slab", "garage slab", "slab", "garage", GROUND,
                GARAGE_LENGTH * GARAGE_DEPTH, 180.0, 0.0, SLAB,
                perimeter=2.0 * GARAGE_LENGTH + GARAGE_DEPTH),
        Surface("garage-door", "garage door", "door", "garage", OUTDOORS, 112.0 * SQUARE_FOOT,
                90.0, SOUTH, (wood("steel and wood door", 0.03),)),
    ]  # fmt: skip
    for name, azimuth, length in (
        ("north", NORTH, MAIN_LENGTH), ("south", SOUTH, MAIN_LENGTH),
        ("west", WEST, MAIN_DEPTH), ("east", EAST, MAIN_DEPTH - GARAGE_DEPTH),
    ):  # fmt: skip
        made.append(
            Surface(f"crawl-wall-{name}", f"{name} crawlspace wall", "wall", "crawl", OUTDOORS,
                    length * FLOOR_LEVEL, 90.0, azimuth, BLOCK)
        )  # fmt: skip
    for name, azimuth, area in (
        ("north", NORTH, GARAGE_LENGTH * 2.6), ("east", EAST, GARAGE_DEPTH * 2.6),
        ("south", SOUTH, GARAGE_LENGTH * 2.6 - 112.0 * SQUARE_FOOT),
    ):  # fmt: skip
        made.append(
            Surface(f"garage-wall-{name}", f"{name} garage wall", "wall", "garage", OUTDOORS,
                    area, 90.0, azimuth, (*BARE_FRAME_WALL, Layer("air gap", 0.025, 0.15), brick()))
        )  # fmt: skip
    return made


def windows() -> tuple[Window, ...]:
    """Return the windows by side, single glass with storms or not."""
    single, storm = (5.6, 0.70, 1), (2.9, 0.62, 2)
    rows = (
        ("living-north", "north windows", "living", 60.0, NORTH, storm, 0.75),
        ("living-south", "south windows", "living", 96.0, SOUTH, single, 0.6),
        ("living-west", "west windows", "living", 30.0, WEST, single, 0.7),
        ("living-east", "east window", "living", 12.0, EAST, storm, 0.7),
        ("bonus-east", "east window of the bonus room", "bonus", 12.0, EAST, single, 0.85),
        ("bonus-west", "west window of the bonus room", "bonus", 12.0, WEST, single, 0.85),
    )
    return tuple(
        Window(f"window-{key}", name, space, area * SQUARE_FOOT, 90.0, azimuth, u, shgc, panes,
               shade, known={"area": TAPED, "u_value": GUESS})
        for key, name, space, area, azimuth, (u, shgc, panes), shade in rows
    )  # fmt: skip


def cracks(scale: float = 1.0) -> list[Leak]:
    """Return the cracks of the living spaces; `scale` multiplies every coefficient."""
    top = FLOOR_LEVEL + CEILING
    made = []
    for name, azimuth, weight in (
        ("north", NORTH, 1.1), ("south", SOUTH, 1.2), ("west", WEST, 0.7), ("east", EAST, 0.35),
    ):  # fmt: skip
        for where, level in (("sill", FLOOR_LEVEL + 0.1), ("head", top - 0.3)):
            made.append(
                Leak(f"crack-{name}-{where}", f"cracks of the {name} wall at the {where}",
                     "living", OUTDOORS, level, azimuth, 0.0042 * weight * scale, 0.66)
            )  # fmt: skip
    made += [
        Leak("bypass-ceiling", "ceiling bypasses and light fittings", "living", "attic", top,
             None, 0.034 * scale, 0.6),
        Leak("hatch", "attic hatch without gasket", "living", "attic", top, None,
             0.0035 * scale, 0.55),
        Leak("floor-holes", "pipe and wire holes in the floor", "living", "crawl", FLOOR_LEVEL,
             None, 0.021 * scale, 0.62),
        Leak("garage-wall", "cracks in the wall to the garage", "living", "garage",
             FLOOR_LEVEL + 1.0, None, 0.0052 * scale, 0.65),
        Leak("garage-door-gap", "gap around the door to the garage", "living", "garage",
             FLOOR_LEVEL + 1.0, None, 0.003 * scale, 0.55),
        Leak("crack-bonus-east", "cracks of the east gable", "bonus", OUTDOORS, BONUS_LEVEL + 1.1,
             EAST, 0.0022 * scale, 0.66),
        Leak("crack-bonus-west", "cracks of the west gable", "bonus", OUTDOORS, BONUS_LEVEL + 1.1,
             WEST, 0.0022 * scale, 0.66),
        Leak("bonus-joists", "open joist bays of the bonus room floor", "bonus", "knee",
             BONUS_LEVEL, None, 0.0325 * scale, 0.55),
        Leak("bonus-garage", "cracks in the floor over the garage", "bonus", "garage",
             BONUS_LEVEL, None, 0.0045 * scale, 0.62),
        Leak("knee-cracks", "cracks and doors of the knee walls", "bonus", "knee",
             BONUS_LEVEL + 0.7, None, 0.017 * scale, 0.62),
    ]  # fmt: skip
    return made


def vent(key: str, name: str, space: str, level: float, azimuth: float | None, area: float) -> Leak:
    """Return a vent of this net free area [m²] as a sharp-edged hole."""
    coefficient = 0.6 * area * math.sqrt(2.0 / 1.2041)
    return Leak(key, name, space, OUTDOORS, level, azimuth, coefficient, 0.5, LeakKind.VENT,
                known={"coefficient": Known(How.MEASURED, "net free area by tape")})  # fmt: skip


def openings() -> list[Leak]:
    """Return vents, flue and doors: what the fan test does not scale."""
    eave = FLOOR_LEVEL + CEILING
    return [
        vent("soffit-north", "north soffit vents, half painted shut", "attic", eave, NORTH, 0.055),
        vent("soffit-south", "south soffit vents, half painted shut", "attic", eave, SOUTH, 0.055),
        vent("gable-vent-west", "west gable vent", "attic", eave + 1.3, WEST, 0.07),
        vent("knee-soffit-north", "north soffit of the garage wing", "knee", BONUS_LEVEL, NORTH,
             0.03),
        vent("knee-soffit-south", "south soffit of the garage wing", "knee", BONUS_LEVEL, SOUTH,
             0.03),
        vent("crawl-vents-north", "north crawlspace vents", "crawl", 0.4, NORTH, 0.045),
        vent("crawl-vents-south", "south crawlspace vents", "crawl", 0.4, SOUTH, 0.045),
        vent("crawl-vents-west", "west crawlspace vents", "crawl", 0.4, WEST, 0.025),
        vent("garage-south", "gaps of the garage door, south", "garage", 0.1, SOUTH, 0.03),
        vent("garage-eave", "gaps at the garage eave, north", "garage", 2.4, NORTH, 0.02),
        Leak("flue", "draft hood and vent of the water heater", "living", OUTDOORS, 6.5, None,
             0.6 * 0.0045 * math.sqrt(2.0 / 1.2041), 0.5, LeakKind.FLUE,
             known={"coefficient": Known(How.MEASURED, "3 in vent")}),
        Leak("stair-door", "gap around the door to the bonus room stair", "living", "bonus",
             BONUS_LEVEL - 0.4, None, 0.6 * 0.03 * math.sqrt(2.0 / 1.2041), 0.5, LeakKind.HOLE),
    ]  # fmt: skip


def day(*spans: tuple[int, float]) -> tuple[float, ...]:
    """Return 24 hourly values from (number of hours, value) spans."""
    return tuple(value for hours, value in spans for _ in range(hours))


def use() -> Use:
    """Return four people who like 68 °F in winter and 75 °F in summer."""
    gain = 680.0
    return Use(
        people=4,
        bedrooms=3,
        heating_setpoint=day((6, 291.48), (16, 293.15), (2, 292.04)),
        cooling_setpoint=day((24, 297.04)),
        sensible_gain=day((6, 0.65 * gain), (3, 1.3 * gain), (7, 0.75 * gain), (6, 1.6 * gain),
                          (2, 0.9 * gain)),
        radiant_fraction=0.45,
        vapor_gain=9.0 / 86_400.0,
        electricity=690.0,
        hot_water_heat=330.0,
        cooking_gas=45.0,
        known={"people": TOLD, "heating_setpoint": TOLD, "cooling_setpoint": TOLD,
               "sensible_gain": GUESS, "hot_water_heat": GUESS},
    )  # fmt: skip


def true_house() -> House:
    """Return the house as it truly is; only the engine and the demo script know it."""
    cubic_foot_minute = 0.3048**3 / 60.0
    return House(
        name="ranch of 1961 with a bonus room",
        site=Site(36.1, -79.95, 273.0, "suburban", 0.6,
                  known={"latitude": SEEN, "shelter": SEEN, "terrain": SEEN}),
        spaces=spaces(),
        surfaces=tuple(walls() + between_spaces() + buffer_surfaces()),
        use=use(),
        windows=windows(),
        leaks=tuple(cracks() + openings()),
        ducts=(
            DuctRun("supply-crawl", "supply ducts in the crawlspace", "supply", "crawl", 30.0,
                    4.2 * R_VALUE, 0.11),
            DuctRun("supply-garage", "supply duct to the bonus room", "supply", "knee", 5.0,
                    4.2 * R_VALUE, 0.03),
            DuctRun("return-crawl", "return duct in the crawlspace", "return", "crawl", 9.0,
                    3.0 * R_VALUE, 0.09),
        ),
        air_handler=AirHandler("crawl", 1080.0 * cubic_foot_minute, 560.0,
                               known={"flow": Known(How.MEASURED, "flow plate at the filter"),
                                      "power": Known(How.MEASURED, "clamp meter")}),
        heating=Heating("furnace", Fuel.GAS, 18_500.0, 0.78, True, Draft.FAN_ASSISTED, "crawl",
                        known={"capacity": Known(How.OBSERVED, "plate"), "efficiency": Known(
                            How.OBSERVED, "plate; 24 years old")}),
        cooling=Cooling("air conditioner", 10_500.0, 2.9, 0.74, True,
                        known={"capacity": Known(How.OBSERVED, "plate; 19 years old")}),
        water_heater=WaterHeater("tank", Fuel.GAS, 0.56, "living", Draft.NATURAL, 60.0,
                                 known={"kind": Known(How.OBSERVED, "plate; 14 years old"),
                                        "efficiency": GUESS}),
        fans=(
            Fan("bath-fan", "bath fan", "exhaust", "living", 21.0 * cubic_foot_minute,
                day((6, 0.0), (2, 0.5), (12, 0.0), (2, 0.3), (2, 0.0)), 30.0, purpose="bath",
                known={"flow": Known(How.MEASURED, "flow box")}),
            Fan("dryer", "clothes dryer", "exhaust", "living", 120.0 * cubic_foot_minute,
                day((10, 0.0), (2, 0.3), (12, 0.0)), 0.0, purpose="dryer",
                known={"flow": GUESS}),
        ),
    )  # fmt: skip


def recorded_house() -> House:
    """Return the house as the assessor describes it, cracks still guessed by place."""
    house = true_house()
    guessed = {crack.id: crack for crack in cracks(0.8)}
    uneven = {"bypass-ceiling": 0.75, "floor-holes": 1.3, "bonus-joists": 0.6}
    leaks = tuple(
        replace(
            leak,
            coefficient=guessed[leak.id].coefficient * uneven.get(leak.id, 1.0),
            exponent=0.65,
            known={"coefficient": Known(How.ASSUMED, "shared out by place; the fan test scales")},
        )
        if leak.id in guessed
        else leak
        for leak in house.leaks
    )
    surface = sum(run.area for run in house.ducts)
    ducts = tuple(
        replace(run, leakage=0.3 * run.area / surface, known={
            "area": TAPED, "resistance": SEEN,
            "leakage": Known(How.ASSUMED, "shared out by surface; the duct tests scale")})
        for run in house.ducts
    )  # fmt: skip
    return replace(house, leaks=leaks, ducts=ducts)
