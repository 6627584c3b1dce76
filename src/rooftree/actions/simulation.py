"""Simulate the house of a job, with what its tests found put in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.fitting import house_as_tested
from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.readings import forget_reductions, reduce_job
from rooftree.actions.year import forget_years, weather_of
from rooftree.bills import cost_by_use, cost_of, emissions_of, standing_charge_of
from rooftree.diagnosis.attribution import attribute_energy
from rooftree.diagnosis.heat import split_heat, split_whole_house
from rooftree.diagnosis.simulated_year import read_year
from rooftree.engine import simulate
from rooftree.engine.design import design_loads
from rooftree.engine.judge import judge_year
from rooftree.house import Fuel
from rooftree.survey import gates_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.diagnosis import Attribution
    from rooftree.engine.design import DesignLoads
    from rooftree.engine.results import YearResult
    from rooftree.finding import Finding
    from rooftree.house import EndUse, House
    from rooftree.job import Job
    from rooftree.job.reduction import Reductions
    from rooftree.survey import Gate


@dataclass(frozen=True, slots=True)
class Case:
    """A job ready to simulate.

    Attributes
    ----------
    house : House
        As described, with the tests put in.
    reductions : Reductions
        The tests.
    gates : tuple of Gate
        What holds measures back, by observations and tests.
    findings : tuple of Finding
        Where tests and description could not be brought together.
    """

    house: House
    reductions: Reductions
    gates: tuple[Gate, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class SimulatedYear:
    """What a typical year of the house tells, and what it costs.

    Attributes
    ----------
    year : YearResult
        Hour by hour.
    cost : float
        Of what is bought, standing charges and all [$/year].
    cost_by_use : mapping from (Fuel, EndUse) to list of float
        Energy alone, by month [$].
    standing_charge : float
        Of the fuels that are bought [$/year].
    emissions : float
        CO2-equivalent [kg/year].
    loads : DesignLoads
        What the rooms need on the design days.
    causes : Attribution
        What the energy of heating and cooling is for: surfaces, air, ducts, habits.
    findings : tuple of Finding
        Where the numbers should not be trusted as they stand.
    """

    year: YearResult
    cost: float
    cost_by_use: Mapping[tuple[Fuel, EndUse], list[float]]
    standing_charge: float
    emissions: float
    loads: DesignLoads
    causes: Attribution
    findings: tuple[Finding, ...]


_CASES: Kept[Case] = Kept()
_RESULTS: Kept[YearResult] = Kept(8)


def case_of(job: Job) -> Case:
    """Return a job ready to simulate: tests reduced, house fitted to them, gates set.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    Case
    """
    return _CASES.of(case_key(job), lambda: _case(job))


def case_key(job: Job) -> str:
    """Return a name for everything that the simulated house and its gates follow from.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    str
    """
    return fingerprint(job.house, job.tests, job.observations, job.enclosure, job.visits)


def _case(job: Job) -> Case:
    reductions = reduce_job(job)
    tested = house_as_tested(job, reductions)
    gates = gates_of(job.observations, reductions.findings)
    return Case(tested.house, reductions, gates, tested.findings)


def simulate_job(job: Job) -> YearResult:
    """Return the job's house through its year of weather, hour by hour.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    YearResult
        With hourly values.

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    """
    key = fingerprint(case_key(job), job.weather)
    return _RESULTS.of(key, lambda: simulate(case_of(job).house, weather_of(job), hourly=True))


def forget_weather() -> None:
    """Forget every year of weather and what was computed with it: a file was replaced."""
    forget_years()
    forget_reductions()
    _RESULTS.clear()


def year_of(job: Job) -> SimulatedYear:
    """Return the job's house through its year, with cost, emissions and design loads.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    SimulatedYear

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    NotEnoughDataError
        If the tariff lacks the price of a fuel that is bought.
    """
    year = simulate_job(job)
    return SimulatedYear(
        year=year,
        cost=cost_of(year, job.tariff),
        cost_by_use=cost_by_use(year, job.tariff),
        standing_charge=standing_charge_of(year, job.tariff),
        emissions=emissions_of(year, job.tariff),
        loads=design_loads(case_of(job).house, weather_of(job)),
        causes=_causes(job, year),
        findings=judge_year(year),
    )


def _causes(job: Job, year: YearResult) -> Attribution:
    simulated = read_year(case_of(job).house, year, weather_of(job))
    whole = split_whole_house(simulated, split_heat(simulated))
    return attribute_energy(simulated, whole, prices_of(job))


def prices_of(job: Job) -> dict[Fuel, float]:
    """Return the price of each fuel that a job's tariff names [$/J].

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    dict of Fuel to float
        [$/J].
    """
    return {fuel: job.tariff.price[fuel] for fuel in Fuel if fuel in job.tariff.price}
