"""Check what leakage means in a house: its cost, and how far it may be sealed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import rooftree
from rooftree.job import Job
from rooftree.job import Test as JobTest
from rooftree.job.leakage_outlook import LeakageOutlook, leakage_outlook, without_logs
from rooftree.job.reduction import reduce_job
from rooftree.job.tested_house import house_with_tests
from rooftree.plan.combustion import flue_pulls
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.measures.parts import boundary_cracks, scaled
from rooftree.readings.air_sealing import AirSealingLog, AirSealingResult, SealingRow
from rooftree.records.document import read_document
from rooftree.records.weather_files import open_year

DEMO = Path(rooftree.__file__).parent / "demo" / "ranch.json"
LOG = JobTest(
    id="seal",
    name="Sealing",
    visit="visit-1",
    reading=AirSealingLog(
        (SealingRow(0.0, "", -50.0, 1.40), SealingRow(1800.0, "chase", -50.0, 1.25, 1500.0)),
        holes_closed=True,
    ),
)


@pytest.fixture(scope="module")
def job() -> Job:
    """Return the demo job without logs of its own."""
    return without_logs(read_document(DEMO.read_bytes()).to_core())


@pytest.fixture(scope="module")
def outlook(job: Job) -> LeakageOutlook:
    """Return what leakage means in the demo house."""
    return leakage_outlook(job, lambda: open_year(job.weather))


def test_leakage_costs_money(outlook: LeakageOutlook) -> None:
    """In a mixed climate 100 cfm at 50 Pa cost between 2 and 20 dollars a year."""
    assert outlook.value_per_flow is not None
    assert 2.0 < outlook.value_per_flow * 100.0 * 4.719474e-4 < 20.0


def test_dearer_energy_makes_leakage_dearer(job: Job, outlook: LeakageOutlook) -> None:
    """At twice the prices leakage costs twice as much."""
    prices = {fuel: 2.0 * price for fuel, price in job.tariff.price.items()}
    dear = replace(job, tariff=replace(job.tariff, price=prices))
    twice = leakage_outlook(dear, lambda: open_year(job.weather)).value_per_flow
    assert outlook.value_per_flow is not None
    assert twice == pytest.approx(2.0 * outlook.value_per_flow, rel=1e-6)


def test_at_the_limit_of_the_flue_the_pull_is_at_its_limit(
    job: Job, outlook: LeakageOutlook
) -> None:
    """The house made as tight as the limit pulls about as far as the flue bears."""
    house = house_with_tests(job, reduce_job(job)).house
    assert outlook.combustion_flow_50 is not None
    low, high = 0.02, 8.0
    for _ in range(30):
        middle = (low * high) ** 0.5
        flow = flow_at_50(scaled(house, boundary_cracks(house), middle))
        low, high = (middle, high) if flow < outlook.combustion_flow_50 else (low, middle)
    tight = scaled(house, boundary_cracks(house), high)
    assert max(pull.excess for pull in flue_pulls(tight)) == pytest.approx(0.0, abs=0.1)


def test_a_house_without_burners_has_no_limit_of_the_flue(job: Job) -> None:
    """Where nothing burns with room air, the limit is zero, not unknown."""
    bare = replace(job, house=replace(job.house, heating=None, water_heater=None))
    found = leakage_outlook(bare, lambda: open_year(job.weather))
    assert found.combustion_flow_50 == 0.0


def test_what_cannot_be_worked_out_is_none(job: Job) -> None:
    """A tariff without prices leaves the value open, and the limits stand."""
    free = replace(job, tariff=replace(job.tariff, price={}))
    found = leakage_outlook(free, lambda: open_year(job.weather))
    assert found.value_per_flow is None
    assert found.combustion_flow_50 is not None


def test_a_log_is_reduced_with_the_outlook(job: Job) -> None:
    """A log asks for what leakage means once, and judges with it."""
    asked = []

    def answer() -> LeakageOutlook:
        asked.append(1)
        return LeakageOutlook(200.0, 0.5, 0.4)

    found = reduce_job(replace(job, tests=(*job.tests, LOG)), None, answer)
    result = found.tests[-1].result
    assert isinstance(result, AirSealingResult)
    assert result.worth is not None
    assert [limit.limit for limit in result.limits] == [0.5, 0.4]
    assert asked == [1]
    without = reduce_job(replace(job, tests=(*job.tests, LOG))).tests[-1].result
    assert isinstance(without, AirSealingResult)
    assert without.worth is None
