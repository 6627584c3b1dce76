"""Make the job file of the demo: run the engine on the true house, then read it with noise.

The readings are synthetic but physically consistent: fan tests, zone pressures, duct
leakage, worst-case pressure and two years of bills all come from one invented house run
forward, with the noise and the small mistakes that real visits have. Run it again with
``python tools/make_demo.py``; the same seed gives the same file.
"""

from __future__ import annotations

import re
import uuid
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from demo_house import recorded_house, true_house
from demo_tests import other_tests
from demo_words import (
    BASIS,
    COMPLAINTS,
    DECISIONS,
    INSTRUMENTS,
    MEASURES,
    OBSERVATIONS,
    PLACES,
    VISITS,
)
from rooftree.bills.tariff import Bill, Tariff
from rooftree.engine import simulate
from rooftree.engine.duct_tests import simulate_duct_leakage
from rooftree.engine.field_tests import exhaust_pressure, simulate_fan_test
from rooftree.finding import Severity
from rooftree.house import Fuel
from rooftree.job import (
    Complaint,
    Decision,
    Instrument,
    Job,
    Observation,
    Place,
    Test,
    Visit,
)
from rooftree.job.instruments import Capability, Measured
from rooftree.known import Answer
from rooftree.physics.air import pressure_at_altitude
from rooftree.physics.instruments import Accuracy, InstrumentTerms
from rooftree.plan import KINDS
from rooftree.plan.model import Measure
from rooftree.readings.airtightness.readings import (
    Direction,
    Enclosure,
    Fan,
    FanBand,
    FanReading,
    FanTest,
    Standard,
    Station,
)
from rooftree.readings.combustion.readings import CombustionTest, ProbePlace, VentState
from rooftree.readings.duct_leakage.readings import DuctLeakageTest
from rooftree.readings.zone_pressures.readings import ZonePressureTest
from rooftree.records.document import JobDocument, job_document
from rooftree.records.weather_files import open_year
from rooftree.units import DisplaySystem, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.engine.field_tests import SimulatedFanTest
    from rooftree.house import House

FILE = Path(__file__).parents[1] / "src" / "rooftree" / "demo" / "ranch.json"
JOB_ID = str(uuid.uuid5(uuid.NAMESPACE_URL, "rooftree:demo:ranch"))
SEED = 1961
INDOORS, OUTDOORS = (69.0 - 32.0) / 1.8 + 273.15, (34.0 - 32.0) / 1.8 + 273.15
"""During the visit [K]."""

CFM = 0.3048**3 / 60.0
NUMBER = re.compile(r"^(?P<sign>R-|-?)(?P<number>[\d,]*\.?\d+)(?P<rest>$|°|[ /].*)")
"""A quantity with its unit, or an R-value."""

KWH, THERM = 3.6e6, 1.055056e8
PRESSURES = (60.0, 52.0, 44.0, 36.0, 28.0, 20.0, 12.0)
"""Induced pressures of the stations [Pa]."""

TEST_FAN = Fan(
    "fan-1",
    bands=(
        FanBand("open", 25.0, 400.0, 0.213, 0.498),
        FanBand("ring A", 25.0, 500.0, 0.0762, 0.501),
    ),
    flow_uncertainty=0.025,
)


CAPABILITIES = {
    "gauge-1": (
        Capability(
            Measured.PRESSURE,
            InstrumentTerms(
                absolute=0.25,
                share=0.01,
                accuracy=Accuracy.LARGER,
                resolution=0.1,
                drift_per_year=0.2,
            ),
        ),
    ),
    "duct-fan": (Capability(Measured.FLOW, InstrumentTerms(share=0.05)),),
    "flow-box": (Capability(Measured.FLOW, InstrumentTerms(share=0.08, resolution=0.0005)),),
    "flue-probe": (Capability(Measured.CONCENTRATION, InstrumentTerms(absolute=5.0, share=0.05)),),
    "pin-meter": (Capability(Measured.MOISTURE, InstrumentTerms(absolute=0.02)),),
}
"""What the certificates of the invented instruments say, by id."""


