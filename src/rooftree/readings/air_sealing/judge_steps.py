"""Doubts about the step from one row to the next: a hole opened, a unit, a configuration.

Sealing takes leakage away, and no single location of a house has most of it. A flow that
rises, or falls by nearly half, tells of something else.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.air_sealing.held_flow import relative_noise
from rooftree.readings.air_sealing.judge import note
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.air_sealing.readings import AirSealingLog, SealingRow

RISE = 3.0
"""Standard uncertainties from which a flow that rises is a hole that opened [-]; ours."""

JUMP = math.log(1.40)
"""Step from which another fan configuration is suspected, as a logarithm [-]; ours: a house
seldom has 29 % of its leakage in one location."""

SLIPS = {
    "cfm and L/s": 2.1189,
    "cfm and m³/h": 1.6990,
    "L/s and m³/h": 3.6,
}
"""Ratio of flow units that are mixed up [-]."""

SLIP_MARGIN = math.log(1.12)
"""How near a step must be to such a ratio, as a logarithm [-]; sealing moves it too."""


def judge_steps(
    log: AirSealingLog, rows: Sequence[tuple[int, SealingRow]], flows: Sequence[float]
) -> tuple[Finding, ...]:
    """Judge each step of the flow.

    Parameters
    ----------
    log : AirSealingLog
        As written.
    rows : sequence of (int, SealingRow)
        Usable rows with their numbers.
    flows : sequence of float
        Their flows at the held pressure [m³/s].

    Returns
    -------
    tuple of Finding
        At most one for each step; the way back of a single odd row is not told twice.
    """
    found: list[Finding] = []
    told = -1
    for k in range(1, len(rows)):
        step = math.log(flows[k] / flows[k - 1])
        noise = math.hypot(*(relative_noise(log, rows[j][1]) for j in (k - 1, k)))
        if told == k - 1 and abs(step) > JUMP:
            continue
        back = k + 1 < len(rows) and abs(math.log(flows[k + 1] / flows[k - 1])) < JUMP
        if abs(step) > JUMP:
            found.append(_jump(rows[k], step, returns=back))
            told = k
        elif _reconfigured(rows[k - 1][1], rows[k][1]) and abs(step) > RISE * noise + 0.15:
            found.append(_configuration(rows[k], step))
        elif step > RISE * noise:
            found.append(_rise(rows[k], step, flows[k] - flows[k - 1], step / noise))
    return tuple(found)


def _reconfigured(one: SealingRow, other: SealingRow) -> bool:
    both = one.configuration and other.configuration
    return bool(both) and one.configuration != other.configuration


def _jump(row: tuple[int, SealingRow], step: float, *, returns: bool) -> Finding:
    number, read = row
    slip = next(
        (name for name, ratio in SLIPS.items() if abs(abs(step) - math.log(ratio)) < SLIP_MARGIN),
        "",
    )
    size = f"Row {number} has {math.exp(step):.2g} times the flow of the row before"
    # A rise cannot be sealing; a step there and back cannot either.
    chance = 0.99 if returns or step > 0.0 else 0.6 + 0.35 * min(1.0, abs(step) - JUMP)
    sure = sureness(chance)
    if slip:
        return note(
            "units",
            f"{size}, which is the ratio of {slip}. Another unit, or another fan configuration"
            f" set on the gauge, is {sure}: look at the gauge before you seal on, and read the"
            " row again.",
            value=math.exp(step),
            unit="-",
            about=read.location,
        )
    return note(
        "jump",
        f"{size}: more than one location does. That the fan's configuration is not the one set"
        f" on the gauge, or that a door or window changed, is {sure}. Look at the fan before you"
        " seal on, and read the row again.",
        value=math.exp(step),
        limit=math.exp(-JUMP),
        unit="-",
        about=read.location,
    )


def _configuration(row: tuple[int, SealingRow], step: float) -> Finding:
    number, read = row
    return note(
        "configuration",
        f"The flow steps to {math.exp(step):.2g} times what it was at row {number}, just where"
        " the fan was"
        " changed to another configuration: that one of the two is not set right is likely."
        " Read the last row once more in both.",
        value=math.exp(step),
        unit="-",
        about=read.location,
    )


def _rise(row: tuple[int, SealingRow], step: float, more: float, away: float) -> Finding:
    number, read = row
    return note(
        "rise",
        f"The flow rose by {both(math.expm1(step), Kind.FRACTION, digits=2)}"
        f" ({both(more, Kind.FLOW, digits=2)}) between rows {number - 1} and {number}. A hatch,"
        " window or door that opened, or something knocked loose, is"
        f" {sureness(probability_within(away))}. Find it before you seal on.",
        value=more,
        limit=0.0,
        unit="m³/s",
        source="ours, by propagation of the readings' uncertainty",
        about=read.location,
    )
