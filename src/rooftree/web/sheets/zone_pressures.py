"""The pages of zone pressures: one reading, an added hole, an opened hatch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.units import Kind, show_range, shown_unit
from rooftree.web.sheets.layout import Field, Group, Sheet
from rooftree.web.sheets.range_chart import Bar, range_chart

if TYPE_CHECKING:
    from rooftree.readings.zone_pressures import (
        AddedHoleTest,
        OpenedHatchTest,
        ZoneLeaks,
        ZonePressureResult,
        ZonePressureTest,
    )
    from rooftree.units import DisplaySystem
    from rooftree.web.charts import Drawing

_SPACE = Field("space", "Space", among="spaces")
_ZONE = Field("zone", "What it is", "a room of the house cannot be judged so")
_HOUSE = Field("house_pressure", "House against outdoors", "baseline taken off")
_BOUNDARY = Field("boundary", "Where it was opened")
_CLOSED = (
    Field("closed", "Closed again?", "every later test depends on it"),
    Field("pressure_closed", "House against the space, closed again", "proves it"),
)
_EXPONENTS = (
    Field("exponent", "Exponent towards the house", "0.65"),
    Field("outdoor_exponent", "Exponent towards outdoors", "the same; open vents 0.5 to 0.55"),
    Field("exponent_uncertainty", "Exponents, standard uncertainty", "5.7 %"),
    Field("pressure_uncertainty", "Gauge, standard uncertainty", "0.5 Pa"),
)
_HOLE = (
    Field("discharge", "Discharge of the opening", "0.6"),
    Field("area_uncertainty", "Flow of the opening, standard uncertainty", "10 %"),
)
_HOSE = "The hose ends free in the space, away from insulation, and is not pinched by the hatch."


def draw_division(
    reading: ZonePressureTest, result: ZonePressureResult, _: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the two leaks of a zone, beside each other.

    Parameters
    ----------
    reading : ZonePressureTest
        As read.
    result : ZonePressureResult
        As reduced.
    _ : DisplaySystem
        Not used: shares have no unit.

    Returns
    -------
    Drawing or None
        None where the pressure cannot be divided.
    """
    if result.ratio is None:
        return None
    # Shares of the resistance: what each side holds back of the house pressure.
    whole, part = abs(reading.house_pressure), abs(reading.zone_pressure)
    doubt = 2.0 * reading.pressure_uncertainty
    bars = [
        Bar(name, across, across - doubt, across + doubt)
        for name, across in (("house to zone", part), ("zone to outdoors", whole - part))
    ]
    side = "the house side" if part > whole - part else "the outdoor side"
    title = f"Most of the pressure falls on {side}: it is the tighter one."
    if result.ratio.low <= 1.0 <= result.ratio.high:
        title = "The pressure falls about evenly on both sides of the zone."
    return range_chart(title, bars, "Pa", first="Boundary", digits=1)


def draw_leaks(
    _: AddedHoleTest | OpenedHatchTest, result: ZoneLeaks, system: DisplaySystem
) -> Drawing | None:
    """Return the drawing of the size of both leaks.

    Parameters
    ----------
    _ : AddedHoleTest or OpenedHatchTest
        As read.
    result : ZoneLeaks
        As reduced.
    system : DisplaySystem
        Units of the flows.

    Returns
    -------
    Drawing or None
        None where neither leak is known.
    """
    sizes = (
        ("house to zone", result.house_50, False),
        ("zone to outdoors", result.outdoors_50, False),
        ("through the zone", result.flow_50, True),
    )
    known = [(name, of, marked) for name, of, marked in sizes if of]
    if not known or result.flow_50 is None:
        return None
    unit = shown_unit(Kind.FLOW, system, size=max(of.high for _, of, _ in known))
    bars = [
        Bar(name, unit.from_core(of.value), unit.from_core(of.low), unit.from_core(of.high), marked)
        for name, of, marked in known
    ]
    flow = show_range(result.flow_50.low, result.flow_50.high, Kind.FLOW, system)
    title = f"{flow} pass through the zone with the house at 50 Pa."
    return range_chart(title, bars, unit.name, first="Leak, at 50 Pa")


