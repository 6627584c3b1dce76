"""Every kind of test in words, for pages, commands and the report's annex alike.

Each kind has its own module, which is named here once.
"""

from rooftree.papers.results import (
    air_handler,
    air_sealing,
    ambient_co,
    combustion,
    combustion_air,
    duct_heat,
    duct_leakage,
    duct_leakage_from_house,
    duct_pans,
    fan_test,
    gas_leaks,
    insulation,
    moisture,
    room_pressures,
    tracer_decay,
    ventilation,
    worst_case,
    zone_pressures,
)
from rooftree.papers.results.words import Line, Table, TestWords

__all__ = ["WORDS", "Line", "Table", "TestWords"]

WORDS = {
    one.reading: one
    for one in (
        fan_test.WORDS,
        zone_pressures.WORDS,
        zone_pressures.ADDED_HOLE,
        zone_pressures.OPENED_HATCH,
        duct_leakage.WORDS,
        duct_pans.WORDS,
        duct_leakage_from_house.SUBTRACTION,
        duct_leakage_from_house.DELTA_Q,
        air_handler.WORDS,
        room_pressures.WORDS,
        ventilation.WORDS,
        tracer_decay.WORDS,
        ambient_co.WORDS,
        gas_leaks.WORDS,
        worst_case.WORDS,
        combustion.WORDS,
        combustion_air.WORDS,
        duct_heat.WORDS,
        moisture.WORDS,
        insulation.WORDS,
        air_sealing.WORDS,
    )
}
"""How each kind of reading is told, by the class of its readings."""
