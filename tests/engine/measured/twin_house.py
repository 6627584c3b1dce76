"""A test house in Holzkirchen, Germany, measured hour by hour for 41 days, as a house.

Known (read): position, air leakage, volume, plan, windows, layers with their thickness and
conductivity, ventilation, absorptance and reflectance. Everything else is in `Guesses`.

Data: IEA EBC Annex 58, "Twin Houses", experiment 1, house N2; original data Fraunhofer
Institute for Building Physics and University of Strathclyde.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from engine.measured.records import MEASURED, ZERO, columns, hours_of
from rooftree.engine import simulate
from rooftree.engine.imposed import Imposed
from rooftree.house import (
    OUTDOORS,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    Leak,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    Window,
)
from rooftree.physics.air import pressure_at_altitude
from rooftree.weather import plane_irradiance, record_year
from rooftree.weather.ground import GroundClimate

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.engine import YearResult
    from rooftree.weather import WeatherYear

FOLDER = MEASURED / "twin_house_n2"
HOURS = 984
STEADY, PULSES, FREE = slice(24, 216), slice(216, 576), slice(720, 984)
"""Days 1 to 8 at 30 °C, 9 to 23 with heat pulses, 30 to 40 without heat."""

ROOMS = ("living_AT_h125cm", "corridor_AT", "bath_AT", "child_AT", "kitchen_AT", "doorway_AT",
         "bedroom_AT")  # fmt: skip
HEATERS = ("living_room", "bath_room", "children_room", "kitchen", "doorway", "bedroom")
VOLUME, PLAN, HEIGHT = 212.0, 10.0, 2.6
EXCHANGED = 1210.0 * 120.0 / 3600.0
"""Heat that the ventilation carries, as the record's own figure has it [W/K]: 120 m³/h of air
of 1210 J/(m³·K)."""

EXPONENT, RADIANT = 0.65, 0.3
"""Exponent of the leaks (usual), and radiant share of the heaters (read) [-]."""

BRIDGE = Layer("bridge", 0.33, 1.0)
"""What stands for thermal bridges: with usual films 2 W/(m²·K), on as much area as needed."""


@dataclass(frozen=True, slots=True)
class Guesses:
    """What is not known of the house.

    Attributes
    ----------
    bridges : float
        Added to the transmittance of all opaque surfaces and windows for thermal bridges
        [W/(m²·K)]: 0.10 is the German default where no detail was computed (DIN V 4108-6,
        recalled), 0.05 the one for standard details. Added after the first run.
    south : float
        Share of the sun that the south windows let in [0-1]. That their blinds were shut is
        not told; it was found in the record after the first run (see `sun_on_heaters`).
    shading : float
        Share of the sun that reveals and neighbours let through [0-1]: the German default for
        ordinary places (DIN V 4108-6, recalled).
    brick, concrete, screed, plaster : float
        Densities [kg/m³], by conductivity (ISO 10456, recalled).
    partitions : float
        Heat capacity of inner walls [J/K]: 60 m² of brick, 0.115 m thick, 1000 kg/m³ (size of
        the plan; recalled).
    shelter : float
        Factor on the wind [-]: the usual value of the house model.
    inside_absorptance : float
        Of walls, floor and ceiling for the sun in the rooms [0-1]: light plaster, wood floor.
    ventilation : float
        Heat carried by the ventilation over the record's own figure [-]. That figure takes
        1210 J/(m³·K), air at sea level; 0.92 is the air of 680 m.
    """

    bridges: float = 0.10
    south: float = 0.0
    shading: float = 0.9
    brick: float = 800.0
    concrete: float = 2300.0
    screed: float = 2000.0
    plaster: float = 1200.0
    partitions: float = 60.0 * 0.115 * 1000.0 * 1000.0
    shelter: float = 0.7
    inside_absorptance: float = 0.4
    ventilation: float = 1.0


BASE = Guesses()


def is_there() -> bool:
    """Return whether the record is beside the checkout."""
    return (FOLDER / "house_N2_hourly.csv").exists()


def record(name: str) -> NDArray[np.float64]:
    """Return a column of the house; entry k is the mean from hour k to k + 1."""
    return columns(FOLDER / "house_N2_hourly.csv")[name][:HOURS]


def outdoors(name: str) -> NDArray[np.float64]:
    """Return a column of the weather, whose rows are stamped with the end of their hour."""
    return columns(FOLDER / "weather_hourly.csv")[name][1 : HOURS + 1]


def inside() -> NDArray[np.float64]:
    """Return the mean of the rooms' air [K]."""
    return np.mean([record(room) for room in ROOMS], axis=0) + ZERO


