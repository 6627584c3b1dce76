"""Readings of a job file that contradict each other, and measures that ask for too much."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING, Any

from rooftree.errors import UnitError
from rooftree.records.document.money import setting_value, settings_of
from rooftree.records.document.problems import Problem, path_of
from rooftree.records.document.references import at
from rooftree.units import Kind, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.records.document.references import Along

_NUMBER = re.compile(r"\s*[+-]?\d*\.?\d+")

FEWEST_STATIONS = 5
"""Stations of a multi-point test (ISO 9972:2015, 5.3.4, and ASTM E779: at least five)."""


def _pressure(raw: object) -> float | None:
    """Return a pressure as typed [Pa], or None where it cannot be read."""
    text = raw.get("value") if isinstance(raw, dict) else raw
    try:
        return parse(text, Kind.PRESSURE) if isinstance(text, str) else None
    except UnitError:
        return None


def fan_test_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield what is wrong with fan tests as a whole: signs, stations, fans.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    for along, test in at(raw, "tests[]"):
        if isinstance(test, dict) and test.get("kind") == "fan test":
            yield from one_fan_test_problems(test, along)


def one_fan_test_problems(test: dict[str, Any], along: Along = ()) -> Iterator[Problem]:
    """Yield what is wrong with one fan test as a whole.

    Parameters
    ----------
    test : dict
        Test as plain lists and mappings.
    along : tuple of str or int
        Where it stands.

    Yields
    ------
    Problem
    """
    stations = test.get("stations")
    count = len(stations) if isinstance(stations, list) else 0
    if 0 < count < FEWEST_STATIONS:
        yield _few_stations(count, along)
    yield from _sign_problems(test, along)
    yield from _fan_problems(test, along)


def _few_stations(count: int, along: Along) -> Problem:
    if count == 1:
        says = "has one station: a single-point test, whose exponent is assumed"
        remedy = "for a leakage curve of this house read at least five stations"
    else:
        says = f"has {count} stations, too few for a multi-point test"
        remedy = "read at least five, or keep the one nearest 50 Pa as a single-point test"
    return Problem(path_of((*along, "stations")), says, remedy, blocks=False)


def _sign_problems(test: dict[str, Any], along: Along) -> Iterator[Problem]:
    """Yield stations whose pressure, baseline taken off, has the sign of the other direction."""
    direction = test.get("direction")
    wanted = {"depressurize": -1.0, "pressurize": 1.0}.get(str(direction))
    if wanted is None:
        return
    baselines = [
        found
        for name in ("baseline_before", "baseline_after")
        for _, one in at(test, f"{name}[]")
        if (found := _pressure(one)) is not None
    ]
    baseline = math.fsum(baselines) / len(baselines) if baselines else 0.0
    sign = "negative" if wanted < 0.0 else "positive"
    for place, one in at(test, "stations[].pressure"):
        read = _pressure(one)
        if read is not None and wanted * (read - baseline) <= 0.0:
            yield Problem(
                path_of((*along, *place)),
                f'is "{one}" in a test that is said to {direction}: the house with reference to '
                f"outdoors, baseline taken off, should be {sign}",
                "check the hoses and correct the sign of the pressures, or the direction",
            )


def _fan_problems(test: dict[str, Any], along: Along) -> Iterator[Problem]:
    """Yield fan readings without a fan, a calibration, or a reading."""
    fans = {fan.get("id"): fan for _, fan in at(test, "fans[]") if isinstance(fan, dict)}
    for place, reading in at(test, "stations[].fans[]"):
        if not isinstance(reading, dict):
            continue
        where = path_of((*along, *place))
        has_flow, has_pressure = (
            reading.get(name) is not None for name in ("flow", "fan_pressure")
        )
        if has_flow == has_pressure:
            says = "has both a flow and a fan pressure" if has_flow else "has no reading"
            yield Problem(where, says, "state either the flow shown or the fan pressure")
        fan = fans.get(reading.get("fan"))
        if fan is None and reading.get("fan"):
            remedy = f"use the id of a fan of this test: {', '.join(map(str, fans)) or 'none yet'}"
            yield Problem(f"{where}.fan", f'is "{reading["fan"]}"', remedy)
        elif fan is not None and has_pressure:
            yield from _configuration_problems(reading, fan, where)


def _configuration_problems(
    reading: dict[str, Any], fan: dict[str, Any], where: str
) -> Iterator[Problem]:
    names = {
        str(band.get("configuration")) for _, band in at(fan, "bands[]") if isinstance(band, dict)
    }
    found = reading.get("configuration", "")
    if not names:
        says = f'is read on the fan "{fan.get("id")}", which has no calibration'
        yield Problem(f"{where}.fan_pressure", says, 'add its "bands", or state the flow shown')
    elif found not in names:
        remedy = f"use one that the fan is calibrated for: {', '.join(sorted(names))}"
        yield Problem(f"{where}.configuration", f'is "{found}"', remedy)


def uncertainty_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield uncertainties of readings that are stated to be nothing.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    for along, test in at(raw, "tests[]"):
        if isinstance(test, dict):
            yield from one_uncertainty_problems(test, along)


def one_uncertainty_problems(test: dict[str, Any], along: Along = ()) -> Iterator[Problem]:
    """Yield uncertainties of one test that are stated to be nothing.

    Parameters
    ----------
    test : dict
        Test as plain lists and mappings.
    along : tuple of str or int
        Where it stands.

    Yields
    ------
    Problem
    """
    for name, found in test.items():
        text = str(found.get("value", "") if isinstance(found, dict) else found)
        number = _NUMBER.match(text) if name.endswith("uncertainty") else None
        if number and float(number[0]) == 0.0:
            remedy = "no reading is without doubt; leave it out to take what is usual"
            yield Problem(path_of((*along, name)), f'is "{text}"', remedy)


def bill_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield bills that end before they begin.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    for along, bill in at(raw, "bills[]"):
        if not isinstance(bill, dict):
            continue
        start, end = bill.get("start"), bill.get("end")
        if isinstance(start, str) and isinstance(end, str) and end <= start:
            says = f"is {end}, not after its start {start}"
            yield Problem(path_of((*along, "end")), says, "write the day after the last one billed")


def measure_problems(raw: dict[str, Any]) -> Iterator[Problem]:
    """Yield measures of unknown kind, with settings they do not take, or a range upside down.

    Parameters
    ----------
    raw : dict
        Job file as plain lists and mappings.

    Yields
    ------
    Problem
    """
    for along, measure in at(raw, "measures[]"):
        if isinstance(measure, dict):
            yield from _cost_problems(measure, along)
            yield from _setting_problems(measure, along)


def _cost_problems(measure: dict[str, Any], along: Along) -> Iterator[Problem]:
    ends: list[float] = []
    for name in ("cost_low", "cost_high"):
        found = measure.get(name)
        text = found.get("value") if isinstance(found, dict) else found
        try:
            ends.append(parse(text, Kind.MONEY) if isinstance(text, str) else math.nan)
        except UnitError:
            ends.append(math.nan)
    if ends[1] < ends[0]:
        says = f"is {measure['cost_high']}, less than cost_low {measure['cost_low']}"
        yield Problem(path_of((*along, "cost_high")), says, "put the lower cost first")


def _setting_problems(measure: dict[str, Any], along: Along) -> Iterator[Problem]:
    kind, given = measure.get("kind"), measure.get("settings", {})
    if not isinstance(kind, str) or not isinstance(given, dict):
        return
    taken = settings_of(kind)
    if taken is None:
        from rooftree.plan.measures import KINDS

        remedy = f"use one of: {', '.join(sorted(KINDS))}"
        yield Problem(path_of((*along, "kind")), f'is "{kind}"', remedy)
        return
    for name, setting in taken.items():
        if setting.required and name not in given:
            path = path_of((*along, "settings", name))
            yield Problem(path, "is missing", f"add it: {setting.says}")
    for name, typed in given.items():
        path = path_of((*along, "settings", name))
        if name not in taken:
            remedy = f"it takes: {', '.join(sorted(taken)) or 'no settings'}"
            yield Problem(path, f"is no setting of {kind}", remedy)
        elif isinstance(typed, str | int | float) and not isinstance(typed, bool):
            yield from _value_problems(kind, name, typed, path)


def _value_problems(kind: str, name: str, typed: str | float, path: str) -> Iterator[Problem]:
    setting = (settings_of(kind) or {})[name]
    try:
        value = setting_value(kind, name, typed)
    except UnitError as error:
        yield Problem(path, error.says, error.remedy)
        return
    if isinstance(value, str):
        if setting.choices and value not in setting.choices:
            yield Problem(path, f'is "{value}"', f"use one of: {', '.join(setting.choices)}")
    elif not setting.low <= value <= setting.high:
        limits = f"{setting.low:g} to {setting.high:g}"
        yield Problem(path, f"is {typed}", f"it must be within {limits}: {setting.says}")
