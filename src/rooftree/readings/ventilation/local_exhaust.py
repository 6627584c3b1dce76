"""Local exhaust of kitchens and baths: what is asked for, and what is missing.

Sources
-------
[SWS] US DOE, Standard Work Specifications: bath 50 cfm on demand or 20 always, kitchen
    100 cfm on demand or 5 air changes always; half baths need none.
[622A] ASHRAE 62.2-2010 and later, appendix A, existing dwellings (recalled, but for the
    idea of the deficit): a window that opens counts 20 cfm, a quarter of the deficits is
    added to the whole-dwelling rate; 300 cfm for kitchen fans other than hoods.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.readings.ventilation.editions import CFM
from rooftree.readings.ventilation.readings import RoomKind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rooftree.readings.ventilation.readings import ExhaustReading

ON_DEMAND = {
    RoomKind.BATH: 50.0 * CFM,
    RoomKind.HALF_BATH: 0.0,
    RoomKind.KITCHEN_HOOD: 100.0 * CFM,
    RoomKind.KITCHEN_OTHER: 300.0 * CFM,
}
"""Rate on demand by room [m³/s], [SWS]; 300 cfm recalled from [622A].

A kitchen without any fan is held against a hood's 100 cfm."""

BATH_ALWAYS = 20.0 * CFM
"""Rate of a bath fan that runs all the time [m³/s], [SWS]."""

KITCHEN_AIR_CHANGES = 5.0
"""Rate of a kitchen fan that runs all the time [1/h], [SWS]."""

WINDOW_CREDIT = 20.0 * CFM
"""What a window that opens takes off a room's deficit [m³/s], [622A]."""

ADDED_SHARE = 0.25
"""Share of all deficits that the whole-dwelling rate grows by [0-1], [622A]."""

SOURCE = "US DOE, Standard Work Specifications (rates); recalled: ASHRAE 62.2, appendix A"


@dataclass(frozen=True, slots=True)
class ExhaustDeficit:
    """What one room's exhaust lacks.

    Attributes
    ----------
    room : str
        Name of the room.
    required : float
        Rate asked for on demand [m³/s].
    missing : float
        What is missing of it, window counted [m³/s], >= 0.
    """

    room: str
    required: float
    missing: float


def exhaust_deficit(reading: ExhaustReading) -> ExhaustDeficit:
    """Return what the exhaust of one room lacks.

    Parameters
    ----------
    reading : ExhaustReading
        Fan and room.

    Returns
    -------
    ExhaustDeficit

    Notes
    -----
    Against the rate on demand [SWS]_, less 20 cfm for a window that opens [622A]_. A
    fan that always runs and meets the rate for that lacks nothing.

    References
    ----------
    .. [SWS] US DOE, Standard Work Specifications.
    .. [622A] ASHRAE 62.2, appendix A, recalled.
    """
    required = _required(reading)
    if reading.runs_always and _meets_always(reading):
        return ExhaustDeficit(reading.room, required, 0.0)
    window = WINDOW_CREDIT if reading.window_opens else 0.0
    return ExhaustDeficit(reading.room, required, max(required - reading.flow - window, 0.0))


def _required(reading: ExhaustReading) -> float:
    if reading.kind is RoomKind.KITCHEN_OTHER and reading.flow == 0.0:
        return ON_DEMAND[RoomKind.KITCHEN_HOOD]
    return ON_DEMAND[reading.kind]


def _meets_always(reading: ExhaustReading) -> bool:
    if reading.kind in (RoomKind.BATH, RoomKind.HALF_BATH):
        return reading.flow >= BATH_ALWAYS
    volume = reading.volume
    return volume is not None and reading.flow >= KITCHEN_AIR_CHANGES * volume / 3600.0


def added_flow(readings: Iterable[ExhaustReading]) -> float:
    """Return what missing local exhaust adds to the whole-dwelling rate.

    Parameters
    ----------
    readings : iterable of ExhaustReading
        Kitchens and baths.

    Returns
    -------
    float
        A quarter of all deficits [m³/s].

    Notes
    -----
    The path for existing dwellings of appendix A [622A]_, recalled.

    References
    ----------
    .. [622A] ASHRAE 62.2, appendix A, recalled.
    """
    return ADDED_SHARE * sum(exhaust_deficit(reading).missing for reading in readings)
