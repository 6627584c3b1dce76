"""Judge the flow of each fan: what was likely read or typed wrong, and what to do now."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from rooftree.readings.ventilation.fan_note import called, fan_note
from rooftree.readings.ventilation.fans import (
    UNEVEN,
    is_measured,
    mean_reading,
    placement_uncertainties,
)
from rooftree.readings.ventilation.judge_ratings import judge_rating, judge_streams
from rooftree.readings.ventilation.readings import FlowMethod
from rooftree.readings.ventilation.slip import SLIP, judge_units
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.readings.ventilation.fans import FanFlow
    from rooftree.readings.ventilation.readings import FanReading

SUSPECTED = 0.1
"""Probability from which mixed-up units are mentioned [0-1]."""

LARGEST = 0.7
"""Flow that no bath, kitchen, dryer or ventilation fan of a house reaches [m³/s]; ours, about
1500 cfm."""


def judge_flows(fans: Sequence[FanFlow]) -> tuple[Finding, ...]:
    """Return what is doubtful about the flows of all fans.

    Parameters
    ----------
    fans : sequence of FanFlow
        Each as reduced.

    Returns
    -------
    tuple of Finding
    """
    findings: list[Finding] = []
    readings = [fan.reading for fan in fans]
    for fan in fans:
        findings += _about_entry(fan.reading)
        if is_measured(fan.reading):
            findings += _about_grille(fan.reading)
            findings += judge_rating(fan.reading)
            findings += judge_streams(fan)
    names = Counter(reading.name.strip().casefold() for reading in readings)
    findings += [
        fan_note(
            "same-name",
            reading,
            f"More than one fan is called {reading.name}: possibly one fan entered twice, which"
            " would count double. Take one out, or name the rooms.",
        )
        for reading in {reading.name.strip().casefold(): reading for reading in readings}.values()
        if names[reading.name.strip().casefold()] > 1
    ]
    return (*findings, *_about_units(readings))


def _about_entry(reading: FanReading) -> list[Finding]:
    findings = []
    flows = (reading.flow, reading.turned_flow or 0.0, reading.supply_flow or 0.0)
    if min(flows) < 0.0:
        findings.append(
            fan_note(
                "negative-flow",
                reading,
                f"The {called(reading)} reads below zero: certainly the hood is set the wrong way"
                " round, or the fan blows in where it should take out. It is not counted. Turn"
                " the hood and look which way paper is drawn.",
                min(flows),
                0.0,
                unit="m³/s",
            )
        )
    if max(flows) > LARGEST:
        findings.append(
            fan_note(
                "implausible-flow",
                reading,
                f"The {called(reading)} moves {both(max(flows), Kind.FLOW)}, more than any fan of a"
                " house that ventilates: almost certainly a slip or another unit. Read again.",
                max(flows),
                LARGEST,
                unit="m³/s",
            )
        )
    if reading.method is FlowMethod.RATED:
        findings.append(
            fan_note(
                "not-measured",
                reading,
                f"The flow of the {called(reading)} is from its label: not measured, not counted."
                " What fans move lies a fifth to a half below their label. Measure it now.",
                source="recalled: ASHRAE 62.2, 5.4, measured airflow",
            )
        )
    if reading.method is FlowMethod.NO_FAN and reading.flow > 0.0:
        findings.append(
            fan_note(
                "no-fan",
                reading,
                f"The {called(reading)} has a flow but is entered as without a fan: certainly one"
                " of both is wrong. The flow is not counted; say how it was read.",
            )
        )
    if not reading.goes_outdoors:
        findings.append(
            fan_note(
                "recirculates",
                reading,
                f"The {called(reading)} does not blow outdoors: its flow counts for nothing. Lead"
                " it outdoors, never into an attic, a crawlspace or a garage.",
            )
        )
    if not 0.0 <= reading.run_share <= 1.0:
        findings.append(
            fan_note(
                "run-share",
                reading,
                f"The {called(reading)} cannot run {100.0 * reading.run_share:.0f} % of the time:"
                " certainly a slip. It is not counted; enter between 0 and 100 %.",
                reading.run_share,
                1.0,
                unit="-",
            )
        )
    return findings


def _about_grille(reading: FanReading) -> list[Finding]:
    findings = []
    if not reading.is_clean:
        findings.append(
            fan_note(
                "dirty-grille",
                reading,
                f"The grille of the {called(reading)} was dirty: it moves less than it could,"
                " likely by a tenth to a half. Clean it, measure again, and keep both.",
            )
        )
    turned = reading.turned_flow
    if not reading.is_even and turned is None:
        findings.append(
            fan_note(
                "not-turned",
                reading,
                f"The air at the {called(reading)} is uneven, or the hood does not cover it: the"
                " flow may likely be off by a sixth and more. Turn the hood by a quarter, read"
                " again, and enter both.",
                source="LBNL reports on flow hoods (recalled); common practice",
            )
        )
    if turned is not None and turned >= 0.0 and reading.flow > 0.0:
        doubt = placement_uncertainties()[reading.method]
        doubt = math.sqrt(2.0) * (doubt if reading.is_even else math.hypot(doubt, UNEVEN))
        off = abs(math.log(turned / reading.flow)) if turned > 0.0 else math.inf
        if off > 3.0 * doubt:
            sure = "almost certainly" if off > 5.0 * doubt else "likely"
            slip = (
                " The ratio is that of litres a second to cubic feet a minute: look at the unit."
                if abs(off - math.log(SLIP)) < 2.0 * doubt
                else ""
            )
            findings.append(
                fan_note(
                    "turned-differs",
                    reading,
                    f"The {called(reading)} read {both(reading.flow, Kind.FLOW)} and, with the hood"
                    f" set anew, {both(turned, Kind.FLOW)}: {sure} a leak at the hood's edge, a"
                    f" grille it does not fit, or a slip.{slip} Read a third time.",
                    off if turned > 0.0 else None,
                    3.0 * doubt,
                    unit="-",
                )
            )
    return findings


def _about_units(readings: Sequence[FanReading]) -> list[Finding]:
    rows = [
        (mean_reading(reading), reading.rated_flow, reading.purpose)
        for reading in readings
        if is_measured(reading) and mean_reading(reading) > 0.0
    ]
    slip = judge_units(rows)
    if slip.probability < SUSPECTED:
        return []
    sure = next(
        words
        for least, words in ((0.95, "almost certain"), (0.7, "likely"), (0.0, "possible"))
        if slip.probability >= least
    )
    ways = ("litres a second", "cubic feet a minute")
    meant, typed = ways if slip.factor > 1.0 else ways[::-1]
    return [
        fan_note(
            "units",
            None,
            f"The flows look as if {meant} were read and {typed} typed ({sure}, odds of"
            f" {100.0 * slip.probability:.0f} in 100): all are off by about {SLIP:.2f}, held"
            " against labels and what such fans move. Look at the unit on the meter's display.",
            slip.probability,
            SUSPECTED,
            unit="-",
            source="odds of all flows together; spread of good fans is ours",
        )
    ]