def heater_power() -> NDArray[np.float64]:
    """Return the power of all heaters [W]."""
    return np.sum([record(f"heat_elP_{heater}") for heater in HEATERS], axis=0)


@cache
def weather() -> WeatherYear:
    """Return the weather from temperature, wind, humidity and sun of the record.

    Its humidity ratio, pressure and infrared are of other days and are not used: humidity
    ratio against temperature and relative humidity of the same rows correlates 0.14, the
    infrared is lowest on overcast days.
    """
    diffuse = outdoors("diffuse_horizontal_W_m2")
    return record_year(
        "Holzkirchen",
        "IEA EBC Annex 58",
        latitude=47.874,
        longitude=11.728,
        utc_offset=1.0,
        elevation=680.0,
        start="2013-08-21",
        temperature=outdoors("air_temp_C") + ZERO,
        relative_humidity=outdoors("rh_pct") / 100.0,
        wind_speed=outdoors("wind_speed_m_s"),
        wind_direction=outdoors("wind_dir_deg"),
        global_horizontal=outdoors("direct_horizontal_W_m2") + diffuse,
        diffuse_horizontal=diffuse,
        ground=GroundClimate(281.5, 10.0, 500.0),
    )


def walls(guesses: Guesses) -> dict[float, tuple[Layer, ...]]:
    """Return the layers of the wall that faces each azimuth, from inside to outside."""
    insulation = {
        180.0: (0.12, 0.035),
        0.0: (0.12, 0.035),
        90.0: (0.08, 0.022),
        270.0: (0.08, 0.04),
    }
    return {
        azimuth: (
            Layer("plaster", 0.01, 1.0, guesses.plaster, 1000.0),
            Layer("brick", 0.3, 0.22, guesses.brick, 1000.0),
            Layer("old render", 0.03, 1.0, 1800.0, 1000.0),
            Layer("insulation", *size, 25.0, 1400.0),
            Layer("render", 0.01, 0.8, 1800.0, 1000.0),
        )
        for azimuth, size in insulation.items()
    }


def slab(guesses: Guesses) -> tuple[Layer, ...]:
    """Return floor and ceiling, from the concrete up."""
    return (
        Layer("concrete", 0.22, 2.1, guesses.concrete, 1000.0),
        Layer("leveling fill", 0.029, 0.06, 80.0, 1000.0),
        Layer("insulation", 0.03, 0.025, 30.0, 1400.0),
        Layer("insulation", 0.033, 0.023, 30.0, 1400.0),
        Layer("screed", 0.065, 1.4, guesses.screed, 1000.0),
    )


def _other_faces(space: str) -> Surface:
    """Return the faces that see the house from a space whose air is imposed.

    The radiant point of cellar and attic is held with their air; their walls, and a floor or a
    roof, set how freely the house's faces exchange with it. Twice the plan, of both faces of a
    thin wall.
    """
    wall = (Layer("wall", 0.1, 1.0, 1800.0, 1000.0),)
    return Surface(f"in the {space}", "other faces", "wall", space, space, PLAN**2, 90.0, 0.0, wall)


