"""What the pressures of rooms and house are held against."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.room_pressures.house_shift import flow_shift
from rooftree.readings.room_pressures.limits import pressure_limit, source_of_allowed
from rooftree.readings.room_pressures.note import SURE, area_of, flow_of, how_sure, note
from rooftree.readings.room_pressures.results import DuctSide

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.room_pressures.curve import HouseCurve
    from rooftree.readings.room_pressures.readings import RoomPressureTest
    from rooftree.readings.room_pressures.results import HouseEffect, RoomResult

HALF = 0.5
"""Flow by the house's pressure over a fan's own flow below which the fan is in doubt [-]; ours."""


def judge_rooms(test: RoomPressureTest, rooms: Sequence[RoomResult]) -> tuple[Finding, ...]:
    """Return the rooms beyond the allowed pressure, with what relieves them.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    rooms : sequence of RoomResult
        Closed rooms.

    Returns
    -------
    tuple of Finding
    """
    allowed, found = test.allowed_pressure, []
    for room in rooms:
        size = abs(room.pressure.value)
        if size <= allowed:
            continue
        distance = (size - allowed) / room.pressure.standard
        relief = room.area_to_add
        remedy = (
            f"Add {_about(relief)} of clear opening to the main space (transfer grille, jump duct,"
            " a higher undercut)."
            if relief
            else "Measure the gap under the door or the registers to size the relief."
        )
        way = "supply" if room.pressure.value > 0.0 else "return"
        if relief and room.by_registers is None:
            remedy += " Measured registers would size it better than the gap under the door."
        found.append(
            note(
                "beyond-limit",
                f"{how_sure(distance)}: {room.name} stands {room.pressure.value:+.1f} Pa against"
                f" the main space with its door closed, beyond {allowed:g} Pa: its {way}"
                f" has no way back. {remedy}",
                room.pressure.value,
                allowed,
                "Pa",
                source_of_allowed(allowed),
                about=room.name,
            )
        )
    return tuple(found)


def _about(area: Propagated) -> str:
    if area.low <= 0.0:
        return f"up to {area_of(area.high)}"
    return f"{area_of(area.low)} to {area_of(area.high)}"


def judge_ducts(
    side: DuctSide | None, size: Propagated | None, effects: Sequence[HouseEffect]
) -> tuple[Finding, ...]:
    """Return what the air handler does to the house, and what it means.

    Parameters
    ----------
    side : DuctSide or None
        Which leaks more to outdoors.
    size : Propagated or None
        By how much [m³/s].
    effects : sequence of HouseEffect
        On the house, the air handler's first.

    Returns
    -------
    tuple of Finding
    """
    if side is None or side is DuctSide.NEITHER:
        return ()
    change = effects[0].change
    other = "return" if side is DuctSide.SUPPLY else "supply"
    moves = "sinks" if side is DuctSide.SUPPLY else "rises"
    amount = f", by {flow_of(size.low)} to {flow_of(size.high)}" if size else ""
    meaning = (
        "The house draws in air elsewhere to make up for it, down a flue too: search the worst case"
        " of every burner that takes its air from the house."
        if side is DuctSide.SUPPLY
        else "Returns draw air from attic, crawlspace or garage into the house (a fresh-air intake"
        " does the same): look what they draw from before anything else."
    )
    return (
        note(
            "duct-side",
            f"{how_sure(change.value / change.standard)}: the house {moves} by"
            f" {abs(change.value):.1f} Pa when the air handler runs with doors open, so the"
            f" {side.value} ducts leak more to outdoors than the {other} ducts{amount}. {meaning}",
            change.value,
            SURE * change.standard,
            "Pa",
            "conservation of mass",
        ),
    )


def judge_exhausts(
    test: RoomPressureTest, effects: Sequence[HouseEffect], curve: HouseCurve | None
) -> tuple[Finding, ...]:
    """Return doubts about exhaust fans by what they do to the house.

    Parameters
    ----------
    test : RoomPressureTest
        Readings.
    effects : sequence of HouseEffect
        On the house.
    curve : HouseCurve or None
        Leakage of the house.

    Returns
    -------
    tuple of Finding
    """
    rated = {fan.name: fan.flow for fan in test.exhausts}
    found = []
    for effect in effects:
        if not effect.exhaust:
            continue
        change = effect.change
        if change.value > SURE * change.standard:
            found.append(
                note(
                    "exhaust-sign",
                    f"{how_sure(change.value / change.standard)}: {effect.exhaust} would raise the"
                    " house's pressure, which an exhaust cannot. The hoses are swapped, the wind"
                    " turned, or it blows inwards. Read on, off, and on again.",
                    change.value,
                    0.0,
                    "Pa",
                    "conservation of mass",
                    about=effect.exhaust,
                )
            )
            continue
        flow = rated.get(effect.exhaust)
        if flow and curve:
            found += _judge_weak(effect, flow, curve)
    return tuple(found)


def _judge_weak(effect: HouseEffect, flow: float, curve: HouseCurve) -> list[Finding]:
    expected = flow_shift(-flow, curve.flow_50, curve.exponent, spread=curve.spread)
    halved = flow_shift(-HALF * flow, curve.flow_50, curve.exponent, spread=curve.spread)
    change = effect.change
    if change.value - SURE * change.standard <= halved:
        return []
    return [
        note(
            "exhaust-weak",
            f"{effect.exhaust} moves the house by {change.value:.1f} Pa, where {flow_of(flow)}"
            f" would move it by {expected:.1f} Pa. Likely: it moves less than half of that (damper"
            " stuck, duct blocked, dirty grille), or a window was open. Measure its flow.",
            change.value,
            expected,
            "Pa",
            "leakage curve of the house",
            about=effect.exhaust,
        )
    ]


def judge_missing(
    rooms: Sequence[RoomResult], effects: Sequence[HouseEffect], curve: HouseCurve | None
) -> tuple[Finding, ...]:
    """Return what was not read or is not known, and what it would tell.

    Parameters
    ----------
    rooms : sequence of RoomResult
        Closed rooms.
    effects : sequence of HouseEffect
        On the house.
    curve : HouseCurve or None
        Leakage of the house.

    Returns
    -------
    tuple of Finding
    """
    found = []
    if rooms and not effects:
        found.append(
            note(
                "no-house-reading",
                "The main space was not read against outdoors with the air handler on and off, so"
                " which side of the ducts leaks to outdoors stays unknown. Read both, doors open.",
            )
        )
    if curve is None and (effects or any(room.through_door for room in rooms)):
        found.append(
            note(
                "no-house-leakage",
                "The leakage of the house is not known: changes of its pressure have no flow, and"
                " what rooms leak to outdoors is left out, which makes their relief look smaller"
                " than it has to be. Make a fan test.",
            )
        )
    return tuple(found)


def judge_lowest(lowest: float | None) -> tuple[Finding, ...]:
    """Return the warning about a house far below outdoors.

    Parameters
    ----------
    lowest : float or None
        Furthest below its pressure with everything off [Pa].

    Returns
    -------
    tuple of Finding
        A note only: the limit is recalled, and the combustion test decides.
    """
    limit = pressure_limit("house below outdoors")
    if lowest is None or lowest > -limit.value:
        return ()
    return (
        note(
            "house-below-outdoors",
            f"The house was {-lowest:.1f} Pa below what it is with everything off. A natural-draft"
            f" burner in it may spill (recalled limit {limit.value:.0f} Pa). Make the combustion"
            " test in this state before anything is tightened; carbon monoxide can kill, and"
            " local codes and licensed technicians decide.",
            lowest,
            -limit.value,
            "Pa",
            limit.source,
        ),
    )
