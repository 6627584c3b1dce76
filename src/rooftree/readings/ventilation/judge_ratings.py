"""Judge the flow of a fan against its label, its power and its other stream."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.ventilation.fan_note import called, fan_note
from rooftree.readings.ventilation.fans import least_efficacy, mean_reading
from rooftree.readings.ventilation.readings import FanPurpose, Running
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.ventilation.fans import FanFlow
    from rooftree.readings.ventilation.readings import FanReading

POOR_SHARE = 0.465
"""Share of the rated flow below which something is wrong with the fan or the reading [0-1];
ours, after common practice: ducts and flaps take a fifth to a third."""

ABOVE_RATING = 1.2
"""Share of the rated flow that no fan with a duct reaches [-]; ours: labels are for 25 Pa, and
without any resistance small fans move about a fifth more."""

MATCHED = 0.10
"""Difference of both streams up to which a system counts as balanced [0-1]; recalled: ASHRAE
62.2, definition of a balanced system."""


def judge_rating(reading: FanReading) -> list[Finding]:
    """Return what is doubtful about a flow beside its label and its power.

    Parameters
    ----------
    reading : FanReading
        A measured fan.

    Returns
    -------
    list of Finding
    """
    rated, flow = reading.rated_flow, mean_reading(reading)
    if rated is None or rated <= 0.0 or flow < 0.0:
        return _about_power(reading)
    share = flow / rated
    findings = []
    if abs(share - 1.0) < 1e-3 and flow > 0.0:
        findings.append(
            fan_note(
                "copied-rating",
                reading,
                f"The {called(reading)} reads exactly what its label says: likely copied, for ducts"
                " take a fifth to a third. Measure it, or enter it as from the label.",
            )
        )
    if share < POOR_SHARE:
        findings.append(
            fan_note(
                "below-rating",
                reading,
                f"The {called(reading)} moves {100.0 * share:.0f} % of its label: likely a crushed"
                " or long duct, a flap that sticks, a dirty grille, or litres a second typed for"
                " cubic feet a minute. Look at the flap outdoors while it runs, and at the"
                " unit.",
                share,
                POOR_SHARE,
                unit="-",
            )
        )
    if share > ABOVE_RATING:
        findings.append(
            fan_note(
                "above-rating",
                reading,
                f"The {called(reading)} moves {100.0 * share:.0f} % of its label, which a fan with"
                " a duct hardly ever does: likely the wrong unit, the wrong range of the meter, or"
                " another fan's label. Read again.",
                share,
                ABOVE_RATING,
                unit="-",
            )
        )
    return findings + _about_power(reading)


def _about_power(reading: FanReading) -> list[Finding]:
    power, flow = reading.power, mean_reading(reading)
    if power is None or power <= 0.0 or reading.running is Running.ON_DEMAND:
        return []
    least = least_efficacy(reading.purpose, flow)
    if least is None or flow / power >= least[0]:
        return []
    return [
        fan_note(
            "efficacy",
            reading,
            f"The {called(reading)} takes {power:.0f} W for {both(flow, Kind.FLOW)}, more than new"
            " fans may: a fan that runs this long is worth replacing. First look for what"
            " throttles it.",
            flow / power,
            least[0],
            unit="m³/(s·W)",
            source=least[1],
        )
    ]


def judge_streams(fan: FanFlow) -> list[Finding]:
    """Return what is doubtful about the two streams of a balanced fan.

    Parameters
    ----------
    fan : FanFlow
        As reduced.

    Returns
    -------
    list of Finding
    """
    reading = fan.reading
    if reading.purpose is not FanPurpose.WHOLE_BALANCED:
        return []
    if reading.supply_flow is None:
        return [
            fan_note(
                "one-stream",
                reading,
                f"Only one stream of the {called(reading)} was read: whether it is balanced is not"
                " known, and it is not taken as balanced. Read the supply grilles too.",
            )
        ]
    if fan.exhaust is None or fan.supply is None:
        return []
    large, small = sorted((fan.exhaust.value, fan.supply.value), reverse=True)
    if large == 0.0 or (large - small) / large <= MATCHED:
        return []
    return [
        fan_note(
            "unbalanced",
            reading,
            f"The {called(reading)} takes out {both(fan.exhaust.value, Kind.FLOW)} and brings in"
            f" {both(fan.supply.value, Kind.FLOW)}, more than a tenth apart: likely a filter, an"
            " iced or dirty core, or a damper never set. Clean the filters and balance it.",
            (large - small) / large,
            MATCHED,
            unit="-",
            source="recalled: ASHRAE 62.2, definition of a balanced system",
        )
    ]
