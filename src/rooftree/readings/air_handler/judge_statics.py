"""Doubts about static pressures, while the probes are still in the ducts."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.readings.air_handler.limits import WATER_INCH, limit
from rooftree.readings.air_handler.note import SURE, how_sure, note, static_of
from rooftree.readings.air_handler.readings import Component

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_handler.readings import AirHandlerTest, ComponentDrop

HIGHEST_STATIC, LOWEST_TOTAL = 1000.0, 8.0
"""Static pressures that no house system has [Pa]: ours. Residential blowers stall far below
the first (4 in. w.c.); with a total below the second (0.03 in. w.c.) hardly any air moves."""

UNSTEADY = 0.20
"""Swing over the total static pressure from which a probe stands in a bad place [0-1]; ours."""

SUM = "the drops outside the cabinet are the external static pressure"


def judge_statics(
    test: AirHandlerTest, total: Propagated | None, drops: Propagated | None
) -> tuple[Finding, ...]:
    """Return every doubt about the static pressures.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    total : Propagated or None
        Total external static pressure [Pa].
    drops : Propagated or None
        Sum of the drops outside the cabinet [Pa].

    Returns
    -------
    tuple of Finding
    """
    found = [
        *_judge_units(test, total),
        *_judge_signs(test),
        *_judge_taps(test),
        *_judge_swing(test, total),
        *_judge_rating(test, total),
        *_judge_filter(test),
    ]
    if total is not None and drops is not None:
        found += _judge_sum(test, total, drops)
    return tuple(found)


def _judge_units(test: AirHandlerTest, total: Propagated | None) -> list[Finding]:
    given = [test.entering_static, test.leaving_static, test.total_static]
    sizes = [abs(value) for value in given if value is not None]
    largest = max([*sizes, *(abs(row.drop) for row in test.drops)], default=0.0)
    if largest > HIGHEST_STATIC:
        return [
            note(
                "static-units",
                f"Almost certain: pascals were entered as inches of water. {static_of(largest)} is"
                " more than any house blower can make; one inch is 249 Pa. Look at the gauge's"
                " unit and enter the reading again.",
                largest,
                HIGHEST_STATIC,
                "Pa",
                "ours",
            )
        ]
    if total is not None and total.value < LOWEST_TOTAL:
        return [
            note(
                "static-units",
                f"Likely: inches of water were entered as pascals. A total of {total.value:.2f} Pa"
                f" means that hardly any air moves; {total.value:.2f} in. w.c. would be"
                f" {total.value * WATER_INCH:.0f} Pa. Look at the gauge's unit; if it is right,"
                " see whether the fan runs and the tubes are open.",
                total.value,
                LOWEST_TOTAL,
                "Pa",
                "ours",
            )
        ]
    return []


def _judge_signs(test: AirHandlerTest) -> list[Finding]:
    edge = SURE * test.static_uncertainty
    back, out = test.entering_static, test.leaving_static
    found = []
    if (back is not None and back > edge) or (out is not None and out < -edge):
        value = back if back is not None and back > edge else out
        both = back is not None and out is not None and back > edge and out < -edge
        cause = (
            "the two probes or their hoses are swapped"
            if both
            else "a hose is on the wrong port, or a probe on the wrong side of the fan"
        )
        found.append(
            note(
                "static-sign",
                f"Almost certain: {cause}. While the fan runs the return side is below the room"
                " and the supply side above it. Put the duct's hose on the gauge's input, leave"
                " the other port open to the room, and read again.",
                value,
                0.0,
                "Pa",
                "a fan pulls on its return and pushes on its supply",
            )
        )
    wrong = [row for row in test.drops if row.drop < -edge]
    if wrong:
        found.append(
            note(
                "drop-sign",
                f"The {wrong[0].part.value} would raise the pressure by {-wrong[0].drop:.0f} Pa,"
                " which only the fan can. Almost certain: hoses before and behind it are"
                " swapped. Enter drops without sign.",
                wrong[0].drop,
                0.0,
                "Pa",
                "pressure falls along the way of the air",
            )
        )
    if test.total_static is not None and test.total_static < -edge:
        found.append(
            note(
                "static-sign",
                "Almost certain: the hoses of the total static pressure are swapped; the supply"
                " side belongs on the gauge's input. Read again.",
                test.total_static,
                0.0,
                "Pa",
                "a fan pulls on its return and pushes on its supply",
            )
        )
    return found


def _judge_taps(test: AirHandlerTest) -> list[Finding]:
    back, out, direct = test.entering_static, test.leaving_static, test.total_static
    if back is None or out is None or direct is None:
        return []
    gap = direct - (out - back)
    distance = abs(gap) / (2.0 * test.static_uncertainty)
    if distance <= SURE:
        return []
    return [
        note(
            "static-taps",
            f"{how_sure(distance)}: the total read at once, {static_of(direct)}, is not the"
            f" difference of its two sides, {static_of(out - back)}. Look for a probe that moved, a"
            " kinked tube, a changed fan speed; read the three again without moving them.",
            gap,
            SURE * 2.0 * test.static_uncertainty,
            "Pa",
            "one pressure read two ways",
        )
    ]


def _judge_swing(test: AirHandlerTest, total: Propagated | None) -> list[Finding]:
    swing = test.static_swing
    if swing is None or total is None or swing <= UNSTEADY * total.value:
        return []
    return [
        note(
            "static-swing",
            f"The reading swings by {swing:.0f} Pa of {total.value:.0f} Pa. Likely: the probe"
            " stands in turbulent air, next to the blower, an elbow or the coil. Move it to a"
            " straight piece, nose into the flow, and take the mean of ten seconds.",
            swing,
            UNSTEADY * total.value,
            "Pa",
            "ours",
        )
    ]


def _judge_rating(test: AirHandlerTest, total: Propagated | None) -> list[Finding]:
    if total is None or total.value < LOWEST_TOTAL or total.value > HIGHEST_STATIC:
        return []
    usual = limit("usual rated static")
    most = test.rated_static or usual.value
    if total.value <= most:
        return []
    source = "nameplate" if test.rated_static else usual.source
    distance = (total.value - most) / total.standard
    unnamed = "" if test.rated_static else " (usual rating, recalled; read the nameplate)"
    return [
        note(
            "static-high",
            f"{how_sure(distance)}: the fan works against {static_of(total.value)}, above its"
            f" {static_of(most)}{unnamed}. It moves less air than meant, or uses more power. Look"
            " for the largest drop: filter, coil, crushed or closed ducts. Settle this before new"
            " equipment is chosen.",
            total.value,
            most,
            "Pa",
            source,
        )
    ]


def _judge_filter(test: AirHandlerTest) -> list[Finding]:
    budget = limit("filter budget")
    drop = max((row.drop for row in test.drops if row.part is Component.FILTER), default=0.0)
    if drop <= budget.value + SURE * test.static_uncertainty:
        return []
    return [
        note(
            "filter-drop",
            f"The filter takes {static_of(drop)}; a duct design leaves it about"
            f" {static_of(budget.value)} (recalled). Look whether it is dirty, too dense or too"
            " small, read again with a clean one, and propose a larger filter area.",
            drop,
            budget.value,
            "Pa",
            budget.source,
        )
    ]


def _judge_sum(test: AirHandlerTest, total: Propagated, drops: Propagated) -> list[Finding]:
    gap = total.value - drops.value
    doubt = math.hypot(total.standard, drops.standard)
    if abs(gap) <= SURE * doubt or (gap > 0.0 and not _is_whole_way(test)):
        return []
    return [
        note(
            "drops",
            f"{how_sure(gap / doubt)}: the drops add up to {static_of(drops.value)}, the total is"
            f" {static_of(total.value)}. {_cause(test, total, drops, doubt)}",
            gap,
            SURE * doubt,
            "Pa",
            SUM,
        )
    ]


def _is_whole_way(test: AirHandlerTest) -> bool:
    """Return whether both ducts and the filter were read, so that nothing is left out."""
    read = {row.part for row in test.drops}
    return {Component.RETURN, Component.FILTER, Component.SUPPLY} <= read


def _cause(test: AirHandlerTest, total: Propagated, drops: Propagated, doubt: float) -> str:
    ratio = drops.value / total.value
    if ratio > 0.5 * WATER_INCH or ratio < 2.0 / WATER_INCH:
        return (
            "One of them is about 249 times the other: inches of water and pascals are mixed."
            " Enter each with the unit that the gauge showed."
        )
    gap = total.value - drops.value
    near = [row for row in test.drops if row.inside is (gap > 0.0)]
    for row in sorted(near, key=lambda row: abs(abs(gap) - row.drop)):
        if abs(abs(gap) - row.drop) <= SURE * doubt:
            return _wrong_side(row, is_missing=gap < 0.0)
    return (
        "Likely a probe stands in turbulent air (at the blower, an elbow, the coil face), a"
        " tube is kinked, or a component is missing from the list. Read each place again, the"
        " total last."
    )


def _wrong_side(row: ComponentDrop, *, is_missing: bool) -> str:
    if is_missing:
        return (
            f"What is missing is what the {row.part.value} takes: likely the probe of the total"
            f" stands on the wrong side of the {row.part.value}. Move it so that the"
            f" {row.part.value} lies outside the two probes, and read again."
        )
    return (
        f"What is too much is what the {row.part.value} inside the cabinet takes: likely the"
        f" probe of the total stands beyond it. Move it back to the cabinet's opening, or mark the"
        f" {row.part.value} as outside."
    )
