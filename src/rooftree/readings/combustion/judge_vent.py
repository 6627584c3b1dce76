"""Judge the vent: worst-case pressure, spillage and draft."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.openings import stack_pressure
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.combustion.flue_gas import least_draft
from rooftree.readings.combustion.judge import judge_predicted_pressure
from rooftree.readings.combustion.procedure import Step, procedure_of
from rooftree.readings.combustion.readings import TimerStart, VentState
from rooftree.readings.combustion.saying import (
    OURS,
    PRACTICE,
    PROCEDURE_SHEET,
    doubt,
    limit_finding,
    needed_limit,
)
from rooftree.readings.combustion.spillage import spillage_of
from rooftree.tables.combustion_limits import combustion_limit, recalled_limits

if TYPE_CHECKING:
    from rooftree.readings.combustion.readings import CombustionTest
    from rooftree.readings.combustion.spillage import Spillage

SMALLEST_DRAFT = 0.0
"""Pressure of a flue against its room above which smoke cannot rise in it [Pa]."""

SMALLEST_SHOWN = 0.1
"""Smallest pressure other than zero that a gauge for pascals shows [Pa]; common practice."""

CLEAR_PUSH = 1.0
"""Pressure of a flue above its room that must show as spillage [Pa]; ours."""

CLEARLY_MILDER = 2.0
"""Standard uncertainties by which a milder worst case is not the same one [-]; ours."""

INCHES = 249.09
"""One inch of water at 4 °C [Pa]."""


def net_pressure(test: CombustionTest) -> float:
    """Return the worst case with the baseline taken off.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    float
        Appliance zone with reference to outdoors [Pa]; negative where fans pull it down.
    """
    return test.worst_pressure - test.baseline_pressure


def judge_zone(test: CombustionTest, zone_pressure: float | None = None) -> tuple[Finding, ...]:
    """Return what the worst-case pressure of the appliance zone suggests: notes only.

    Parameters
    ----------
    test : CombustionTest
        Readings.
    zone_pressure : float or None
        Worst case that the search of the zone found, baseline taken off [Pa].

    Returns
    -------
    tuple of Finding
    """
    net = net_pressure(test)
    found = _judge_zone_unit(test) + _judge_not_worst(test, net, zone_pressure)
    if net > 0.0:
        return (
            *found,
            Finding(
                "combustion/not-worst-case",
                Severity.NOTE,
                f"The worst case raised the zone by {net:.1f} Pa instead of pulling it down: it is"
                " not the worst one, or the hoses are swapped. Try the doors and the air handler"
                " again.",
                net,
                0.0,
                "Pa",
                PROCEDURE_SHEET,
                test.appliance,
            ),
        )
    return found + judge_predicted_pressure(-net, test.appliance, test.draft)


def _judge_zone_unit(test: CombustionTest) -> tuple[Finding, ...]:
    deepest = max(abs(test.baseline_pressure), abs(test.worst_pressure))
    if test.worst_pressure == 0.0 or deepest >= 0.5 * SMALLEST_SHOWN:
        return ()
    return (
        doubt(
            test,
            "zone-unit",
            f"{test.worst_pressure:g} Pa is less than a gauge shows: it is almost certain that"
            f" inches of water were typed for pascals ({test.worst_pressure:g} in. w.c. would be"
            f" {INCHES * test.worst_pressure:.1f} Pa). Choose the unit that the gauge shows.",
            source=PRACTICE,
            value=test.worst_pressure,
            limit=SMALLEST_SHOWN,
            unit="Pa",
        ),
    )


def _judge_not_worst(
    test: CombustionTest, net: float, zone_pressure: float | None
) -> tuple[Finding, ...]:
    if zone_pressure is None:
        return ()
    unsure = math.sqrt(2.0) * test.pressure_uncertainty
    milder = (net - zone_pressure) / unsure
    if milder <= CLEARLY_MILDER:
        return ()
    return (
        doubt(
            test,
            "milder-than-search",
            f"The burner was tested with its room at {net:.1f} Pa, and the search found"
            f" {zone_pressure:.1f} Pa: it is {sureness(probability_within(milder))} that this was"
            " not the worst case. Set the fans and doors as the search says and test again.",
            value=net,
            limit=zone_pressure,
            unit="Pa",
        ),
    )


def judge_spillage(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the time until spillage stops demands.

    Parameters
    ----------
    test : CombustionTest
        Readings of a burner that can spill.

    Returns
    -------
    tuple of Finding
        A stop, a gate, doubts, or nothing.
    """
    spillage = spillage_of(test)
    seconds = spillage.end.value if spillage.end else None
    verdict = _judge_seconds(test, seconds, "in the worst case", "spillage")
    return verdict + _judge_timing(test, spillage, passed=not verdict)


