"""How a value is known: every value of the house carries this beside it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class How(StrEnum):
    """The ways of knowing a value, surest first."""

    MEASURED = "measured"
    OBSERVED = "observed"
    TOLD = "told"
    ASSUMED = "assumed"
    NOT_SEEN = "not seen"


@dataclass(frozen=True, slots=True)
class Known:
    """How one value is known.

    Attributes
    ----------
    how : How
        Measured, observed, told, assumed or not seen.
    note : str
        By what, by whom, from which table, or why it was not seen.
    """

    how: How = How.ASSUMED
    note: str = ""


class Answer(StrEnum):
    """An answer that may not have been given yet."""

    YES = "yes"
    NO = "no"
    NOT_NEEDED = "not needed"
    NOT_SAID = "not said"
