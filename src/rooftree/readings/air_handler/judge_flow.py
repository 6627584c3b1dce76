"""Doubts about the flow of an air handler, and what it is held against."""

from __future__ import annotations

import math
from collections import Counter
from itertools import combinations
from typing import TYPE_CHECKING

from rooftree.readings.air_handler.combine import odd_one_out
from rooftree.readings.air_handler.limits import CFM, TON, limit
from rooftree.readings.air_handler.note import SURE, flow_of, how_sure, note

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_handler.combine import Combined
    from rooftree.readings.air_handler.readings import AirHandlerTest
    from rooftree.readings.air_handler.results import MethodFlow

CFM_PER_LITRE = 1e-3 / CFM
"""Cubic feet a minute in one litre a second [-]: the factor of a unit mixed up."""

LEAST_LIKELY, MOST_LIKELY = 215.0 * CFM / TON, 560.0 * CFM / TON
"""Flow per capacity outside which a unit is mixed up rather than the system so bad
[m³/(s·W)]: ours. A usual 280 to 450 cfm a ton becomes 132 to 212 or 593 to 954."""

BETWEEN_SIDES = 0.03
"""Standard uncertainty of an instrument between supply registers and return grilles [0-1];
ours: one hood errs alike on both for the most part."""

HIGHEST_EFFICIENCY, LOWEST_EFFICIENCY = 0.70, 0.01
"""Air power over electric power that no house blower has [0-1]; ours. Common ones turn 10 to
40 % of their power into air power outside the cabinet."""


def judge_methods(flows: Sequence[MethodFlow], combined: Combined | None) -> tuple[Finding, ...]:
    """Return the doubt about methods that cannot all be right.

    Parameters
    ----------
    flows : sequence of MethodFlow
        By each method.
    combined : Combined or None
        Their mean.

    Returns
    -------
    tuple of Finding
    """
    if combined is None:
        return (
            note(
                "no-flow",
                "The flow of the air handler could not be told. Use one of: the maker's fan table"
                " at the total static pressure, a traverse, register flows, a measuring plate in"
                " the filter's place, or the temperature rise with a known heat input.",
            ),
        )
    if combined.agree or combined.chance is None:
        return ()
    values = [flow.flow for flow in flows]
    list_of = ", ".join(f"{flow.method} {flow_of(flow.flow.value)}" for flow in flows)
    sure = "Almost certain" if combined.chance < 1e-4 else "Likely"
    return (
        note(
            "methods-disagree",
            f"{sure}: the flows cannot all be right ({list_of}); noise alone would scatter them so"
            f" once in {min(1.0 / max(combined.chance, 1e-6), 1e6):.0f} times."
            f" {_mixed_units(flows) or _which(flows, odd_one_out(values))}",
            combined.chance,
            0.01,
            "-",
            "chi-square of the methods about their weighted mean",
        ),
    )


def _mixed_units(flows: Sequence[MethodFlow]) -> str:
    for one, other in combinations(flows, 2):
        high, low = (one, other) if one.flow.value > other.flow.value else (other, one)
        doubt = math.hypot(
            one.flow.standard / one.flow.value, other.flow.standard / other.flow.value
        )
        off = math.log(high.flow.value / low.flow.value / CFM_PER_LITRE)
        if abs(off) <= 2.0 * doubt:
            return (
                f"{high.method} and {low.method} differ by about 2.12, the factor between L/s and"
                " cfm: look at the unit of both and enter them again."
            )
    return ""


def _which(flows: Sequence[MethodFlow], odd: int | None) -> str:
    if odd is None:
        return (
            "Repeat the one you trust least: fan speed and filter unchanged, every register"
            " counted, probes out of turbulent air and out of sight of the burner."
        )
    return f"The others agree without the {flows[odd].method}: repeat that one first."


def judge_flow_per_capacity(ratio: Propagated | None) -> tuple[Finding, ...]:
    """Return what the flow per cooling capacity means.

    Parameters
    ----------
    ratio : Propagated or None
        Standard flow over nominal capacity [m³/(s·W)].

    Returns
    -------
    tuple of Finding
    """
    if ratio is None:
        return ()
    shown = ratio.value * TON / CFM
    if not LEAST_LIKELY <= ratio.value <= MOST_LIKELY:
        is_low = ratio.value < LEAST_LIKELY
        swap = "L/s entered as cfm" if is_low else "cfm entered as L/s"
        other = shown * CFM_PER_LITRE if is_low else shown / CFM_PER_LITRE
        return (
            note(
                "flow-units",
                f"Likely: {swap}. {shown:.0f} cfm for each ton hardly occurs; in the other unit it"
                f" would be {other:.0f}. Look at the unit of the flow and at the nominal capacity;"
                " if both are right, the system cannot work as it is.",
                ratio.value,
                LEAST_LIKELY if is_low else MOST_LIKELY,
                "m³/(s·W)",
                "ours",
            ),
        )
    low, high, least = (
        limit(name)
        for name in ("design flow", "high practice flow", "least flow for a charge test")
    )
    if low.value <= ratio.value <= high.value:
        return ()
    edge = low if ratio.value < low.value else high
    distance = (ratio.value - edge.value) / ratio.standard
    if edge is high:
        says = (
            f"{how_sure(distance)}: {shown:.0f} cfm for each ton is above the usual 350 to 450."
            " The coil dries the air less. In a humid climate have the fan speed lowered."
        )
    else:
        charge = (
            " Below 300 a test of the refrigerant charge is not valid."
            if ratio.value < least.value
            else ""
        )
        says = (
            f"{how_sure(distance)}: {shown:.0f} cfm for each ton is below the 350 of a standard"
            f" design.{charge} Look for a dirty filter or coil, closed registers, crushed ducts,"
            " a low fan speed."
        )
    return (note("flow-per-capacity", says, ratio.value, edge.value, "m³/(s·W)", edge.source),)


