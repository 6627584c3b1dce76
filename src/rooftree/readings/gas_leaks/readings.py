"""What a person finds along the gas lines of a house."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rooftree.known import Answer


class Gas(StrEnum):
    """What the lines hold."""

    NATURAL_GAS = "natural gas"
    PROPANE = "propane"


class FoundBy(StrEnum):
    """How a leak was found."""

    SNIFFER = "gas detector"
    BUBBLES = "bubble solution"
    SMELL = "smell"
    METER = "meter that turns with all off"


@dataclass(frozen=True, slots=True)
class GasLeak:
    """One leak.

    Attributes
    ----------
    place : str
        Where: fitting, valve, appliance.
    found_by : FoundBy
        How.
    confirmed : bool
        Whether bubbles, or a second pass of the detector, confirmed it.
    reported_to : str
        Owner, utility or trade that was told; empty where nobody was yet.
    repaired : bool
        Whether somebody licensed has repaired it.
    tested_again : bool
        Whether it was found tight afterwards.
    note : str
        Anything else, such as the job number of the utility.
    """

    place: str
    found_by: FoundBy = FoundBy.SNIFFER
    confirmed: bool = False
    reported_to: str = ""
    repaired: bool = False
    tested_again: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class GasLeakTest:
    """The walk along the gas lines.

    Attributes
    ----------
    gas : Gas
        What the lines hold.
    leaks : tuple of GasLeak
        Every leak found.
    joints_checked : float
        How many joints were passed with the detector [-]; 0 where nobody counted.
    all_reached : Answer
        Whether every accessible joint from the meter or tank to each burner was passed.
    ambient_gas : float or None
        Gas in the room air as a share of its lower explosive limit [0-1].
    smell_on_entry : bool
        Whether gas was smelt on coming in.
    connectors : Answer
        Whether a flexible connector is kinked, corroded or older than 1973.
    tubing_bonded : Answer
        Whether corrugated tubing is bonded to ground.
    """

    gas: Gas = Gas.NATURAL_GAS
    leaks: tuple[GasLeak, ...] = ()
    joints_checked: float = 0.0
    all_reached: Answer = Answer.NOT_SAID
    ambient_gas: float | None = None
    smell_on_entry: bool = False
    connectors: Answer = Answer.NOT_SAID
    tubing_bonded: Answer = Answer.NOT_SAID
