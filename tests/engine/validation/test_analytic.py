"""Check the engine against analytic and exact answers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from conftest import WEATHER
from engine.houses import make_house, make_leak, make_space
from engine.test_conduction import WOOD, past_inside, past_outside, run_faces
from engine.validation.analytic_cases import (
    CONDUCTION_CHECKS,
    CUBE,
    CUBE_CHECKS,
    CUBE_HOURS,
    DECAY_CHECK,
    DRIVER_CHECKS,
    DRIVER_SOURCE,
    GAIN_CHECKS,
    HEATER_CHECKS,
    HEATER_READ,
    HEATER_SOURCE,
    HEATERS,
    LAG_CHECK,
    PART_LOAD,
    RATIO_CHECK,
    SLAB_CHECKS,
    SLAB_READ,
    SLAB_SOURCE,
    STACK,
    STACK_CHECKS,
    TOOLKIT,
    TOOLKIT_READ,
)
from engine.validation.checks import Check, confirm
from engine.weather_years import even_year
from rooftree.engine import simulate
from rooftree.engine.conduction import surface_response
from rooftree.engine.ground import floor_transmittance
from rooftree.engine.imposed import Imposed
from rooftree.engine.moist import GAS_CONSTANT, HEAT_OF_AIR
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
)
from rooftree.physics.air import relative_humidity
from rooftree.weather import parse_epw

if TYPE_CHECKING:
    from rooftree.weather import WeatherYear

DENVER = WEATHER / "USA_CO_Denver.Intl.AP.725650_TMY3.epw"
ALWAYS = (1.0,) * 24


@cache
def steady(case: str) -> tuple[float, float]:
    """Return the two faces of a steady case [°C]."""
    layers, outside = {
        "SSConv": ((Layer("a", 0.1, 1.0),), 3.079),
        "SSCond": ((Layer("a", 0.1, 0.1), Layer("b", 0.05, 0.05), Layer("c", 0.05, 0.25)), 2.180),
    }[case]
    return run_faces(surface_response(layers), 3.076, outside, (10.0, 40.0), 1)[-1]


@cache
def stepped(case: str, hours: int) -> tuple[float, float]:
    """Return the two faces of the wood, hours after the step of 50 K outdoors [°C]."""
    film = {"TC1": 0.0, "TC2": 3.076}[case]
    response = surface_response((WOOD,), 60.0)
    inside, outside = run_faces(response, film, 10.22, (0.0, 50.0), hours * 60)[-1]
    return 20.0 + inside, 20.0 + outside


def conducted(check: Check) -> float:
    """Return the quantity that a check of conduction names."""
    words = check.quantity.split()
    if check.case.startswith("SS"):
        faces = steady(check.case)
        return {"flux": 3.076 * (faces[0] - 10.0), "inside": faces[0], "outside": faces[1]}[
            words[0]
        ]
    inside, outside = stepped(check.case, int(words[-2]))
    return {"inside": inside, "outside": outside, "load": 9.0 * 3.076 * (inside - 20.0)}[words[0]]


@pytest.mark.published(source=TOOLKIT, where="SSConv, SSCond, TC1, TC2", read=TOOLKIT_READ)
@pytest.mark.parametrize("check", CONDUCTION_CHECKS, ids=str)
def test_conduction(check: Check) -> None:
    """Faces and fluxes of layers, steady and after a step, are the analytic ones."""
    confirm(check, conducted(check))


@cache
def cooled(share: float) -> tuple[float, float]:
    """Return load [kWh] and peak [W] of a week, after many alike, with 2700 W in the cube.

    Its six faces are the faces of three walls of twice the thickness that stand inside.
    """
    thick = replace(WOOD, thickness=0.4)
    wall = Surface("wall", "wall", "wall", "room", "room", 9.0, 90.0, 0.0, (thick,))
    house = replace(
        bare_room(tuple(replace(wall, id=f"wall {k}") for k in range(3)),
                  setpoints=(293.15, 293.15)),
        heating=Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0, ducted=False),
        cooling=Cooling("ideal", 0.0, 1.0, ducted=False),
    )  # fmt: skip
    week = slice(8000, 8168)
    given = Imposed(heat={"room": np.full(8760, 2700.0)}, radiant_fraction=share)
    kept = simulate(house, even_year(293.15), hourly=True, imposed=given).hourly
    assert kept is not None
    cold = kept.cooling[week, 0]
    return float(cold.sum()) / 1e3, float(cold.max())


@pytest.mark.published(source=TOOLKIT, where="internal gain", read=TOOLKIT_READ)
@pytest.mark.parametrize("check", GAIN_CHECKS, ids=str)
def test_internal_gain(check: Check) -> None:
    """In the long run all heat is taken out, whether given off to the air or to the faces."""
    share = float(check.case.partition("%")[0]) / 100.0
    confirm(check, cooled(share)[check.quantity == "peak"])


CUBE_LAYERS = {  # from inside to outside
    "COND-1": (Layer("1", 0.20, 1.2, 2000.0, 1000.0),),
    "COND-2": (Layer("1", 0.10, 0.04, 50.0, 1000.0),),
    "COND-4": (Layer("3", 0.20, 1.2, 2000.0, 1000.0), Layer("2", 0.10, 0.04, 50.0, 1000.0),
               Layer("1", 0.005, 0.14, 800.0, 1000.0)),
}  # fmt: skip


@cache
def cube(case: str) -> list[float]:
    """Return the temperature in the cube at the end of every minute [°C]."""
    film, outer, step = 2.5, 8.0, 60.0
    response = surface_response(CUBE_LAYERS[case], step)
    capacity = 1.2 * 1006.0 * 1.0 / (6.0 * step)
    matrix = np.array(
        [
            [response.inside + film, -response.across, -film],
            [-response.across, response.outside + outer, 0.0],
            [-film, 0.0, film + capacity],
        ]
    )
    modes, u, v, air, course = np.zeros(response.fade.size), 0.0, 0.0, 0.0, []
    for minute in range(60 * max(CUBE_HOURS)):
        outdoors = 10.0 * min((minute + 0.5) / 60.0, 1.0)
        given_to = [
            past_inside(response, modes, u, v),
            past_outside(response, modes, u, v) + outer * outdoors,
            capacity * air,
        ]
        u, v, air = np.linalg.solve(matrix, given_to)
        modes = response.fade * modes + response.push_inside * u + response.push_outside * v
        course.append(20.0 + float(air))
    return course


@pytest.mark.published(source=CUBE.source, where="COND-1, COND-2, COND-4", read=CUBE.read)
@pytest.mark.parametrize("check", CUBE_CHECKS, ids=str)
def test_cube(check: Check) -> None:
    """A cube in a ramp outdoors warms as the standard's own column, to its 0.5 K."""
    confirm(check, cube(check.case)[60 * int(check.quantity.split()[-2]) - 1])


