"""What a person reads with a pan over one register after another, the house held by the fan."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class DuctSide(StrEnum):
    """Which side of the air handler a register is on."""

    SUPPLY = "supply"
    RETURN = "return"


@dataclass(frozen=True, slots=True)
class PanReading:
    """One register under the pan, all others open.

    Attributes
    ----------
    name : str
        Its name on the sketch, such as the room.
    pressure : float
        House with reference to the duct under the pan, with or without sign [Pa].
    side : DuctSide
        Supply or return.
    place : str
        Where its run lies.
    again : float or None
        The same read once more [Pa].
    """

    name: str
    pressure: float
    side: DuctSide = DuctSide.SUPPLY
    place: str = ""
    again: float | None = None


@dataclass(frozen=True, slots=True)
class DuctPanTest:
    """All registers of one system under the pan, one at a time, air handler off.

    Attributes
    ----------
    house_pressure : float
        House with reference to outdoors, baseline taken off [Pa].
    pans : tuple of PanReading
        One for each register.
    space_pressure : float or None
        House with reference to the attic, crawlspace or garage that holds the ducts, signed
        like `house_pressure` [Pa]; None where that space is open to outdoors.
    pressure_uncertainty : float
        Standard uncertainty of one reading [Pa].
    exponent : float
        Of the duct leaks [-], 0.5 to 1.
    exponent_uncertainty : float
        Standard uncertainty of the exponent of each leak [-].
    air_handler_off : bool or None
        Whether the air handler was off; None where nobody noted it.
    registers : int or None
        Registers and grilles counted in the house [-].
    """

    house_pressure: float
    pans: tuple[PanReading, ...] = ()
    space_pressure: float | None = None
    pressure_uncertainty: float = 0.2
    exponent: float = 0.6
    exponent_uncertainty: float = 0.05
    air_handler_off: bool | None = None
    registers: int | None = None
