"""What leakage means in one house: its cost in a year, and how far it may be sealed.

The house is that of the job with its tests put in; its cracks are made tighter or leakier
together. Used beside a log of air sealing, while the fan still runs.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.bills import cost_of
from rooftree.engine import simulate
from rooftree.errors import RooftreeError
from rooftree.job.reduction import reduce_job
from rooftree.job.tested_house import house_with_tests
from rooftree.plan.combustion import flue_pulls
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.measures.parts import boundary_cracks, scaled
from rooftree.plan.model import PlanSettings
from rooftree.plan.ventilation import ventilation_of
from rooftree.readings.air_sealing import AirSealingLog
from rooftree.readings.ventilation import weather_shielding_factor

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.house import House
    from rooftree.job.model import Job
    from rooftree.weather import WeatherYear

TIGHTER = 0.8
"""Factor on the cracks by which the cost of leakage is found [-]."""

TIGHTEST, LEAKIEST = 0.02, 8.0
"""Factors on the cracks between which limits are looked for [-]."""

HALVINGS = 11
"""Of that span of factors, in their logarithm; the last step is 0.3 % [-]."""


@dataclass(frozen=True, slots=True)
class LeakageOutlook:
    """What leakage at 50 Pa means in one house.

    Attributes
    ----------
    value_per_flow : float or None
        What a unit of it costs in a year [$·s/(year·m³)]; None where the year cannot be
        simulated or priced.
    ventilation_flow_50 : float or None
        Leakage below which leaks and whole-house fans together do not meet ASHRAE 62.2
        [m³/s]; None where it cannot be worked out.
    combustion_flow_50 : float or None
        Leakage below which fans are predicted to pull on a flue beyond the screening limit
        [m³/s]; 0 where nothing burns with room air, None where it cannot be worked out.
    """

    value_per_flow: float | None = None
    ventilation_flow_50: float | None = None
    combustion_flow_50: float | None = None


def leakage_outlook(job: Job, year: Callable[[], WeatherYear]) -> LeakageOutlook:
    """Work out what leakage means in the house of a job.

    Parameters
    ----------
    job : Job
        The job; its logs of air sealing are left out, since they ask for this.
    year : callable
        Gives its typical year.

    Returns
    -------
    LeakageOutlook
        With None for what could not be worked out.
    """
    job = without_logs(job)
    try:
        house = house_with_tests(job, reduce_job(job)).house
        weather = year()
    except RooftreeError:
        return LeakageOutlook()
    return LeakageOutlook(
        _tried(lambda: _value(job, house, weather)),
        _tried(lambda: _ventilation_limit(house, weather)),
        _tried(lambda: _combustion_limit(house)),
    )


def without_logs(job: Job) -> Job:
    """Return a job without its logs of air sealing.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    Job
    """
    tests = tuple(test for test in job.tests if not isinstance(test.reading, AirSealingLog))
    return replace(job, tests=tests)


def _tried(work: Callable[[], float | None]) -> float | None:
    try:
        return work()
    except RooftreeError:
        return None


def _with_cracks(house: House, factor: float) -> House:
    return scaled(house, boundary_cracks(house), factor)


def _value(job: Job, house: House, weather: WeatherYear) -> float | None:
    tight = _with_cracks(house, TIGHTER)
    less = flow_at_50(house) - flow_at_50(tight)
    if not less > 0.0:
        return None
    costs = [cost_of(simulate(one, weather), job.tariff) for one in (house, tight)]
    return max(costs[0] - costs[1], 0.0) / less


def _ventilation_limit(house: House, weather: WeatherYear) -> float:
    factor = weather_shielding_factor(weather).value
    settings = PlanSettings()

    def is_enough(cracks: float) -> bool:
        return ventilation_of(_with_cracks(house, cracks), settings, factor).is_enough

    return flow_at_50(_with_cracks(house, _tightest(is_enough)))


def _combustion_limit(house: House) -> float:
    if not flue_pulls(house):
        return 0.0

    def is_enough(cracks: float) -> bool:
        return all(pull.excess <= 0.0 for pull in flue_pulls(_with_cracks(house, cracks)))

    return flow_at_50(_with_cracks(house, _tightest(is_enough)))


def _tightest(is_enough: Callable[[float], bool]) -> float:
    """Return the least factor on the cracks that is enough, by halving."""
    low, high = TIGHTEST, LEAKIEST
    if is_enough(low):
        return low
    for _ in range(HALVINGS):
        middle = (low * high) ** 0.5
        low, high = (low, middle) if is_enough(middle) else (middle, high)
    return high
