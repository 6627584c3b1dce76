"""What a log of guided air sealing comes to."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_sealing.leak_map import PlaceLeft


class Advice(StrEnum):
    """Whether to go on."""

    GO_ON = "go on"
    STOP = "stop: the next location costs more than it brings"
    MEASURE_FIRST = "stop and measure first"
    NOTHING_LEFT = "stop: nothing is left that can be sealed"
    YOURS = "yours to decide"


@dataclass(frozen=True, slots=True)
class LocationResult:
    """What sealing one location did.

    Attributes
    ----------
    number : int
        Of the row in the log, the first row being 1.
    location : str
        What was sealed.
    time : float
        When the fan was read [s].
    flow : Propagated
        At the held pressure after it [m³/s].
    reduction : Propagated
        At the held pressure [m³/s]; negative where the flow rose.
    is_clear : bool
        Whether the change is larger than the noise, two standard uncertainties.
    work, cost : float
        Spent [s], and labor and material together [$].
    cost_per_flow : float or None
        Cost over reduction [$·s/m³]; None where the change is not clear.
    rate : float or None
        Reduction for each second of work [m³/s²]; None where no work was written down.
    worth : float or None
        What the reduction saves over the horizon, in today's money [$]; None where the
        value of leakage is not known.
    payback : float or None
        Cost over the saving of a year [years]; None where that is not known or not clear.
    """

    number: int
    location: str
    time: float
    flow: Propagated
    reduction: Propagated
    is_clear: bool
    work: float
    cost: float
    cost_per_flow: float | None
    rate: float | None
    worth: float | None
    payback: float | None


@dataclass(frozen=True, slots=True)
class FlowPoint:
    """One usable row of the log, for a drawing.

    Attributes
    ----------
    time : float
        When it was read [s].
    location : str
        What was sealed before it; empty for the first.
    flow : float
        At the held pressure [m³/s].
    noise : float
        Standard uncertainty of that, without what all rows have in common [m³/s].
    """

    time: float
    location: str
    flow: float
    noise: float


@dataclass(frozen=True, slots=True)
class LimitAhead:
    """A limit that the leakage must not pass without something else being done.

    Attributes
    ----------
    name : str
        ``"ventilation"`` or ``"combustion"``.
    limit : float
        Leakage at 50 Pa below which it is passed [m³/s].
    margin : float
        Leakage now less the limit [m³/s].
    is_passed : bool
        Whether the leakage is below the limit, or so near that it may be.
    is_next : bool
        Whether the next location may take it there.
    """

    name: str
    limit: float
    margin: float
    is_passed: bool
    is_next: bool


@dataclass(frozen=True, slots=True)
class NextLocation:
    """What the next location is expected to bring.

    Attributes
    ----------
    place : str
        Of the leak map; empty for one like the last ones.
    reduction : Propagated
        Expected at 50 Pa [m³/s].
    cost : float
        Expected, labor and material [$].
    worth : Propagated or None
        What that saves over the horizon [$].
    chance : float or None
        Probability that it is worth more than it costs [0-1].
    """

    place: str
    reduction: Propagated
    cost: float
    worth: Propagated | None
    chance: float | None


@dataclass(frozen=True, slots=True)
class AirSealingResult:
    """What a log of guided air sealing comes to.

    Attributes
    ----------
    start, flow : Propagated or None
        At the held pressure before sealing and now [m³/s]; None without a usable row.
    flow_50 : Propagated or None
        Now, at 50 Pa [m³/s].
    reduction : Propagated or None
        From the first to the last row at the held pressure [m³/s].
    share : Propagated or None
        The same over the flow before [0-1]; the fan's calibration drops out.
    is_clear : bool
        Whether it is larger than the noise.
    work, cost : float
        Spent in all [s] and [$].
    worth : float or None
        What it saves over the horizon, in today's money [$].
    locations : tuple of LocationResult
        In the order of the log.
    left : tuple of PlaceLeft
        The leak map now; empty where none was given.
    limits : tuple of LimitAhead
        Of ventilation and combustion, where known.
    next_location : NextLocation or None
        What going on is expected to bring.
    advice : Advice
        Whether to go on.
    reason : str
        Why, in one sentence.
    says : str
        The whole in plain sentences.
    findings : tuple of Finding
        Doubts with their remedy.
    curve : tuple of FlowPoint
        Every usable row at the held pressure, in the order of the log.
    """

    start: Propagated | None
    flow: Propagated | None
    flow_50: Propagated | None
    reduction: Propagated | None
    share: Propagated | None
    is_clear: bool
    work: float
    cost: float
    worth: float | None
    locations: tuple[LocationResult, ...]
    left: tuple[PlaceLeft, ...]
    limits: tuple[LimitAhead, ...]
    next_location: NextLocation | None
    advice: Advice
    reason: str
    says: str
    findings: tuple[Finding, ...]
    curve: tuple[FlowPoint, ...] = ()
