"""A finding: one thing that a reading, a survey or a simulation tells.

Reductions, gates and plans make findings; pages and papers only render them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """What a finding demands."""

    STOP = "stop"
    """Do not proceed."""
    GATE = "gate"
    """Must be solved before named measures."""
    NOTE = "note"
    """Worth knowing; blocks nothing."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What was noticed, with the limit it was held against.

    Attributes
    ----------
    code : str
        Stable name of the rule, such as ``"fan-test/exponent"``.
    severity : Severity
        What it demands.
    says : str
        One plain sentence for the person who reads it, remedy included.
    value, limit : float or None
        What was found and what it was held against, in `unit`.
    unit : str
        Unit of both, as written in a docstring: ``"Pa"``, ``"1/h"``.
    source : str
        Document and clause of the limit; ``"common practice"`` or ``"recalled: ..."``
        where no document was read.
    about : str
        What it concerns: the id of a reading, space, surface or measure.
    """

    code: str
    severity: Severity
    says: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = ""
    about: str = ""
