"""What a tracer decay tells."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.physics.uncertainty import UncertaintyTerm
    from rooftree.readings.tracer_decay.background import Background
    from rooftree.readings.tracer_decay.line import Line


@dataclass(frozen=True, slots=True)
class PositionDecay:
    """The decay at one position, as it was fitted.

    Attributes
    ----------
    position : str
        Its name; empty where none was given.
    times, excess : tuple of float
        What the line was fitted to, averaged over equal times where there were many: time
        [s] and concentration above the background [ppm].
    line : Line
        Fitted.
    readings : int
        Lines of the record that are in it.
    """

    position: str
    times: tuple[float, ...]
    excess: tuple[float, ...]
    line: Line
    readings: int


@dataclass(frozen=True, slots=True)
class SteadyResult:
    """The estimate from people near the steady state.

    Attributes
    ----------
    concentration : float
        Mean [ppm].
    rise : float
        Of the concentration [ppm/h].
    source : float
        Carbon dioxide that the people give off [m³/s].
    flow : Propagated or None
        Air flow [m³/s]; None where the readings cannot give it.
    air_changes : Propagated or None
        Air change rate [1/h]; None without a volume too.
    source_of_rate : str
        Document of what a person gives off.
    findings : tuple of Finding
        Why there is no flow.
    """

    concentration: float
    rise: float
    source: float
    flow: Propagated | None
    air_changes: Propagated | None
    source_of_rate: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class TracerDecayResult:
    """What a tracer decay tells.

    Attributes
    ----------
    air_changes : Propagated or None
        Air change rate, the mean over the window [1/h]; None where the record cannot give
        it, and a finding says why.
    flow : Propagated or None
        Air flow [m³/s]; None without a volume too.
    terms : tuple of UncertaintyTerm
        What the uncertainty of `air_changes` is made of, relative.
    background : Background
        That was taken off.
    window : tuple of float or None
        Start and end of what was used [s].
    fall : float
        Of the logarithm of the excess over the window [-]; 1 is a fall to 37 %.
    go_on : float or None
        How much longer to measure for a fall of 1 [s]; 0 where it was enough, None where
        the record does not tell.
    positions : tuple of PositionDecay
        Each position's decay.
    steady : SteadyResult or None
        The second estimate.
    findings : tuple of Finding
        Refusals and doubts, with what to do.
    says : str
        What it means for this house.
    """

    air_changes: Propagated | None
    flow: Propagated | None
    terms: tuple[UncertaintyTerm, ...]
    background: Background
    window: tuple[float, float] | None
    fall: float
    go_on: float | None
    positions: tuple[PositionDecay, ...]
    steady: SteadyResult | None
    findings: tuple[Finding, ...]
    says: str
