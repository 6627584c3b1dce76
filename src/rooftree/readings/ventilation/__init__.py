"""Ventilation the house needs, and what it has."""

from rooftree.readings.ventilation.editions import Credit, Edition, Form, editions
from rooftree.readings.ventilation.effective import effective_air_change
from rooftree.readings.ventilation.need import Term, VentilationNeed, required_fan_flow
from rooftree.readings.ventilation.readings import ExhaustReading, RoomKind, WholeHouseFan
from rooftree.readings.ventilation.residential_code import code_fan_flow
from rooftree.readings.ventilation.weather_factor import (
    ReferenceHouse,
    WeatherFactor,
    weather_shielding_factor,
)

__all__ = [
    "Credit",
    "Edition",
    "ExhaustReading",
    "Form",
    "ReferenceHouse",
    "RoomKind",
    "Term",
    "VentilationNeed",
    "WeatherFactor",
    "WholeHouseFan",
    "code_fan_flow",
    "editions",
    "effective_air_change",
    "required_fan_flow",
    "weather_shielding_factor",
]
