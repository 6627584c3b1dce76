"""What a report is about: everything that its words are made from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.house import House
    from rooftree.job import Job
    from rooftree.job.reduction import Reductions
    from rooftree.papers.section import SectionState
    from rooftree.plan.model import Plan


@dataclass(frozen=True, slots=True)
class ReportSubject:
    """What a report is about.

    Attributes
    ----------
    job : Job
        The record.
    reductions : Reductions
        Its tests, reduced.
    house : House
        As found, with the tests put in.
    plan : Plan
        Staged.
    state : SectionState
        What the section drawing shows.
    calibrated : bool
        Whether the house was fitted to its bills.
    made : str
        Date of the report, ISO.
    """

    job: Job
    reductions: Reductions
    house: House
    plan: Plan
    state: SectionState
    calibrated: bool
    made: str