def bare_room(surfaces: tuple[Surface, ...], *, capacity: float = 0.0, fans: tuple[Fan, ...] = (),
              setpoints: tuple[float, float] = (100.0, 400.0)) -> House:  # fmt: skip
    """Return a room of 129.6 m³ without people, windows and leaks."""
    return House(
        name="bare room",
        site=Site(40.0, -105.0, 0.0, terrain="open", shelter=1.0),
        spaces=(Space("room", "room", SpaceKind.LIVING, 48.0, 129.6, 0.0, 2.7, capacity=capacity),),
        surfaces=surfaces,
        use=Use(0, 0, (setpoints[0],) * 24, (setpoints[1],) * 24, (0.0,) * 24),
        fans=fans,
    )


def tight_wall(area: float, resistance: float) -> Surface:
    """Return a wall without mass, sun and wind."""
    return Surface("wall", "wall", "wall", "room", OUTDOORS, area, 90.0, 0.0,
                   (Layer("layer", 1.0, 1.0 / resistance),), sun_exposed=False,
                   wind_exposed=False)  # fmt: skip


def stored(temperature: np.ndarray) -> np.ndarray:
    """Return the room of 200 W/K and 10 MJ/K through a year of temperatures outdoors [°C].

    A thick wall, so that films are a few thousandths of its resistance.
    """
    even = even_year(280.0)
    year = replace(even, temperature=temperature + 273.15, sky_temperature=temperature + 273.15)
    air = 129.6 * 1.2 * 1006.0
    house = bare_room((tight_wall(10000.0, 49.7),), capacity=10e6 - air)
    kept = simulate(house, year, hourly=True).hourly
    assert kept is not None
    return kept.temperature[:, 0] - 273.15


