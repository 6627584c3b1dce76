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
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.airtightness.candidates import (
    EXPONENT,
    EXPONENT_SPREAD,
    PRIOR,
    SPREAD,
    Candidate,
    Cause,
    draw_up_candidates,
)
from rooftree.readings.airtightness.noise import NOISE_FREEDOM, station_noise

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from rooftree.readings.airtightness.readings import FanTest
    from rooftree.readings.airtightness.stations import StationResult

    Array = NDArray[np.float64]

_AS_PROBABLE = 0.2
# Of the best candidate's probability, from which its reverse is told as well; ours.
_SAME_LINE = 0.1
# Two shifts that differ by the same at all stations to this make one line [-]; ours.
FEWEST = 5
"""Stations below which nothing is explained [-]: line and pattern take three of them."""


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
    instead : tuple of tuple of int and str
        Stations and detail of the candidate that says the same of the other stations, the
        wrong way round; empty where there is none as probable. A line cannot tell which
        of two parts of a test is right.
    """

    cause: Cause
    probability: float
    share: float
    stations: tuple[int, ...]
    size: float
    size_uncertainty: float
    detail: str
    instead: tuple[tuple[int, ...], str] | None = None


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
    candidates = [*draw_up_candidates(test, used)]
    weighed = _evidence(test, used, candidates)
    logarithms = weighed.logarithm + _prior(candidates)
    chances = np.exp(logarithms - logarithms.max())
    chances /= chances.sum()
    found = [
        _explanation(used, candidates, chances, weighed, own)
        for cause in Cause
        if (own := [i for i, each in enumerate(candidates) if each.cause is cause])
    ]
    return tuple(sorted(found, key=lambda each: -each.probability))


def _explanation(
    used: Sequence[StationResult],
    candidates: Sequence[Candidate],
    chances: Array,
    weighed: _Weighed,
    own: Sequence[int],
) -> Explanation:
    """Sum up the candidates of one cause, `own`."""
    best = max(own, key=lambda i: float(chances[i]))
    total, candidate = float(chances[own].sum()), candidates[best]
    instead = next((i for i in own if _is_reverse(candidates[i], candidate, len(used))), None)
    has_other = instead is not None and chances[instead] > _AS_PROBABLE * chances[best]
    return Explanation(
        cause=candidate.cause,
        probability=total,
        share=float(chances[best]) / total if total > 0.0 else 0.0,
        stations=_numbers(used, candidate),
        size=float(weighed.size[best]),
        size_uncertainty=float(weighed.size_uncertainty[best]),
        detail=candidate.detail,
        instead=(_numbers(used, candidates[instead]), candidates[instead].detail)
        if instead is not None and has_other
        else None,
    )


def _numbers(used: Sequence[StationResult], candidate: Candidate) -> tuple[int, ...]:
    return tuple(station.number for station in used[candidate.first : candidate.last + 1])


def _is_reverse(one: Candidate, other: Candidate, count: int) -> bool:
    """Tell whether one changes just the stations that the other leaves, to the same line."""
    rest = {(0, other.first - 1), (other.last + 1, count - 1)}
    if (one.first, one.last) not in rest or not np.any(other.shift):
        return False
    return bool(np.ptp(one.shift - other.shift) < _SAME_LINE)


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
    spread = np.array([SPREAD.get(c.cause, 1.0) for c in candidates])
    columns = np.stack([np.ones_like(patterns), np.broadcast_to(x - x.mean(), y.shape), patterns])
    columns = np.moveaxis(columns, 0, -1) / noise[:, None]
    scaled = y / noise
    # Stated priors do not shrink with the noise: its factor is near one where they matter.
    precision = np.zeros((len(candidates), 3, 3))
    precision[:, 1, 1] = EXPONENT_SPREAD**-2
    precision[:, 2, 2] = spread**-2
    start = np.zeros((len(candidates), 3))
    start[:, 1] = EXPONENT
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
