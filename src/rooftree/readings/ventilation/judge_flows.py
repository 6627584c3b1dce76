"""Judge the flow of each fan: what was likely read or typed wrong, and what to do now."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.ventilation.fans import (
    UNEVEN,
    is_measured,
    least_efficacy,
    mean_reading,
    placement_uncertainties,
)
from rooftree.readings.ventilation.readings import FanPurpose, FlowMethod, Running
from rooftree.readings.ventilation.slip import SLIP, judge_units
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.ventilation.fans import FanFlow
    from rooftree.readings.ventilation.readings import FanReading

POOR_SHARE = 0.465
"""Share of the rated flow below which something is wrong with the fan or the reading [0-1];
ours, after common practice: ducts and flaps take a fifth to a third."""

ABOVE_RATING = 1.2
"""Share of the rated flow that no fan with a duct reaches [-]; ours: labels are for 25 Pa, and
without any resistance small fans move about a fifth more."""

SUSPECTED = 0.1
"""Probability from which mixed-up units are mentioned [0-1]."""

MATCHED = 0.10
"""Difference of both streams up to which a system counts as balanced [0-1]; recalled: ASHRAE
62.2, definition of a balanced system."""

NAMED = ("fan", "hood", "dryer", "ventilator", "recovery", "supply", "exhaust")
"""Words after which a name needs no "fan" behind it."""

PRACTICE = "common practice"


def _note(
    code: str,
    reading: FanReading | None,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    *,
    unit: str = "",
    source: str = PRACTICE,
) -> Finding:
    about = reading.name if reading is not None else ""
    return Finding(f"ventilation/{code}", Severity.NOTE, says, value, limit, unit, source, about)


def _fan(reading: FanReading) -> str:
    """Return what a fan is called in a sentence: a room's name alone would not do."""
    name = reading.name.strip()
    return name if any(word in name.casefold() for word in NAMED) else f"{name} fan"


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
            findings += _about_rating(fan.reading)
            findings += _about_streams(fan)
    names = Counter(reading.name.strip().casefold() for reading in readings)
    findings += [
        _note(
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
            _note(
                "negative-flow",
                reading,
                f"The {_fan(reading)} reads below zero: certainly the hood is set the wrong way"
                " round, or the fan blows in where it should take out. It is not counted. Turn"
                " the hood and look which way paper is drawn.",
                min(flows),
                0.0,
                unit="m³/s",
            )
        )
    if reading.method is FlowMethod.RATED:
        findings.append(
            _note(
                "not-measured",
                reading,
                f"The flow of the {_fan(reading)} is from its label: not measured, not counted."
                " What fans move lies a fifth to a half below their label. Measure it now.",
                source="recalled: ASHRAE 62.2, 5.4, measured airflow",
            )
        )
    if reading.method is FlowMethod.NO_FAN and reading.flow > 0.0:
        findings.append(
            _note(
                "no-fan",
                reading,
                f"The {_fan(reading)} has a flow but is entered as without a fan: certainly one of"
                " both is wrong. The flow is not counted; say how it was read.",
            )
        )
    if not reading.goes_outdoors:
        findings.append(
            _note(
                "recirculates",
                reading,
                f"The {_fan(reading)} does not blow outdoors: its flow counts for nothing. Lead it"
                " outdoors, never into an attic, a crawlspace or a garage.",
            )
        )
    if not 0.0 <= reading.run_share <= 1.0:
        findings.append(
            _note(
                "run-share",
                reading,
                f"The {_fan(reading)} cannot run {100.0 * reading.run_share:.0f} % of the time:"
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
            _note(
                "dirty-grille",
                reading,
                f"The grille of the {_fan(reading)} was dirty: it moves less than it could,"
                " likely by a tenth to a half. Clean it, measure again, and keep both.",
            )
        )
    turned = reading.turned_flow
    if not reading.is_even and turned is None:
        findings.append(
            _note(
                "not-turned",
                reading,
                f"The air at the {_fan(reading)} is uneven, or the hood does not cover it: the"
                " flow may likely be off by a sixth and more. Turn the hood by a quarter, read"
                " again, and enter both.",
                source="LBNL reports on flow hoods (recalled); common practice",
            )
        )
    if turned is not None and turned > 0.0 and reading.flow > 0.0:
        doubt = placement_uncertainties()[reading.method]
        doubt = math.sqrt(2.0) * (doubt if reading.is_even else math.hypot(doubt, UNEVEN))
        off = abs(math.log(turned / reading.flow))
        if off > 3.0 * doubt:
            sure = "almost certainly" if off > 5.0 * doubt else "likely"
            slip = (
                " The ratio is that of litres a second to cubic feet a minute: look at the unit."
                if abs(off - math.log(SLIP)) < 2.0 * doubt
                else ""
            )
            findings.append(
                _note(
                    "turned-differs",
                    reading,
                    f"The {_fan(reading)} read {both(reading.flow, Kind.FLOW)} and, with the hood"
                    f" set anew, {both(turned, Kind.FLOW)}: {sure} a leak at the hood's edge, a"
                    f" grille it does not fit, or a slip.{slip} Read a third time.",
                    off,
                    3.0 * doubt,
                    unit="-",
                )
            )
    return findings


def _about_rating(reading: FanReading) -> list[Finding]:
    rated, flow = reading.rated_flow, mean_reading(reading)
    if rated is None or rated <= 0.0 or flow < 0.0:
        return _about_power(reading)
    share = flow / rated
    findings = []
    if abs(share - 1.0) < 1e-3 and flow > 0.0:
        findings.append(
            _note(
                "copied-rating",
                reading,
                f"The {_fan(reading)} reads exactly what its label says: likely copied, for ducts"
                " take a fifth to a third. Measure it, or enter it as from the label.",
            )
        )
    if share < POOR_SHARE:
        findings.append(
            _note(
                "below-rating",
                reading,
                f"The {_fan(reading)} moves {100.0 * share:.0f} % of its label: likely a crushed"
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
            _note(
                "above-rating",
                reading,
                f"The {_fan(reading)} moves {100.0 * share:.0f} % of its label, which a fan with a"
                " duct hardly ever does: likely the wrong unit, the wrong range of the meter, or"
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
        _note(
            "efficacy",
            reading,
            f"The {_fan(reading)} takes {power:.0f} W for {both(flow, Kind.FLOW)}, more than new"
            " fans may: a fan that runs this long is worth replacing. First look for what"
            " throttles it.",
            flow / power,
            least[0],
            unit="m³/(s·W)",
            source=least[1],
        )
    ]


def _about_streams(fan: FanFlow) -> list[Finding]:
    reading = fan.reading
    if reading.purpose is not FanPurpose.WHOLE_BALANCED:
        return []
    if reading.supply_flow is None:
        return [
            _note(
                "one-stream",
                reading,
                f"Only one stream of the {_fan(reading)} was read: whether it is balanced is not"
                " known, and it is not taken as balanced. Read the supply grilles too.",
            )
        ]
    if fan.exhaust is None or fan.supply is None:
        return []
    large, small = sorted((fan.exhaust.value, fan.supply.value), reverse=True)
    if large == 0.0 or (large - small) / large <= MATCHED:
        return []
    return [
        _note(
            "unbalanced",
            reading,
            f"The {_fan(reading)} takes out {both(fan.exhaust.value, Kind.FLOW)} and brings in"
            f" {both(fan.supply.value, Kind.FLOW)}, more than a tenth apart: likely a filter, an"
            " iced or dirty core, or a damper never set. Clean the filters and balance it.",
            (large - small) / large,
            MATCHED,
            unit="-",
            source="recalled: ASHRAE 62.2, definition of a balanced system",
        )
    ]


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
        _note(
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