def judge_registers(
    test: AirHandlerTest, supply: Propagated | None, back: Propagated | None
) -> tuple[Finding, ...]:
    """Return every doubt about register flows.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    supply, back : Propagated or None
        Sums of both sides, in one density [m³/s].

    Returns
    -------
    tuple of Finding
    """
    return (*_judge_rows(test), *_judge_balance(test, supply, back), *_judge_design(test))


def _judge_rows(test: AirHandlerTest) -> list[Finding]:
    found = []
    negative = [row for row in test.registers if row.flow < 0.0]
    if negative:
        found.append(
            note(
                "register-sign",
                f"{negative[0].name} has a flow below zero. Enter flows without sign and say on"
                " which side the register is; if air really goes the wrong way, look for a"
                " disconnected duct or a supply opened into the return.",
                negative[0].flow,
                0.0,
                "m³/s",
                about=negative[0].name,
            )
        )
    twice = [
        name for (name, _), n in Counter((r.name, r.side) for r in test.registers).items() if n > 1
    ]
    if twice:
        found.append(
            note(
                "register-twice",
                f"{twice[0]} is there twice. Give registers names of their own, or take out the"
                " one that was counted again.",
                about=twice[0],
            )
        )
    return found


def _judge_balance(
    test: AirHandlerTest, supply: Propagated | None, back: Propagated | None
) -> list[Finding]:
    if supply is None or back is None:
        return []
    gap = supply.value - back.value
    repeat = test.flow_repeatability * math.sqrt(math.fsum(r.flow**2 for r in test.registers))
    doubt = math.hypot(repeat, BETWEEN_SIDES * supply.value)
    allowed = limit("supply against return")
    share = gap / supply.value
    if abs(share) <= allowed.value or abs(gap) <= SURE * doubt:
        return []
    ratio = max(supply.value, back.value) / min(supply.value, back.value)
    if abs(math.log(ratio / CFM_PER_LITRE)) <= 0.15:
        cause = "They differ by about 2.12: L/s and cfm are mixed."
    elif gap > 0.0:
        cause = (
            "Look for a grille that was missed, an opening in the return that takes air from"
            " elsewhere (return leakage, fresh-air intake), or a hood that does not fit."
        )
    else:
        cause = (
            "Look for a register that was missed or covered, supply leakage, or a hood that"
            " does not fit the return grille."
        )
    return [
        note(
            "registers-balance",
            f"{how_sure(gap / doubt)}: supply registers give {flow_of(supply.value)}, return"
            f" grilles take {flow_of(back.value)}, {abs(share):.0%} apart;"
            f" {allowed.value:.0%} is allowed. {cause}",
            gap,
            max(allowed.value * supply.value, SURE * doubt),
            "m³/s",
            allowed.source,
        )
    ]


def _judge_design(test: AirHandlerTest) -> list[Finding]:
    allowed = limit("register off design")
    off = [
        (row.flow / row.design - 1.0, row)
        for row in test.registers
        if row.design is not None and row.design > 0.0
    ]
    beyond = [(share, row) for share, row in off if abs(share) > allowed.value]
    if not beyond:
        return []
    share, row = max(beyond, key=lambda each: abs(each[0]))
    return [
        note(
            "register-design",
            f"{len(beyond)} of {len(off)} registers are more than {allowed.value:.0%} off their"
            f" design; {row.name} gives {flow_of(row.flow)} where {flow_of(row.design or 0.0)}"
            f" was meant ({share:+.0%}). Look at its damper and duct before balancing the rest.",
            share,
            allowed.value,
            "-",
            allowed.source,
            about=row.name,
        )
    ]


def judge_fan_power(power: Propagated | None, efficiency: Propagated | None) -> tuple[Finding, ...]:
    """Return what the fan's electric power tells.

    Parameters
    ----------
    power : Propagated or None
        Electric power over standard flow [W·s/m³].
    efficiency : Propagated or None
        Air power outside the cabinet over electric power [0-1].

    Returns
    -------
    tuple of Finding
    """
    if efficiency is not None and not LOWEST_EFFICIENCY <= efficiency.value <= HIGHEST_EFFICIENCY:
        is_high = efficiency.value > HIGHEST_EFFICIENCY
        return (
            note(
                "fan-efficiency",
                f"The fan would turn {efficiency.value:.1%} of its power into moving air, which no"
                " house blower does. Likely: a unit is mixed up, inches of water with pascals"
                " (249), cfm with L/s (2.12), or amperes were taken for watts. Enter flow, static"
                " pressure and power again with their units.",
                efficiency.value,
                HIGHEST_EFFICIENCY if is_high else LOWEST_EFFICIENCY,
                "-",
                "ours",
            ),
        )
    most, good = limit("default fan power"), limit("good fan power")
    if power is None or power.value <= good.value:
        return ()
    shown = power.value * CFM
    against = most if power.value > most.value else good
    word = "more than the default of an unverified system" if against is most else "much"
    return (
        note(
            "fan-power",
            f"The fan takes {shown:.2f} W for each cfm, {word}; {good.value * CFM:.2f} is good"
            " practice. Lower the static pressure first, then look at the motor.",
            power.value,
            against.value,
            "W·s/m³",
            against.source,
        ),
    )
