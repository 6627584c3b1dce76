"""Every kind of test in words, for pages, commands and the report's annex alike.

Each kind has its own module, which is named here once.
"""

from rooftree.papers.results import (
    air_handler,
    combustion,
    duct_leakage,
    fan_test,
    room_pressures,
    zone_pressures,
)
from rooftree.papers.results.words import Line, Table, TestWords

__all__ = ["WORDS", "Line", "Table", "TestWords"]

WORDS = {
    one.reading: one
    for one in (
        fan_test.WORDS,
        zone_pressures.WORDS,
        duct_leakage.WORDS,
        air_handler.WORDS,
        room_pressures.WORDS,
        combustion.WORDS,
    )
}
"""How each kind of reading is told, by the class of its readings."""
