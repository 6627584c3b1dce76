"""Units at the edge: parsing what people type and showing what they read.

The core computes with bare floats in SI. Here, and only here, a text with a unit
becomes such a float and such a float becomes a text; `Kind` names the unit of the
core for everything that can be written.
"""

from rooftree.units.kinds import DIMENSIONLESS, DisplaySystem, Kind
from rooftree.units.reading import allowed_units, parse, parse_any
from rooftree.units.showing import (
    quantity,
    quantity_in,
    show,
    show_range,
    shown_unit,
    usual_units,
)
from rooftree.units.spelling import find_unit
from rooftree.units.table import UNITS, Unit
from rooftree.units.telling import both, both_range, in_either, told

__all__ = [
    "DIMENSIONLESS",
    "UNITS",
    "DisplaySystem",
    "Kind",
    "Unit",
    "allowed_units",
    "both",
    "both_range",
    "find_unit",
    "in_either",
    "parse",
    "parse_any",
    "quantity",
    "quantity_in",
    "show",
    "show_range",
    "shown_unit",
    "told",
    "usual_units",
]
