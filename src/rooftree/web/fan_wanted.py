"""What a table or a stream can fill in the form of a fan test."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.records.tabular import Column
from rooftree.units import Kind
from rooftree.web.fan_form import UNITS
from rooftree.web.table_step import WantedList

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.web.fan_form import FanForm

MOST_STATIONS, MOST_BASELINES = 60, 60
"""Rows that the form shows."""


def wanted_lists(form: FanForm) -> tuple[WantedList, ...]:
    """Return the lists of a fan test that a table can fill: the stations first.

    Parameters
    ----------
    form : FanForm
        As typed: its fans are the columns, its units are meant for numbers without any.

    Returns
    -------
    tuple of WantedList
    """
    baseline = (Column("", "Baseline", _units(form, "pressure"), Kind.PRESSURE),)
    return (
        WantedList("stations", "Stations", tuple(_station(form)), MOST_STATIONS),
        WantedList("baseline_before", "Baseline before the test", baseline, MOST_BASELINES),
        WantedList("baseline_after", "Baseline after the test", baseline, MOST_BASELINES),
    )


def wanted_fields(form: FanForm) -> tuple[Column, ...]:
    """Return the single fields that hold what a logger may send."""
    temperature = _units(form, "temperature")
    return (
        Column("indoor_temperature", "Indoor temperature", temperature, Kind.TEMPERATURE),
        Column("outdoor_temperature", "Outdoor temperature", temperature, Kind.TEMPERATURE),
        Column("barometric_pressure", "Barometric pressure", ("hPa", "inHg"), Kind.PRESSURE),
        Column("wind_speed", "Wind speed", ("mph", "m/s"), Kind.SPEED),
    )


def _station(form: FanForm) -> Iterator[Column]:
    pressure, flow = _units(form, "pressure"), _units(form, "flow")
    yield Column("pressure", "House pressure", pressure, Kind.PRESSURE, is_needed=True)
    fans = form.fans
    for fan in fans:
        path, which = f"fans[{fan.place}]", f", {fan.name}" if len(fans) > 1 else ""
        if fan.configurations:
            named = tuple((name, name) for name in fan.configurations)
            yield Column(f"{path}.fan_pressure", f"Fan pressure{which}", pressure, Kind.PRESSURE)
            yield Column(f"{path}.configuration", f"Fan configuration{which}", choices=named)
        yield Column(f"{path}.flow", f"Flow of the fan{which}", flow, Kind.FLOW)


def _units(form: FanForm, column: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(filter(None, (form.units[column], *UNITS[column]))))
