"""The residential test house of NREL/TP-472-7332 (ANSI/ASHRAE Standard 140, L cases)."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from rooftree.house import (
    OUTDOORS,
    Cooling,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    Window,
)

if TYPE_CHECKING:
    from collections.abc import Mapping

FOOT, INCH = 0.3048, 0.0254
SQUARE_FOOT, CUBIC_FOOT = FOOT**2, FOOT**3
CONDUCTIVITY = 1.730735
"""Of one Btu/(h·ft·°F) [W/(m·K)]."""
DENSITY, SPECIFIC_HEAT, RESISTANCE = 16.01846, 4186.8, 0.1761102
"""Of one lb/ft³, one Btu/(lb·°F) and one h·ft²·°F/Btu in SI."""
BTU = 1055.056
EVAPORATION = 2.45e6

LENGTH, WIDTH, WALL_HEIGHT, RIDGE = 57.0, 27.0, 8.0, 4.5
FLOOR_AREA, SLOPE_LENGTH = LENGTH * WIDTH, 14.23
WINDOW_AREA, DOOR_AREA = 15.0, 20.0
SIDES = {"north": (0.0, LENGTH), "south": (180.0, LENGTH), "east": (90.0, WIDTH),
         "west": (270.0, WIDTH)}  # fmt: skip
DOORS = {"north": 1, "south": 1, "east": 0, "west": 0}
EVENLY = {"north": 6, "south": 6, "east": 3, "west": 3}
ALWAYS = (1.0,) * 24

PROFILE = (
    0.1386, 0.1386, 0.1386, 0.1386, 0.1386, 0.2315, 0.2909, 0.5818, 0.3394, 0.2077, 0.2077, 0.2770,
    0.2077, 0.1732, 0.1801, 0.1801, 0.2633, 0.2840, 0.3048, 0.4779, 0.4779, 0.4989, 0.4989, 0.4503,
)  # fmt: skip
"""Gains of each hour of the day [10 000 Btu/h]."""

LATENT, RADIANT = 0.178, 0.5754
"""Shares of all gains [-]."""


def fahrenheit(value: float) -> float:
    """Return a temperature in kelvin."""
    return (value - 32.0) / 1.8 + 273.15


def layer(
    name: str, inches: float, conductivity: float, density: float = 0.0, heat: float = 0.0
) -> Layer:
    """Return a layer from the units of the report: in, Btu/(h·ft·°F), lb/ft³, Btu/(lb·°F)."""
    return Layer(name, inches * INCH, conductivity * CONDUCTIVITY, density * DENSITY,
                 heat * SPECIFIC_HEAT)  # fmt: skip


def resistance(name: str, value: float) -> Layer:
    """Return a layer without mass from its resistance [h·ft²·°F/Btu]."""
    return Layer(name, 1.0, 1.0 / (value * RESISTANCE))


def wood(inches: float) -> Layer:
    """Return framing."""
    return layer("framing", inches, 0.0668, 32.0, 0.33)


GYPSUM = layer("gypsum", 0.5, 0.0926, 50.0, 0.26)
FIBERBOARD = layer("fiberboard", 0.5, 0.0316, 18.0, 0.31)
SIDING = layer("siding", 0.4375, 0.0547, 40.0, 0.28)
PLYWOOD_HALF = layer("plywood", 0.5, 0.0667, 34.0, 0.29)
PLYWOOD = layer("plywood", 0.75, 0.0667, 34.0, 0.29)
SHINGLE = layer("shingle", 0.25, 0.0473, 70.0, 0.30)
CARPET = resistance("carpet and pad", 2.08)
DOOR = layer("solid wood", 1.75, 0.0669, 32.0, 0.33)
FOAM = layer("polyisocyanurate", 1.0, 0.0116, 2.0, 0.22)
DEEP_BATT = layer("batt above", 12.0, 0.0260, 0.6, 0.20)
CAVITY = resistance("cavity", 0.9)


@dataclass(frozen=True, slots=True)
class Framed:
    """A surface whose insulation is interrupted: layers of both paths, share of framing."""

    insulated: tuple[Layer, ...]
    framed: tuple[Layer, ...]
    framing: float

    def parts(self, surface: Surface) -> tuple[Surface, Surface]:
        """Return the surface cut in two that lie side by side."""
        clear = 1.0 - self.framing
        return (
            replace(surface, layers=self.insulated, area=surface.area * clear),
            replace(surface, id=f"{surface.id} framing", layers=self.framed,
                    area=surface.area * self.framing),
        )  # fmt: skip


WALL = Framed(
    (GYPSUM, layer("batt", 3.5, 0.0266, 0.6, 0.20), FIBERBOARD, SIDING),
    (GYPSUM, wood(3.5), FIBERBOARD, SIDING),
    0.25,
)
BETTER_WALL = Framed(
    (GYPSUM, layer("batt", 5.5, 0.0276, 0.6, 0.20), FOAM, SIDING),
    (GYPSUM, wood(5.5), FOAM, SIDING),
    0.22,
)
"""Studs 24 in apart take up 22 % (recalled)."""
CEILING = Framed(
    (GYPSUM, layer("batt", 6.25, 0.0276, 0.6, 0.20)),
    (GYPSUM, wood(5.5)),
    0.10,
)
BETTER_CEILING = Framed(
    (*CEILING.insulated, DEEP_BATT), (GYPSUM, wood(5.5), DEEP_BATT), 0.10
)  # fmt: skip
RAISED_FLOOR = Framed(
    (CARPET, PLYWOOD, layer("batt", 3.5, 0.0266, 0.6, 0.20)),
    (CARPET, PLYWOOD, wood(3.5)),
    0.10,
)
STILL_FILM = 0.455
"""Film that the engine adds below a floor without sun and wind, as under the raised floor
[h·ft²·°F/Btu]; the slab's loss to outdoor air is given without one."""
SLAB = (CARPET, resistance("ground", 6.564 - STILL_FILM))
PARTITION = Framed((GYPSUM, CAVITY, GYPSUM), (GYPSUM, wood(3.5), GYPSUM), 0.10)
PARTITION_AREA = 1024.0

