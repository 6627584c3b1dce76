"""What energy costs and what it emits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Tariff:
    """Prices and emissions, each by the fuel's name (``"electricity"``, ``"natural gas"`` ...).

    Attributes
    ----------
    price : mapping from str to float
        Price of one more joule [$/J].
    standing_charge : mapping from str to float
        Paid whatever is used [$/year].
    emission : mapping from str to float
        CO2-equivalent of one more joule [kg/J].
    source : str
        Where prices and emissions come from, with the date.
    """

    price: Mapping[str, float]
    standing_charge: Mapping[str, float]
    emission: Mapping[str, float]
    source: str


@dataclass(frozen=True, slots=True)
class Bill:
    """One bill of one fuel.

    Attributes
    ----------
    fuel : str
        Name of the fuel.
    start, end : str
        First day and the day after the last, ISO dates.
    energy : float
        What was used [J].
    cost : float or None
        What was paid [$].
    estimated : bool
        Whether the meter was guessed, not read.
    """

    fuel: str
    start: str
    end: str
    energy: float
    cost: float | None = None
    estimated: bool = False
