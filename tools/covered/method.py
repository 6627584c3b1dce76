"""One method of reduction, and how often its range holds the truth."""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.random import Generator

TRIALS = 2000
"""Simulated field tests for each method."""

PROBABILITY = 0.90
"""Of the true value lying in the range [0-1]."""

LEAST, MOST = 0.87, 0.93
"""Wanted share of trials with the truth in the range [0-1]."""


class Ranged(Protocol):
    """Anything that can say between which limits the true value lies."""

    def limits(self, probability: float) -> tuple[float, float]:
        """Return the limits that hold the true value with a probability [0-1]."""
        ...


@dataclass(frozen=True, slots=True)
class Method:
    """A reduction that states a range, and a way to try it.

    Attributes
    ----------
    name : str
        What is reduced to what, in plain words.
    trial : callable
        Draws a truth, simulates the field test, reduces it; returns the true value and the
        result in the same unit, or None where the reduction declined to state a value.
    draws : str
        What each trial draws, in plain words, for the page.
    """

    name: str
    trial: Callable[[Generator], tuple[float, Ranged] | None]
    draws: str = ""


@dataclass(frozen=True, slots=True)
class Coverage:
    """How often the range held the truth.

    Attributes
    ----------
    method : Method
        Which.
    trials : int
        That gave a value.
    declined : int
        That gave none.
    below, above : float
        Share of `trials` with the truth below and above the range [0-1].
    width : float
        Median of half the range over the truth [0-1].
    """

    method: Method
    trials: int
    declined: int
    below: float
    above: float
    width: float

    @property
    def inside(self) -> float:
        """Share of trials with the truth in the range [0-1]."""
        return 1.0 - self.below - self.above

    @property
    def is_good(self) -> bool:
        """Whether that share is as wanted."""
        return LEAST <= self.inside <= MOST


def measure_coverage(method: Method, trials: int = TRIALS) -> Coverage:
    """Try a method, and count; the same trials each time."""
    random = np.random.default_rng(zlib.crc32(method.name.encode()))
    below = above = declined = 0
    widths = []
    for _ in range(trials):
        outcome = method.trial(random)
        if outcome is None:
            declined += 1
            continue
        truth, result = outcome
        low, high = result.limits(PROBABILITY)
        below, above = below + (truth < low), above + (truth > high)
        widths.append(0.5 * (high - low) / abs(truth) if truth else float("inf"))
    done = trials - declined
    if not done:
        raise SystemExit(f"{method.name}: no trial gave a value")
    return Coverage(method, done, declined, below / done, above / done, float(np.median(widths)))
