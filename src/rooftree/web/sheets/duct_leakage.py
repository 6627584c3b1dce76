"""The page of a duct pressurization test."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.range_chart import Bar, range_chart

if TYPE_CHECKING:
    from rooftree.readings.duct_leakage import DuctLeakageResult, DuctLeakageTest
    from rooftree.units import DisplaySystem
    from rooftree.web.charts import Drawing

WELL_BUILT, TYPICAL = 10.0, 22.0
"""Both sides together, of the air handler's flow [%]: ASHRAE Handbook - Fundamentals 2021,
ch. 17, 5 and 11 % on each side."""


def draw_share(_: DuctLeakageTest, result: DuctLeakageResult, __: DisplaySystem) -> Drawing | None:
    """Return the drawing of the leaked share beside what is usual.

    Parameters
    ----------
    _ : DuctLeakageTest
        As read.
    result : DuctLeakageResult
        As reduced.
    __ : DisplaySystem
        Not used: a share has no unit.

    Returns
    -------
    Drawing or None
        None where the air handler's flow is not known.
    """
    share = result.share
    if share is None:
        return None
    where = "to outdoors" if result.to_outdoors else "in all"
    value, low, high = (100.0 * one for one in (share.value, share.low, share.high))
    more = value > WELL_BUILT
    title = f"{value:.0f} % of the air handler's flow leaks {where} at 25 Pa."
    marks = ((WELL_BUILT, "a well-built system"), (TYPICAL, "a typical one"))
    bar = Bar(f"leaks {where}", value, low, high, more)
    return range_chart(
        title, [bar], "% of the air handler's flow", first="Ducts", marks=marks, digits=1
    )


SHEET = Sheet(
    kind="duct leakage",
    name="Duct leakage",
    group="Ducts and air handler",
    says="How much the ducts leak at 25 Pa, in all or to outdoors only.",
    parts=(
        Group(
            "Readings",
            (
                Field("to_outdoors", "House held at the same pressure?", "then it is to outdoors"),
                Field("duct_pressure", "Ducts against house or outdoors", "such as 25 Pa"),
                Field("flow", "Flow of the duct fan"),
                Field("air_handler_flow", "Flow of the air handler"),
            ),
        ),
        Group(
            "More pressures, to be surer",
            (
                Field("duct_house_pressure", "Ducts against the house", "to outdoors: 0"),
                Field("house_pressure", "House against outdoors", "total: 0, with a door open"),
                Field(
                    "space_pressure", "Space of the ducts against outdoors", "attic or crawlspace"
                ),
                Field("far_pressure", "Ducts at the farthest register", "like near the fan"),
            ),
            is_folded=True,
        ),
        Group(
            "Set-up",
            (
                Field("registers", "Registers and grilles counted"),
                Field("registers_sealed", "Of these sealed, or fed by the fan"),
                Field("filter_out", "Filter out?"),
                Field("dampers_open", "Dampers open?"),
                Field("door_open", "Door to outdoors open?", "total leakage only"),
            ),
        ),
        Rows(
            "fan_readings",
            "Several fans, configurations or pressures",
            (
                Field("duct_pressure", "Ducts"),
                Field("flow", "Flow shown"),
                Field("fan_pressure", "or fan pressure"),
                Field("configuration", "Configuration"),
                Field("fan", "Which fan"),
            ),
            "Reading",
            fewest=1,
            says="In place of the one pressure and flow above; equal pressures are added.",
            is_seldom=True,
        ),
        Rows(
            "calibration",
            "Calibration of the duct fan: flow = C × pressureⁿ",
            (
                Field("configuration", "Configuration"),
                Field("low", "From"),
                Field("high", "To"),
                Field("coefficient", "C"),
                Field("exponent", "n"),
                Field("fan", "Which fan"),
            ),
            "Band",
            fewest=1,
            is_seldom=True,
        ),
        Group(
            "Assumed where empty",
            (
                Field("exponent", "Exponent of the leaks", "0.6"),
                Field("exponent_uncertainty", "Its standard uncertainty", "5 %"),
                Field("flow_uncertainty", "Fan, standard uncertainty", "3 %"),
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.25 Pa"),
                Field("air_handler_uncertainty", "Flow of the air handler", "5 %"),
                Field("air_temperature", "Air through the duct fan", "20 °C (68 °F)"),
                Field("barometric_pressure", "Barometer", "from the elevation"),
            ),
            is_folded=True,
        ),
    ),
    picture="duct_leakage",
    setup=(
        "Every register sealed; filter out; dampers open; air handler off.",
        "Total: a door to outdoors open.",
        "To outdoors: house held at the duct pressure, space of the ducts open to outdoors.",
        "Every tape off again, filter in again, when the test is done.",
    ),
    draw=draw_share,
)
