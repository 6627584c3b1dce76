"""The Readings page of each kind of test, named here once."""

from rooftree.web.sheets import combustion, duct_leakage, zone_pressures
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

__all__ = ["SHEETS", "Field", "Group", "Rows", "Sheet"]

SHEETS = {one.slug: one for one in (zone_pressures.SHEET, duct_leakage.SHEET, combustion.SHEET)}
"""Every sheet by its name in addresses, in the order in which pages list them."""
