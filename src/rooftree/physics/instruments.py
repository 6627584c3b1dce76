"""How sure a single reading of an instrument is, from what its record says.

Sources
-------
[GUM] JCGM 100:2008, "Guide to the expression of uncertainty in measurement": 4.2 (readings
repeated), 4.3.7 (limits with nothing else known), F.2.2.1 (resolution of a display).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from statistics import fmean, stdev
from typing import TYPE_CHECKING

from rooftree.errors import NotEnoughDataError, OutOfRangeError
from rooftree.physics.uncertainty import UncertaintyTerm

if TYPE_CHECKING:
    from collections.abc import Sequence

RECTANGULAR = math.sqrt(3.0)
"""Half-width over standard uncertainty where any value between limits is as likely [-]."""

ACCURACY, DRIFT, RESOLUTION, REPEATABILITY = (
    "accuracy of the instrument",
    "time since calibration",
    "resolution of the display",
    "repeatability",
)


class Accuracy(StrEnum):
    """How the absolute part and the share of an accuracy go together."""

    SUM = "sum"
    LARGER = "larger"


@dataclass(frozen=True, slots=True)
class InstrumentTerms:
    """What the record of an instrument says about one quantity that it measures.

    Attributes
    ----------
    absolute : float
        Part of the stated accuracy that is the same at every reading, >= 0 [unit of the
        reading].
    share : float
        Part that grows with the reading, >= 0 [0-1].
    accuracy : Accuracy
        Whether the two are added, or the larger holds ("... or ..., whichever is more").
    divisor : float
        Stated accuracy over standard uncertainty [-]: √3 for limits with nothing else said,
        2 for an expanded uncertainty with that coverage factor, 1 for a standard one.
    resolution : float
        Smallest step of the display, >= 0 [unit of the reading].
    drift_per_year : float
        By how much a reading may have moved for each year since calibration, >= 0 [unit of
        the reading].
    drift_share_per_year : float
        The same as a share of the reading, >= 0 [0-1].

    Raises
    ------
    OutOfRangeError
        If one of them is negative, or the divisor is below 1.

    Examples
    --------
    >>> gauge = InstrumentTerms(absolute=0.15, share=0.01, accuracy=Accuracy.LARGER, resolution=0.1)
    >>> round(gauge.standard_uncertainty(50.0), 3)
    0.29
    """

    absolute: float = 0.0
    share: float = 0.0
    accuracy: Accuracy = Accuracy.SUM
    divisor: float = RECTANGULAR
    resolution: float = 0.0
    drift_per_year: float = 0.0
    drift_share_per_year: float = 0.0

    def __post_init__(self) -> None:
        for name, value, low, unit in (
            ("absolute accuracy", self.absolute, 0.0, "(unit of the reading)"),
            ("accuracy as a share", self.share, 0.0, "[0-1]"),
            ("divisor of the accuracy", self.divisor, 1.0, "[-]"),
            ("resolution", self.resolution, 0.0, "(unit of the reading)"),
            ("drift per year", self.drift_per_year, 0.0, "(unit of the reading)"),
            ("drift per year as a share", self.drift_share_per_year, 0.0, "[0-1]"),
        ):
            if not low <= value < math.inf:
                raise OutOfRangeError(name, value, low, math.inf, unit)

    def terms(self, value: float, age_years: float = 0.0) -> tuple[UncertaintyTerm, ...]:
        """Return each contribution to the uncertainty of one reading.

        Parameters
        ----------
        value : float
            The reading, of either sign [unit of the reading].
        age_years : float
            Time since calibration, >= 0 [years].

        Returns
        -------
        tuple of UncertaintyTerm
            Accuracy, drift and resolution, in the unit of the reading.

        Raises
        ------
        OutOfRangeError
            If the age is negative.

        Notes
        -----
        Drift and resolution are limits between which any value is as likely [GUM]_, 4.3.7:
        ``a/√3``. A display of step ``d`` hides ``±d/2``: ``d/(2√3)``, F.2.2.1.
        """
        if not 0.0 <= age_years < math.inf:
            raise OutOfRangeError("age of the calibration", age_years, 0.0, math.inf, "years")
        size = abs(value)
        parts = (self.absolute, self.share * size)
        stated = sum(parts) if self.accuracy is Accuracy.SUM else max(parts)
        drift = (self.drift_per_year + self.drift_share_per_year * size) * age_years
        return (
            UncertaintyTerm(ACCURACY, stated / self.divisor),
            UncertaintyTerm(DRIFT, drift / RECTANGULAR),
            UncertaintyTerm(RESOLUTION, 0.5 * self.resolution / RECTANGULAR),
        )

    def standard_uncertainty(self, value: float, age_years: float = 0.0) -> float:
        """Return the standard uncertainty of one reading, in its unit.

        Parameters
        ----------
        value : float
            The reading, of either sign [unit of the reading].
        age_years : float
            Time since calibration, >= 0 [years].
        """
        return math.hypot(*(term.standard for term in self.terms(value, age_years)))

    def shared_uncertainty(self, value: float, age_years: float = 0.0) -> float:
        """Return the part that all readings of one visit have in common, in their unit.

        Parameters
        ----------
        value : float
            The reading, of either sign [unit of the reading].
        age_years : float
            Time since calibration, >= 0 [years].

        Notes
        -----
        Accuracy and drift: an instrument that reads high does so each time. The resolution
        is left out, as it differs from reading to reading.
        """
        accuracy, drift, _ = self.terms(value, age_years)
        return math.hypot(accuracy.standard, drift.standard)


def repeatability(readings: Sequence[float]) -> UncertaintyTerm:
    """Return the standard uncertainty of the mean of readings repeated.

    Parameters
    ----------
    readings : sequence of float
        Two or more of the same thing, each set up anew [any unit].

    Returns
    -------
    UncertaintyTerm
        In their unit, with one degree of freedom less than readings.

    Raises
    ------
    NotEnoughDataError
        If there are fewer than two.

    Notes
    -----
    ``s/√n`` [GUM]_, eq. 5. For the scatter of one reading take :func:`pooled_scatter`.

    Examples
    --------
    >>> round(repeatability([10.0, 12.0, 14.0]).standard, 3)
    1.155
    """
    if len(readings) < 2:
        raise NotEnoughDataError("repeatability needs two readings of the same thing; repeat it")
    error = stdev(readings) / math.sqrt(len(readings))
    return UncertaintyTerm(REPEATABILITY, error, len(readings) - 1.0)


def pooled_scatter(groups: Sequence[Sequence[float]]) -> UncertaintyTerm:
    """Return the scatter of a single reading from several sets of readings repeated.

    Parameters
    ----------
    groups : sequence of sequence of float
        Readings of the same thing in each set; sets of one tell nothing [any unit].

    Returns
    -------
    UncertaintyTerm
        Standard deviation of one reading, in their unit.

    Raises
    ------
    NotEnoughDataError
        If no set has two readings.

    Notes
    -----
    ``s_p² = sum((x - mean of its set)²) / (N - number of sets)`` [GUM]_, 4.2.4.
    """
    repeated = [group for group in groups if len(group) > 1]
    if not repeated:
        raise NotEnoughDataError("no reading was repeated; repeat at least one")
    squares = math.fsum((x - fmean(group)) ** 2 for group in repeated for x in group)
    freedom = sum(len(group) - 1 for group in repeated)
    return UncertaintyTerm(REPEATABILITY, math.sqrt(squares / freedom), float(freedom))
