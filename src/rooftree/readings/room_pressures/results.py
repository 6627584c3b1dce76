"""What the pressures of rooms and house tell."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated


class DuctSide(StrEnum):
    """Which side of the ducts leaks more to outdoors."""

    SUPPLY = "supply"
    RETURN = "return"
    NEITHER = "neither"


@dataclass(frozen=True, slots=True)
class RoomResult:
    """One room with its door closed.

    Attributes
    ----------
    name : str
        Of the room.
    pressure : Propagated
        Against the main space with the air handler on, less that with it off where it was
        read [Pa].
    baseline : float or None
        That with it off [Pa].
    through_door : Propagated or None
        Net flow by pressure and openings, with what leaks to outdoors from the room
        [m³/s]; above zero where the room gets more than it gives back.
    by_registers : Propagated or None
        Net flow by its registers [m³/s].
    net_flow : Propagated or None
        That of the two from which the relief was sized [m³/s].
    area_to_add : Propagated or None
        Clear opening that brings it to the allowed pressure [m²]; None where it is within,
        or the flow is not known.
    """

    name: str
    pressure: Propagated
    baseline: float | None
    through_door: Propagated | None
    by_registers: Propagated | None
    net_flow: Propagated | None
    area_to_add: Propagated | None


@dataclass(frozen=True, slots=True)
class HouseEffect:
    """How one thing moves the pressure of the house.

    Attributes
    ----------
    cause : str
        What was switched, in plain words.
    exhaust : str
        Name of the exhaust fan; empty for anything else.
    change : Propagated
        House against outdoors, with less without [Pa].
    flow : Propagated or None
        Net flow into the house that makes it [m³/s]; None where the leakage curve is not
        known or the change is not clear.
    """

    cause: str
    exhaust: str
    change: Propagated
    flow: Propagated | None


@dataclass(frozen=True, slots=True)
class RoomPressureResult:
    """What the pressures of rooms and house tell.

    Attributes
    ----------
    rooms : tuple of RoomResult
        Largest pressure first.
    effects : tuple of HouseEffect
        Air handler, closed doors, each exhaust fan.
    duct_side : DuctSide or None
        Which side leaks more to outdoors; None where it was not read.
    duct_imbalance : Propagated or None
        Leakage of that side to outdoors less that of the other, in operation [m³/s].
    lowest : float or None
        Furthest that the house was seen below its pressure with everything off [Pa].
    says : str
        What it means for this house, in one or two plain sentences.
    findings : tuple of Finding
        Doubts, limits, and what to do now.
    """

    rooms: tuple[RoomResult, ...]
    effects: tuple[HouseEffect, ...]
    duct_side: DuctSide | None
    duct_imbalance: Propagated | None
    lowest: float | None
    says: str
    findings: tuple[Finding, ...]
