"""What a report is about, built by hand: a job, its plan, its years."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from job.jobs import make_job
from papers.houses import make_state
from rooftree.engine.results import YearResult
from rooftree.finding import Finding, Severity
from rooftree.house import OUTDOORS, EndUse, Fuel, House
from rooftree.job.reduction import reduce_job
from rooftree.job.tested_house import house_with_tests
from rooftree.papers.report import ReportSubject
from rooftree.plan.combustion import CAUTION
from rooftree.plan.model import Effect, Measure, PackageResult, Plan, Stage, Step

if TYPE_CHECKING:
    from rooftree.job import Job

GIGAJOULE = 1e9


def make_year(house: House, *, heating: float = 60.0, cold: float = 285.0) -> YearResult:
    """Return a year with this much heating [GJ] and this coldest hour [K]."""
    spaces = tuple(space.id for space in house.spaces)
    energy = {
        (Fuel.GAS, EndUse.HEATING): heating,
        (Fuel.ELECTRICITY, EndUse.COOLING): 12.0,
        (Fuel.GAS, EndUse.HOT_WATER): 18.0,
        (Fuel.ELECTRICITY, EndUse.OTHER): 20.0,
    }
    flat = np.ones(len(spaces))
    return YearResult(
        space_ids=spaces,
        leak_ids=tuple(leak.id for leak in house.leaks),
        element_ids=(),
        energy={key: np.full(12, GIGAJOULE * value / 12.0) for key, value in energy.items()},
        heating_load=40.0 * GIGAJOULE,
        cooling_load=20.0 * GIGAJOULE,
        peak_heating=9_000.0,
        peak_cooling=6_000.0,
        unmet_heating_hours=0,
        unmet_cooling_hours=3,
        mean_infiltration=0.05,
        source_shares={"crawl": 0.5, "attic": 0.1, OUTDOORS: 0.4},
        entering=np.ones((len(spaces), len(spaces) + 1)),
        mean_temperature=293.0 * flat,
        minimum_temperature=cold * flat,
        maximum_temperature=305.0 * flat,
        mean_relative_humidity=0.5 * flat,
        hours_above_80_percent=np.full(len(spaces), 1752, dtype=np.int64),
        heat_balance_error=1e-9,
        mass_residual=1e-9,
    )


def make_measure(key: str, title: str, cost: float, **changed: Any) -> Measure:
    """Return a measure of this cost."""
    measure = Measure(key, "air-sealing", title, {}, 0.8 * cost, 1.2 * cost, "invented, 2026", 20.0,
                      "any trade")  # fmt: skip
    return replace(measure, **changed)


def make_effect(money: float) -> Effect:
    """Return an effect of this much money in a year, and a kilogram for each dollar."""
    return Effect({"natural gas": 1e8 * money}, money, money)


def make_step(number: int, money: float = 100.0, **changed: Any) -> Step:
    """Return a step that saves a little less in its place than alone."""
    return Step(
        make_measure(f"m{number}", f"Measure number {number}", 1000.0 * number, **changed),
        make_effect(1.2 * money),
        make_effect(money),
        f"It is the reason number {number}. A figure such as 2.5 Pa follows.",
    )


FRESH_AIR = Finding("plan/ventilation", Severity.NOTE, "The fans give enough fresh air.",
                    source="ASHRAE 62.2-2019, 4.1")  # fmt: skip
RETEST = Finding("plan/retest", Severity.NOTE, f"Repeat the combustion test. {CAUTION}",
                 source="state weatherization standards")  # fmt: skip
FLUE = Finding("plan/depressurization", Severity.NOTE, f"The flue holds. {CAUTION}",
               source="recalled: older practice")  # fmt: skip
DAMP = Finding("plan/moisture", Severity.NOTE, "The air of the crawlspace is damp for 900 hours.",
               source="80 % relative humidity: a screen")  # fmt: skip
RISING = Finding("plan/moisture-rises", Severity.GATE, "The attic gets wetter: find out why.",
                 source="80 % relative humidity: a screen")  # fmt: skip
BLOCKED = (make_measure("windows", "New windows", 12_000.0), "They cost more than the budget.")


def make_plan(house: House, count: int = 7) -> Plan:
    """Return a plan of two stages, the first with most of the steps."""
    after = make_year(house, heating=30.0, cold=289.0)
    steps = tuple(make_step(number) for number in range(1, count + 1))
    stages = (
        Stage("Make it safe", steps[: count - 1], house, after, (FRESH_AIR, FLUE, RETEST, DAMP)),
        Stage("Tighten", steps[count - 1 :], house, after, (FRESH_AIR, RISING, RETEST, DAMP)),
    )
    return Plan(
        before=make_year(house),
        stages=stages,
        whole=make_effect(600.0),
        blocked=(BLOCKED,),
        packages=tuple(
            PackageResult(frozenset({f"m{k}"}), 1e3, 1e2, 1e2, 1e2, 0) for k in range(1, 1234)
        ),
        findings=(
            Finding("plan/interaction", Severity.NOTE, "Together they save less than alone."),
        ),
    )


def make_subject(job: Job | None = None, *, count: int = 7, **changed: Any) -> ReportSubject:
    """Return what a report is about; `changed` replaces fields of it."""
    job = job or make_job()
    reductions = reduce_job(job)
    house = house_with_tests(job, reductions).house
    subject = ReportSubject(
        job=job,
        reductions=reductions,
        house=house,
        plan=make_plan(house, count),
        state=make_state(house),
        calibrated=False,
        made="2026-01-28",
    )
    return replace(subject, **changed)