GLASS_U, GLASS_GAIN, GLASS_SHARE = 1.039, 0.670, 10.96 / 15.0
"""Whole window: U-value [Btu/(h·ft²·°F)] and gain (recalled), share of glass (given)."""
TRANSMITTANCE = 0.837 * GLASS_SHARE


def facing(side: str, space: str, kind: str, area: float, **changes: Any) -> Surface:
    """Return an upright surface on one side, its area in square feet."""
    return Surface(
        f"{side} {kind}", f"{side} {kind}", kind, space, OUTDOORS, area * SQUARE_FOOT, 90.0,
        SIDES[side][0], solar_absorptance=0.6, **changes,
    )  # fmt: skip


def walls_and_doors(windows: Mapping[str, int], wall: Framed) -> list[Surface]:
    """Return the walls around the windows, and the two doors."""
    made: list[Surface] = []
    for side, (_, length) in SIDES.items():
        area = length * WALL_HEIGHT - windows[side] * WINDOW_AREA - DOORS[side] * DOOR_AREA
        made += wall.parts(facing(side, "living", "wall", area, layers=wall.insulated))
        if DOORS[side]:
            made.append(facing(side, "living", "door", DOOR_AREA, layers=(DOOR,)))
    return made


def attic() -> list[Surface]:
    """Return the two slopes of the roof and the two gables."""
    pitch = math.degrees(math.atan2(RIDGE, WIDTH / 2.0))
    slope = Surface("roof", "roof", "roof", "attic", OUTDOORS, LENGTH * SLOPE_LENGTH * SQUARE_FOOT,
                    pitch, 0.0, (PLYWOOD_HALF, SHINGLE), solar_absorptance=0.6)  # fmt: skip
    gable = (PLYWOOD_HALF, SIDING)
    return [
        *(replace(slope, id=f"{side} roof", azimuth=SIDES[side][0]) for side in ("north", "south")),
        *(facing(side, "attic", "wall", WIDTH * RIDGE / 2.0, layers=gable, inside_emittance=0.9)
          for side in ("east", "west")),
    ]  # fmt: skip


