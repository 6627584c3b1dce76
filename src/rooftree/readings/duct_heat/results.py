"""What duct runs tell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_heat.standing import Burst

CAUTIONS = (
    "Attics are hot and full of wires and nails, crawlspaces can hold bad air: short stays, water,"
    " a mask, and somebody outside. Old white or grey paper and tape on ducts can hold asbestos:"
    " do not touch it, have it tested. Local codes decide."
)
"""The usual cautions, for every page and paper that shows duct runs."""


@dataclass(frozen=True, slots=True)
class RunResult:
    """What one run tells.

    Attributes
    ----------
    name : str
        Of the run.
    flow, air_speed : float
        [m³/s] and [m/s].
    register : Propagated
        Temperature at the register by the wrap as found [K].
    heat : Propagated
        Gained by the air, negative where it loses heat [W].
    delivered : Propagated or None
        Share of what the entering air could do for the room that arrives [0-1]; None
        without a room temperature.
    conductance : Propagated
        Of one meter, by the wrap as found [W/(m·K)].
    area : float
        Outside surface [m²], as a house has it.
    resistance : float
        Of wrap and films, on that surface [m²·K/W], as a house has it.
    flat_resistance : float
        Flat blanket that insulates as well as everything that lies round the duct
        [m²·K/W].
    found_conductance : Propagated or None
        Of one meter, from the temperatures at both ends [W/(m·K)]; None where they cannot
        tell.
    found_resistance : Propagated or None
        Flat blanket that would explain these temperatures [m²·K/W], 0 for a bare duct; its
        upper limit may be infinite.
    least_found : float or None
        Where the register was read but cannot tell: at least this blanket [m²·K/W].
    difference : float or None
        Register as read above register as predicted [K]; None where it was read before
        the duct had settled.
    jacket : Propagated
        Coldest part of the outer face, where the air enters [K].
    dew_point : Propagated or None
        Of the air round it [K].
    condensing : float or None
        Probability that water condenses on it [0-1].
    least_blanket : float or None
        Flat blanket that keeps the jacket at the dew point [m²·K/W]; None where nothing
        condenses, infinite where no blanket can.
    burst : Burst or None
        After a stand of the fan.
    along : tuple of tuple of float
        Distance [m] and temperature of the air [K].
    """

    name: str
    flow: float
    air_speed: float
    register: Propagated
    heat: Propagated
    delivered: Propagated | None
    conductance: Propagated
    area: float
    resistance: float
    flat_resistance: float
    found_conductance: Propagated | None
    found_resistance: Propagated | None
    least_found: float | None
    difference: float | None
    jacket: Propagated
    dew_point: Propagated | None
    condensing: float | None
    least_blanket: float | None
    burst: Burst | None
    along: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class DuctHeatResult:
    """What all runs tell.

    Attributes
    ----------
    runs : tuple of RunResult
        In the order read; those that cannot be computed are left out.
    heat : Propagated or None
        Gained by the air of all runs together [W].
    says : str
        One or two plain sentences.
    findings : tuple of Finding
        Doubts, and what is wrong.
    cautions : str
        The usual cautions; show them with the result.
    """

    runs: tuple[RunResult, ...]
    heat: Propagated | None
    says: str
    findings: tuple[Finding, ...]
    cautions: str = CAUTIONS
