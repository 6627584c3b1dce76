"""The job: visits, complaints, places, observations, tests, house, bills, measures."""

from rooftree.job.model import (
    Complaint,
    Decision,
    Instrument,
    Job,
    Observation,
    Photo,
    Place,
    Test,
    Typed,
    Visit,
)

__all__ = [
    "Complaint",
    "Decision",
    "Instrument",
    "Job",
    "Observation",
    "Photo",
    "Place",
    "Test",
    "Typed",
    "Visit",
]
