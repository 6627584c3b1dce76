"""What a validation check is, and the ledger in which each one writes its result."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Check:
    """One number of ours that is held against a published range.

    Attributes
    ----------
    case, quantity, unit : str
        What is computed; the unit is that of the three numbers below.
    low, high : float
        The published range, or the published value less and plus its tolerance.
    digits : int
        Decimals to which the range is printed, and ours is rounded before it is judged.
    reason : str
        Why ours is known to lie outside; empty where it must lie inside.
    """

    case: str
    quantity: str
    unit: str
    low: float
    high: float
    digits: int = 3
    reason: str = ""

    def __str__(self) -> str:
        """Return a name for the list of tests."""
        return f"{self.case} {self.quantity}"

    def shown(self, value: float) -> str:
        """Return a value with the decimals of the range."""
        return f"{value + 0.0:.{self.digits}f}"

    def holds(self, value: float) -> bool:
        """Return whether a value lies in the range, to its last printed digit."""
        return self.low <= round(value, self.digits) <= self.high


@dataclass(frozen=True, slots=True)
class Suite:
    """Checks of one published suite; `note` says what differs from it in words for a page."""

    title: str
    source: str
    read: str
    note: str
    checks: tuple[Check, ...]


def near(
    case: str, quantity: str, unit: str, expected: float, tolerance: float, digits: int = 3,
    reason: str = "",
) -> Check:  # fmt: skip
    """Return a check against one published value and its tolerance."""
    low, high = round(expected - tolerance, digits), round(expected + tolerance, digits)
    return Check(case, quantity, unit, low, high, digits, reason)


LEDGER: dict[Check, float] = {}
"""What every check that has run came to."""


def confirm(check: Check, value: float) -> None:
    """Write a result into the ledger and judge it.

    A check that gives a reason to lie outside must lie outside: a reason that has become
    untrue is taken away, never left standing.
    """
    LEDGER[check] = value
    where = f"{check.shown(value)} {check.unit}, range {check.low} to {check.high}"
    if check.reason:
        assert not check.holds(value), f"{check} is now inside: {where}; take its reason away"
    else:
        assert check.holds(value), f"{check} is outside: {where}"
