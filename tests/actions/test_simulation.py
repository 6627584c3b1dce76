"""The house of a job through its year: fitted to its tests, computed once, never stale."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from cli.test_bad_input import typical_year
from rooftree.actions.jobs import add_weather
from rooftree.actions.readings import reduce_job
from rooftree.actions.simulation import case_key, case_of, simulate_job
from rooftree.actions.year import weather_of
from rooftree.engine.field_tests import fan_test_flow
from rooftree.errors import WeatherError

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.records import Store


def test_the_simulated_house_leaks_what_was_measured(job: Job) -> None:
    """The fan test on the fitted house gives back the measured flow."""
    case = case_of(job)
    assert case.reductions == reduce_job(job)
    assert case.reductions.airtightness is not None
    measured = case.reductions.airtightness.flow50.value
    assert fan_test_flow(case.house, 50.0).flow == pytest.approx(measured, rel=0.01)


def test_a_year_is_simulated_once(job: Job) -> None:
    """The same job gives the same object; a new name or client changes nothing."""
    year = simulate_job(job)
    assert year.hourly is not None
    assert simulate_job(replace(job, client="Somebody else")) is year


def test_what_the_house_follows_from_makes_it_another_case(job: Job) -> None:
    """Tests, house, enclosure, observations and the purpose of visits all count."""
    others = (
        replace(job, tests=job.tests[1:]),
        replace(job, house=replace(job.house, name="another")),
        replace(job, enclosure=replace(job.enclosure, volume=job.enclosure.volume + 1.0)),
        replace(job, observations=job.observations[1:]),
        replace(job, visits=tuple(replace(v, purpose="test-out") for v in job.visits)),
    )
    keys = {case_key(other) for other in (job, *others)}
    assert len(keys) == len(others) + 1


def test_gates_follow_observations(job: Job) -> None:
    """Without observations and tests nothing is held back."""
    assert case_of(job).gates
    assert case_of(replace(job, observations=(), tests=())).gates == ()


def test_a_replaced_year_of_weather_is_read_again(store: Store, job: Job) -> None:
    """A file added again under its name is never served from memory."""
    kept = add_weather(store, "Even Town.epw", typical_year().encode())
    named = replace(job, weather=kept)
    before = weather_of(named)
    add_weather(store, "Even Town.epw", typical_year().replace(",15.0,", ",20.0,").encode())
    after = weather_of(named)
    assert before.temperature[0] == pytest.approx(288.15)
    assert after.temperature[0] == pytest.approx(293.15)


def test_a_year_that_is_nowhere_says_so(job: Job) -> None:
    """The message names the year."""
    with pytest.raises(WeatherError, match=r'^there is no year of weather "nowhere"'):
        weather_of(replace(job, weather="nowhere"))
