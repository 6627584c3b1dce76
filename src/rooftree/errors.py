"""Errors that Rooftree raises on purpose.

RooftreeError
├── OutOfRangeError      a value outside the range a published method covers
├── NotEnoughDataError   too few readings to reduce a test
├── UnitError            a quantity without a unit, or with one that does not fit
├── HouseError           a house that cannot be simulated as described
├── WeatherError         a weather file with missing hours or fields
├── PlanError            measures that contradict each other
├── DocumentError        a job file that cannot be taken
└── StoreError           a database or a folder that cannot be read or written

A bad reading is a finding, not an exception: these are for inputs that a method
cannot take at all. Every message names the field, its value, what is allowed and
the remedy; the same facts are attributes, so that a form can mark the field.
"""

from __future__ import annotations


class RooftreeError(Exception):
    """Base of every error that this package raises on purpose."""


class OutOfRangeError(RooftreeError, ValueError):
    """A value lies outside the range that the cited method covers."""

    def __init__(self, name: str, value: float, low: float, high: float, unit: str) -> None:
        super().__init__(
            f"{name} is {value:g} {unit}; the method covers {low:g} to {high:g} {unit}"
        )
        self.name, self.value, self.low, self.high, self.unit = name, value, low, high, unit


class NotEnoughDataError(RooftreeError, ValueError):
    """Too few readings, or readings too alike, to reduce the test."""


class UnitError(RooftreeError, ValueError):
    """A quantity has no unit, or one that does not measure what the field asks for.

    `path` is the field, `text` what stood there, `says` what is wrong with it,
    `remedy` what to write instead and `allowed` the units that would do.
    """

    def __init__(
        self,
        message: str,
        *,
        path: str = "",
        text: str = "",
        says: str = "",
        remedy: str = "",
        allowed: tuple[str, ...] = (),
    ) -> None:
        super().__init__(message)
        self.path, self.text, self.says = path, text, says
        self.remedy, self.allowed = remedy, allowed


class HouseError(RooftreeError, ValueError):
    """A house cannot be simulated as it is described."""


class WeatherError(RooftreeError, ValueError):
    """A weather file lacks hours or fields, or is not a weather file."""


class PlanError(RooftreeError, ValueError):
    """Measures contradict each other or name things the house does not have."""


class DocumentError(RooftreeError, ValueError):
    """A job file cannot be taken; `problems` lists each place with its remedy."""

    def __init__(self, message: str, problems: tuple[tuple[str, str], ...] = ()) -> None:
        super().__init__(message)
        self.problems = problems


class StoreError(RooftreeError, OSError):
    """A database or a folder cannot be read or written; nothing was half-written."""
