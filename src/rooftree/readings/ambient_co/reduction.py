"""Reduce the readings of room air to a level, a trend and what to do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.finding import Severity
from rooftree.readings.ambient_co.judge import (
    CAUTIONS,
    OUTDOORS,
    judge_analyser,
    judge_level,
    judge_people,
    judge_trend,
)
from rooftree.readings.ambient_co.trend import places_of

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.ambient_co.readings import AmbientTest
    from rooftree.readings.ambient_co.trend import PlaceResult


@dataclass(frozen=True, slots=True)
class AmbientResult:
    """What the air of the house tells.

    Attributes
    ----------
    places : tuple of PlaceResult
        Each place, in the order first read.
    highest : PlaceResult or None
        Indoors; None where nothing was read there.
    findings : tuple of Finding
    cautions : str
        The usual cautions; show them wherever the result is shown.
    says : str
        What it means, in one or two sentences.
    """

    places: tuple[PlaceResult, ...]
    highest: PlaceResult | None
    findings: tuple[Finding, ...]
    says: str
    cautions: str = CAUTIONS


def reduce_ambient_co(test: AmbientTest) -> AmbientResult:
    """Reduce the carbon monoxide of room air over a visit.

    Parameters
    ----------
    test : AmbientTest
        Readings.

    Returns
    -------
    AmbientResult

    Notes
    -----
    Levels: 9 ppm find the source (quoted), 35 ppm stop (read), 100 ppm leave (quoted); a
    recalled 70 ppm adds a sentence.

    Examples
    --------
    >>> from rooftree.readings.ambient_co.readings import AmbientReading, AmbientTest
    >>> test = AmbientTest((AmbientReading(0.0, "kitchen", 2.0),))
    >>> reduce_ambient_co(test).highest.highest
    2.0
    """
    places = places_of(test)
    indoors = [place for place in places if place.place.strip().lower() != OUTDOORS]
    highest = max(indoors, key=lambda place: place.highest, default=None)
    findings = (
        *judge_people(test),
        *(finding for place in indoors for finding in judge_level(place)),
        *(finding for place in indoors for finding in judge_trend(place)),
        *judge_analyser(test, places),
    )
    return AmbientResult(places, highest, findings, _says(highest, findings))


def _says(highest: PlaceResult | None, findings: tuple[Finding, ...]) -> str:
    for severity in (Severity.STOP, Severity.GATE):
        for finding in findings:
            if finding.severity is severity:
                return finding.says
    if highest is None:
        return "No room has been read yet. Read outdoors first, then each room."
    return (
        f"At most {highest.highest:.0f} ppm of carbon monoxide indoors ({highest.place}), which"
        " asks for nothing more today; read again while each burner runs."
    )
