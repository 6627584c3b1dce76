"""What the readings of an air handler tell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated


@dataclass(frozen=True, slots=True)
class MethodFlow:
    """Flow of the air handler by one method.

    Attributes
    ----------
    method : str
        In plain words.
    flow : Propagated
        At the density of the return air [m³/s].
    """

    method: str
    flow: Propagated


@dataclass(frozen=True, slots=True)
class AirHandlerResult:
    """What the readings of one air handler tell.

    Attributes
    ----------
    total_static : Propagated or None
        Total external static pressure [Pa].
    drops : Propagated or None
        Sum of the drops outside the cabinet [Pa].
    density : float
        Of the return air [kg/m³].
    flows : tuple of MethodFlow
        Flow by each method that could be used.
    flow : Propagated or None
        Their weighted mean, at the density of the return air [m³/s].
    standard_flow : Propagated or None
        The same mass in standard air, 1.2041 kg/m³ [m³/s].
    chance : float or None
        That the methods scatter so by noise alone [0-1].
    supply_registers, return_registers : Propagated or None
        Sum of the register flows as read [m³/s].
    flow_per_capacity : Propagated or None
        Standard flow over nominal cooling capacity [m³/(s·W)].
    split : Propagated or None
        Supply less return temperature while heating, return less supply otherwise [K].
    expected_split : Propagated or None
        What a sound machine would make of this return air while cooling [K].
    sensible : Propagated or None
        Heat or cold that leaves the equipment by the temperature of its air [W].
    total : Propagated or None
        The same with what the coil takes out as water, while cooling [W].
    fan_power : Propagated or None
        Electric power of the fan over standard flow [W·s/m³].
    fan_efficiency : Propagated or None
        Power given to the air outside the cabinet over electric power [0-1].
    says : str
        What it means for this house, in one or two plain sentences.
    findings : tuple of Finding
        Doubts, limits, and what to do now.
    """

    total_static: Propagated | None
    drops: Propagated | None
    density: float
    flows: tuple[MethodFlow, ...]
    flow: Propagated | None
    standard_flow: Propagated | None
    chance: float | None
    supply_registers: Propagated | None
    return_registers: Propagated | None
    flow_per_capacity: Propagated | None
    split: Propagated | None
    expected_split: Propagated | None
    sensible: Propagated | None
    total: Propagated | None
    fan_power: Propagated | None
    fan_efficiency: Propagated | None
    says: str
    findings: tuple[Finding, ...]
