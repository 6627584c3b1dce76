"""What a simulated year tells."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.house import OUTDOORS

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy as np
    from numpy.typing import NDArray

    from rooftree.house import EndUse, Fuel


@dataclass(frozen=True, slots=True)
class Hourly:
    """The year hour by hour; rows are hours, fewer or more of them for other records.

    Columns follow `space_ids`, `leak_ids` or `element_ids` of the result.

    Attributes
    ----------
    temperature : ndarray, shape (8760, spaces)
        Air temperature [K].
    humidity_ratio : ndarray, shape (8760, spaces)
        Water vapor per dry air [kg/kg].
    pressure : ndarray, shape (8760, spaces)
        Pressure at ground level against outdoors at ground level [Pa].
    leak_flow : ndarray, shape (8760, leaks)
        Mass flow from `first` to `second` of each leak [kg/s].
    heating, cooling : ndarray, shape (8760, spaces)
        Sensible heat added to and taken from the air by the equipment [W], >= 0.
    aired : ndarray, shape (8760, spaces)
        Heat that windows opened by people bring in [W]; below 0 where they cool.
    infiltration : ndarray, shape (8760,)
        Outdoor and buffer air that enters the living spaces through leaks and
        exhaust, volume at room density [m³/s].
    runtime : ndarray, shape (8760,)
        Share of the hour for which the air handler runs [0-1].
    radiant : ndarray, shape (8760, spaces)
        Mean radiant temperature of each space [K].
    face_inside, face_outside : ndarray, shape (8760, elements)
        Temperature of the two faces of each element [K].
    conducted_inside, conducted_outside : ndarray, shape (8760, elements)
        Heat that comes out of the layers of each element at its two faces [W]; negative
        where the layers take heat up. For a window this includes the sun that its panes
        absorb, and not the sun that they let through.
    sun : ndarray, shape (8760, spaces)
        Sun let into each space [W].
    entering : ndarray, shape (8760, spaces, spaces + 1)
        Mass of air that enters each space from each other, last from outdoors [kg/s]:
        through leaks, doors and fans that blow in, without ducts and balanced fans.
    supply_temperature : ndarray, shape (8760,)
        Of the air behind the coil while the air handler runs [K]; not a number while it
        stands.
    condensate : ndarray, shape (8760,)
        Water that the cooling coil removes, mean over the hour [kg/s].
    bought : ndarray, shape (8760, uses)
        What the equipment draws [W]: heat, its backup, cold, moving air and water, drying, hot
        water, then the heat of each room unit.
    """

    temperature: NDArray[np.float64]
    humidity_ratio: NDArray[np.float64]
    pressure: NDArray[np.float64]
    leak_flow: NDArray[np.float64]
    heating: NDArray[np.float64]
    cooling: NDArray[np.float64]
    aired: NDArray[np.float64]
    infiltration: NDArray[np.float64]
    runtime: NDArray[np.float64]
    radiant: NDArray[np.float64]
    face_inside: NDArray[np.float64]
    face_outside: NDArray[np.float64]
    conducted_inside: NDArray[np.float64]
    conducted_outside: NDArray[np.float64]
    sun: NDArray[np.float64]
    entering: NDArray[np.float64]
    supply_temperature: NDArray[np.float64]
    condensate: NDArray[np.float64]
    bought: NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class YearResult:
    """A house through one year of weather.

    Attributes
    ----------
    space_ids, leak_ids, element_ids : tuple of str
        Order of the columns in `hourly` and of the arrays below; elements are the
        surfaces and windows, in an order of their own.
    energy : mapping from (Fuel, EndUse) to ndarray, shape (12,)
        Bought energy by month [J]; heat content of fuels is the higher one.
    heating_load, cooling_load : float
        Sensible heat delivered to and taken from the living air over the year [J].
    peak_heating, peak_cooling : float
        Largest hourly mean of each over the year [W].
    unmet_heating_hours, unmet_cooling_hours : int
        Hours more than 0.5 K off the thermostat although the equipment ran flat out.
    mean_infiltration : float
        Mean over the year of `Hourly.infiltration` [m³/s].
    source_shares : mapping from str to float
        Share of the air entering the living spaces that came directly from each
        source: ids of buffer spaces and ``OUTDOORS`` [0-1], sums to 1.
    entering : ndarray, shape (spaces, spaces + 1)
        Mass of air that entered each space from each other over the year, last from
        outdoors [kg]; of it `share_of_air` gives shares.
    mean_temperature, minimum_temperature, maximum_temperature : ndarray, shape (spaces,)
        Air temperature of each space over the year [K].
    mean_relative_humidity : ndarray, shape (spaces,)
        Of the air of each space over the year [0-1].
    hours_above_80_percent : ndarray, shape (spaces,)
        Hours with relative humidity above 0.8.
    heat_balance_error : float
        Sum of heat flows not accounted for, over the sum of their sizes [-].
    mass_residual : float
        Largest imbalance of air in any space in any hour [kg/s].
    hourly : Hourly or None
        None for sweeps.
    vapor_balance_error : float
        Sum of vapor not accounted for in each hour, over the sum of what moved [-].
    """

    space_ids: tuple[str, ...]
    leak_ids: tuple[str, ...]
    element_ids: tuple[str, ...]
    energy: Mapping[tuple[Fuel, EndUse], NDArray[np.float64]]
    heating_load: float
    cooling_load: float
    peak_heating: float
    peak_cooling: float
    unmet_heating_hours: int
    unmet_cooling_hours: int
    mean_infiltration: float
    source_shares: Mapping[str, float]
    entering: NDArray[np.float64]
    mean_temperature: NDArray[np.float64]
    minimum_temperature: NDArray[np.float64]
    maximum_temperature: NDArray[np.float64]
    mean_relative_humidity: NDArray[np.float64]
    hours_above_80_percent: NDArray[np.int64]
    heat_balance_error: float
    mass_residual: float
    hourly: Hourly | None = None
    vapor_balance_error: float = 0.0

    def bought(self, fuel: Fuel | None = None, use: EndUse | None = None) -> float:
        """Return the energy bought in the year [J], of one fuel or use or of all."""
        return float(
            sum(
                months.sum()
                for (of_fuel, of_use), months in self.energy.items()
                if fuel in (None, of_fuel) and use in (None, of_use)
            )
        )

    def share_of_air(self, space: str) -> dict[str, float]:
        """Return where the air that enters a space comes from, by id, sums to 1 [0-1]."""
        row = self.entering[self.space_ids.index(space)]
        origins = (*self.space_ids, OUTDOORS)
        return {
            origin: float(mass / row.sum())
            for origin, mass in zip(origins, row, strict=True)
            if mass > 0.0
        }
