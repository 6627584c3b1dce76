"""Small invented jobs for tests: a house with a fan test, a zone, ducts and a burner."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from rooftree.bills import Tariff
from rooftree.finding import Severity
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
from rooftree.job import (
    Complaint,
    Instrument,
    Job,
    Observation,
    Place,
    Test,
    Typed,
    Visit,
)
from rooftree.known import How, Known
from rooftree.readings import airtightness
from rooftree.readings.airtightness import Direction, Enclosure, FanTest, Standard, Station
from rooftree.readings.combustion import CombustionTest
from rooftree.readings.duct_leakage import DuctLeakageTest
from rooftree.readings.zone_pressures import ZonePressureTest

if TYPE_CHECKING:
    from rooftree.plan.model import Measure

    Reading = FanTest | ZonePressureTest | DuctLeakageTest | CombustionTest

PRESSURES = (15.0, 22.0, 29.0, 36.0, 43.0, 50.0, 57.0, 64.0)

BOARD = Layer("boards", 0.02, 0.12, 510.0, 1380.0)
GYPSUM = Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0)
BATT = Layer("batts", 0.089, 0.045, 12.0, 840.0, role="insulation")
CONCRETE = Layer("concrete", 0.15, 1.4, 2300.0, 880.0)

TARIFF = Tariff(
    price={"electricity": 3.7e-8, "natural gas": 1.3e-8},
    standing_charge={"electricity": 160.0, "natural gas": 140.0},
    emission={"electricity": 1.05e-7, "natural gas": 5.0e-8},
    source="invented prices of 2026",
)


def make_surface(
    key: str,
    kind: str,
    inside: str,
    outside: str,
    area: float,
    *layers: Layer,
    azimuth: float = 180.0,
) -> Surface:
    """Return a surface whose tilt follows from its kind."""
    tilt = {"wall": 90.0, "ceiling": 0.0, "roof": 30.0, "floor": 180.0, "slab": 180.0}[kind]
    return Surface(key, key.replace("-", " "), kind, inside, outside, area, tilt, azimuth, layers,
                   framing_fraction=0.1, void_fraction=0.1)  # fmt: skip


def small_house() -> House:
    """Return one storey over a vented crawlspace, under a vented attic."""
    return House(
        name="a small house",
        site=Site(36.1, -79.95, 270.0),
        spaces=(
            Space("main", "main floor", SpaceKind.LIVING, 100.0, 240.0, 0.8, 2.4, 4e6),
            Space("attic", "attic", SpaceKind.ATTIC, 100.0, 100.0, 3.2, 1.0),
            Space("crawl", "crawlspace", SpaceKind.CRAWLSPACE, 100.0, 75.0, 0.0, 0.75, 0.0, 5e-5),
        ),
        surfaces=(
            make_surface("south-wall", "wall", "main", OUTDOORS, 45.0, GYPSUM, BATT, BOARD),
            make_surface("north-wall", "wall", "main", OUTDOORS, 45.0, GYPSUM, BATT, BOARD,
                         azimuth=0.0),
            make_surface("ceiling", "ceiling", "main", "attic", 100.0, GYPSUM, BATT),
            make_surface("floor", "floor", "main", "crawl", 100.0, BOARD, BATT),
            make_surface("roof", "roof", "attic", OUTDOORS, 110.0, BOARD),
            make_surface("crawl-wall", "wall", "crawl", OUTDOORS, 30.0, CONCRETE),
            make_surface("crawl-ground", "slab", "crawl", GROUND, 100.0, CONCRETE),
        ),
        use=Use(3, 3, (293.0,) * 24, (298.0,) * 24, (600.0,) * 24, vapor_gain=8e-5,
                electricity=600.0, hot_water_heat=300.0),
        windows=(Window("windows", "south windows", "main", 9.0, 90.0, 180.0, 3.0, 0.6),),
        leaks=(
            Leak("cracks", "wall cracks", "main", OUTDOORS, 1.5, 180.0, 0.02),
            Leak("bypass", "ceiling bypasses", "main", "attic", 3.2, None, 0.03),
            Leak("holes", "floor holes", "main", "crawl", 0.8, None, 0.02),
            Leak("flue", "vent of the water heater", "main", OUTDOORS, 6.0, None, 0.004, 0.5,
                 LeakKind.FLUE),
            Leak("attic-vent", "attic vents", "attic", OUTDOORS, 3.3, 180.0, 0.2, 0.5,
                 LeakKind.VENT),
            Leak("crawl-vent", "crawlspace vents", "crawl", OUTDOORS, 0.4, 0.0, 0.15, 0.5,
                 LeakKind.VENT),
        ),
        ducts=(
            DuctRun("supply", "supply ducts", "supply", "crawl", 25.0, 0.7, 0.10),
            DuctRun("return", "return duct", "return", "crawl", 8.0, 0.5, 0.08),
        ),
        air_handler=AirHandler("crawl", 0.5, 400.0),
        heating=Heating("furnace", Fuel.GAS, 15_000.0, 0.78, True, Draft.FAN_ASSISTED, "crawl"),
        cooling=Cooling("air conditioner", 9_000.0, 2.9),
        water_heater=WaterHeater("tank", Fuel.GAS, 0.56, "main", Draft.NATURAL, 60.0),
        fans=(Fan("bath-fan", "bath fan", "exhaust", "main", 0.01, (0.1,) * 24, 30.0),),
    )  # fmt: skip


def make_fan_test(
    coefficient: float = 0.055,
    exponent: float = 0.65,
    *,
    direction: Direction = Direction.DEPRESSURIZE,
    pressures: tuple[float, ...] = PRESSURES,
) -> FanTest:
    """Return readings that follow a leakage curve exactly, at 20 °C on both sides."""
    sign = -1.0 if direction is Direction.DEPRESSURIZE else 1.0
    return FanTest(
        direction=direction,
        standard=Standard.ISO_9972,
        baseline_before=(0.0, 0.0),
        baseline_after=(0.0, 0.0),
        stations=tuple(
            Station(
                sign * pressure,
                (airtightness.FanReading("fan", flow=coefficient * pressure**exponent),),
            )
            for pressure in pressures
        ),
        fans=(airtightness.Fan("fan"),),
        indoor_temperature=293.15,
        outdoor_temperature=293.15,
        barometric_pressure=101_325.0,
        wind_speed=1.0,
    )


BURNER = CombustionTest(
    appliance="water heater",
    draft="natural draft",
    ambient_co=2.0,
    flue_co=38.0,
    flue_oxygen=0.09,
    baseline_pressure=-0.6,
    worst_pressure=-4.7,
    worst_case="dryer and bath fan on, bedroom doors shut",
    spillage_seconds=None,
    draft_pressure=-0.8,
    gas_leak=False,
    outdoor_temperature=274.0,
)


def one_test(key: str, reading: Reading, visit: str = "visit-1") -> Test:
    """Return a test named as its id."""
    return Test(key, key, visit, reading)


def make_tests() -> tuple[Test, ...]:
    """Return one test of each kind, the fan test in both directions."""
    return (
        Test("pull", "Fan test, pulling", "visit-1", make_fan_test(), "main", "fan"),
        Test("push", "Fan test, pushing", "visit-1",
             make_fan_test(direction=Direction.PRESSURIZE), "main", "fan"),
        Test("zone", "Zone pressure of the crawlspace", "visit-1",
             ZonePressureTest("crawl", -50.0, -42.0), "crawlspace", "gauge"),
        Test("ducts", "Duct leakage", "visit-1", DuctLeakageTest(True, 25.0, 0.06, 0.5),
             "crawlspace", "fan"),
        Test("burner", "Water heater", "visit-1", BURNER, "closet", "probe"),
    )  # fmt: skip


OBSERVATIONS = (
    Observation(
        "draft", "closet", "natural-draft-in-living-zone", Severity.GATE,
        "The water heater sends its smoke up a natural-draft vent.",
        "Vent of 1961.", "Smoke can come back into the house.",
        "Replace it by one that burns nothing inside.", "Vent capped.",
    ),
    Observation(
        "batts", "crawlspace", "", Severity.NOTE, "A third of the batts hang loose.",
        "Damp.", "Cold floors.", "Take them out.", "Photo.",
    ),
    Observation(
        "alarm", "main", "no-alarms", Severity.GATE, "No carbon monoxide alarm in the house.",
        "Never fitted.", "Nobody would be warned.", "One on each storey.", "Seen and tested.",
        cleared="Two alarms fitted and tested on 2026-01-21.",
    ),
)  # fmt: skip

TYPED = (
    Typed("house.spaces[0].floor_area", "1,076 ft2", Known(How.MEASURED, "tape")),
    Typed("house.surfaces[2].layers[1].thickness", "3 1/2 in", Known(How.MEASURED, "ruler")),
    Typed("house.surfaces[2].void_fraction", "10 %", Known(How.OBSERVED, "gaps over the hall")),
    Typed("house.windows[0].u_value", "0.53 Btu/hft2F", Known(How.ASSUMED, "usual for its age")),
    Typed("house.use.people", "3", Known(How.TOLD, "owner")),
    Typed("house.surfaces[0].framing_fraction", "10 %", Known(How.NOT_SEEN, "closed wall")),
    Typed("tests[0].stations[2].pressure", "-29 Pa", Known(How.MEASURED)),
    Typed("tests[3].flow", "127 cfm", Known(How.MEASURED)),
    Typed("enclosure.volume", "8,476 ft3", Known(How.MEASURED, "tape")),
)


def make_job(*, measures: tuple[Measure, ...] = (), **changed: Any) -> Job:
    """Return an invented job; `changed` replaces fields of it."""
    house = small_house()
    job = Job(
        id="7b1e2f6e-5f1c-4a57-9a53-0b7f5f0f8a11",
        name="small-house",
        client="the Ashdown family",
        address="3 Invented Road, Greensboro NC",
        invented=True,
        visits=(
            Visit("visit-1", "2026-01-21", "D. Arden", "test-in", "34 °F, light wind",
                  ("inside of the north wall: closed",)),
        ),
        complaints=(
            Complaint("cold", "The floor is icy & the kids <hate> it.", "main", "winter"),
            Complaint("smell", "It smells damp when we come home.", "main", "summer"),
        ),
        places=(
            Place("main", "main floor", "storey", "", "main"),
            Place("closet", "utility closet", "room", "main", "main"),
            Place("crawlspace", "crawlspace", "crawlspace", "", "crawl"),
        ),
        observations=OBSERVATIONS,
        photos=(),
        instruments=(
            Instrument("fan", "house fan (invented)", "test fan", "2025-03-11", "2030-03-11"),
            Instrument("gauge", "gauge (invented)", "pressure gauge", "2023-09-02", "2025-09-02"),
            Instrument("probe", "flue probe (invented)", "combustion analyser"),
        ),
        tests=make_tests(),
        enclosure=Enclosure(house.volume, house.floor_area, 300.0, 2.4),
        house=house,
        weather="greensboro",
        bills=(),
        tariff=TARIFF,
        measures=measures,
        decisions=(),
        budget=None,
        typed=TYPED,
    )  # fmt: skip
    return replace(job, **changed)
