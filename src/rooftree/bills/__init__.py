"""Energy bills: what was used, what it costs and emits."""

from rooftree.bills.tariff import (
    Bill,
    Tariff,
    cost_by_fuel,
    cost_by_use,
    cost_of,
    emissions_of,
    energy_by_fuel,
    standing_charge_of,
)

__all__ = [
    "Bill",
    "Tariff",
    "cost_by_fuel",
    "cost_by_use",
    "cost_of",
    "emissions_of",
    "energy_by_fuel",
    "standing_charge_of",
]
