"""The flow of each station, had another configuration been on the fan than was noted."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from rooftree.readings.airtightness.stations import nearest_band

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    from rooftree.readings.airtightness.readings import Fan, FanBand
    from rooftree.readings.airtightness.stations import FanFlow, StationResult

_OUTSIDE = 2.0
# Logarithm of how much rarer a fan runs outside its calibrated band than inside; ours.
_MOST_PENALTY = 4.0
# Stations of one test run outside together, so that their rarities do not multiply; ours.
_MOST_NOTED = 2
# Configurations in a stretch; with more, anything could be explained.


@dataclass(frozen=True, slots=True)
class _Change:
    shift: float
    penalty: float


@dataclass(frozen=True, slots=True)
class Reassignment:
    """A stretch of stations with other configurations on one fan than were noted.

    Attributes
    ----------
    first, last : int
        Places of the stretch, from 0, both included.
    shift : ndarray, shape (n,)
        What that adds to ln(flow) of each station [-]; 0 outside the stretch.
    penalty : float
        Logarithm of how much less the fan pressures suit the configurations than those
        noted; above 0 where they suit them better [-].
    words : str
        Fan and configurations, to follow "if".
    """

    first: int
    last: int
    shift: NDArray[np.float64]
    penalty: float
    words: str


def reassignments(
    stations: Sequence[StationResult],
    fans: Mapping[str, Fan],
    stretches: Sequence[tuple[int, int]],
) -> Iterator[Reassignment]:
    """Yield every way in which one fan may have had other configurations than were noted.

    Parameters
    ----------
    stations : sequence of StationResult
        Reduced, with flows above zero.
    fans : mapping from str to Fan
        The instruments by id.
    stretches : sequence of tuple of int
        First and last place of each stretch that may be concerned.

    Yields
    ------
    Reassignment
        For stretches over which one or two configurations were noted, each of them
        exchanged for another one; only for fans with two configurations or more.

    Notes
    -----
    Flows go by ``C · fan_pressure ^ n`` of each configuration. Where only the flow was
    shown, the fan pressure is that at which the configuration noted would have shown it.
    """
    for fan in fans.values():
        names = list(dict.fromkeys(band.configuration for band in fan.bands))
        if len(names) < 2:
            continue
        noted = [_noted(station, fan) for station in stations]
        changes = {name: [_change(station, fan, name) for station in stations] for name in names}
        for first, last in stretches:
            yield from _of_stretch(fan.id, names, noted, changes, first, last)


def _of_stretch(
    fan: str,
    names: Sequence[str],
    noted: Sequence[str | None],
    changes: Mapping[str, Sequence[_Change | None]],
    first: int,
    last: int,
) -> Iterator[Reassignment]:
    within = range(first, last + 1)
    old = list(dict.fromkeys(noted[i] for i in within))
    if not 1 <= len(old) <= _MOST_NOTED or None in old:
        return
    for new in product(names, repeat=len(old)):
        exchanged = dict(zip(old, new, strict=True))
        found = [changes[exchanged[noted[i]]][i] for i in within]
        if any(change is None for change in found):
            continue
        known = [change for change in found if change is not None]
        shift = np.zeros(len(noted))
        shift[first : last + 1] = [change.shift for change in known]
        penalty = sum(change.penalty for change in known)
        penalty = min(max(penalty, -_MOST_PENALTY), _MOST_PENALTY)
        yield Reassignment(first, last, shift, penalty, _words(fan, exchanged))


def _words(fan: str, exchanged: Mapping[str | None, str]) -> str:
    if len(exchanged) == 1:
        return f"fan {fan} had configuration {next(iter(exchanged.values()))!r} on it"
    parts = (f"{new!r} where {old!r} was noted" for old, new in exchanged.items())
    return f"fan {fan} had configuration {' and '.join(parts)}"


def _part(station: StationResult, fan: Fan) -> FanFlow | None:
    return next((part for part in station.fans if part.fan == fan.id and part.flow > 0.0), None)


def _noted(station: StationResult, fan: Fan) -> str | None:
    part = _part(station, fan)
    return part.configuration if part else None


def _change(station: StationResult, fan: Fan, name: str) -> _Change | None:
    """Return what another configuration changes, or None where it changes nothing."""
    total = math.fsum(part.flow for part in station.fans)
    part = _part(station, fan)
    if part is None or part.configuration == name:
        return None
    if part.band and part.fan_pressure:
        noted, fan_pressure = part.band, abs(part.fan_pressure)
    elif (behind := band_behind(part, fan)) is not None:
        noted, fan_pressure = behind
    else:
        return None
    band = nearest_band(fan, name, fan_pressure)
    if band is None:
        return None
    flow = band.coefficient * math.pow(fan_pressure, band.exponent)
    worse = _outside(band, fan_pressure) - _outside(noted, fan_pressure)
    return _Change(math.log((total - part.flow + flow) / total), -_OUTSIDE * worse)


def band_behind(part: FanFlow, fan: Fan) -> tuple[FanBand, float] | None:
    """Return the calibration by which a gauge showed a flow, and the fan pressure for it.

    Parameters
    ----------
    part : FanFlow
        A flow above zero that was shown, with the configuration noted.
    fan : Fan
        The instrument.

    Returns
    -------
    tuple of FanBand and float, or None
        The band in which that pressure lies, or lies nearest to, and the pressure [Pa];
        None where the fan has no calibration for the configuration.
    """
    own = [
        (band, math.pow(part.flow / band.coefficient, 1.0 / band.exponent))
        for band in fan.bands
        if band.configuration == part.configuration
    ]
    return min(own, key=lambda one: how_far_outside(*one)) if own else None


def how_far_outside(band: FanBand, fan_pressure: float) -> float:
    """Return how far a fan pressure lies outside a band, as a logarithm.

    Parameters
    ----------
    band : FanBand
        Of the calibration.
    fan_pressure : float
        Without sign [Pa], > 0.

    Returns
    -------
    float
        0 inside; else ln of the ratio to the nearer end [-].
    """
    if fan_pressure < band.low:
        return math.log(band.low / fan_pressure)
    return max(0.0, math.log(fan_pressure / band.high))


def _outside(band: FanBand, fan_pressure: float) -> float:
    """Return 0 inside the band, 1 well outside it."""
    return min(1.0, how_far_outside(band, fan_pressure) / math.log(1.2))
