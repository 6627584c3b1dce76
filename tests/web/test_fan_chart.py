"""Check the drawing and the words of a fan test against the reduction they come from."""

from __future__ import annotations

import json
import math

import pytest

from rooftree.papers.results.fan_test import curve_lines, hole_sentence, size_lines
from rooftree.readings.airtightness import (
    Direction,
    Enclosure,
    Fan,
    FanReading,
    FanTest,
    FanTestResult,
    Standard,
    Station,
    reduce_fan_test,
)
from rooftree.units import DisplaySystem
from rooftree.web.fan_chart import fit_chart

HOUSE = Enclosure(volume=370.0, floor_area=152.0, envelope_area=500.0, height=2.4)


def reduced(direction: Direction, scale: float = 1.0, *, stray: bool = False) -> FanTestResult:
    """Return a test of a house that leaks 1.1 m³/s at 50 Pa."""
    sign = -1.0 if direction is Direction.DEPRESSURIZE else 1.0
    pressures = [60.0, 50.0, 40.0, 30.0, 20.0, 12.0]
    stations = [
        Station(sign * p, (FanReading("fan", scale * 1.1 * math.pow(p / 50.0, 0.65)),))
        for p in pressures
    ]
    if stray:
        stations.append(Station(-sign * 25.0, (FanReading("fan", 0.7),)))
    return reduce_fan_test(
        FanTest(
            direction=direction,
            standard=Standard.ISO_9972,
            baseline_before=(0.0,),
            baseline_after=(0.0,),
            stations=tuple(stations),
            fans=(Fan("fan"),),
            indoor_temperature=293.15,
            outdoor_temperature=293.15,
            barometric_pressure=101325.0,
        ),
        HOUSE,
    )


@pytest.mark.parametrize("direction", Direction)
@pytest.mark.parametrize("system", DisplaySystem)
def test_every_station_is_in_the_table(direction: Direction, system: DisplaySystem) -> None:
    """The table holds each station, with the pressure and flow that were reduced."""
    result = reduced(direction)
    drawing = fit_chart([result], system)
    assert len(drawing.rows) == len(result.stations)
    assert [float(row[1]) for row in drawing.rows] == pytest.approx([60, 50, 40, 30, 20, 12])


def test_station_left_out_says_so() -> None:
    """A station that takes no part in the fit is marked in the table, not hidden."""
    drawing = fit_chart([reduced(Direction.DEPRESSURIZE, stray=True)], DisplaySystem.IP)
    assert drawing.rows[-1][-1] == "left out"


def test_drawing_stays_on_logarithmic_axes() -> None:
    """Nothing that is drawn is zero or negative, which such an axis cannot show."""
    drawing = fit_chart([reduced(Direction.DEPRESSURIZE, stray=True)], DisplaySystem.IP)
    values = [
        value
        for layer in drawing.spec["layer"]
        for point in layer["data"]["values"]
        for value in point.values()
        if isinstance(value, float)
    ]
    assert min(values) > 0.0
    json.dumps(drawing.spec, allow_nan=False)


def test_title_says_flow_and_limits() -> None:
    """The title of one test is its result, limits included."""
    drawing = fit_chart([reduced(Direction.DEPRESSURIZE)], DisplaySystem.SI)
    assert drawing.title.startswith("1,100 L/s at 50 Pa, and 95 % sure to lie within ")
    assert drawing.title.endswith(" L/s.")


@pytest.mark.parametrize(("scale", "says"), [(1.0, "agree within 0 %"), (1.3, "differ by 26 %")])
def test_title_of_both_directions_says_whether_they_agree(scale: float, says: str) -> None:
    """Two tests are compared in the title."""
    tests = [reduced(Direction.DEPRESSURIZE), reduced(Direction.PRESSURIZE, scale)]
    assert says in fit_chart(tests, DisplaySystem.SI).title


def test_lines_hold_value_and_limits() -> None:
    """Sizes and curve are told with limits in the reader's units."""
    result = reduced(Direction.DEPRESSURIZE)
    sizes = {line.words: line for line in size_lines(result.sizes, DisplaySystem.IP)}
    assert sizes["Air changes at 50 Pa"].value == "10.7 ACH"
    assert " to " in sizes["Flow at 50 Pa"].limits
    curve = {line.words: line for line in curve_lines(result, DisplaySystem.IP)}
    assert curve["Exponent n"].value == "0.650"
    assert curve["Baseline taken off"].value == "0 Pa"
    assert hole_sentence(result.sizes, DisplaySystem.IP).startswith("All the leaks together")
