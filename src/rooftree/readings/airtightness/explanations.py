"""What would explain stations that do not lie on one line: each explanation by its evidence.

A leak that opened between two stations, a station read wrong, another fan configuration than
the one noted, a flow in another unit, pressures all off by the same, gauges read before they
were steady: each predicts a pattern. All are fitted, one for each station or stretch of
stations that it may concern, and weighed by how probable it makes the readings.

Sources
-------
[MACKAY2003] MacKay, "Information Theory, Inference, and Learning Algorithms", 2003, chapter 28:
    explanations compared by their evidence (recalled).
[CHAN2013] Chan, Joh & Sherman, Energy and Buildings 66 (2013) 616: exponents of 7 000 tests.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.airtightness import limits
from rooftree.readings.airtightness.configurations import reassignments
from rooftree.readings.airtightness.noise import NOISE_FREEDOM, station_noise

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from rooftree.readings.airtightness.readings import FanTest
    from rooftree.readings.airtightness.stations import StationResult

    Array = NDArray[np.float64]

FEWEST = 5
"""Stations below which nothing is explained [-]: line and pattern take three of them."""

_EXPONENT, _EXPONENT_SPREAD = 0.65, 0.08
# Mean of [CHAN2013]; its spread of 0.057 widened, since a house may be an odd one.


class Cause(StrEnum):
    """Kinds of explanations."""

    NONE = "noise alone"
    OPENED = "something opened or closed between two stations"
    STRAY = "one station was read wrong"
    CONFIGURATION = "another fan configuration than the one noted"
    FLOW_UNIT = "flows in another unit than the one noted"
    OFFSET = "all pressures off by the same"
    FAN_STARTED = "the baseline shifted between two stations"
    UNSTEADY = "read before the pressure was steady"


PRIOR = {
    Cause.NONE: 0.84,
    Cause.OPENED: 0.03,
    Cause.STRAY: 0.03,
    Cause.CONFIGURATION: 0.03,
    Cause.FLOW_UNIT: 0.03,
    Cause.OFFSET: 0.02,
    Cause.FAN_STARTED: 0.01,
    Cause.UNSTEADY: 0.01,
}
"""How common each is before the stations are looked at [0-1]; ours, none is published."""

_SPREAD = {
    Cause.OPENED: 0.5,
    Cause.STRAY: 0.7,
    Cause.OFFSET: 4.0,
    Cause.FAN_STARTED: 4.0,
    Cause.UNSTEADY: 0.1,
}
# How large each effect usually is: ln(flow), or Pa where pressures are shifted; ours.


@dataclass(frozen=True, slots=True)
class Candidate:
    """One explanation, before it is weighed.

    Attributes
    ----------
    cause : Cause
        Its kind.
    first, last : int
        Places of the stations it concerns, from 0, both included; for what happened between
        two stations, the first after it and the last of all.
    shift : ndarray, shape (n,)
        What to add to ln(flow) of each station to undo it, where that is known [-].
    pattern : ndarray, shape (n,)
        What an effect of unknown size adds to ln(flow) of each station, for a size of one.
    penalty : float
        Logarithm of how unlikely it is for other reasons, 0 or below [-].
    detail : str
        Fan and configurations, or the two units.
    """

    cause: Cause
    first: int
    last: int
    shift: Array
    pattern: Array
    penalty: float = 0.0
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Explanation:
    """One explanation, weighed.

    Attributes
    ----------
    cause : Cause
        Its kind.
    probability : float
        Of this kind of explanation, all its candidates together [0-1].
    share : float
        Of the best candidate in that [0-1]: how sure the place is.
    stations : tuple of int
        Numbers of the stations that the best candidate concerns, from 1.
    size : float
        Of the effect: ln(flow) [-], or a pressure [Pa].
    size_uncertainty : float
        Its standard uncertainty, in the same unit.
    detail : str
        Fan and configurations, or the two units.
    """

    cause: Cause
    probability: float
    share: float
    stations: tuple[int, ...]
    size: float
    size_uncertainty: float
    detail: str


def weigh_explanations(test: FanTest, used: Sequence[StationResult]) -> tuple[Explanation, ...]:
    """Return every kind of explanation with its probability, the most probable first.

    Parameters
    ----------
    test : FanTest
        As read.
    used : sequence of StationResult
        Stations that the fit went through, in the order read.

    Returns
    -------
    tuple of Explanation
        Empty with fewer than five stations.

    Notes
    -----
    ``ln q + shift = a + n ln p + size · pattern + noise`` with normal priors on ``n`` and
    the size, a flat one on ``a``, and noise of one station ``u² = 0.01² + (n u_p/p)²``, all of it
    times an unknown factor with an inverse chi-square prior of six readings. Its evidence
    has a closed form, a multivariate t density; probability is prior times evidence
    [MACKAY2003]_ over the sum of all. Whether the numbers are honest is measured: see
    ``docs/reference/mistakes.md``.
    """
    if len(used) < FEWEST:
        return ()
    candidates = [*_candidates(test, used)]
    weighed = _evidence(test, used, candidates)
    logarithms = weighed.logarithm + _prior(candidates)
    chances = np.exp(logarithms - logarithms.max())
    chances /= chances.sum()
    found = []
    for cause in Cause:
        own = [i for i, candidate in enumerate(candidates) if candidate.cause is cause]
        if not own:
            continue
        best = max(own, key=lambda i: float(chances[i]))
        chance = float(chances[own].sum())
        candidate = candidates[best]
        found.append(
            Explanation(
                cause=cause,
                probability=chance,
                share=float(chances[best]) / chance if chance > 0.0 else 0.0,
                stations=tuple(s.number for s in used[candidate.first : candidate.last + 1]),
                size=float(weighed.size[best]),
                size_uncertainty=float(weighed.size_uncertainty[best]),
                detail=candidate.detail,
            )
        )
    return tuple(sorted(found, key=lambda each: -each.probability))


def _candidates(test: FanTest, used: Sequence[StationResult]) -> Iterator[Candidate]:
    count = len(used)
    none, last = np.zeros(count), count - 1
    per_pascal = _EXPONENT / np.array([s.induced_pressure for s in used])
    yield Candidate(Cause.NONE, 0, last, none, none)
    yield Candidate(Cause.OFFSET, 0, last, none, -per_pascal)
    for k in range(1, count):
        after = np.where(np.arange(count) >= k, 1.0, 0.0)
        yield Candidate(Cause.OPENED, k, last, none, after)
        yield Candidate(Cause.FAN_STARTED, k, last, none, -after * per_pascal)
    for i in range(count):
        yield Candidate(Cause.STRAY, i, i, none, np.where(np.arange(count) == i, 1.0, 0.0))
    ways = _ways([s.induced_pressure for s in used])
    if min(np.count_nonzero(ways > 0.0), np.count_nonzero(ways < 0.0)) >= 2:
        yield Candidate(Cause.UNSTEADY, 0, last, none, ways)
    for first, end in _stretches(count):
        within = np.where((np.arange(count) >= first) & (np.arange(count) <= end), 1.0, 0.0)
        if end - first + 1 < count and all(s.is_flow_shown for s in used[first : end + 1]):
            for units, factor in limits.FLOW_SLIPS.items():
                yield Candidate(
                    Cause.FLOW_UNIT, first, end, within * math.log(factor), none, 0.0, units
                )
    fans = {fan.id: fan for fan in test.fans}
    for each in reassignments(used, fans, list(_stretches(count))):
        yield Candidate(
            Cause.CONFIGURATION,
            each.first,
            each.last,
            each.shift,
            none,
            each.penalty,
            each.words,
        )


def _stretches(count: int) -> Iterator[tuple[int, int]]:
    """Yield first and last of each single station, each start and each end, and of all."""
    for i in range(count):
        yield i, i
    for k in range(2, count):
        yield 0, k - 1
        yield count - k, count - 1
    yield 0, count - 1


def _ways(pressures: Sequence[float]) -> Array:
    """Return +0.5 where a station was reached from below and -0.5 from above."""
    steps = [1.0 if later > earlier else -1.0 for earlier, later in pairwise(pressures)]
    return 0.5 * np.array([steps[0], *steps])


@dataclass(frozen=True, slots=True)
class _Weighed:
    logarithm: Array
    size: Array
    size_uncertainty: Array


def _evidence(
    test: FanTest, used: Sequence[StationResult], candidates: Sequence[Candidate]
) -> _Weighed:
    """Fit all candidates at once: rows are candidates, columns stations."""
    pressure = np.array([s.induced_pressure for s in used])
    x = np.log(pressure)
    y = np.log([s.flow for s in used]) + np.array([c.shift for c in candidates])
    noise = station_noise(test, pressure)
    patterns = np.array([c.pattern for c in candidates])
    spread = np.array([_SPREAD.get(c.cause, 1.0) for c in candidates])
    columns = np.stack([np.ones_like(patterns), np.broadcast_to(x - x.mean(), y.shape), patterns])
    columns = np.moveaxis(columns, 0, -1) / noise[:, None]
    scaled = y / noise
    # Stated priors do not shrink with the noise: its factor is near one where they matter.
    precision = np.zeros((len(candidates), 3, 3))
    precision[:, 1, 1] = _EXPONENT_SPREAD**-2
    precision[:, 2, 2] = spread**-2
    start = np.zeros((len(candidates), 3))
    start[:, 1] = _EXPONENT
    normal = precision + np.einsum("cki,ckj->cij", columns, columns)
    right = np.einsum("cij,cj->ci", precision, start) + np.einsum("cki,ck->ci", columns, scaled)
    best = np.linalg.solve(normal, right[..., None])[..., 0]
    misfit = (
        np.einsum("ck,ck->c", scaled, scaled)
        + np.einsum("ci,cij,cj->c", start, precision, start)
        - np.einsum("ci,ci->c", best, right)
    )
    freedom = NOISE_FREEDOM + len(used) - 1
    inflation = (NOISE_FREEDOM + np.maximum(misfit, 0.0)) / freedom
    logarithm = (
        -0.5 * np.linalg.slogdet(normal)[1]
        - np.log(spread)
        - 0.5 * freedom * np.log(NOISE_FREEDOM + np.maximum(misfit, 0.0))
    )
    variance = np.linalg.inv(normal)[:, 2, 2] * inflation
    return _Weighed(logarithm, best[:, 2], np.sqrt(variance))


def _prior(candidates: Sequence[Candidate]) -> Array:
    counts = {cause: sum(c.cause is cause for c in candidates) for cause in Cause}
    return np.array([math.log(PRIOR[c.cause] / counts[c.cause]) + c.penalty for c in candidates])
