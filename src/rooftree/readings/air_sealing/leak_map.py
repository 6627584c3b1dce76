"""What is left of the leaks, place by place, after some of them were sealed.

Each place has a guess of its leakage and of the share that sealing closes. What was
measured while it was sealed corrects both by Bayes' rule on a grid; what is measured of the
whole house corrects all places together.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq
from scipy.special import ndtri

from rooftree.physics.propagation import COVERAGE, QUANTILES, Propagated

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from rooftree.readings.air_sealing.readings import LeakPlace

ELSEWHERE = "elsewhere"
"""Name of what the places of the map leave over."""

LEAST_ELSEWHERE = 0.02
"""Share left over from which it is worth a line [0-1]; ours."""

ELSEWHERE_DOUBT, ELSEWHERE_SEALABLE = 0.7, 0.2
"""Relative standard uncertainty of what is left over, and the share of it that sealing
closes [0-1]; ours: nobody has looked there."""

FIRMNESS = 5.0
"""How firmly the share that sealing closes is believed, in trials [-]; ours."""

_ACROSS, _ALONG = 61, 41


@dataclass(frozen=True, slots=True)
class PlaceLeft:
    """What is left at one place.

    Attributes
    ----------
    place : str
        Which.
    at_start : float
        Leakage at 50 Pa as guessed before sealing [m³/s].
    sealed : float
        Taken away there, as measured [m³/s].
    left : Propagated
        Leakage at 50 Pa that is left [m³/s].
    sealable : Propagated
        What sealing would still take away there [m³/s]; 0 where its work is done.
    done : float
        Share of the work expected there that was spent [0-1]; 1 for a place that was
        worked on and whose work nobody estimated.
    """

    place: str
    at_start: float
    sealed: float
    left: Propagated
    sealable: Propagated
    done: float


@dataclass(frozen=True, slots=True)
class Taken:
    """What was done at one place.

    Attributes
    ----------
    flow, standard : float
        Taken away at 50 Pa, and its standard uncertainty [m³/s].
    work : float
        Spent there, of all people together [s].
    """

    flow: float
    standard: float
    work: float


@dataclass(frozen=True, slots=True)
class _Guess:
    place: str
    flow: float
    spread: float
    sealable: float
    taken: Taken | None = None
    done: float = 0.0


@dataclass(frozen=True, slots=True)
class _Belief:
    """Mean, relative spread, and logarithms of the quantiles over the mean."""

    mean: float
    spread: float
    shape: tuple[float, ...]


def leaks_left(
    places: Sequence[LeakPlace],
    start: Propagated,
    now: Propagated,
    sealed: Mapping[str, Taken],
) -> tuple[PlaceLeft, ...]:
    """Return what is left at each place.

    Parameters
    ----------
    places : sequence of LeakPlace
        The map as it was guessed.
    start, now : Propagated
        Leakage of the house at 50 Pa before sealing and now [m³/s].
    sealed : mapping of str to Taken
        What was done at each place that was worked on.

    Returns
    -------
    tuple of PlaceLeft
        In the order of the map, what it leaves over last; together they are `now`.

    Notes
    -----
    Leakage of a place: log-normal about its guess. Share that sealing closes: beta
    distribution with the mean given, in proportion to the work that was spent where that was
    estimated. What was measured at a place weighs both on a grid.
    The sum is then held to the house's leakage: each place gives way by the square of its
    relative spread, the least change in logarithms to the first order.
    """
    guesses = _guesses(places, start.value, sealed)
    if not guesses:
        return ()
    beliefs = [_after_sealing(guess) for guess in guesses]
    means = np.array([belief.mean for belief in beliefs])
    spreads = np.array([belief.spread for belief in beliefs])
    left = _held_to_sum(means, spreads, now.value)
    doubts = _doubts_of_sum(left * spreads, now.standard)
    return tuple(
        _place_left(guess, belief, float(flow), float(doubt))
        for guess, belief, flow, doubt in zip(guesses, beliefs, left, doubts, strict=True)
    )


def _guesses(
    places: Sequence[LeakPlace], whole: float, sealed: Mapping[str, Taken]
) -> list[_Guess]:
    guesses = []
    for each in places:
        flow = each.flow_50 if each.flow_50 is not None else (each.share or 0.0) * whole
        if flow > 0.0:
            spread = math.sqrt(math.log1p(each.flow_uncertainty**2))
            taken = sealed.get(each.place)
            guesses.append(
                _Guess(each.place, flow, spread, each.sealable, taken, _done(each, taken))
            )
    over = whole - sum(guess.flow for guess in guesses)
    if guesses and over > LEAST_ELSEWHERE * whole:
        spread = math.sqrt(math.log1p(ELSEWHERE_DOUBT**2))
        guesses.append(_Guess(ELSEWHERE, over, spread, ELSEWHERE_SEALABLE))
    return guesses


def _done(place: LeakPlace, taken: Taken | None) -> float:
    if taken is None:
        return 0.0
    if not place.work or not taken.work > 0.0:
        return 1.0
    return min(taken.work / place.work, 1.0)


def _after_sealing(guess: _Guess) -> _Belief:
    """Return what is believed to be left at a place, before the sum is held."""
    if guess.taken is None:
        shape = guess.spread * ndtri(QUANTILES) - 0.5 * guess.spread**2
        return _Belief(guess.flow, guess.spread, tuple(shape.tolist()))
    flows, flow_weights = _flow_grid(guess.flow, guess.spread)
    shares, share_weights = _share_grid(round(min(max(guess.done * guess.sealable, 0.02), 0.98), 3))
    taken = max(guess.taken.flow, 0.0)
    doubt = max(guess.taken.standard, 0.002 * guess.flow)
    off = (np.outer(flows, shares) - taken) / doubt
    # A reduction far from any guess still has a best explanation: the largest weight is 1.
    logs = -0.5 * off**2 + np.log(np.outer(flow_weights, share_weights))
    weights = np.exp(logs - logs.max())
    weights /= weights.sum()
    left = np.outer(flows, 1.0 - shares)
    mean = float((weights * left).sum())
    spread = math.sqrt(float((weights * (left - mean) ** 2).sum())) / mean
    order = np.argsort(left, axis=None)
    reached = np.cumsum(weights.ravel()[order]) - 0.5 * weights.ravel()[order]
    shape = np.log(np.interp(QUANTILES, reached, left.ravel()[order]) / mean)
    return _Belief(mean, max(spread, 0.01), tuple(shape.tolist()))


def _flow_grid(flow: float, spread: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    steps = np.linspace(-3.5, 3.5, _ACROSS)
    return flow * np.exp(spread * steps), np.exp(-0.5 * steps**2)


@cache
def _share_grid(mean: float) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    shares = (np.arange(_ALONG) + 0.5) / _ALONG
    logs = (FIRMNESS * mean - 1.0) * np.log(shares)
    logs += (FIRMNESS * (1.0 - mean) - 1.0) * np.log1p(-shares)
    weights = np.exp(logs - logs.max())
    return shares, weights / weights.sum()


def _held_to_sum(
    means: NDArray[np.float64], spreads: NDArray[np.float64], whole: float
) -> NDArray[np.float64]:
    lean = spreads**2 * means / whole
    lean /= lean.max()

    def over(step: float) -> float:
        return float(np.sum(means * np.exp(step * lean)) / whole - 1.0)

    low, high = -1.0, 1.0
    while over(low) > 0.0:
        low *= 2.0
    while over(high) < 0.0:
        high *= 2.0
    step = float(brentq(over, low, high, xtol=1e-12))
    return np.asarray(means * np.exp(step * lean))


def _doubts_of_sum(doubts: NDArray[np.float64], whole: float) -> NDArray[np.float64]:
    """Return the standard uncertainty of each part once their sum is known that well."""
    variance = doubts**2
    known = np.sum(variance) + whole**2
    return np.asarray(np.sqrt(np.maximum(variance - variance**2 / known, 0.0)))


def _place_left(
    guess: _Guess,
    belief: _Belief,
    flow: float,
    doubt: float,
) -> PlaceLeft:
    # Holding the sum narrows every place; the shape of its belief stays.
    known = flow * belief.spread
    narrowed = doubt / known if known > 0.0 else 0.0
    quantiles = tuple(flow * math.exp(narrowed * each) for each in belief.shape)
    low, high = (quantiles[QUANTILES.index(q)] for q in (0.025, 0.975))
    left = Propagated(flow, doubt, low, high, quantiles=quantiles)
    # Of what is left, the part that the work still ahead would close.
    share = guess.sealable * (1.0 - guess.done) / (1.0 - guess.done * guess.sealable)
    spread = math.sqrt(guess.sealable * (1.0 - guess.sealable) / (FIRMNESS + 1.0))
    standard = math.hypot(doubt * share, flow * spread) if share else 0.0
    more = share * flow
    sealable = Propagated(more, standard, more - COVERAGE * standard, more + COVERAGE * standard)
    taken = 0.0 if guess.taken is None else guess.taken.flow
    return PlaceLeft(guess.place, guess.flow, taken, left, sealable, guess.done)
