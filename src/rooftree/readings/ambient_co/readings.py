"""What an analyser shows in the air of rooms over the hours of a visit."""

from __future__ import annotations

from dataclasses import dataclass

from rooftree.known import Answer


@dataclass(frozen=True, slots=True)
class AmbientReading:
    """One reading of room air.

    Attributes
    ----------
    seconds : float
        Since the first reading of the visit [s].
    place : str
        Room, or ``"outdoors"``.
    carbon_monoxide : float
        As shown [ppm].
    running : str
        What burnt or ran meanwhile.
    """

    seconds: float
    place: str
    carbon_monoxide: float
    running: str = ""


@dataclass(frozen=True, slots=True)
class AmbientTest:
    """Carbon monoxide of the air of a house over a visit.

    Attributes
    ----------
    air : tuple of AmbientReading
        In the order taken.
    zeroed_outdoors : Answer
        Whether the analyser was warmed up and zeroed in outdoor air before.
    alarm_sounded : bool
        Whether an alarm of the house or of the analyser sounded.
    symptoms : bool
        Whether somebody has headache, nausea or drowsiness that fits.
    analyser_range : float or None
        Highest carbon monoxide that the analyser shows [ppm].
    reading_uncertainty : float
        Standard uncertainty of one reading near zero, resolution included [ppm].
    concentration_uncertainty : float
        Standard uncertainty of one reading, relative, common to all [0-1].
    """

    air: tuple[AmbientReading, ...] = ()
    zeroed_outdoors: Answer = Answer.NOT_SAID
    alarm_sounded: bool = False
    symptoms: bool = False
    analyser_range: float | None = None
    reading_uncertainty: float = 1.0
    concentration_uncertainty: float = 0.05