def _bridges(added: float) -> list[Surface]:
    """Return strips that conduct `added` times the area of walls, floor and ceiling more."""
    if added == 0.0:
        return []
    strip = added / 2.0
    sides = [
        Surface(f"bridges {azimuth:g}", "bridges", "wall", "house", OUTDOORS,
                strip * PLAN * HEIGHT, 90.0, azimuth, (BRIDGE,), solar_absorptance=0.23)
        for azimuth in WINDOWS
    ]  # fmt: skip
    return [
        *sides,
        Surface("bridges below", "bridges", "floor", "house", "cellar", strip * PLAN**2, 180.0,
                0.0, (BRIDGE,)),
        Surface("bridges above", "bridges", "ceiling", "house", "attic", strip * PLAN**2, 0.0,
                0.0, (BRIDGE,)),
    ]  # fmt: skip


WINDOWS = {180.0: 9.66, 270.0: 3.78, 90.0: 1.89, 0.0: 1.89}


def house(guesses: Guesses = BASE, setpoint: float | None = None) -> House:
    """Return the house as one space between cellar and attic; heated if a setpoint is given."""
    floor = VOLUME / HEIGHT
    wall = PLAN * HEIGHT
    given = {"inside_absorptance": guesses.inside_absorptance}
    surfaces = [
        Surface(f"wall {azimuth:g}", "wall", "wall", "house", OUTDOORS, wall - WINDOWS[azimuth],
                90.0, azimuth, layers, solar_absorptance=0.23, **given)
        for azimuth, layers in walls(guesses).items()
    ]  # fmt: skip
    upward = slab(guesses)
    surfaces += [
        Surface("floor", "floor", "floor", "house", "cellar", PLAN**2, 180.0, 0.0, upward[::-1],
                **given),
        Surface("ceiling", "ceiling", "ceiling", "house", "attic", PLAN**2, 0.0, 0.0, upward,
                **given),
        *(_other_faces(space) for space in ("cellar", "attic")),
        *_bridges(guesses.bridges),
    ]  # fmt: skip
    sun = {azimuth: guesses.shading * (guesses.south if azimuth == 180.0 else 1.0)
           for azimuth in WINDOWS}  # fmt: skip
    windows = tuple(
        Window(f"window {azimuth:g}", "window", "house", area, 90.0, azimuth, 1.2, 0.7 * 0.62, 2,
               shading_factor=sun[azimuth])
        for azimuth, area in WINDOWS.items()
    )  # fmt: skip
    pressure = pressure_at_altitude(680.0)
    leak = 1.62 * VOLUME / 3600.0 / 50.0**EXPONENT / 8.0
    leaks = tuple(
        Leak(f"leak {azimuth:g} {level:g}", "leak", "house", OUTDOORS, level, azimuth, leak,
             EXPONENT)
        for azimuth in WINDOWS
        for level in (1.5, 3.3)
    )  # fmt: skip
    airing = tuple(
        Leak(f"{space} to outdoors", "vent", space, OUTDOORS, level, None, 0.05)
        for space, level in (("cellar", 0.5), ("attic", 6.0))
    )
    density = pressure / (287.055 * 296.0)
    flow = guesses.ventilation * EXCHANGED / (1006.0 * density)
    held = (ZERO if setpoint is None else setpoint,) * 24
    return House(
        name="A test house in Holzkirchen",
        site=Site(47.874, 11.728, 680.0, terrain="open", shelter=guesses.shelter),
        spaces=(
            Space("house", "the house", SpaceKind.LIVING, floor, VOLUME, 1.0, HEIGHT,
                  capacity=guesses.partitions),
            Space("cellar", "the cellar", SpaceKind.BASEMENT, floor, VOLUME, -1.6, HEIGHT),
            Space("attic", "the attic", SpaceKind.ATTIC, floor, VOLUME, 4.0, HEIGHT),
        ),
        surfaces=tuple(surfaces),
        windows=windows,
        leaks=(*leaks, *airing),
        fans=(Fan("ventilation", "ventilation", "balanced", "house", flow, (1.0,) * 24),),
        heating=None
        if setpoint is None
        else Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0, ducted=False),
        use=Use(0, 0, held, (320.0,) * 24, (0.0,) * 24),
    )  # fmt: skip


