"""A house as the handbook's example in Atlanta describes it, as far as its description is known.

Read: floor area, exposed area, construction ("good"), rooms, people, temperatures, ventilation,
ducts, and the sum of the enclosure's load. Recalled: U-values of ceiling, walls and windows,
the slab's edge and cover, the dark roof, the half-closed shades. Assumed: everything else, and
the area of glass, which is the one that the printed heating sum leaves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from engine.test_simulate import greensboro
from rooftree.engine.design import design_loads, loads_by_kind
from rooftree.engine.design_day import NEARLY, PartKind
from rooftree.engine.sizing import size_equipment
from rooftree.house import (
    GROUND,
    OUTDOORS,
    AirHandler,
    Cooling,
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
    Window,
)
from rooftree.physics.block_load import (
    BlockPart,
    cooling_block_load,
    design_air_change,
    duct_loss_factor,
    heating_block_load,
    opaque_cooling_factor,
    peak_gains,
)
from rooftree.physics.infiltration import leakage_coefficient

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rooftree.engine.design import DesignLoads, LoadPart
    from rooftree.engine.sizing import Sizing

AREA, EXPOSED, HEIGHT = 195.3, 356.5, 2.44
WALLS = EXPOSED - AREA
PERIMETER = WALLS / HEIGHT
COLD, HOT = 269.65, 306.15
INDOORS_COLD, INDOORS_HOT = 293.15, 297.15
LEAKAGE_AREA, VENTILATION = 0.0499, 0.043
PRINTED_HEATING, PRINTED_COOLING = 4674.0, 1900.0

CEILING_U, WALL_U, WINDOW_U, SLAB_EDGE = 0.18, 0.51, 2.86, 0.85
GLASS = ((PRINTED_HEATING / 23.5 - CEILING_U * AREA - SLAB_EDGE * PERIMETER - WALL_U * WALLS)
         / (WINDOW_U - WALL_U))  # fmt: skip
"""Area of glass that the printed sum leaves [m²]: 23.5 K over all parts."""

BOARD = Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0)
SHEATHING = Layer("sheathing and siding", 0.02, 0.12, 500.0, 1630.0)
FILL = Layer("loose fill", 1.0 / CEILING_U - 0.22 - BOARD.resistance, 1.0, role="insulation")
BATT = Layer(
    "batt and studs", 1.0 / WALL_U - 0.15 - BOARD.resistance - SHEATHING.resistance, 1.0,
    role="insulation",
)  # fmt: skip
CARPET = Layer("carpet and pad", 0.21 * 0.06, 0.06)
SLAB = Layer("concrete", 0.10, 1.7, 2300.0, 900.0)
EDGE = 0.9
"""Insulation of the slab's edge, given here to all of the slab as a third [m²·K/W]."""

