"""A year of weather, sun, sky, ground, climate zone, design days."""

from __future__ import annotations

from rooftree.weather.build import weather_year
from rooftree.weather.climate import ClimateZone, climate_zone
from rooftree.weather.design_days import DesignConditions, design_conditions
from rooftree.weather.parse import parse_any, parse_epw, parse_tm2, parse_tmy3
from rooftree.weather.record import record_year
from rooftree.weather.sun import PlaneIrradiance, plane_irradiance
from rooftree.weather.year import HOURS, WeatherYear

__all__ = [
    "HOURS",
    "ClimateZone",
    "DesignConditions",
    "PlaneIrradiance",
    "WeatherYear",
    "climate_zone",
    "design_conditions",
    "parse_any",
    "parse_epw",
    "parse_tm2",
    "parse_tmy3",
    "plane_irradiance",
    "record_year",
    "weather_year",
]
