"""Check the moving section of a job: kept, in either system, and in step with the year."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from rooftree.actions.diagnosis import diagnosis_of
from rooftree.actions.moments import moments_of, moving_section, sequences_of
from rooftree.actions.simulation import simulate_job, year_of
from rooftree.actions.year import weather_of
from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from rooftree.job import Job


def degrees(kelvin: float, system: DisplaySystem) -> str:
    """Return a temperature as people read it off a wall."""
    celsius = kelvin - 273.15
    if system is DisplaySystem.SI:
        whole, unit = round(celsius), "°C"
    else:
        whole, unit = round(1.8 * celsius + 32.0), "°F"
    return f"{whole} {unit}".replace("-", "\N{MINUS SIGN}")


@pytest.mark.parametrize("system", DisplaySystem)
def test_a_day_shows_its_hours(job: Job, system: DisplaySystem) -> None:
    """Each moment of a day says the temperature outdoors and of each room in that hour."""
    year, weather = simulate_job(job), weather_of(job)
    moments = moments_of(job, "day-36", system).moments
    assert len(moments) == 24
    assert year.hourly is not None
    for hour, moment in enumerate(moments, start=24 * 35):
        outdoors = degrees(float(weather.temperature[hour]), system)
        assert moment.weather.startswith(f"{outdoors} outside, wind ")
        inside = float(year.hourly.temperature[hour, year.space_ids.index("living")])
        shown = degrees(inside, system)
        assert any(str(value).startswith(f"{shown} · ") for value in moment.values)


def test_every_sequence_has_moments(job: Job) -> None:
    """What can be chosen can be shown, and is kept."""
    for name, words in sequences_of(job).items():
        moments = moments_of(job, name, DisplaySystem.SI)
        assert moments.words == words
        assert len(moments.moments) in (12, 24)
        assert moments_of(job, name, DisplaySystem.SI) is moments


def test_the_section_is_drawn_once(job: Job) -> None:
    """All moments of a house share one drawing in each system."""
    assert moving_section(job, DisplaySystem.IP) is moving_section(job, DisplaySystem.IP)
    assert moving_section(job, DisplaySystem.IP) is not moving_section(job, DisplaySystem.SI)


def test_the_diagnosis_is_kept_and_agrees_with_the_year(job: Job) -> None:
    """The command and the page share out the same energy among the same causes."""
    diagnosis = diagnosis_of(job)
    assert diagnosis_of(job) is diagnosis
    assert diagnosis.year.result is simulate_job(job)
    costs = {(c.cause, c.id): c.cost for c in year_of(job).causes.causes}
    assert costs == {(c.cause, c.id): c.cost for c in diagnosis.energy.causes}
    whole = sum(diagnosis.energy.heating.values())
    shared = sum(sum(sum(m) for m in c.heating_months.values()) for c in diagnosis.energy.causes)
    assert shared == pytest.approx(whole, rel=1e-6)
