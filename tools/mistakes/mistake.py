"""One field mistake, and how often the reductions notice it."""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.random import Generator

    from rooftree.finding import Finding

TESTS = 200
"""Generated tests for each mistake, clean and spoilt."""

LEAST_CAUGHT, MOST_FALSE = 0.95, 0.02
"""Wanted of mistakes that change a result by a factor of two, and of clean tests [0-1]."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """A mistake that can be made on purpose.

    Attributes
    ----------
    number : int or None
        Of the mistake among the thirty-two that are common in the field.
    name : str
        In plain words.
    codes : tuple of str
        Findings of which at least one must be raised, and none on a clean test.
    clean : callable
        Draws a test as it is read when nothing goes wrong, noise included.
    spoil : callable
        Takes that test and a generator, and returns it with the mistake.
    reduce : callable
        Takes a test and returns its findings.
    factor_of_two : bool
        Whether the mistake changes the result by a factor of two or more.
    """

    number: int | None
    name: str
    codes: tuple[str, ...]
    clean: Callable[[Generator], Any]
    spoil: Callable[[Any, Generator], Any]
    reduce: Callable[[Any], Iterable[Finding]]
    factor_of_two: bool = False


@dataclass(frozen=True, slots=True)
class Rates:
    """How often a mistake was noticed.

    Attributes
    ----------
    mistake : Mistake
        Which.
    tests : int
        Generated, spoilt and clean each.
    caught : float
        Share of spoilt tests with one of the findings [0-1].
    false_alarms : float
        Share of clean tests with one of the findings [0-1].
    """

    mistake: Mistake
    tests: int
    caught: float
    false_alarms: float

    @property
    def is_good(self) -> bool:
        """Whether both rates are as wanted."""
        enough = self.caught >= LEAST_CAUGHT or not self.mistake.factor_of_two
        return enough and self.false_alarms <= MOST_FALSE


def measure_rates(mistake: Mistake, tests: int = TESTS) -> Rates:
    """Give a mistake to its reduction, and count; the same tests each time."""
    random = np.random.default_rng(zlib.crc32(mistake.name.encode()))
    caught = false_alarms = 0
    for _ in range(tests):
        test = mistake.clean(random)
        false_alarms += _is_noticed(mistake, test)
        caught += _is_noticed(mistake, mistake.spoil(test, random))
    return Rates(mistake, tests, caught / tests, false_alarms / tests)


def _is_noticed(mistake: Mistake, test: object) -> bool:
    return any(finding.code in mistake.codes for finding in mistake.reduce(test))