SHEET = Sheet(
    kind="zone pressure",
    name="Zone pressure",
    group="House and zones",
    says=(
        "What share of the house pressure a buffer space takes tells on which side of it the "
        "larger leak is."
    ),
    parts=(
        Group(
            "While the fan holds the house",
            (
                _SPACE,
                _ZONE,
                _HOUSE,
                Field("zone_pressure", "House against the space", "same sign"),
            ),
        ),
        Group(
            "To be surer",
            (
                Field("again_pressure", "House against the space, probe moved"),
                Field("outdoor_pressure", "Space against outdoors", "the three must add up"),
                Field("vent_area", "Free area of its vents", "as measured, net of screens"),
            ),
        ),
        Group("Assumed where empty", _EXPONENTS, is_folded=True),
    ),
    picture="zone_pressures",
    setup=(
        "The fan holds the house at one pressure, usually 50 Pa; doors as in the fan test.",
        _HOSE,
        "Wait until the reading is steady; read the zone with the fan sealed too.",
    ),
    draw=draw_division,
    nothing_yet="The shares appear here as soon as both pressures are there.",
)

ADDED_HOLE = Sheet(
    kind="added hole",
    name="Zone pressure, added hole",
    group="House and zones",
    says=(
        "A measured hole on one side of a buffer space gives the size of both its leaks. Choose it "
        "so large that the zone moves by 5 Pa or more."
    ),
    parts=(
        Group(
            "Before",
            (
                _SPACE,
                _ZONE,
                _HOUSE,
                Field("zone_pressure", "House against the space", "same sign"),
                Field("area_before", "Hole already open", "none; needed near 0 and near 50 Pa"),
            ),
        ),
        Group(
            "With the hole open",
            (
                _BOUNDARY,
                Field("area", "Hole"),
                Field("pressure_after", "House against the space", "same sign"),
                Field("house_pressure_after", "House against outdoors", "empty where held"),
            ),
        ),
        Group("Closed again", _CLOSED),
        Group("Assumed where empty", (*_HOLE, *_EXPONENTS), is_folded=True),
    ),
    picture="added_hole",
    setup=(
        "The fan holds the house at one pressure before and after.",
        _HOSE,
        "Sharp-edged hole, measured: a hatch held open by a block, or a panel with a cut-out.",
        "Close it afterwards and read the zone once more.",
    ),
    draw=draw_leaks,
    nothing_yet="Both leaks appear here as soon as the zone was read before and after.",
)

OPENED_HATCH = Sheet(
    kind="opened hatch",
    name="Zone pressure, opened hatch",
    group="House and zones",
    says=(
        "What the fan gains when a hatch or door of a buffer space is opened gives the size of "
        "both its leaks; the size of the hatch is not needed."
    ),
    parts=(
        Group(
            "Before",
            (
                _SPACE,
                _ZONE,
                _HOUSE,
                Field("zone_pressure", "House against the space", "same sign"),
                Field("flow_before", "Flow of the fan"),
            ),
        ),
        Group(
            "With hatch or door open",
            (
                _BOUNDARY,
                Field("pressure_after", "House against the space", "same sign; 0 if wide open"),
                Field("flow_after", "Flow of the fan"),
                Field("house_pressure_after", "House against outdoors", "empty where held"),
                Field("area", "Open area", "only to check; may stay empty"),
            ),
        ),
        Group("Closed again", _CLOSED),
        Group(
            "Assumed where empty",
            (
                Field("repeatability", "One flow read twice", "1 %"),
                Field("flow_uncertainty", "Fan, standard uncertainty", "2.5 %"),
                *_HOLE,
                *_EXPONENTS,
            ),
            is_folded=True,
        ),
    ),
    picture="opened_hatch",
    setup=(
        "The fan holds the house at the same pressure before and after; same ring, same place.",
        _HOSE,
        "Nothing else is opened or shut in between.",
        "Close hatch or door afterwards and read the zone once more.",
    ),
    draw=draw_leaks,
    nothing_yet="Both leaks appear here as soon as pressures and flows are there.",
)
