"""Judge a search for the worst case: what must not start, what was forgotten, what is odd.

Nothing here stops a burner: the pressure of the zone is a screen. Embers stop the fans.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.known import Answer
from rooftree.physics.sureness import probability_within, sureness
from rooftree.physics.uncertainty import coverage_factor
from rooftree.readings.worst_case.readings import Hearth
from rooftree.readings.worst_case.search import next_state
from rooftree.readings.worst_case.switches import combination_of
from rooftree.tables.depressurization import depressurization_limit

if TYPE_CHECKING:
    from rooftree.readings.worst_case.nets import Blur, StateResult
    from rooftree.readings.worst_case.readings import WorstCaseTest

SCREEN = (
    "The worst case is a screen, not a verdict: reviews found many false alarms and misses, and"
    " later editions judge by spillage and carbon monoxide."
)

SHEET = (
    "Two-page procedure sheet after an older building analyst's standard, quoted;"
    " BPI, Combustion Safety Test Procedure for Vented Appliances, pp. 1-2"
)

CHANCE = 0.9973
"""Probability that a reading contradicts no more than by chance [0-1]; ours: three standard
uncertainties of a noise that is well known, more of one that is not."""

SMALLEST_SHOWN = 0.1
"""Smallest pressure other than zero that a gauge for pascals shows [Pa]; common practice."""

INCHES = 249.09
"""One inch of water at 4 °C [Pa]."""

DEEPEST_BELIEVED = 100.0
"""Pull of house fans that is not believed [Pa]; ours, twice the limit for sealed burners."""


def judge_start(test: WorstCaseTest) -> tuple[Finding, ...]:
    """Return what forbids fans, or must be seen to before they run.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.

    Returns
    -------
    tuple of Finding
        A stop for embers, a gate for ash, notes for what was not looked at.
    """
    found = []
    if test.hearth is Hearth.EMBERS:
        found.append(
            _finding(
                test,
                "embers",
                "There are embers or a fire: no fan may pull on that chimney today. Stop, leave"
                " every exhaust fan off, and come back when it has been cold for a day.",
                severity=Severity.STOP,
                source="common practice; field guides on fan tests with wood burners",
            )
        )
    if test.hearth is Hearth.ASH:
        found.append(
            _finding(
                test,
                "ash",
                "There is ash in a fireplace or stove: fans can blow it into the rooms. Feel that"
                " it is cold, take it out or cover it with wet paper, and close the damper before"
                " a fan runs.",
                severity=Severity.GATE,
                source="common practice",
            )
        )
    if test.hearth is Hearth.NOT_LOOKED:
        found.append(
            _finding(
                test,
                "hearth-not-looked",
                "Nobody logged what lies in fireplaces and stoves. Look before any fan runs.",
                source="common practice",
            )
        )
    if test.closed_up is not Answer.YES:
        found.append(
            _finding(
                test,
                "not-closed-up",
                "Outside doors, windows and the damper of the fireplace were not confirmed closed;"
                " one open window makes every reading too mild. Close them and say so.",
                source=SHEET,
            )
        )
    return tuple(found)


def judge_baseline(test: WorstCaseTest, blur: Blur) -> tuple[Finding, ...]:
    """Return what is wrong with the baselines.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    blur : Blur
        How far one reading can be off.

    Returns
    -------
    tuple of Finding
    """
    if not test.states:
        return ()
    before, after = test.baseline_before, test.baseline_after
    if not before and not after:
        still = any(combination_of(state).is_still for state in test.states)
        stands_in = " A combination with every fan off stands in for it." if still else ""
        return (
            _finding(
                test,
                "no-baseline",
                "No baseline was read: stack and wind alone can make two pascals, so the worst"
                " case is hardly known. Turn everything off, open the doors inside, and read it"
                f" now.{stands_in}",
                source=SHEET,
            ),
        )
    if not before or not after:
        missing = "after" if before else "before"
        return (
            _finding(
                test,
                "baseline-once",
                f"The baseline was not read {missing} the search, so drift cannot be told from"
                " fans. Read it now with everything off.",
                source="common practice",
            ),
        )
    drift = sum(after) / len(after) - sum(before) / len(before)
    unsure = blur.standard * math.sqrt(1.0 / len(before) + 1.0 / len(after))
    clear = coverage_factor(blur.degrees_of_freedom, CHANCE)
    if abs(drift) <= clear * unsure:
        return ()
    sure = sureness(probability_within(drift / unsure))
    return (
        _finding(
            test,
            "baseline-drift",
            f"The baseline moved by {drift:+.1f} Pa during the search: it is {sure} that wind,"
            " temperature or a door changed. Drift is taken off evenly; repeat the deepest"
            " combination with a baseline right before and after.",
            value=drift,
            limit=clear * unsure,
        ),
    )


def judge_units(test: WorstCaseTest) -> tuple[Finding, ...]:
    """Return the doubt that the readings are in another unit.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.

    Returns
    -------
    tuple of Finding
    """
    shown = [state.pressure for state in test.states if not combination_of(state).is_still]
    if not shown:
        return ()
    deepest = max(shown, key=abs)
    too_small = any(shown) and abs(deepest) < 0.5 * SMALLEST_SHOWN
    if too_small or (abs(deepest) < 1.0 and any(map(_has_thousandths, shown))):
        why = (
            f"All readings are smaller than a gauge shows (largest {deepest:g} Pa)"
            if too_small
            else f"The readings have thousandths of a pascal (largest {deepest:g} Pa), which no"
            " gauge shows"
        )
        return (
            _finding(
                test,
                "unit",
                f"{why}: it is almost certain that inches of water were typed for pascals"
                f" ({deepest:g} in. w.c. would be {INCHES * deepest:.1f} Pa). Choose the unit that"
                " the gauge shows.",
                value=deepest,
                limit=SMALLEST_SHOWN,
            ),
        )
    if abs(deepest) > DEEPEST_BELIEVED:
        return (
            _finding(
                test,
                "unit",
                f"{deepest:.0f} Pa is more than house fans do: it is almost certain that the unit"
                " or a decimal point is wrong, or that a test fan was running. Look at the gauge.",
                value=deepest,
                limit=DEEPEST_BELIEVED,
            ),
        )
    return ()


def _has_thousandths(value: float) -> bool:
    return abs(100.0 * value - round(100.0 * value)) > 1e-4


def judge_signs(test: WorstCaseTest, nets: tuple[StateResult, ...]) -> tuple[Finding, ...]:
    """Return the doubt that the hoses are swapped.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    nets : tuple of StateResult
        Every combination read, baseline taken off.

    Returns
    -------
    tuple of Finding

    Notes
    -----
    Exhaust fans alone raise no pressure anywhere, whatever the doors: that is the balance
    of air.
    """
    by_exhaust = [
        each
        for each in nets
        if each.combination.exhausts and "air_handler" not in each.combination.turns
    ]
    if not by_exhaust:
        return ()
    highest = max(by_exhaust, key=lambda each: each.net.value / each.net.standard)
    distance = highest.net.value / highest.net.standard
    if distance <= coverage_factor(highest.net.degrees_of_freedom, CHANCE):
        return ()
    sure = sureness(probability_within(distance))
    return (
        _finding(
            test,
            "sign",
            f"With {highest.words} the zone rose by {highest.net.value:.1f} Pa, and exhaust fans"
            f" can only pull it down: it is {sure} that the hoses are swapped, that the reference"
            " is not outdoors, or that a fan blows in. Breathe on the hose, and read again.",
            value=highest.net.value,
            limit=0.0,
        ),
    )


def judge_repeats(
    test: WorstCaseTest, nets: tuple[StateResult, ...], blur: Blur
) -> tuple[Finding, ...]:
    """Return the doubt about combinations whose readings differ.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    nets : tuple of StateResult
        Every combination read, baseline taken off.
    blur : Blur
        How far one reading can be off.

    Returns
    -------
    tuple of Finding
        One, for the combination that differs most.
    """
    several = [each for each in nets if each.readings > 1]
    if not several:
        return ()
    most = max(several, key=lambda each: each.spread)
    distance = most.spread / (math.sqrt(2.0) * blur.standard)
    clear = coverage_factor(blur.degrees_of_freedom, CHANCE)
    if distance <= clear:
        return ()
    sure = sureness(probability_within(distance))
    return (
        _finding(
            test,
            "repeat-differs",
            f"With {most.words} the readings differ by {most.spread:.1f} Pa: it is {sure} that a"
            " door, a window or a fan was not the same both times, or that wind rose. Set it once"
            " more and read.",
            value=most.spread,
            limit=clear * math.sqrt(2.0) * blur.standard,
        ),
    )


def judge_search(test: WorstCaseTest) -> tuple[Finding, ...]:
    """Return whether the worst case was searched for at all.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.

    Returns
    -------
    tuple of Finding
        Empty once the search is complete but for a baseline, which has its own finding.
    """
    following = next_state(test)
    moving = {combination_of(state) for state in test.states} - {
        combination for combination in map(combination_of, test.states) if combination.is_still
    }
    if not moving:
        return ()
    if len(moving) == 1:
        return (
            _finding(
                test,
                "one-combination",
                "Only one combination of fans and doors was read. It is almost certain that"
                " another one pulls deeper somewhere in such a house: turn each door, then the air"
                " handler, and keep what pulls deeper.",
                source=SHEET,
            ),
        )
    if following is None or following.stage.value.startswith("baseline"):
        return ()
    return (
        _finding(
            test,
            "search-incomplete",
            f"The search is not complete: {following.says[0].lower()}{following.says[1:]}",
            source=SHEET,
        ),
    )


def judge_depth(test: WorstCaseTest, worst: StateResult | None) -> tuple[Finding, ...]:
    """Return what the worst case suggests: a note beyond a recalled limit.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    worst : StateResult or None
        The deepest combination.

    Returns
    -------
    tuple of Finding
    """
    shares = {Answer.YES: True, Answer.NO: False}.get(test.shares_flue)
    limit = depressurization_limit(test.appliance, test.draft, shares_flue=shares)
    if worst is None or limit is None or -worst.net.value <= limit.value:
        return ()
    depth = -worst.net.value
    sure = "" if -worst.net.high > limit.value else " (within the doubt of the reading)"
    return (
        Finding(
            "worst-case/zone-pressure",
            Severity.NOTE,
            f"With {worst.words}, fans pull the zone {depth:.1f} Pa below outdoors{sure}; older"
            f" practice allows {limit.value:.0f} Pa for a {test.appliance} with {test.draft}"
            " (recalled). Watch spillage and carbon monoxide in this very combination."
            f" {SCREEN}",
            depth,
            limit.value,
            "Pa",
            limit.source,
            test.zone,
        ),
    )


def judge_left(test: WorstCaseTest) -> tuple[Finding, ...]:
    """Return what must be put back before anybody leaves.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.

    Returns
    -------
    tuple of Finding
        A gate for what was said not to be as it was, a note for what nobody said.
    """
    items = {
        "fans and air handler": test.fans_restored,
        "doors and hatches": test.doors_restored,
    }
    undone = [name for name, answer in items.items() if answer is Answer.NO]
    unsaid = [name for name, answer in items.items() if answer is Answer.NOT_SAID]
    found = []
    if undone:
        found.append(
            _finding(
                test,
                "not-restored",
                f"Not as it was found: {', '.join(undone)}. Put it back before you leave; a hatch"
                " or a damper left open undoes every later reading.",
                severity=Severity.GATE,
                source="common practice",
            )
        )
    if unsaid:
        found.append(
            _finding(
                test,
                "as-left",
                f"Before you leave, say that these are as they were: {', '.join(unsaid)}.",
                source="common practice",
            )
        )
    return tuple(found)


def _finding(
    test: WorstCaseTest,
    code: str,
    says: str,
    *,
    severity: Severity = Severity.NOTE,
    value: float | None = None,
    limit: float | None = None,
    source: str = "ours, from the readings themselves",
) -> Finding:
    return Finding(
        f"worst-case/{code}",
        severity,
        says,
        value,
        limit,
        "Pa" if value is not None else "",
        source,
        test.zone,
    )