def preheat() -> NDArray[np.float64]:
    """Return the heat that fan and ducts give the air before it enters [W]."""
    return EXCHANGED * (record("vent_SUA_AT") - outdoors("air_temp_C"))


def imposed(convective: NDArray[np.float64], radiant: NDArray[np.float64]) -> Imposed:
    """Return measured cellar and attic, and heat.

    The radiant share is one number, that of the sums over the record.
    """
    heat = convective + radiant
    return Imposed(
        temperature={
            "cellar": record("cellar_AT") + ZERO,
            "attic": 0.5 * (record("attic_east_AT") + record("attic_west_AT")) + ZERO,
        },
        heat={"house": heat},
        radiant_fraction=float(radiant.sum() / heat.sum()),
    )


@cache
def held(guesses: Guesses = BASE) -> NDArray[np.float64]:
    """Return the power of the heaters that hold the mean measured on days 1 to 8 [W].

    The model's ideal heat warms the air only; the radiant share is put in as heat, found by
    running four times from the measured power.
    """
    setpoint = float(inside()[STEADY].mean())
    power = heater_power()
    for _ in range(4):
        radiant = RADIANT * power
        result = simulate(
            house(guesses, setpoint), weather(), hourly=True, imposed=imposed(preheat(), radiant)
        )
        kept = hours_of(result)
        power = radiant + kept.heating[:, 0] - kept.cooling[:, 0]
    return power


@cache
def heated(guesses: Guesses = BASE) -> YearResult:
    """Return the house with the measured power of its heaters."""
    power = heater_power()
    return simulate(
        house(guesses),
        weather(),
        hourly=True,
        imposed=imposed(preheat() + (1.0 - RADIANT) * power, RADIANT * power),
    )


def room(guesses: Guesses = BASE) -> NDArray[np.float64]:
    """Return the temperature of the house with measured heaters [K]."""
    kept = hours_of(heated(guesses))
    return kept.temperature[:, 0]


def sun_on_heaters() -> dict[str, tuple[float, ...]]:
    """Return what a watt of sun on a facade takes off each heater on days 1 to 8 [W per W/m²].

    Least squares of the hourly power on outdoor temperature and on the sun of three hours on
    south, west and east. A room behind shut blinds does not notice the sun.
    """
    year = weather()
    suns = []
    for azimuth in (180.0, 270.0, 90.0):
        plane = plane_irradiance(year, 90.0, azimuth)
        total = plane.beam + plane.sky + plane.ground
        suns.append(np.convolve(total, np.ones(3) / 3.0)[:HOURS][STEADY])
    known = np.stack([np.ones(suns[0].size), year.temperature[STEADY] - ZERO, *suns], axis=1)
    taken = {}
    for heater in HEATERS:
        power = record(f"heat_elP_{heater}")[STEADY]
        taken[heater] = tuple(-np.linalg.lstsq(known, power, rcond=None)[0][2:])
    return taken


def wall_film(hours: slice) -> tuple[float, float]:
    """Return film at the west wall inside [W/(m²·K)] by the air at 1.25 m and by its mean height.

    Heat flux at the plate over air less face; the air is warmer at the ceiling.
    """
    flux, face = -record("westfacade_S_IS_HF")[hours], record("westfacade_S_IS_T")[hours]
    levels = [record(f"living_AT_h{level}cm")[hours].mean() for level in (67, 125, 187)]
    return (
        float(flux.mean() / (levels[1] - face.mean())),
        float(flux.mean() / (np.mean(levels) - face.mean())),
    )


def wall_film_of_model() -> float:
    """Return the same film at the west wall of the model, by its air [W/(m²·K)]."""
    result = heated()
    kept, wall = hours_of(result), result.element_ids.index("wall 270")
    area = PLAN * HEIGHT - WINDOWS[270.0]
    flux = -kept.conducted_inside[STEADY, wall].mean() / area
    return float(flux / (kept.temperature[STEADY, 0] - kept.face_inside[STEADY, wall]).mean())