def fan_tests(house: House, rng: np.random.Generator) -> Iterator[Test]:
    """Yield both directions, one read as fan pressure and one as flow."""
    for direction, name in (
        (Direction.DEPRESSURIZE, "Fan test, house pulled"),
        (Direction.PRESSURIZE, "Fan test, house pushed"),
    ):
        shown = simulate_fan_test(
            house,
            PRESSURES,
            direction=direction,
            indoor_temperature=INDOORS,
            outdoor_temperature=OUTDOORS,
        )
        gusts = rng.normal(0.0, 0.35, len(PRESSURES))
        meter = rng.normal(1.0, 0.008, len(PRESSURES))
        if direction is Direction.PRESSURIZE:
            gusts[5] += 2.4  # a gust while this one was read
        stations = tuple(
            Station(
                round(float(point.reading + gust), 1),
                (_fan_reading(float(point.flow * factor), direction),),
            )
            for point, gust, factor in zip(shown.points, gusts, meter, strict=True)
        )
        yield Test(
            id=f"test-fan-{direction.value}",
            name=name,
            visit="visit-1",
            place="living",
            instrument="fan-1",
            also_with=("gauge-1",),
            reading=FanTest(
                direction=direction,
                standard=Standard.ISO_9972,
                baseline_before=_baseline(shown, rng, 0.0),
                baseline_after=_baseline(shown, rng, -0.5),
                stations=stations,
                fans=(TEST_FAN,),
                indoor_temperature=INDOORS,
                outdoor_temperature=OUTDOORS,
                barometric_pressure=round(pressure_at_altitude(house.site.elevation), -1),
                relative_humidity=0.5,
                wind_speed=1.60934,
                height=4.2,
            ),
        )


def _baseline(shown: SimulatedFanTest, rng: np.random.Generator, drift: float) -> tuple[float, ...]:
    return tuple(round(float(x), 1) for x in shown.baseline + drift + rng.normal(0.0, 0.2, 3))


def _fan_reading(flow: float, direction: Direction) -> FanReading:
    """Return what is read at the fan: its pressure one way, the gauge's flow the other."""
    band = TEST_FAN.bands[0] if flow > 0.9 else TEST_FAN.bands[1]
    if direction is Direction.PRESSURIZE:
        return FanReading(
            "fan-1", flow=round(flow / CFM, -1) * CFM, configuration=band.configuration
        )
    pressure = (flow / band.coefficient) ** (1.0 / band.exponent)
    return FanReading("fan-1", fan_pressure=round(pressure), configuration=band.configuration)


def zone_tests(house: House, rng: np.random.Generator) -> Iterator[Test]:
    """Yield the pressures of the buffer spaces with the house at -50 Pa."""
    shown = simulate_fan_test(
        house, (50.0,), indoor_temperature=INDOORS, outdoor_temperature=OUTDOORS
    ).points[0]
    for space in ("crawl", "attic", "knee", "garage"):
        reading = shown.zone_pressures[space] + rng.normal(0.0, 0.3)
        yield Test(
            id=f"test-zone-{space}",
            name=f"Zone pressure, {house.space(space).name}",
            visit="visit-1",
            instrument="gauge-1",
            reading=ZonePressureTest(space, -50.0, round(float(reading), 1)),
        )


INTO_THE_HOUSE = 1.32
"""Total duct leakage over that to outdoors: boots leak into the living space as well."""


def duct_tests(house: House, rng: np.random.Generator) -> Iterator[Test]:
    """Yield the duct leakage to outdoors and in total."""
    handler = house.air_handler
    if handler is None:
        return
    for to_outdoors, pressure in ((False, 25.1), (True, 24.2)):
        shown = simulate_duct_leakage(house, to_outdoors=to_outdoors, pressure=pressure)
        read = shown.flow * (1.0 if to_outdoors else INTO_THE_HOUSE) * rng.normal(1.0, 0.02)
        space = None if shown.space_pressure is None else round(shown.space_pressure, 1)
        yield Test(
            id="test-ducts-out" if to_outdoors else "test-ducts-all",
            name="Duct leakage to outdoors" if to_outdoors else "Duct leakage, total",
            visit="visit-1",
            place="ducts-crawl",
            instrument="duct-fan",
            also_with=("gauge-1",),
            reading=DuctLeakageTest(
                to_outdoors,
                pressure,
                round(read / CFM) * CFM,
                handler.flow,
                space_pressure=space,
            ),
        )


