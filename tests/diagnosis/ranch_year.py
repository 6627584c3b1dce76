"""The invented ranch house through a typical year, for every test of the diagnosis."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from engine.ranch import ranch
from rooftree.diagnosis.simulated_year import SimulatedYear, read_year
from rooftree.engine import simulate
from rooftree.weather import parse_tmy3

if TYPE_CHECKING:
    from rooftree.engine import YearResult
    from rooftree.weather import WeatherYear


@cache
def greensboro() -> WeatherYear:
    """Return the typical year that comes with the package pvlib."""
    return parse_tmy3((files("pvlib") / "data" / "723170TYA.CSV").read_text())


@cache
def ranch_result() -> YearResult:
    """Return the ranch through that year, hour by hour."""
    return simulate(ranch(), greensboro(), hourly=True)


@cache
def ranch_year() -> SimulatedYear:
    """Return house, year and weather side by side."""
    return read_year(ranch(), ranch_result(), greensboro())
