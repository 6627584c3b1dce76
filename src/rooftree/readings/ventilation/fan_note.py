"""What findings on single fans have in common."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity

if TYPE_CHECKING:
    from rooftree.readings.ventilation.readings import FanReading

NAMED = ("fan", "hood", "dryer", "ventilator", "recovery", "supply", "exhaust")
"""Words after which a name needs no "fan" behind it."""

PRACTICE = "common practice"


def fan_note(
    code: str,
    reading: FanReading | None,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    *,
    unit: str = "",
    source: str = PRACTICE,
) -> Finding:
    """Return a finding on a fan.

    Parameters
    ----------
    code : str
        Behind ``"ventilation/"``.
    reading : FanReading or None
        Which fan; None for all.
    says : str
        Sentence.
    value, limit : float or None
        What was found, and against what [unit].
    unit : str
        Of both.
    source : str
        Document of the limit.

    Returns
    -------
    Finding
    """
    about = reading.name if reading is not None else ""
    return Finding(f"ventilation/{code}", Severity.NOTE, says, value, limit, unit, source, about)


def called(reading: FanReading) -> str:
    """Return what a fan is called in a sentence: a room's name alone would not do.

    Parameters
    ----------
    reading : FanReading
        Which fan.

    Returns
    -------
    str
    """
    name = reading.name.strip()
    return name if any(word in name.casefold() for word in NAMED) else f"{name} fan"
