"""What a year of energy looks like on a page: by fuel, by month, before and after."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.house import Fuel
from rooftree.units import Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.engine.results import YearResult

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FuelYear:
    """One fuel through the year, before and after.

    Attributes
    ----------
    fuel : Fuel
        Which one.
    kind : Kind
        Kind of quantity in which it is shown.
    before, after : ndarray, shape (12,)
        Bought in each month [J].
    """

    fuel: Fuel
    kind: Kind
    before: NDArray[np.float64]
    after: NDArray[np.float64]

    @property
    def saved(self) -> float:
        """Return what is not bought any more in the year [J]; negative where more is."""
        return float(self.before.sum() - self.after.sum())

    @property
    def saved_fraction(self) -> float:
        """Return that as a share of what was bought before [-]; 0 where nothing was."""
        bought = float(self.before.sum())
        return self.saved / bought if bought else 0.0


def fuel_years(before: YearResult, after: YearResult) -> tuple[FuelYear, ...]:
    """Return each fuel that is bought before or after, largest first."""
    years = (
        FuelYear(fuel, kind_of(fuel), by_month(before, fuel), by_month(after, fuel))
        for fuel in Fuel
    )
    bought = [year for year in years if year.before.any() or year.after.any()]
    return tuple(sorted(bought, key=lambda year: -float(year.before.sum())))


def by_month(year: YearResult, fuel: Fuel) -> NDArray[np.float64]:
    """Return what is bought of one fuel in each month [J]."""
    total = np.zeros(12)
    for (of_fuel, _), months in year.energy.items():
        if of_fuel is fuel:
            total += months
    return total


def kind_of(fuel: Fuel) -> Kind:
    """Return the kind of quantity in which people buy this fuel."""
    return Kind.ELECTRICITY if fuel is Fuel.ELECTRICITY else Kind.FUEL
