"""The Readings page of each kind of test, named here once."""

from rooftree.web.sheets import (
    air_handler,
    air_sealing,
    combustion,
    duct_heat,
    duct_leakage,
    insulation,
    moisture,
    room_pressures,
    zone_pressures,
)
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

__all__ = ["SHEETS", "Field", "Group", "Rows", "Sheet"]

SHEETS = {
    one.slug: one
    for one in (
        zone_pressures.SHEET,
        duct_leakage.SHEET,
        air_handler.SHEET,
        room_pressures.SHEET,
        combustion.SHEET,
        duct_heat.SHEET,
        moisture.SHEET,
        insulation.SHEET,
        air_sealing.SHEET,
    )
}
"""Every sheet by its name in addresses, in the order in which pages list them."""