def judge_natural_spillage(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what spillage under natural conditions demands.

    Parameters
    ----------
    test : CombustionTest
        Readings of a burner that was tested again with fans off.

    Returns
    -------
    tuple of Finding
        A stop, a gate, or nothing.
    """
    return _judge_seconds(
        test, test.natural_spillage_seconds, "under natural conditions", "natural-spillage"
    )


def _judge_seconds(
    test: CombustionTest, seconds: float | None, when: str, code: str
) -> tuple[Finding, ...]:
    long = needed_limit("spillage", "shut off")
    if seconds is None or seconds > long.value:
        time = "and did not stop within the test" if seconds is None else f"for {seconds:.0f} s"
        says = (
            f"Flue gas spilled into the room {when} {time}: turn the {test.appliance} off and have"
            " the flue and the burner repaired or replaced before it runs again."
        )
        return (limit_finding(test, code, Severity.STOP, says, seconds, long),)
    return _judge_by_own(test, seconds, when, code) or _judge_by_protocol(test, seconds, when, code)


def _judge_by_own(
    test: CombustionTest, seconds: float, when: str, code: str
) -> tuple[Finding, ...]:
    own = test.own_spillage_limit
    if own is None or seconds <= own:
        return ()
    return (
        doubt(
            test,
            code,
            f"Flue gas spilled into the room {when} for {seconds:.0f} s; your copy of the protocol"
            f" allows {own:.0f} s. No tightening and no more exhaust until the flue draws, or the"
            " burner is replaced.",
            source=f"{procedure_of(test).document}, {test.edition or 'own copy'}, as typed in",
            value=seconds,
            limit=own,
            unit="s",
            severity=Severity.GATE,
        ),
    )


def _judge_by_protocol(
    test: CombustionTest, seconds: float, when: str, code: str
) -> tuple[Finding, ...]:
    key = procedure_of(test).key
    short = combustion_limit("spillage", "service", protocol=key)
    if short and seconds > short.value:
        says = (
            f"Flue gas spilled into the room for {seconds:.0f} s {when}; one minute is"
            " the most. No tightening and no more exhaust until the flue draws, or the burner is"
            " replaced. Repeat the test under natural conditions too. Later editions allow two"
            " minutes to a warm flue and five to a cold one (recalled)."
        )
        return (limit_finding(test, code, Severity.GATE, says, seconds, short),)
    # A vent of which nobody logged whether it was warm is held against the shorter time.
    vent = VentState.WARM if test.vent_state is VentState.NOT_LOGGED else test.vent_state
    for limit in recalled_limits("spillage", protocol=key, vent=vent.value):
        if seconds > limit.value and test.own_spillage_limit is None:
            says = (
                f"Flue gas spilled into the room for {seconds:.0f} s {when}; the protocol allows"
                f" {limit.value:.0f} s with a {vent.value} vent, as far as we recall. Look it up in"
                " your copy and type it in; until then take the burner as failed."
            )
            return (limit_finding(test, f"{code}-recalled", Severity.NOTE, says, seconds, limit),)
    return ()


def _judge_timing(test: CombustionTest, spillage: Spillage, *, passed: bool) -> tuple[Finding, ...]:
    return (
        *_judge_start(test),
        *_judge_vent(test, passed=passed),
        *_judge_looks(test, spillage),
    )


def _judge_start(test: CombustionTest) -> tuple[Finding, ...]:
    starts = {
        TimerStart.CALL: "from the call for heat, before the burner fired, so the time is too long",
        TimerStart.LATER: "from later than fire-up, so the time is too short and a pass is almost"
        " certain to mean nothing",
        TimerStart.NOT_LOGGED: "from a moment that nobody logged",
    }
    if test.timed_from is TimerStart.FIRE_UP:
        return ()
    return (
        doubt(
            test,
            "timer-start",
            f"Spillage was timed {starts[test.timed_from]}. Let the vent cool and time it again"
            " from the moment the burner fires.",
        ),
    )


def _judge_vent(test: CombustionTest, *, passed: bool) -> tuple[Finding, ...]:
    if test.vent_state is VentState.NOT_LOGGED:
        return (
            doubt(
                test,
                "vent-not-logged",
                "Nobody logged whether the vent was warm at fire-up, and a warm vent draws at once."
                " Log it; if the burner has run within the hour, let it cool and repeat.",
            ),
        )
    if test.vent_state is VentState.COLD or not passed or procedure_of(test).tells_warm_from_cold:
        return ()
    return (
        doubt(
            test,
            "warm-vent",
            "The vent was warm at fire-up, so it is likely that a cold start would have spilled"
            " for longer. Let it cool and time it once more before you call it passed.",
        ),
    )


def _judge_looks(test: CombustionTest, spillage: Spillage) -> tuple[Finding, ...]:
    found: list[Finding] = []
    if not spillage.in_order:
        found.append(
            doubt(
                test,
                "time-backwards",
                "The looks at the draft hood are not in the order of their times: one time is"
                " almost certain to be mistyped. Look through them now.",
                source=OURS,
            )
        )
    if spillage.returned is not None:
        found.append(
            doubt(
                test,
                "spillage-returned",
                f"Spillage stopped and came back at {spillage.returned:.0f} s: a gust, a fan or a"
                " door is likely. Note what changed, and repeat with everything held still.",
                source=PRACTICE,
                value=spillage.returned,
                unit="s",
            )
        )
    limit = combustion_limit("spillage", "service", protocol=procedure_of(test).key)
    limit = limit or needed_limit("spillage", "shut off")
    if (
        test.spillage_checks
        and spillage.end
        and spillage.end.low <= limit.value < spillage.end.high
    ):
        found.append(
            doubt(
                test,
                "looks-too-far-apart",
                f"Spillage ended somewhere between {spillage.end.low:.0f} and"
                f" {spillage.end.high:.0f} s, and the limit of {limit.value:.0f} s lies between."
                " Repeat from a cold vent and look every ten seconds.",
                source=OURS,
                value=spillage.end.high,
                limit=limit.value,
                unit="s",
            )
        )
    return tuple(found)


def judge_draft(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the draft of a natural-draft flue demands.

    Parameters
    ----------
    test : CombustionTest
        Readings of a natural-draft burner.

    Returns
    -------
    tuple of Finding
        A gate where the flue does not draw at all, a note where it draws less than older
        practice asked, doubts about the reading, or nothing.
    """
    if test.draft_pressure is None:
        return ()
    doubts = _judge_draft_unit(test) + _judge_draft_sign(test) + _judge_strong_draft(test)
    draft = test.draft_pressure
    if draft >= SMALLEST_DRAFT:
        return (
            Finding(
                "combustion/backdraft",
                Severity.GATE,
                f"The flue of the {test.appliance} stands at {draft:+.1f} Pa against the room, so"
                " smoke does not rise in it. Have it repaired before anything is tightened.",
                draft,
                SMALLEST_DRAFT,
                "Pa",
                "smoke rises only in a flue below the pressure of its room",
                test.appliance,
            ),
            *doubts,
        )
    return doubts or _judge_weak_draft(test)


def _judge_weak_draft(test: CombustionTest) -> tuple[Finding, ...]:
    least, draft = least_draft(test.outdoor_temperature), test.draft_pressure
    if draft is None or draft <= least:
        return ()
    decides = "" if Step.DRAFT not in procedure_of(test).screens else " It decides nothing here."
    return (
        Finding(
            "combustion/weak-draft",
            Severity.NOTE,
            f"The flue of the {test.appliance} draws {-draft:.1f} Pa; older practice asked for"
            f" {-least:.1f} Pa in this weather (recalled). Look at its height, joints and cap."
            + decides,
            draft,
            least,
            "Pa",
            "recalled: BPI Building Analyst standard, older edition; later editions judge by"
            " spillage and carbon monoxide",
            test.appliance,
        ),
    )


def _judge_draft_unit(test: CombustionTest) -> tuple[Finding, ...]:
    draft = test.draft_pressure or 0.0
    if not 0.0 < abs(draft) < SMALLEST_SHOWN:
        return ()
    return (
        doubt(
            test,
            "draft-unit",
            f"A draft of {draft:g} Pa is less than a gauge shows: it is almost certain that inches"
            f" of water were typed for pascals ({draft:g} in. w.c. would be {INCHES * draft:.1f}"
            " Pa). Choose the unit that the gauge shows.",
            source=PRACTICE,
            value=draft,
            limit=SMALLEST_SHOWN,
            unit="Pa",
        ),
    )


def _judge_draft_sign(test: CombustionTest) -> tuple[Finding, ...]:
    draft, end = test.draft_pressure or 0.0, spillage_of(test).end
    short = combustion_limit("spillage", "service", protocol="older")
    if draft < CLEAR_PUSH or end is None or short is None or end.value > short.value:
        return ()
    distance = draft / test.pressure_uncertainty
    return (
        doubt(
            test,
            "draft-sign",
            f"The flue reads {draft:+.1f} Pa and yet spillage stopped after {end.value:.0f} s,"
            " which cannot both be: it is"
            f" {sureness(probability_within(distance))} that the hoses are swapped or the sign was"
            " left out. Look at the gauge and read again.",
            source=OURS,
            value=draft,
            limit=CLEAR_PUSH,
            unit="Pa",
        ),
    )


def _judge_strong_draft(test: CombustionTest) -> tuple[Finding, ...]:
    most = theoretical_draft(test)
    if test.draft_pressure is None or most is None:
        return ()
    beyond = -test.draft_pressure - most
    distance = beyond / test.pressure_uncertainty
    if distance <= 3.0:
        return ()
    return (
        doubt(
            test,
            "draft-too-strong",
            f"The flue draws {-test.draft_pressure:.1f} Pa, and the heat in it can make"
            f" {most:.1f} Pa at most: it is {sureness(probability_within(distance))} that wind, a"
            " wrong unit or a wrong height of the flue is in it. Read again in a lull.",
            source="ASHRAE Handbook - Fundamentals, 2021, chapter 16, eq. 24",
            value=-test.draft_pressure,
            limit=most,
            unit="Pa",
        ),
    )


def theoretical_draft(test: CombustionTest) -> float | None:
    """Return the draft that the heat in a flue can make before any loss.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    float or None
        [Pa], >= 0 where the flue is warmer than outdoors; None without its temperature and
        height.
    """
    if test.flue_temperature is None or test.flue_height is None:
        return None
    return stack_pressure(test.flue_height, test.flue_temperature, test.outdoor_temperature)