def level(ceiling: Framed, on_slab: bool) -> list[Surface]:
    """Return ceiling, floor and partitions."""
    area = FLOOR_AREA * SQUARE_FOOT
    above = Surface("ceiling", "ceiling", "ceiling", "living", "attic", area, 0.0, 0.0, (GYPSUM,),
                    solar_absorptance=0.6)  # fmt: skip
    below = Surface("floor", "floor", "floor", "living", OUTDOORS, area, 180.0, 0.0, SLAB,
                    solar_absorptance=0.6, sun_exposed=False, wind_exposed=False)  # fmt: skip
    inner = Surface("partition", "partitions", "wall", "living", "living",
                    PARTITION_AREA * SQUARE_FOOT, 90.0, 0.0, (GYPSUM,),
                    solar_absorptance=0.6)  # fmt: skip
    floor = (below,) if on_slab else RAISED_FLOOR.parts(below)
    return [*ceiling.parts(above), *floor, *PARTITION.parts(inner)]


def residence(
    *,
    windows: Mapping[str, int] = EVENLY,
    wall: Framed = WALL,
    ceiling: Framed = CEILING,
    air_changes: float = 0.67,
    gains: float = 1.0,
    on_slab: bool = False,
) -> House:
    """Return case L100A or a variation of it.

    Infiltration is a fixed flow at the density of the place. Insulation and framing lie side
    by side as surfaces of their own, in the areas of the report.
    """
    profile = [share * 1e4 * BTU / 3600.0 * gains for share in PROFILE]
    volume = FLOOR_AREA * WALL_HEIGHT * CUBIC_FOOT
    under_roof = LENGTH * WIDTH * RIDGE / 2.0 * CUBIC_FOOT
    area = FLOOR_AREA * SQUARE_FOOT
    return House(
        name="residence",
        site=Site(38.82, -104.72, 1881.0, terrain="open", shelter=1.0),
        spaces=(
            Space("living", "living", SpaceKind.LIVING, area, volume, 0.5, WALL_HEIGHT * FOOT),
            Space("attic", "attic", SpaceKind.ATTIC, area, under_roof, 0.5 + WALL_HEIGHT * FOOT,
                  RIDGE / 2.0 * FOOT),
        ),
        surfaces=(*walls_and_doors(windows, wall), *attic(), *level(ceiling, on_slab)),
        windows=tuple(
            Window(f"{side} glass", side, "living", number * WINDOW_AREA * SQUARE_FOOT, 90.0,
                   SIDES[side][0], GLASS_U * 5.678263, GLASS_GAIN, 1,
                   solar_transmittance=TRANSMITTANCE)
            for side, number in windows.items() if number
        ),
        use=Use(
            3, 3, (fahrenheit(68.0),) * 24, (fahrenheit(78.0),) * 24,
            tuple((1.0 - LATENT) * gain for gain in profile),
            radiant_fraction=RADIANT / (1.0 - LATENT),
            vapor_gain=LATENT * sum(profile) / 24.0 / EVAPORATION,
        ),
        heating=Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0, ducted=False),
        cooling=Cooling("ideal", 0.0, 1.0, ducted=False),
        fans=(
            Fan("air", "air", "balanced", "living", air_changes * volume / 3600.0, ALWAYS),
            Fan("vents", "vents", "balanced", "attic", 2.4 * under_roof / 3600.0, ALWAYS),
        ),
    )  # fmt: skip


NO_WINDOWS = dict.fromkeys(SIDES, 0)

CASES: dict[str, House] = {
    "L100": residence(),
    "L110": residence(air_changes=1.5),
    "L120": residence(wall=BETTER_WALL, ceiling=BETTER_CEILING),
    "L140": residence(windows=NO_WINDOWS),
    "L150": residence(windows={**NO_WINDOWS, "south": 18}),
    "L170": residence(gains=0.0),
    "L302": residence(on_slab=True),
}
"""The house in every variation that is held against results, in either climate."""