def combustion_tests(house: House) -> Iterator[Test]:
    """Yield the tests of both burners."""
    worst = exhaust_pressure(
        house, "living", air_handler=True, indoor_temperature=INDOORS, outdoor_temperature=OUTDOORS
    )
    calm = exhaust_pressure(
        house, "living", running=(), indoor_temperature=INDOORS, outdoor_temperature=OUTDOORS
    )
    for appliance, draft, pull in (
        ("water heater", "natural draft", -1.6), ("furnace", "fan assisted", 0.0),
    ):  # fmt: skip
        natural = draft == "natural draft"
        yield Test(
            id=f"test-burner-{appliance.replace(' ', '-')}",
            name=f"Combustion safety, {appliance}",
            visit="visit-1",
            place="utility-closet" if natural else "furnace-place",
            instrument="flue-probe",
            reading=CombustionTest(
                appliance=appliance,
                draft=draft,
                ambient_co=1.0,
                flue_co=38.0 if natural else 22.0,
                flue_oxygen=0.08 if natural else 0.07,
                baseline_pressure=round(float(calm), 1) if natural else 0.1,
                worst_pressure=round(float(worst) + pull, 1) if natural else -0.2,
                worst_case="dryer and bath fan on, air handler on, closet door shut"
                if natural
                else "crawlspace vents open, air handler on",
                spillage_seconds=52.0 if natural else 8.0,
                draft_pressure=-1.9 if natural else None,
                gas_leak=False,
                outdoor_temperature=OUTDOORS,
                vent_state=VentState.COLD,
                probe=ProbePlace.BEFORE,
                sample_seconds=600.0,
                analyser_range=2000.0,
                zeroed_outdoors=Answer.YES,
                ambient_co_after=2.0,
                pilot_relit=Answer.NOT_NEEDED,
                thermostat_restored=Answer.YES,
                switches_restored=Answer.YES,
                doors_restored=Answer.YES,
            ),
        )


def tariff() -> Tariff:
    """Return invented prices and published emissions."""
    return Tariff(
        price={"electricity": 0.142 / KWH, "natural gas": 1.46 / THERM},
        standing_charge={"electricity": 168.0, "natural gas": 150.0},
        emission={"electricity": 0.373 / KWH, "natural gas": 53.06 / 1.055056e9},
        source=(
            "prices invented for the demo, 2026; emissions: eGRID2022 US average for electricity, "
            "EPA emission factors hub for gas (recalled)"
        ),
    )


def bills(house: House, rng: np.random.Generator) -> Iterator[Bill]:
    """Yield 24 months of electricity and gas."""
    year, prices = simulate(house, open_year("greensboro")), tariff()
    for fuel in (Fuel.ELECTRICITY, Fuel.GAS):
        months = sum(used for (one, _), used in year.energy.items() if one is fuel)
        unit = KWH if fuel is Fuel.ELECTRICITY else THERM
        for number in range(24):
            month = number % 12
            energy = round(float(months[month]) / unit * float(rng.normal(1.0, 0.045))) * unit
            first = np.datetime64("2024-01") + number
            yield Bill(
                fuel=fuel.value,
                start=str(first.astype("datetime64[D]")),
                end=str((first + 1).astype("datetime64[D]")),
                energy=energy,
                cost=round(
                    energy * prices.price[fuel.value] + prices.standing_charge[fuel.value] / 12.0,
                    2,
                ),
                estimated=number == 13 and fuel is Fuel.GAS,
            )


