"""Flows of single fans as measured, with what they count for.

Sources
-------
[GUM] JCGM 100:2008, eq. 10 and 13: what all fans share adds in full, the rest in quadrature.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.physics.propagation import Propagated, factor_limits
from rooftree.readings.ventilation.editions import CFM
from rooftree.readings.ventilation.intermittent import average_flow
from rooftree.readings.ventilation.local_exhaust import ExhaustDeficit, exhaust_deficit
from rooftree.readings.ventilation.readings import (
    ExhaustReading,
    FanPurpose,
    FlowMethod,
    RoomKind,
    Running,
    WholeHouseFan,
)
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from rooftree.readings.ventilation.readings import FanReading

UNEVEN = 0.15
"""Relative standard uncertainty that an uneven or half-covered grille adds [0-1]; ours."""

STATED_WEIGHT = 4.0
"""Degrees of freedom that the stated placement counts for beside a turned reading [-]; ours."""

HOUR = 3600.0

LOCAL = {
    FanPurpose.BATH: RoomKind.BATH,
    FanPurpose.HALF_BATH: RoomKind.HALF_BATH,
    FanPurpose.KITCHEN_HOOD: RoomKind.KITCHEN_HOOD,
    FanPurpose.KITCHEN_OTHER: RoomKind.KITCHEN_OTHER,
}
"""Purposes that local exhaust is asked for."""

WHOLE = frozenset({FanPurpose.WHOLE_EXHAUST, FanPurpose.WHOLE_SUPPLY, FanPurpose.WHOLE_BALANCED})
"""Purposes that ventilate the whole dwelling."""


@dataclass(frozen=True, slots=True)
class FanFlow:
    """One fan as it counts.

    Attributes
    ----------
    reading : FanReading
        What was read.
    exhaust, supply : Propagated or None
        Flow out of and into the house when it runs [m³/s]; None where it has none or it
        was not measured.
    mean_exhaust, mean_supply : float
        Means over time that count for the whole dwelling [m³/s].
    deficit : ExhaustDeficit or None
        Against what the room asks for; None where nothing is asked.
    """

    reading: FanReading
    exhaust: Propagated | None
    supply: Propagated | None
    mean_exhaust: float
    mean_supply: float
    deficit: ExhaustDeficit | None


@cache
def placement_uncertainties() -> Mapping[FlowMethod, float]:
    """Return the relative standard uncertainty of one setting of the meter, by method."""
    return MappingProxyType(
        {
            FlowMethod(row["method"]): float(row["placement"])
            for row in table_rows("rooftree.readings.ventilation", "methods.csv")
        }
    )


@cache
def least_efficacy(purpose: FanPurpose, flow: float) -> tuple[float, str] | None:
    """Return the newest recalled minimum of flow for power.

    Parameters
    ----------
    purpose : FanPurpose
        Of the fan.
    flow : float
        When it runs [m³/s].

    Returns
    -------
    tuple of float and str, or None
        Flow for one watt [m³/(s·W)] and its source; None where there is none.
    """
    found = None
    for row in table_rows("rooftree.readings.ventilation", "efficacy.csv"):
        if row["fan"] == purpose.value and flow >= float(row["flow_from_cfm"]) * CFM:
            found = float(row["efficacy_cfm_per_w"]) * CFM, f"recalled: {row['source']}"
    return found


def is_measured(reading: FanReading) -> bool:
    """Tell whether somebody measured a flow that can be used.

    Parameters
    ----------
    reading : FanReading
        One fan.

    Returns
    -------
    bool
    """
    return reading.method in placement_uncertainties() and reading.flow >= 0.0


def placement(reading: FanReading) -> float:
    """Return the relative standard uncertainty of a flow from where the meter was set.

    Parameters
    ----------
    reading : FanReading
        A measured fan.

    Returns
    -------
    float
        Share of the flow [0-1].

    Notes
    -----
    Turned and read again, the mean counts; the stated uncertainty counts for four degrees
    of freedom beside the difference of both.
    """
    stated = placement_uncertainties()[reading.method]
    if not reading.is_even:
        stated = math.hypot(stated, UNEVEN)
    turned = reading.turned_flow
    if turned is None or turned <= 0.0 or reading.flow <= 0.0:
        return stated
    seen = 0.5 * math.log(turned / reading.flow) ** 2
    return math.sqrt((STATED_WEIGHT * stated**2 + seen) / (STATED_WEIGHT + 1.0) / 2.0)


def mean_reading(reading: FanReading) -> float:
    """Return the flow of a fan, the mean of both readings where it was turned.

    Parameters
    ----------
    reading : FanReading
        A measured fan.

    Returns
    -------
    float
        Flow [m³/s].
    """
    turned = reading.turned_flow
    return reading.flow if turned is None or turned < 0.0 else 0.5 * (reading.flow + turned)


def reduce_fan(reading: FanReading, meter: float, floor_area: float | None) -> FanFlow:
    """Reduce one fan.

    Parameters
    ----------
    reading : FanReading
        As read.
    meter : float
        Relative standard uncertainty of the flow meter [0-1].
    floor_area : float or None
        Of the dwelling [m²], for long cycles.

    Returns
    -------
    FanFlow
    """
    spread = math.hypot(meter, placement(reading)) if is_measured(reading) else 0.0
    out = _stream(mean_reading(reading), spread) if is_measured(reading) else None
    into: Propagated | None = None
    if reading.purpose is FanPurpose.WHOLE_SUPPLY:
        out, into = None, out
    elif reading.purpose is FanPurpose.WHOLE_BALANCED and reading.supply_flow is not None:
        into = _stream(reading.supply_flow, spread) if is_measured(reading) else None
    counts = reading.goes_outdoors
    return FanFlow(
        reading,
        out if counts else None,
        into if counts else None,
        _counted(reading, out, floor_area) if counts else 0.0,
        _counted(reading, into, floor_area) if counts else 0.0,
        _deficit(reading, out),
    )


def _stream(flow: float, spread: float) -> Propagated | None:
    return None if flow < 0.0 else factor_limits(flow, spread)


def whole_house_fan(reading: FanReading, flow: float) -> WholeHouseFan | None:
    """Return a fan as one that ventilates the whole dwelling.

    Parameters
    ----------
    reading : FanReading
        As read.
    flow : float
        When it runs [m³/s].

    Returns
    -------
    WholeHouseFan or None
        None for dryers, for what runs on demand only, and for a share of time that is
        none.
    """
    if reading.purpose is FanPurpose.DRYER or not 0.0 <= reading.run_share <= 1.0:
        return None
    if reading.running is Running.ON_DEMAND:
        return None
    if reading.running is Running.ALWAYS:
        return WholeHouseFan(reading.name, flow)
    return WholeHouseFan(reading.name, flow, reading.run_share, reading.cycle / HOUR)


def _counted(reading: FanReading, flow: Propagated | None, floor_area: float | None) -> float:
    fan = whole_house_fan(reading, flow.value) if flow is not None else None
    return average_flow(fan, floor_area) if fan is not None else 0.0


def _deficit(reading: FanReading, out: Propagated | None) -> ExhaustDeficit | None:
    kind = LOCAL.get(reading.purpose)
    return exhaust_deficit(local_reading(reading, kind, out)) if kind is not None else None


def local_reading(reading: FanReading, kind: RoomKind, out: Propagated | None) -> ExhaustReading:
    """Return a fan as the local exhaust of its room.

    Parameters
    ----------
    reading : FanReading
        As read.
    kind : RoomKind
        Of the room.
    out : Propagated or None
        Flow out of the house [m³/s].

    Returns
    -------
    ExhaustReading
    """
    flow = out.value if out is not None and reading.goes_outdoors else 0.0
    return ExhaustReading(
        reading.name,
        kind,
        flow,
        runs_always=reading.running is Running.ALWAYS,
        window_opens=reading.window_opens,
        volume=reading.room_volume,
    )


def total_flow(parts: Iterable[tuple[float, Propagated]], meter: float) -> Propagated:
    """Return a sum of flows that one meter measured.

    Parameters
    ----------
    parts : iterable of tuple
        Share of each that counts [-], and the flow [m³/s].
    meter : float
        Relative standard uncertainty that all share [0-1].

    Returns
    -------
    Propagated
        Sum [m³/s].

    Notes
    -----
    [GUM]_ eq. 13: what all share adds in full, the rest in quadrature.

    References
    ----------
    .. [GUM] JCGM 100:2008.
    """
    rows = [(share * flow.value, share * flow.standard) for share, flow in parts]
    whole = sum(value for value, _ in rows)
    own = sum(max(doubt**2 - (meter * value) ** 2, 0.0) for value, doubt in rows)
    standard = math.hypot(meter * whole, math.sqrt(own))
    return factor_limits(whole, standard / whole if whole > 0.0 else 0.0)
