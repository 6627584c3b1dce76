"""What energy costs and what it emits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

from rooftree.errors import NotEnoughDataError

if TYPE_CHECKING:
    from collections.abc import Mapping


class Year(Protocol):
    """A year of bought energy: what a simulated year and a year of bills have in common."""

    @property
    def energy(self) -> Mapping[Any, Any]:
        """Return bought energy by (fuel, end use), each by month [J]."""


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


def energy_by_fuel(result: Year) -> dict[str, float]:
    """Return the energy bought in a year by the fuel's name.

    Parameters
    ----------
    result : Year
        A simulated year, or anything with bought energy by (fuel, end use).

    Returns
    -------
    dict of str to float
        Fuels that are bought at all [J/year].
    """
    bought: dict[str, float] = {}
    for (fuel, _), months in result.energy.items():
        bought[str(fuel)] = bought.get(str(fuel), 0.0) + float(sum(months))
    return {fuel: energy for fuel, energy in bought.items() if energy != 0.0}


def _rate(rates: Mapping[str, float], fuel: str, what: str) -> float:
    if fuel not in rates:
        raise NotEnoughDataError(f"the tariff has no {what} for {fuel}: add it to the tariff")
    return rates[fuel]


def cost_by_fuel(result: Year, tariff: Tariff) -> dict[str, float]:
    """Return what the energy of a year costs, fuel by fuel.

    Parameters
    ----------
    result : Year
        A simulated year, or anything with bought energy by (fuel, end use).
    tariff : Tariff
        Prices and standing charges.

    Returns
    -------
    dict of str to float
        Fuels that are bought at all [$/year].

    Raises
    ------
    NotEnoughDataError
        If a fuel is bought for which the tariff has no price.

    Notes
    -----
    The standing charge of a fuel that is not bought is not paid: a house that gives up
    its last gas appliance gives up the meter.
    """
    return {
        fuel: energy * _rate(tariff.price, fuel, "price") + tariff.standing_charge.get(fuel, 0.0)
        for fuel, energy in energy_by_fuel(result).items()
    }


def cost_by_use(result: Year, tariff: Tariff) -> dict[tuple[Any, Any], list[float]]:
    """Return what the energy of each use costs in each month, without standing charges.

    Parameters
    ----------
    result : Year
        A simulated year, or anything with bought energy by (fuel, end use).
    tariff : Tariff
        Prices.

    Returns
    -------
    dict of (fuel, end use) to list of float
        Uses that buy something, with the cost in each month [$].

    Raises
    ------
    NotEnoughDataError
        If a fuel is bought for which the tariff has no price.
    """
    return {
        (fuel, use): [float(energy) * _rate(tariff.price, str(fuel), "price") for energy in months]
        for (fuel, use), months in result.energy.items()
        if sum(months) != 0.0
    }


def standing_charge_of(result: Year, tariff: Tariff) -> float:
    """Return the standing charges of the fuels that are bought [$/year].

    Parameters
    ----------
    result : Year
        A simulated year, or anything with bought energy by (fuel, end use).
    tariff : Tariff
        Standing charges.

    Returns
    -------
    float
        [$/year].
    """
    return sum(tariff.standing_charge.get(fuel, 0.0) for fuel in energy_by_fuel(result))


def cost_of(result: Year, tariff: Tariff) -> float:
    """Return what the energy of a year costs.

    Parameters
    ----------
    result : Year
        A simulated year, or anything with bought energy by (fuel, end use).
    tariff : Tariff
        Prices and standing charges.

    Returns
    -------
    float
        Energy and standing charges of all fuels that are bought [$/year].

    Raises
    ------
    NotEnoughDataError
        If a fuel is bought for which the tariff has no price.
    """
    return sum(cost_by_fuel(result, tariff).values())


def emissions_of(result: Year, tariff: Tariff) -> float:
    """Return what the energy of a year emits.

    Parameters
    ----------
    result : Year
        A simulated year, or anything with bought energy by (fuel, end use).
    tariff : Tariff
        Emissions of each fuel.

    Returns
    -------
    float
        CO2-equivalent [kg/year].

    Raises
    ------
    NotEnoughDataError
        If a fuel is bought for which the tariff has no emission.
    """
    return sum(
        energy * _rate(tariff.emission, fuel, "emission")
        for fuel, energy in energy_by_fuel(result).items()
    )
