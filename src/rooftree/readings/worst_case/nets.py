"""Each reading with the baseline taken off, and how far wind and gauge blur it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.propagation import Propagated
from rooftree.physics.uncertainty import coverage_factor
from rooftree.readings.worst_case.switches import combination_of

if TYPE_CHECKING:
    from rooftree.readings.worst_case.readings import WorstCaseTest
    from rooftree.readings.worst_case.switches import Combination

NO_BASELINE = 2.0
"""Standard uncertainty of a zone's pressure by stack and wind where nobody read it [Pa]; ours:
a house of one to two storeys in mild weather."""

UNSEEN_DRIFT = 0.5
"""Standard uncertainty of the drift of a baseline read once only [Pa]; ours."""

FEWEST_REPEATS = 2
"""Degrees of freedom from which the scatter of baselines tells of the wind [-]; ours."""

GUST_SHARE = 0.4
"""Standard uncertainty of a reading over half the swing seen meanwhile [-]; ours: the eye takes
about two and a half standard deviations for the swing."""


@dataclass(frozen=True, slots=True)
class Blur:
    """How far one reading can be off.

    Attributes
    ----------
    standard : float
        Standard uncertainty of one reading, gauge and wind together [Pa].
    wind : float
        The part of the wind [Pa].
    degrees_of_freedom : float
        How well it is known [-].
    """

    standard: float
    wind: float
    degrees_of_freedom: float


@dataclass(frozen=True, slots=True)
class Baseline:
    """The pressure without fans, along the search.

    Attributes
    ----------
    before, after : float or None
        Means of the readings [Pa].
    spread : tuple of float
        Weight of the variance of one reading at both ends [-].
    extra : float
        Standard uncertainty that comes on top [Pa].
    """

    before: float | None
    after: float | None
    spread: tuple[float, float]
    extra: float

    def at(self, position: float) -> float:
        """Return the baseline at a moment of the search.

        Parameters
        ----------
        position : float
            0 at the start, 1 at the end [0-1].

        Returns
        -------
        float
            [Pa]
        """
        if self.before is None or self.after is None:
            return self.before or self.after or 0.0
        return self.before + position * (self.after - self.before)

    def variance(self, position: float, blur: float) -> float:
        """Return the variance of the baseline at a moment.

        Parameters
        ----------
        position : float
            0 at the start, 1 at the end [0-1].
        blur : float
            Standard uncertainty of one reading [Pa].

        Returns
        -------
        float
            [Pa²]
        """
        first, last = self.spread
        share = first
        if self.before is not None and self.after is not None:
            share = (1.0 - position) ** 2 * first + position**2 * last
        return float(blur**2 * share + self.extra**2)


@dataclass(frozen=True, slots=True)
class StateResult:
    """One combination of fans and doors.

    Attributes
    ----------
    combination : Combination
        Which.
    words : str
        The same in words.
    net : Propagated
        Zone with reference to outdoors, baseline taken off, mean of its readings [Pa].
    readings : int
        How many there are.
    spread : float
        Largest less smallest of them [Pa].
    """

    combination: Combination
    words: str
    net: Propagated
    readings: int
    spread: float


def blur_of(test: WorstCaseTest) -> Blur:
    """Return how far one reading can be off by gauge and wind.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.

    Returns
    -------
    Blur
        From the scatter of repeated baselines; from the swings seen where there are too
        few of them; from the gauge alone where there is neither.

    Notes
    -----
    Scatter pooled over the baselines before and after (JCGM 100:2008, 4.2.4); it holds
    the gauge's own noise, so that the larger of the two counts.
    """
    gauge = test.pressure_uncertainty
    groups = [group for group in (test.baseline_before, test.baseline_after) if len(group) > 1]
    freedom = sum(len(group) - 1 for group in groups)
    if freedom >= FEWEST_REPEATS:
        squares = sum((len(group) - 1) * float(np.var(group, ddof=1)) for group in groups)
        scatter = math.sqrt(squares / freedom)
        wind = math.sqrt(max(scatter**2 - gauge**2, 0.0))
        if scatter > gauge:
            return Blur(scatter, wind, freedom)
        return Blur(gauge, 0.0, math.inf)
    gusts = [state.gust for state in test.states if state.gust is not None]
    wind = GUST_SHARE * math.sqrt(sum(gust**2 for gust in gusts) / len(gusts)) if gusts else 0.0
    return Blur(math.hypot(gauge, wind), wind, math.inf)


def baseline_of(test: WorstCaseTest) -> Baseline:
    """Return the baseline along the search.

    Parameters
    ----------
    test : WorstCaseTest
        Readings; where no baseline was read, combinations with every fan off stand in.

    Returns
    -------
    Baseline
    """
    before, after = list(test.baseline_before), list(test.baseline_after)
    if not before and not after:
        before = [state.pressure for state in test.states if combination_of(state).is_still]
    extra = 0.0 if before and after else UNSEEN_DRIFT
    if not before and not after:
        return Baseline(None, None, (0.0, 0.0), NO_BASELINE)
    both = 1.0 / max(len(before) + len(after), 1)
    return Baseline(
        _mean(before),
        _mean(after),
        (1.0 / len(before), 1.0 / len(after)) if before and after else (both, both),
        extra,
    )


def _mean(values: list[float]) -> float | None:
    return sum(values) / len(values) if values else None


def net_states(test: WorstCaseTest) -> tuple[StateResult, ...]:
    """Return every combination read, with the baseline taken off.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.

    Returns
    -------
    tuple of StateResult
        In the order first read.

    Notes
    -----
    The baseline runs straight from the mean before to the mean after the search; a
    combination read several times has the mean of its readings.
    """
    blur, baseline = blur_of(test), baseline_of(test)
    places: dict[Combination, list[int]] = {}
    for index, state in enumerate(test.states):
        places.setdefault(combination_of(state), []).append(index)
    return tuple(
        _state_result(test, combination, indices, blur, baseline)
        for combination, indices in places.items()
    )


def _state_result(
    test: WorstCaseTest,
    combination: Combination,
    indices: list[int],
    blur: Blur,
    baseline: Baseline,
) -> StateResult:
    moments = [(index + 1.0) / (len(test.states) + 1.0) for index in indices]
    nets = [
        test.states[index].pressure - baseline.at(moment)
        for index, moment in zip(indices, moments, strict=True)
    ]
    value, moment = sum(nets) / len(nets), sum(moments) / len(moments)
    variance = blur.standard**2 / len(nets) + baseline.variance(moment, blur.standard)
    standard = math.sqrt(variance)
    reach = coverage_factor(blur.degrees_of_freedom, 0.95) * standard
    return StateResult(
        combination,
        combination.says(test),
        Propagated(
            value,
            standard,
            value - reach,
            value + reach,
            degrees_of_freedom=blur.degrees_of_freedom,
        ),
        len(nets),
        max(nets) - min(nets),
    )