LONG = 0.5 * (0.5 * PERIMETER + math.sqrt(0.25 * PERIMETER**2 - 4.0 * AREA))
SIDES = {"north": (0.0, LONG), "south": (180.0, LONG),
         "east": (90.0, AREA / LONG), "west": (270.0, AREA / LONG)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Row:
    """One component of the two loads, by the handbook and by the model [W]."""

    name: str
    heating: float
    heating_model: float
    cooling: float
    cooling_model: float


def atlanta() -> House:
    """Return the house."""
    living = Space("rooms", "Rooms", SpaceKind.LIVING, AREA, AREA * HEIGHT, 0.1, HEIGHT, 5e6)
    attic = Space("attic", "Attic", SpaceKind.ATTIC, AREA, AREA, 0.1 + HEIGHT, 1.0, 1e6)
    sensible, latent = peak_gains(AREA, 4)
    return House(
        name="as in Atlanta",
        site=Site(33.6, -84.4, 313.0, terrain="suburban", shelter=0.7),
        spaces=(living, attic),
        surfaces=(*_walls(), *_roof(), _ceiling(), _slab()),
        windows=tuple(
            Window(f"{side}-glass", f"{side} windows", "rooms", GLASS / 4.0, 90.0, azimuth,
                   WINDOW_U, 0.6, shading_factor=0.8)
            for side, (azimuth, _) in SIDES.items()
        ),
        leaks=tuple(_leaks()),
        ducts=(
            DuctRun("supply", "supply", "supply", "attic", 0.27 * AREA, 1.4, 0.05),
            DuctRun("return", "return", "return", "attic", 0.05 * AREA, 1.4, 0.05),
        ),
        air_handler=AirHandler("attic", 0.43, 300.0),
        heating=Heating("furnace", Fuel.GAS, 9000.0, 0.78, space="attic"),
        cooling=Cooling("air conditioner", 8000.0, 3.5),
        fans=(Fan("air", "ventilation", "balanced", "rooms", VENTILATION, (1.0,) * 24),),
        use=Use(
            4, 3, (INDOORS_COLD,) * 24, (INDOORS_HOT,) * 24, (sensible,) * 24,
            vapor_gain=latent / 2.501e6,
        ),
    )  # fmt: skip


def _walls() -> list[Surface]:
    return [
        Surface(side, f"{side} wall", "wall", "rooms", OUTDOORS, length * HEIGHT - GLASS / 4.0,
                90.0, azimuth, (BOARD, BATT, SHEATHING))
        for side, (azimuth, length) in SIDES.items()
    ]  # fmt: skip


def _roof() -> list[Surface]:
    return [
        Surface(f"roof-{side}", f"{side} roof", "roof", "attic", OUTDOORS, 0.55 * AREA, 22.0,
                azimuth, (SHEATHING,), solar_absorptance=0.85)
        for side, azimuth in (("north", 0.0), ("south", 180.0))
    ]  # fmt: skip


def _ceiling() -> Surface:
    return Surface("ceiling", "ceiling", "ceiling", "rooms", "attic", AREA, 0.0, 0.0, (BOARD, FILL))


def _slab() -> Surface:
    under = Layer("edge insulation, spread", EDGE / 3.0, 1.0)
    return Surface("slab", "slab", "slab", "rooms", GROUND, AREA, 180.0, 0.0,
                   (CARPET, SLAB, under), perimeter=PERIMETER)  # fmt: skip


def _leaks() -> list[Leak]:
    whole = leakage_coefficient(LEAKAGE_AREA, 0.65)
    leaks = [
        Leak(f"{side}-{level}", f"{side} wall", "rooms", OUTDOORS, level, azimuth,
             0.75 * whole / 8.0, 0.65)
        for side, (azimuth, _) in SIDES.items()
        for level in (0.3, 2.2)
    ]  # fmt: skip
    leaks.append(Leak("top", "ceiling", "rooms", "attic", 0.1 + HEIGHT, None, 0.25 * whole, 0.65))
    for side in ("north", "south"):
        azimuth = SIDES[side][0]
        coefficient = 0.6 * AREA / 600.0 * math.sqrt(2.0 / 1.2)
        leaks.append(Leak(f"vent-{side}", "attic vents", "attic", OUTDOORS, 2.8, azimuth,
                          coefficient, 0.5, LeakKind.VENT))  # fmt: skip
    return leaks


@cache
def modelled() -> tuple[DesignLoads, Sizing]:
    """Return the loads by the model, on the chapter's days with the sun of Greensboro."""
    house = atlanta()
    loads = design_loads(house, greensboro(), heating_temperature=COLD, cooling_temperature=HOT)
    return loads, size_equipment(house, loads, greensboro())


def rows() -> tuple[Row, ...]:
    """Return the loads component by component."""
    cold, hot = design_air_change(0.036, VENTILATION, VENTILATION), design_air_change(
        0.017, VENTILATION, VENTILATION
    )  # fmt: skip
    enclosure = [BlockPart("as printed", PRINTED_HEATING, PRINTED_COOLING)]
    heat = heating_block_load(enclosure, cold, 23.0, _ducts("furnace"))
    cool = cooling_block_load(
        enclosure, hot, 9.1, _ducts("cooling"), gains=peak_gains(AREA, 4), humidity_difference=0.005
    )
    loads, sizing = modelled()
    winter, summer = loads_by_kind(loads.heating_parts), loads_by_kind(loads.cooling_parts)
    shell = (PartKind.SURFACE, PartKind.GLASS, PartKind.SUN, PartKind.STORED)

    def model(parts: dict[PartKind, tuple[float, float]], *kinds: PartKind) -> float:
        return sum(parts.get(kind, (0.0, 0.0))[0] for kind in kinds)

    machines = {machine.use: machine for machine in sizing.machines}
    fans = (cold.exchanged, hot.exchanged)
    ducts = [machines["heating"].load - loads.heating, machines["cooling"].load - loads.cooling]
    return (
        Row("enclosure", heat.enclosure, model(winter, *shell), cool.enclosure,
            model(summer, *shell)),
        Row("leaks", heat.air - 1230.0 * 23.0 * fans[0], model(winter, PartKind.AIR),
            cool.air - 1230.0 * 9.1 * fans[1], model(summer, PartKind.AIR)),
        Row("ventilation", 1230.0 * 23.0 * fans[0], model(winter, PartKind.VENTILATION),
            1230.0 * 9.1 * fans[1], model(summer, PartKind.VENTILATION)),
        Row("people and appliances", 0.0, 0.0, cool.gains, model(summer, PartKind.PEOPLE)),
        Row("ducts", heat.ducts, ducts[0], cool.ducts, ducts[1]),
        Row("sensible load", heat.sensible, machines["heating"].load, cool.sensible,
            machines["cooling"].load),
        Row("moisture", 0.0, 0.0, cool.latent, loads.cooling_latent),
    )  # fmt: skip


def _ducts(mode: str) -> float:
    return duct_loss_factor("attic", mode, storeys=1, leakage=0.05, insulation=1.4)  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class Why:
    """What the differences come from.

    Attributes
    ----------
    slab, slab_model : float
        Heating load of the slab: its edge against the air, and by the model [W].
    wind : float
        Mean wind at the station in the hours of the cold day [m/s].
    ground : float
        Of undisturbed ground at 1 m then [K].
    infiltration, infiltration_open : float
        Air through leaks on the cold day [m³/s]; the same house in open country without shelter.
    ceiling, ceiling_model : float
        Cooling load of the ceiling: by the recalled factor, and by the model [W].
    attic_cold, attic_hot : float
        Temperature of the attic on the two days [K].
    ducts : mapping from str to tuple of float
        Duct load over the rooms' load for heating and cooling: as assumed, with half the surface
        of ducts, and with leaks alone [-].
    """

    slab: float
    slab_model: float
    wind: float
    ground: float
    infiltration: float
    infiltration_open: float
    ceiling: float
    ceiling_model: float
    attic_cold: float
    attic_hot: float
    ducts: Mapping[str, tuple[float, float]]


def why() -> Why:
    """Return what the differences come from."""
    loads, _ = modelled()
    year, house = greensboro(), atlanta()
    near = np.abs(year.temperature - np.quantile(year.temperature, 0.01)) <= NEARLY
    small = replace(house, ducts=tuple(replace(run, area=0.5 * run.area) for run in house.ducts))
    bare = replace(house, ducts=tuple(replace(run, area=0.0) for run in house.ducts))
    return Why(
        slab=SLAB_EDGE * PERIMETER * 23.5,
        slab_model=_of(loads.heating_parts, "slab"),
        wind=float(year.wind_speed[near].mean()),
        ground=float(year.ground_temperature[near].mean()),
        infiltration=_leaking(loads),
        infiltration_open=_leaking(
            design_loads(
                replace(house, site=replace(house.site, terrain="open", shelter=1.0)),
                year,
                heating_temperature=COLD,
            )
        ),
        ceiling=AREA * opaque_cooling_factor("ceiling under an attic", CEILING_U, 9.0, RANGE),
        ceiling_model=_of(loads.cooling_parts, "ceiling"),
        attic_cold=loads.heating_spaces["attic"],
        attic_hot=loads.cooling_spaces["attic"],
        ducts={
            "as found": _duct_loads(house, loads),
            "half the surface": _duct_loads(small, loads),
            "no surface": _duct_loads(bare, loads),
        },
    )


RANGE = 11.0
"""Highest less lowest temperature of the hot day, for the recalled factor [K]."""


def _of(parts: Iterable[LoadPart], name: str) -> float:
    return sum(part.sensible for part in parts if part.id == name)


def _leaking(loads: DesignLoads) -> float:
    heat = loads_by_kind(loads.heating_parts)[PartKind.AIR][0]
    return heat / (1230.0 * (INDOORS_COLD - COLD))


def _duct_loads(house: House, loads: DesignLoads) -> tuple[float, float]:
    heating, cooling = size_equipment(house, loads, greensboro()).machines
    return heating.load / loads.heating - 1.0, cooling.load / loads.cooling - 1.0
