"""What the record of an instrument says about a test that was made with it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from statistics import median
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.units import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from rooftree.job.model import Instrument, Job
    from rooftree.physics.instruments import InstrumentTerms

_DAYS_OF_A_YEAR = 365.25


class Measured(StrEnum):
    """What an instrument measures."""

    PRESSURE = "pressure"
    FLOW = "air flow"
    TEMPERATURE = "temperature"
    HUMIDITY = "relative humidity"
    CONCENTRATION = "concentration"
    MOISTURE = "wood moisture"
    LENGTH = "length"
    SPEED = "air speed"


@dataclass(frozen=True, slots=True)
class Use:
    """Where a test keeps how sure a reading is.

    Attributes
    ----------
    field : str
        Name of the standard uncertainty among the readings.
    is_relative : bool
        Whether it is a share of the reading.
    kinds : frozenset of Kind
        Kinds of quantity that were read.
    named : str
        Part of the name of those fields; empty for all of the kind.
    """

    field: str
    is_relative: bool
    kinds: frozenset[Kind]
    named: str = ""


USES: Mapping[Measured, Use] = {
    Measured.PRESSURE: Use(
        "pressure_uncertainty", False, frozenset({Kind.PRESSURE, Kind.STATIC_PRESSURE})
    ),
    Measured.FLOW: Use("flow_uncertainty", True, frozenset({Kind.FLOW})),
    Measured.TEMPERATURE: Use("temperature_uncertainty", False, frozenset({Kind.TEMPERATURE})),
    Measured.HUMIDITY: Use(
        "humidity_uncertainty", False, frozenset({Kind.FRACTION}), named="humidity"
    ),
    Measured.CONCENTRATION: Use("concentration_uncertainty", True, frozenset({Kind.CONCENTRATION})),
    Measured.MOISTURE: Use("wood_uncertainty", False, frozenset({Kind.FRACTION}), named="moisture"),
    Measured.LENGTH: Use("length_uncertainty", False, frozenset({Kind.LENGTH, Kind.THICKNESS})),
}
"""Where each quantity goes; the speed of air has no test of its own."""


@dataclass(frozen=True, slots=True)
class Capability:
    """How well an instrument measures one quantity.

    Attributes
    ----------
    quantity : Measured
        What.
    terms : InstrumentTerms
        What its record says, in the unit of the core; concentrations in ppm.
    """

    quantity: Measured
    terms: InstrumentTerms


@dataclass(frozen=True, slots=True)
class Sureness:
    """How sure readings of one quantity are, on the day of a visit.

    Attributes
    ----------
    terms : InstrumentTerms
        Of the instrument.
    age : float
        Time since its calibration [years], >= 0.
    """

    terms: InstrumentTerms
    age: float

    def standard(self, readings: Sequence[float], *, is_relative: bool) -> float | None:
        """Return the standard uncertainty of a reading of usual size.

        Parameters
        ----------
        readings : sequence of float
            All that were read of this quantity [unit of the core].
        is_relative : bool
            Whether to return it as a share of the reading.

        Returns
        -------
        float or None
            At the median size of the readings; None where nothing above zero was read, or
            the record says nothing of how far a reading may be off.

        Notes
        -----
        One figure stands for all readings of a test; for one twice the median of size an
        accuracy that grows with the reading is understated by at most that share.
        """
        sizes = [abs(one) for one in readings if one]
        if not sizes:
            return None
        size = median(sizes)
        standard = self.terms.standard_uncertainty(size, self.age)
        if standard == 0.0:
            return None
        return standard / size if is_relative else standard


def sureness_of(
    instruments: Iterable[Instrument], used: Iterable[str], day: str
) -> dict[Measured, Sureness]:
    """Return how sure the instruments of a test are, by what they measure.

    Parameters
    ----------
    instruments : iterable of Instrument
        Of the job.
    used : iterable of str
        Ids of those used; the first that measures a quantity counts.
    day : str
        ISO date of the visit; empty where it is not known.

    Returns
    -------
    dict from Measured to Sureness
    """
    by_id = {one.id: one for one in instruments}
    found: dict[Measured, Sureness] = {}
    for one in (by_id[name] for name in used if name in by_id):
        for capability in one.measures:
            age = max(0.0, years_between(one.calibrated, day))
            found.setdefault(capability.quantity, Sureness(capability.terms, age))
    return found


def years_between(start: str, end: str) -> float:
    """Return the time from one ISO date to another [years]; 0 where either is not known."""
    try:
        days = (date.fromisoformat(end) - date.fromisoformat(start)).days
    except ValueError:
        return 0.0
    return days / _DAYS_OF_A_YEAR


def judge_instruments(job: Job, used: Iterable[str], visit: str) -> tuple[Finding, ...]:
    """Judge whether the instruments of a test were in calibration on the day of the visit.

    Parameters
    ----------
    job : Job
        With instruments and visits.
    used : iterable of str
        Ids of the instruments of the test.
    visit : str
        Id of its visit.

    Returns
    -------
    tuple of Finding
    """
    by_id = {one.id: one for one in job.instruments}
    day = next((one.date for one in job.visits if one.id == visit), "")
    return tuple(
        finding
        for name in used
        if name
        for finding in (
            _judged(by_id[name], day) if name in by_id else (_unknown_instrument(name),)
        )
    )


def _judged(one: Instrument, day: str) -> tuple[Finding, ...]:
    if not one.calibrated and not one.due:
        says = (
            f"Nothing says when the {one.name} was calibrated: a result that is disputed cannot "
            "be defended. Enter the date from its certificate, or check it against another today."
        )
        return (_finding("no-date", says, one),)
    if one.due and day and one.due < day:
        says = (
            f"The {one.name} was due for calibration on {one.due}, before this visit. Check it "
            "against another instrument now; have it calibrated, and say so in the report."
        )
        return (_finding("overdue", says, one),)
    if one.calibrated and day and one.calibrated > day:
        says = (
            f"The {one.name} is said to have been calibrated on {one.calibrated}, after this "
            "visit. Correct the date, or enter the calibration that held on the day."
        )
        return (_finding("later", says, one),)
    return ()


def _finding(code: str, says: str, one: Instrument) -> Finding:
    return Finding(
        f"instrument/{code}", Severity.NOTE, says, source="common practice", about=one.id
    )


def _unknown_instrument(name: str) -> Finding:
    says = f'No instrument of this job is called "{name}". Choose one, or add it to Instruments.'
    return Finding("instrument/unknown", Severity.NOTE, says, source="common practice", about=name)
