"""The section of a job's house in motion."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.simulation import case_key, case_of, simulate_job
from rooftree.actions.year import weather_of
from rooftree.papers.section import (
    MovingSection,
    measured_pressures,
    sequence_names,
    sequence_of,
    state_of_hours,
    widest_state,
)

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.papers.section import Moment
    from rooftree.units import DisplaySystem


@dataclass(frozen=True, slots=True)
class Moments:
    """A sequence of moments of one house.

    Attributes
    ----------
    name, words : str
        Of the sequence.
    moments : tuple of Moment
        In order.
    """

    name: str
    words: str
    moments: tuple[Moment, ...]


_SECTIONS: Kept[MovingSection] = Kept(8)
_MOMENTS: Kept[Moments] = Kept(64)


def moving_section(job: Job, system: DisplaySystem) -> MovingSection:
    """Return the section of a job's house, ready to show any moment.

    Parameters
    ----------
    job : Job
        Any.
    system : DisplaySystem
        Units of its labels.

    Returns
    -------
    MovingSection
    """
    return _SECTIONS.of(_key(job, system), lambda: _section(job, system))


def _key(job: Job, system: DisplaySystem, *more: str) -> str:
    return fingerprint(case_key(job), job.weather, job.invented, system, *more)


def _section(job: Job, system: DisplaySystem) -> MovingSection:
    house = case_of(job).house
    return MovingSection(
        house,
        widest_state(house, simulate_job(job), weather_of(job)),
        system=system,
        note="invented house" if job.invented else "",
        pressures=measured_pressures(house, [test.reading for test in job.tests]),
    )


def moments_of(job: Job, name: str, system: DisplaySystem) -> Moments:
    """Return the moments of a sequence.

    Parameters
    ----------
    job : Job
        Any.
    name : str
        Of the sequence: one of `sequences_of`, or ``"day-1"`` to ``"day-365"``.
    system : DisplaySystem
        Units of what is said.

    Returns
    -------
    Moments

    Raises
    ------
    KeyError, OutOfRangeError
        If there is no such sequence.
    """
    return _MOMENTS.of(_key(job, system, name), lambda: _moments(job, name, system))


def _moments(job: Job, name: str, system: DisplaySystem) -> Moments:
    house, year, weather = case_of(job).house, simulate_job(job), weather_of(job)
    sequence = sequence_of(name, weather)
    section = moving_section(job, system)
    return Moments(
        sequence.name,
        sequence.words,
        tuple(
            section.moment(state_of_hours(house, year, weather, hours, words))
            for words, hours in sequence.moments
        ),
    )


def sequences_of(job: Job) -> dict[str, str]:
    """Return the sequences that can be chosen besides single days, with their words.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    dict of str to str
    """
    return sequence_names(weather_of(job))
