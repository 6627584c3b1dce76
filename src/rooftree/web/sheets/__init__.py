"""The Readings page of each kind of test, named here once."""

from rooftree.web.sheets import (
    air_handler,
    air_sealing,
    ambient_co,
    combustion,
    combustion_air,
    duct_heat,
    duct_leakage,
    duct_leakage_from_house,
    duct_pans,
    gas_leaks,
    insulation,
    moisture,
    room_pressures,
    tracer_decay,
    ventilation,
    worst_case,
    zone_pressures,
)
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

__all__ = ["SHEETS", "Field", "Group", "Rows", "Sheet"]

SHEETS = {
    one.slug: one
    for one in (
        zone_pressures.SHEET,
        zone_pressures.ADDED_HOLE,
        zone_pressures.OPENED_HATCH,
        duct_leakage.SHEET,
        duct_pans.SHEET,
        duct_leakage_from_house.SUBTRACTION,
        duct_leakage_from_house.DELTA_Q,
        air_handler.SHEET,
        room_pressures.SHEET,
        ventilation.SHEET,
        tracer_decay.SHEET,
        ambient_co.SHEET,
        gas_leaks.SHEET,
        worst_case.SHEET,
        combustion.SHEET,
        combustion_air.SHEET,
        duct_heat.SHEET,
        moisture.SHEET,
        insulation.SHEET,
        air_sealing.SHEET,
    )
}
"""Every sheet by its name in addresses, in the order in which pages list them."""
