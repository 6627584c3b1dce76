"""The page of pressure pans."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.duct_pans import Standing
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet
from rooftree.web.sheets.range_chart import Bar, range_chart

if TYPE_CHECKING:
    from rooftree.readings.duct_pans import DuctPansResult, DuctPanTest
    from rooftree.units import DisplaySystem
    from rooftree.web.charts import Drawing

MOST_REGISTERS = 24
"""Registers that are drawn; the table of the results has them all."""


def draw_pans(_: DuctPanTest, result: DuctPansResult, __: DisplaySystem) -> Drawing | None:
    """Return the drawing of the registers, the leakiest first.

    Parameters
    ----------
    _ : DuctPanTest
        As read.
    result : DuctPansResult
        As reduced.
    __ : DisplaySystem
        Not used: pressures are in pascals everywhere.

    Returns
    -------
    Drawing or None
        None where the readings cannot be compared.
    """
    if not result.pans:
        return None
    worst = (Standing.LEAKS, Standing.OPEN)
    bars = [
        Bar(
            pan.reading.name,
            pan.normalized.value,
            pan.normalized.low,
            pan.normalized.high,
            pan.standing in worst,
        )
        for pan in result.pans[:MOST_REGISTERS]
    ]
    marks = ((1.0, "wanted after sealing (recalled)"), (5.0, "leaks to outdoors"))
    number = sum(pan.standing in worst for pan in result.pans)
    leak = "leaks" if number == 1 else "leak"
    title = f"{number} of {len(result.pans)} runs {leak} to outdoors."
    if not number:
        title = "No run reads 5 Pa or more."
    return range_chart(title, bars, "Pa, house at 50 Pa", first="Register", marks=marks, digits=1)


SHEET = Sheet(
    kind="duct pans",
    name="Pressure pan",
    group="Ducts and air handler",
    says=(
        "A pan over one register after another, while the fan holds the house, shows which runs "
        "leak to outdoors. It ranks; it measures no flow."
    ),
    parts=(
        Group(
            "The house",
            (
                Field("house_pressure", "House against outdoors", "baseline taken off"),
                Field(
                    "space_pressure",
                    "House against the space of the ducts",
                    "empty where that is open to outdoors",
                ),
                Field("registers", "Registers and grilles counted"),
                Field("air_handler_off", "Air handler off?"),
            ),
        ),
        Rows(
            "pans",
            "Registers",
            (
                Field("name", "Register", "such as bath"),
                Field("pressure", "Under the pan", "such as -1.2 Pa"),
                Field("again", "Once more"),
                Field("side", "Side"),
                Field("place", "Where its run lies"),
            ),
            "Register",
            fewest=8,
        ),
        Group(
            "Assumed where empty",
            (
                Field("exponent", "Exponent of the leaks", "0.6"),
                Field("exponent_uncertainty", "Its standard uncertainty", "5 %"),
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.2 Pa"),
            ),
            is_folded=True,
        ),
    ),
    picture="duct_pans",
    setup=(
        "Air handler off at its switch; filter out; every register open but the one under the pan.",
        "The fan holds the house at 50 Pa; inside doors and the space of the ducts open.",
        "The gasket of the pan closes all round; blow into its tube to see the gauge move.",
    ),
    draw=draw_pans,
    nothing_yet="Registers appear here, the leakiest first, as soon as one was read.",
)
