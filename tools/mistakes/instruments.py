"""Mistakes with the instruments of a visit, whatever the test."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from typing import TYPE_CHECKING

from mistakes.mistake import Mistake
from rooftree.actions.demo import demo_text
from rooftree.job import Instrument, Job
from rooftree.job.instruments import judge_instruments
from rooftree.records.document import read_document

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.random import Generator

    from rooftree.finding import Finding


@dataclass(frozen=True, slots=True)
class Used:
    """The instrument of a test, and its name as noted with the test."""

    instrument: Instrument
    noted: str


@cache
def _job() -> Job:
    return read_document(demo_text()).to_core()


def _day() -> date:
    return date.fromisoformat(_job().visits[0].date)


def clean(random: Generator) -> Used:
    """Draw an instrument that was calibrated before the visit and is due after it."""
    before, after = (timedelta(days=int(random.integers(1, 350))) for _ in range(2))
    calibrated, due = (_day() - before).isoformat(), (_day() + after).isoformat()
    return Used(Instrument("gauge-7", "gauge", "pressure gauge", calibrated, due), "gauge-7")


def findings(used: Used) -> Iterable[Finding]:
    """Judge it on the day of the visit."""
    job = replace(_job(), instruments=(used.instrument,))
    return judge_instruments(job, [used.noted], job.visits[0].id)


def overdue(used: Used, random: Generator) -> Used:
    """Let the calibration have been due 1 to 900 days before the visit."""
    due = _day() - timedelta(days=int(random.integers(1, 900)))
    calibrated = due - timedelta(days=365)
    return replace(
        used,
        instrument=replace(used.instrument, calibrated=calibrated.isoformat(), due=due.isoformat()),
    )


def undated(used: Used, _: Generator) -> Used:
    """Leave both dates out."""
    return replace(used, instrument=replace(used.instrument, calibrated="", due=""))


def misnamed(used: Used, _: Generator) -> Used:
    """Note an instrument that is not in the list."""
    return replace(used, noted="gauge-8")


MISTAKES = (
    Mistake(30, "calibration overdue", ("instrument/overdue",), clean, overdue, findings),
    Mistake(30, "calibration date not known", ("instrument/no-date",), clean, undated, findings),
    Mistake(30, "instrument not known", ("instrument/unknown",), clean, misnamed, findings),
)