@cache
def swing() -> tuple[float, float]:
    """Return amplitude ratio [-] and lag [h] of the room in a daily swing outdoors.

    Temperature outdoors is that of the middle of the hour, in the room that of its end.
    """
    middle = np.arange(8760) + 0.5
    course = stored(10.0 + 10.0 * np.sin(2.0 * np.pi * middle / 24.0))[24 * 200 : 24 * 230]
    wave = np.exp(-2j * np.pi * middle[24 * 200 : 24 * 230] / 24.0)
    inside = 2.0 * np.mean(course * wave)
    angle = np.angle(inside / (10.0 * np.exp(-0.5j * np.pi)))
    return float(abs(inside)) / 10.0, float(-angle * 24.0 / (2.0 * np.pi)) + 0.5


def test_decay() -> None:
    """Six hours after a step outdoors the room has come down as it must."""
    outdoors = np.where(np.arange(8760) < 6000, 20.0, -5.0)
    confirm(DECAY_CHECK, float(stored(outdoors)[6005]))


@pytest.mark.parametrize("check", [RATIO_CHECK, LAG_CHECK], ids=str)
def test_daily_swing(check: Check) -> None:
    """A daily swing outdoors reaches the room as weak and as late as it must."""
    confirm(check, swing()[check is LAG_CHECK])


STACK_HEIGHT, STACK_OUTDOORS = 40.0, 291.15
"""A tall room two kelvin warmer than outdoors: air weighs nearly the same on both sides, and the
pressures are far above those below which the network makes its power laws straight [m], [K]."""


@cache
def stack(case: str) -> tuple[float, float]:
    """Return neutral level over height and share of the inflow that enters by the floor [-]."""
    floor, walls, ceiling, *_ = STACK[case]
    levels = 40
    space = make_space("room", floor_level=0.0, height=STACK_HEIGHT)
    heights = [(k + 0.5) / levels for k in range(levels)]
    shares = [(0.0, floor), (1.0, ceiling), *((each, walls / levels) for each in heights)]
    leaks = tuple(
        make_leak(f"leak {k}", "room", coefficient=0.01 * share, level=height * STACK_HEIGHT)
        for k, (height, share) in enumerate(shares)
    )
    warm = Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0, ducted=False)
    house = replace(make_house(space, leaks=leaks), heating=warm)
    kept = simulate(house, even_year(STACK_OUTDOORS), hourly=True).hourly
    assert kept is not None
    room = (float(kept.temperature[-1, 0]), float(kept.humidity_ratio[-1, 0]))
    inside, outdoors = (
        101325.0 / (GAS_CONSTANT * t * (1.0 + 0.608 * w))
        for t, w in (room, (STACK_OUTDOORS, 0.003))
    )
    neutral = float(kept.pressure[-1, 0]) / ((inside - outdoors) * 9.80665)
    inflow = np.maximum(-kept.leak_flow[-1], 0.0)
    return neutral / STACK_HEIGHT, float(inflow[0] / inflow.sum())


@pytest.mark.parametrize("check", STACK_CHECKS, ids=str)
def test_stack(check: Check) -> None:
    """Without wind the neutral level and the inflow of the floor are those of the integral."""
    confirm(check, stack(check.case)[check.quantity != "neutral level"])


