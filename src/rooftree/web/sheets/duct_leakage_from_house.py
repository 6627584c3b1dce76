"""The pages of duct leakage from fan tests of the house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.units import Kind, show_range, shown_unit
from rooftree.web.charts import COOL, INK, Drawing, chart_spec
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.range_chart import Bar, range_chart

if TYPE_CHECKING:
    from rooftree.readings.duct_leakage_from_house import (
        DeltaQResult,
        DeltaQTest,
        DuctSubtractionResult,
        DuctSubtractionTest,
    )
    from rooftree.units import DisplaySystem

_ASSUMED = (
    Field("exponent", "Exponent of the duct leaks", "0.6"),
    Field("exponent_uncertainty", "Its standard uncertainty", "5 %"),
    Field("repeatability", "One flow read twice", "1 %"),
    Field("flow_uncertainty", "Fan, standard uncertainty", "2.5 %"),
)


def draw_difference(
    _: DuctSubtractionTest, result: DuctSubtractionResult, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the leakage with its wide range.

    Parameters
    ----------
    _ : DuctSubtractionTest
        As read.
    result : DuctSubtractionResult
        As reduced.
    system : DisplaySystem
        Units of the flows.

    Returns
    -------
    Drawing or None
        None where the readings do not give it.
    """
    flow = result.flow_25
    if flow is None:
        return None
    unit = shown_unit(Kind.FLOW, system, size=max(flow.high, 1e-6))
    value, low, high = (unit.from_core(max(v, 0.0)) for v in (flow.value, flow.low, flow.high))
    shown = show_range(max(flow.low, 0.0), max(flow.high, 0.0), Kind.FLOW, system)
    title = f"{shown} leak to outdoors at 25 Pa by the difference of two large flows."
    return range_chart(title, [Bar("ducts", value, low, high)], unit.name, first="Leak")


def draw_change(_: DeltaQTest, result: DeltaQResult, system: DisplaySystem) -> Drawing | None:
    """Return the drawing of what the air handler adds to the fan's flow.

    Parameters
    ----------
    _ : DeltaQTest
        As read.
    result : DeltaQResult
        As reduced.
    system : DisplaySystem
        Units of the flows.

    Returns
    -------
    Drawing or None
        None where the readings cannot be fitted.
    """
    if not result.points:
        return None
    largest = max(abs(point.change) for point in result.points)
    unit = shown_unit(Kind.FLOW, system, size=max(largest, 1e-6))
    points = sorted(result.points, key=lambda point: point.pressure)
    values = [
        {
            "pressure": round(point.pressure, 2),
            "change": round(unit.from_core(point.change), 2),
            "fitted": round(unit.from_core(point.fitted), 2),
        }
        for point in points
    ]
    title = "What the air handler adds to the fan's flow, and what the leaks found explain."
    x = {
        "field": "pressure",
        "type": "quantitative",
        "axis": {"title": "house against outdoors, Pa", "grid": False},
    }
    y_axis = {"title": unit.name, "tickCount": 5}
    line = {
        "mark": {"type": "line", "color": INK, "strokeWidth": 1.6},
        "encoding": {"x": x, "y": {"field": "fitted", "type": "quantitative", "axis": y_axis}},
    }
    dots = {
        "mark": {"type": "point", "filled": True, "size": 70, "opacity": 1, "color": COOL},
        "encoding": {"x": x, "y": {"field": "change", "type": "quantitative", "axis": y_axis}},
    }
    return Drawing(
        title=title,
        alternative=f"{title} Points are readings, the line is the fit; the table has both.",
        spec=chart_spec(values, height=260, layer=[line, dots]),
        columns=("House, Pa", f"As read, {unit.name}", f"By the leaks found, {unit.name}"),
        rows=tuple(
            (
                f"{point.pressure:+.1f}".replace("-", "−"),
                f"{unit.from_core(point.change):+,.0f}".replace("-", "−"),
                f"{unit.from_core(point.fitted):+,.0f}".replace("-", "−"),
            )
            for point in points
        ),
    )


SUBTRACTION = Sheet(
    kind="duct subtraction",
    name="Duct leakage, difference",
    group="Ducts and air handler",
    says=(
        "Two fan tests of the house, with registers open and sealed, when there is no duct fan. "
        "Coarse: it finds a disaster, it proves no repair."
    ),
    parts=(
        Group(
            "Readings",
            (
                Field("house_pressure", "House against outdoors", "the same both times"),
                Field("flow_open", "Flow of the fan, registers open"),
                Field("flow_sealed", "Flow of the fan, registers sealed"),
                Field("duct_pressure", "House against the sealed ducts", "through the tape"),
                Field("air_handler_flow", "Flow of the air handler"),
            ),
        ),
        Group(
            "Assumed where empty",
            (*_ASSUMED, Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.5 Pa")),
            is_folded=True,
        ),
    ),
    picture="fan_test",
    setup=(
        "Air handler off; filter out; the same ring and the same pressure both times.",
        "Every register and grille sealed for the second test; one after the other, in calm air.",
        "Every tape off again when the test is done.",
    ),
    draw=draw_difference,
)

DELTA_Q = Sheet(
    kind="delta q",
    name="Duct leakage, handler off and on",
    group="Ducts and air handler",
    says=(
        "The fan's flow over several pressures above and below outdoors, with the air handler off "
        "and on, gives supply and return leakage while it runs. Needs calm air."
    ),
    parts=(
        Group(
            "The ducts, air handler on",
            (
                Field("supply_pressure", "Supply ducts against the house", "half the plenum's"),
                Field("return_pressure", "Return ducts against the house", "half the plenum's"),
                Field("air_handler_flow", "Flow of the air handler"),
                Field("baseline", "House against outdoors, all off", "0 where empty"),
            ),
        ),
        Rows(
            "flows",
            "Flow of the fan",
            (
                Field("air_handler", "Air handler on?"),
                Field("house_pressure", "House against outdoors"),
                Field("flow", "Flow of the fan"),
            ),
            "Reading",
            fewest=8,
            says=(
                "Four pressures or more off and on, better eight, such as ±6, ±12, ±20 and ±30 Pa; "
                "the same off and on."
            ),
        ),
        Group(
            "Assumed where empty",
            (
                *_ASSUMED,
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.3 Pa"),
                Field("duct_pressure_uncertainty", "Duct pressures standing for all leaks", "25 %"),
            ),
            is_folded=True,
        ),
    ),
    picture="duct_leakage_from_house",
    setup=(
        "Registers open, filter in, as in use; doors as in the fan test.",
        "Wind below 3 m/s (7 mph); average each reading over half a minute.",
        "Thermostat set so that the air handler runs by itself and stays on; put it back after.",
    ),
    draw=draw_change,
    nothing_yet="The leaks appear here from four readings off and four on.",
)
