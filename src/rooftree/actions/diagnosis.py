"""What the simulated year of a job tells of its house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.actions.memory import Kept, fingerprint
from rooftree.actions.simulation import case_key, case_of, prices_of, simulate_job
from rooftree.actions.year import weather_of
from rooftree.diagnosis import diagnose

if TYPE_CHECKING:
    from rooftree.diagnosis import Diagnosis
    from rooftree.job import Job

_DIAGNOSES: Kept[Diagnosis] = Kept(4)


def diagnosis_of(job: Job) -> Diagnosis:
    """Return where heat, air and water go in a job's house through its year.

    Parameters
    ----------
    job : Job
        Any.

    Returns
    -------
    Diagnosis
        With the prices of the job's tariff.

    Raises
    ------
    HouseError
        If the house cannot be simulated as it is described.
    """
    key = fingerprint(case_key(job), job.weather, job.tariff)
    return _DIAGNOSES.of(key, lambda: _diagnosis(job))


def _diagnosis(job: Job) -> Diagnosis:
    house, weather = case_of(job).house, weather_of(job)
    return diagnose(house, simulate_job(job), weather, prices=prices_of(job))