@cache
def heated(case: str) -> tuple[float, float]:
    """Return load and input of the furnace from January to March [GJ]."""
    outdoors, efficiency, *_ = HEATERS[case]
    density = 101325.0 / (GAS_CONSTANT * 293.15 * (1.0 + 0.608 * 0.003))
    flow = 48.0 * 4.1656 / (density * HEAT_OF_AIR)
    house = replace(
        bare_room((tight_wall(1.0, 1e6),), setpoints=(293.15, 400.0),
                  fans=(Fan("air", "air", "balanced", "room", flow, ALWAYS),)),
        heating=Heating("furnace", Fuel.GAS, 10e3, efficiency, ducted=False, part_load=PART_LOAD),
    )  # fmt: skip
    year = simulate(house, even_year(outdoors + 273.15), hourly=True)
    assert year.hourly is not None
    load = float(year.hourly.heating[: 90 * 24].sum()) * 3600.0 / 1e9
    months = [energy[:3].sum() for (fuel, _), energy in year.energy.items() if fuel is Fuel.GAS]
    return load, float(sum(months)) / 1e9


@pytest.mark.published(source=HEATER_SOURCE, where="load and input", read=HEATER_READ)
@pytest.mark.parametrize("check", HEATER_CHECKS, ids=str)
def test_furnace(check: Check) -> None:
    """A furnace at full, part and no load burns what the analytic solution says."""
    confirm(check, heated(check.case)[check.quantity == "input"])


@pytest.mark.published(source=SLAB_SOURCE, where="GC10a, GC30a, GC30b", read=SLAB_READ)
@pytest.mark.parametrize("check", SLAB_CHECKS, ids=str)
def test_slab(check: Check) -> None:
    """The U-value of a floor on the ground is compared with numerical solutions."""
    films = 0.02 if check.case == "GC30b" else 0.0
    u_value = floor_transmittance(144.0, 48.0, 0.0, conductivity=1.9, films=films, wall=0.24)
    confirm(check, u_value * 144.0 * 20.0)


@pytest.mark.published(source=SLAB_SOURCE, where="GC10a, GC30a, GC30b", read=SLAB_READ)
def test_slab_is_within_six_percent() -> None:
    """No case of the slab is more than 6 % off the middle of its solutions, as is told."""
    for check in SLAB_CHECKS:
        films = 0.02 if check.case == "GC30b" else 0.0
        u_value = floor_transmittance(144.0, 48.0, 0.0, conductivity=1.9, films=films, wall=0.24)
        assert u_value * 144.0 * 20.0 == pytest.approx(0.5 * (check.low + check.high), rel=0.06)


@cache
def denver() -> WeatherYear:
    """Return the typical year, read once."""
    return parse_epw(DENVER.read_text())


@pytest.mark.skipif(not DENVER.exists(), reason="needs the Denver typical year")
@pytest.mark.published(source=DRIVER_SOURCE, where="annual values", read="source")
@pytest.mark.parametrize("check", DRIVER_CHECKS, ids=str)
def test_weather_drivers(check: Check) -> None:
    """What the engine reads from the file has the annual values of the template."""
    year = denver()
    humid = [
        relative_humidity(t, w, p)
        for t, w, p in zip(year.temperature, year.humidity_ratio, year.pressure, strict=True)
    ]
    results = {
        "mean dry bulb": year.temperature.mean() - 273.15,
        "mean relative humidity": 100.0 * float(np.mean(humid)),
        "mean dew point": year.dew_point.mean() - 273.15,
        "mean humidity ratio": 1e3 * year.humidity_ratio.mean(),
        "global horizontal sun": year.global_horizontal.sum() / 1e3,
        "diffuse horizontal sun": year.diffuse_horizontal.sum() / 1e3,
    }
    confirm(check, float(results[check.quantity]))
