"""Judge wood: wet, damp, or read through something else that conducts."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import ALMOST_CERTAIN, probability_from_odds, sureness
from rooftree.physics.wood_moisture import METER_RANGE
from rooftree.readings.moisture.limits import moisture_limit
from rooftree.readings.moisture.readings import InTheWay, MeterMode
from rooftree.readings.moisture.words import percent

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rooftree.readings.moisture.readings import WoodReading
    from rooftree.readings.moisture.wood import WoodMoisture

USUAL_EXCESS = 0.03
"""Mean of how far wood of a dry place lies above its equilibrium [0-1]; ours."""

CONDUCTOR_LOW, CONDUCTOR_HIGH = 0.18, 0.70
"""What a meter shows across foil, metal or salt, evenly spread [0-1]; ours."""

CONDUCTORS_BEFORE = 0.03
"""Share of readings taken across something that conducts, before one is looked at [0-1]; ours."""


def conductor_probability(wood: WoodMoisture, others: Sequence[WoodMoisture]) -> float:
    """Return how probable it is that a reading was taken across foil, metal or salt.

    Parameters
    ----------
    wood : WoodMoisture
        The reading.
    others : sequence of WoodMoisture
        Of the same place.

    Returns
    -------
    float
        Probability [0-1].

    Notes
    -----
    Bayes: real wood lies above its equilibrium by an exponential spread, as wide as that of
    the other pieces of the place and at least 0.03; a meter across a conductor shows
    anything between 0.18 and 0.70. Both spreads are ours.
    """
    if wood.excess is None or wood.moisture_content is None:
        return 0.0
    if not CONDUCTOR_LOW <= wood.shown <= CONDUCTOR_HIGH:
        return 1.0 if wood.shown > CONDUCTOR_HIGH else 0.0
    beside = [max(other.excess.value, 0.0) for other in others if other.excess is not None]
    mean = math.hypot(
        max(USUAL_EXCESS, sum(beside) / len(beside) if beside else 0.05), wood.excess.standard
    )
    real = math.exp(-max(wood.excess.value, 0.0) / mean) / mean
    across = 1.0 / (CONDUCTOR_HIGH - CONDUCTOR_LOW)
    before = math.log(CONDUCTORS_BEFORE / (1.0 - CONDUCTORS_BEFORE))
    return probability_from_odds(math.log(across / real) + before)


def judge_wood(
    reading: WoodReading, wood: WoodMoisture, others: Sequence[WoodMoisture]
) -> tuple[Finding, ...]:
    """Return what one piece of wood demands and what casts doubt on it.

    Parameters
    ----------
    reading : WoodReading
        As read.
    wood : WoodMoisture
        As reduced.
    others : sequence of WoodMoisture
        Other readings of the same place.

    Returns
    -------
    tuple of Finding
    """
    if reading.in_the_way is not InTheWay.NOTHING:
        return (
            _finding(
                wood,
                "meter-in-the-way",
                f"{reading.name} was read with {reading.in_the_way.value} near the pins, which"
                " conducts better than wet wood: almost certain that the reading means nothing."
                " Move the pins, or read three depths with coated pins: wood changes with depth,"
                " foil and metal jump.",
            ),
        )
    if reading.mode is MeterMode.RELATIVE:
        return (
            _finding(
                wood,
                "relative-scale",
                f"{reading.name} was read on a relative scale: it tells wetter from drier at one"
                " place and is no moisture content. Use pins on the wood scale for a number.",
            ),
        )
    return (
        *_judge_conductor(wood, others),
        *_judge_setting(reading, wood),
        *_judge_range(wood),
        *(() if conductor_probability(wood, others) >= ALMOST_CERTAIN else _judge_wetness(wood)),
    )


def _judge_conductor(wood: WoodMoisture, others: Sequence[WoodMoisture]) -> tuple[Finding, ...]:
    chance = conductor_probability(wood, others)
    if chance < 0.5 or wood.equilibrium is None:
        return ()
    return (
        _finding(
            wood,
            "meter-on-conductor",
            f"{wood.name} shows {percent(wood.shown)} where the air would leave wood at"
            f" {percent(wood.equilibrium.value)}: it is {sureness(chance)} that the pins touch"
            " foil, a nail, a plate or salt, unless water runs there. Read again a hand away and"
            " at three depths; if it stays, look for the leak.",
            wood.shown,
            wood.equilibrium.high,
            "[0-1]",
            "equilibrium: recalled: USDA Forest Products Laboratory, Wood Handbook, eq. 4-5",
        ),
    )


def _judge_setting(reading: WoodReading, wood: WoodMoisture) -> tuple[Finding, ...]:
    findings = []
    if reading.wood is not reading.meter_set_to:
        findings.append(
            _finding(
                wood,
                "wrong-species",
                f"{reading.name} is {reading.wood.value}, the meter was set to"
                f" {reading.meter_set_to.value}: certain to be off by 1 to 4 points of moisture"
                " content. Set the meter to the wood, or add the correction of the meter's own"
                " table, and type both.",
                source="recalled: spread of published species corrections",
            )
        )
    if reading.mode is MeterMode.PINLESS:
        findings.append(
            _finding(
                wood,
                "no-correction",
                f"{reading.name} was read without pins: density moves such a meter as much as water"
                " does, and no temperature correction is published. Confirm a wet spot with pins.",
                source="ours",
            )
        )
    return tuple(findings)


def _judge_range(wood: WoodMoisture) -> tuple[Finding, ...]:
    low, high = METER_RANGE
    if low <= wood.shown <= high:
        return ()
    side = "below" if wood.shown < low else "above"
    state = "dry" if wood.shown < low else "soaked"
    return (
        _finding(
            wood,
            "meter-range",
            f"{wood.name} shows {percent(wood.shown)}, {side} what a pin meter can tell"
            f" ({percent(low)} to {percent(high)}): take it as {state} and not as a number.",
            wood.shown,
            low if side == "below" else high,
            "[0-1]",
            "recalled: ASTM D4444",
        ),
    )


def _judge_wetness(wood: WoodMoisture) -> tuple[Finding, ...]:
    content = wood.moisture_content
    wet, watch = moisture_limit("wood-moisture", "wet"), moisture_limit("wood-moisture", "watch")
    if content is None or content.value <= watch.value:
        return ()
    if content.value <= wet.value:
        return (
            _finding(
                wood,
                "damp-wood",
                f"{wood.name} holds {percent(content.value)} water ({percent(content.low)} to"
                f" {percent(content.high)}): drier than what decays, wetter than what stays free of"
                " mould. Find what wets it and read it again in a month.",
                content.value,
                watch.value,
                "[0-1]",
                watch.source,
            ),
        )
    return (
        Finding(
            "moisture/wet-wood",
            Severity.GATE,
            f"{wood.name} holds {percent(content.value)} water ({percent(content.low)} to"
            f" {percent(content.high)}): find the water and let the wood dry before anything closes"
            " the space or insulates over it. Probe for decay; a decayed member is for a"
            " structural engineer.",
            content.value,
            wet.value,
            "[0-1]",
            wet.source,
            wood.name,
        ),
    )


def _finding(
    wood: WoodMoisture,
    code: str,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = "common practice",
) -> Finding:
    return Finding(f"moisture/{code}", Severity.NOTE, says, value, limit, unit, source, wood.name)
