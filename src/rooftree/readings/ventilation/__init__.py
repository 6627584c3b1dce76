"""Ventilation the house needs, and what it has."""

from rooftree.readings.ventilation.editions import Credit, Edition, Form, editions
from rooftree.readings.ventilation.effective import effective_air_change
from rooftree.readings.ventilation.fans import FanFlow
from rooftree.readings.ventilation.intermittent import effectiveness, running_flow
from rooftree.readings.ventilation.need import Term, VentilationNeed, required_fan_flow
from rooftree.readings.ventilation.readings import (
    ExhaustReading,
    FanPurpose,
    FanReading,
    FlowMethod,
    RoomKind,
    Running,
    VentilationTest,
    WholeHouseFan,
)
from rooftree.readings.ventilation.reduction import reduce_ventilation
from rooftree.readings.ventilation.residential_code import code_fan_flow
from rooftree.readings.ventilation.results import FanSetting, Together, VentilationResult
from rooftree.readings.ventilation.weather_factor import (
    ReferenceHouse,
    WeatherFactor,
    weather_shielding_factor,
)

__all__ = [
    "Credit",
    "Edition",
    "ExhaustReading",
    "FanFlow",
    "FanPurpose",
    "FanReading",
    "FanSetting",
    "FlowMethod",
    "Form",
    "ReferenceHouse",
    "RoomKind",
    "Running",
    "Term",
    "Together",
    "VentilationNeed",
    "VentilationResult",
    "VentilationTest",
    "WeatherFactor",
    "WholeHouseFan",
    "code_fan_flow",
    "editions",
    "effective_air_change",
    "effectiveness",
    "reduce_ventilation",
    "required_fan_flow",
    "running_flow",
    "weather_shielding_factor",
]