def measures() -> Iterator[Measure]:
    """Yield what is offered."""
    for key, kind, title, settings, low, high, anyway in MEASURES:
        described = KINDS[kind].settings
        yield Measure(
            id=key,
            kind=kind,
            title=title,
            settings={
                name: text if described[name].unit is None else parse(text, described[name].unit)
                for name, text in settings.items()
            },
            cost_low=low,
            cost_high=high,
            cost_basis=BASIS,
            life=KINDS[kind].life,
            trade=KINDS[kind].trade,
            anyway_cost=anyway,
        )


def enclosure(house: House) -> Enclosure:
    """Return the tested enclosure: all living spaces."""
    living = {space.id for space in house.living_spaces}
    shell = sum(s.area for s in house.surfaces if s.inside in living and s.outside not in living)
    shell += sum(window.area for window in house.windows if window.space in living)
    return Enclosure(round(house.volume), round(house.floor_area), round(shell), 5.0)


def as_a_person_writes(part: Any, digits: int) -> Any:
    """Return a part of the job file with its quantities cut to as many digits as one reads."""
    if isinstance(part, dict):
        return {key: as_a_person_writes(value, digits) for key, value in part.items()}
    if isinstance(part, list):
        return [as_a_person_writes(value, digits) for value in part]
    found = NUMBER.match(part) if isinstance(part, str) else None
    if found is None:
        return part
    number = float(found["number"].replace(",", ""))
    if float(f"{number:.{digits - 1}e}") == number:
        return part
    cut = f"{float(f'{number:.{digits - 1}e}'):,.10f}".rstrip("0").rstrip(".")
    return found["sign"] + cut + found["rest"]


def demo_job() -> Job:
    """Return the demo job."""
    rng = np.random.default_rng(SEED)
    true, recorded = true_house(), recorded_house()
    tests = (
        *fan_tests(true, rng),
        *zone_tests(true, rng),
        *duct_tests(true, rng),
        *combustion_tests(true),
        *other_tests(true, SEED),
    )
    return Job(
        id=JOB_ID,
        name="ranch-with-bonus-room",
        client="The Pell family (invented)",
        address="14 Sample Lane, Greensboro, North Carolina (invented)",
        invented=True,
        visits=tuple(Visit(**{**v, "not_seen": tuple(v["not_seen"])}) for v in VISITS),
        complaints=tuple(Complaint(**c) for c in COMPLAINTS),
        places=tuple(Place(*p) for p in PLACES),
        observations=tuple(
            Observation(**{**o, "severity": Severity(o["severity"])}) for o in OBSERVATIONS
        ),
        photos=(),
        instruments=tuple(Instrument(*i, CAPABILITIES.get(i[0], ())) for i in INSTRUMENTS),
        tests=tests,
        enclosure=enclosure(recorded),
        house=recorded,
        weather="greensboro",
        bills=tuple(bills(true, rng)),
        tariff=tariff(),
        measures=tuple(measures()),
        decisions=tuple(Decision(*d, "2026-01-21") for d in DECISIONS),
        budget=42_000.0,
    )


def demo_document() -> JobDocument:
    """Return the demo as its file, each bill in the unit in which its fuel is billed."""
    job = demo_job()
    plain = job_document(job, DisplaySystem.IP).plain()
    site = as_a_person_writes(plain["house"]["site"], 4)
    for name, digits in (("house", 3), ("enclosure", 4), ("tests", 4), ("tariff", 4)):
        plain[name] = as_a_person_writes(plain[name], digits)
    plain["house"]["site"] = site
    for entry, bill in zip(plain["bills"], job.bills, strict=True):
        unit, name = (KWH, "kWh") if bill.fuel == Fuel.ELECTRICITY else (THERM, "therms")
        entry["energy"] = f"{bill.energy / unit:,.0f} {name}"
    return JobDocument.model_validate(plain)


if __name__ == "__main__":
    FILE.parent.mkdir(parents=True, exist_ok=True)
    FILE.write_text(demo_document().to_json(), encoding="utf-8")
    print(f"{FILE.name}: {FILE.stat().st_size / 1024:.0f} kB")
