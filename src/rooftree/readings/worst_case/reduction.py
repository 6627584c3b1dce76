"""Reduce the search for the worst case to its deepest pressure, and how much it can be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.finding import Finding, Severity
from rooftree.readings.worst_case.compare import judge_prediction, judge_steps
from rooftree.readings.worst_case.judge import (
    judge_baseline,
    judge_depth,
    judge_left,
    judge_repeats,
    judge_search,
    judge_signs,
    judge_start,
    judge_units,
)
from rooftree.readings.worst_case.nets import blur_of, net_states
from rooftree.readings.worst_case.prediction import (
    leakage_of_flow_50,
    missing_for_prediction,
    predict_state,
)
from rooftree.readings.worst_case.search import next_state
from rooftree.tables.depressurization import depressurization_limit

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.worst_case.nets import Blur, StateResult
    from rooftree.readings.worst_case.prediction import Leakage
    from rooftree.readings.worst_case.readings import WorstCaseTest
    from rooftree.readings.worst_case.search import NextState

CAUTIONS = (
    "Fans that pull on a flue can bring carbon monoxide into the house: watch the analyser, and"
    " stop above 35 ppm in the room. No fan runs while there are embers. The pressure is a screen"
    " on one day in one weather; local codes and the licensed technician who works on the burner"
    " decide."
)
"""The usual cautions, for every page and paper that shows the search."""

DRAWS = 2000
"""Draws for the chance that the deepest combination is the worst one."""


@dataclass(frozen=True, slots=True)
class WorstCaseResult:
    """What the search tells.

    Attributes
    ----------
    zone : str
        Which.
    worst : StateResult or None
        Deepest combination read; None before any fan ran.
    chance : float
        That it is the deepest of those read, by gauge and wind [0-1].
    states : tuple of StateResult
        Every combination read, baseline taken off, in the order read.
    predictions : tuple of Propagated or None
        What each of them should give by the balance of air [Pa].
    wind : float
        Standard uncertainty of one reading by wind [Pa].
    by_door : float or None
        How much the doors change the deepest combination [Pa]; None where no pair was read.
    by_air_handler : float or None
        How much the air handler does [Pa]; negative where it pulls deeper.
    following : NextState or None
        The reading to take next; None once the search is complete.
    findings : tuple of Finding
    cautions : str
        The usual cautions; show them wherever the result is shown.
    says : str
        What it means, in one or two sentences.
    """

    zone: str
    worst: StateResult | None
    chance: float
    states: tuple[StateResult, ...]
    predictions: tuple[Propagated | None, ...]
    wind: float
    by_door: float | None
    by_air_handler: float | None
    following: NextState | None
    findings: tuple[Finding, ...]
    says: str
    cautions: str = CAUTIONS


def reduce_worst_case(
    test: WorstCaseTest,
    *,
    flow_50: float | None = None,
    exponent: float | None = None,
    flow_50_uncertainty: float = 0.05,
) -> WorstCaseResult:
    """Reduce the search for the worst case of one zone.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    flow_50 : float or None
        Leakage of the house at 50 Pa from its fan test [m³/s]; None where there is none.
    exponent : float or None
        Of its leakage curve [-], 0.5 to 1.
    flow_50_uncertainty : float
        Relative standard uncertainty of `flow_50` [0-1].

    Returns
    -------
    WorstCaseResult

    Notes
    -----
    Every reading is kept; the baseline, read before and after, is taken off along the
    search. The limits by kind of flue are recalled and decide nothing.

    Examples
    --------
    >>> from rooftree.readings.worst_case.readings import WorstCaseTest, ZoneState
    >>> test = WorstCaseTest(
    ...     "closet", (ZoneState(-2.4, dryer=True, range_hood=True, bath_fans=True),),
    ...     (-0.4, -0.5, -0.3), (-0.4, -0.4, -0.4),
    ... )
    >>> round(reduce_worst_case(test).worst.net.value, 1)
    -2.0
    """
    blur, nets, following = blur_of(test), net_states(test), next_state(test)
    leakage = leakage_of_flow_50(flow_50, exponent, flow_50_uncertainty) if flow_50 else None
    moving = [each for each in nets if not each.combination.is_still]
    worst = min(moving, key=lambda each: each.net.value, default=None)
    findings = (
        *judge_start(test),
        *judge_baseline(test, blur),
        *judge_units(test),
        *judge_signs(test, nets),
        *judge_repeats(test, nets, blur),
        *judge_steps(test, leakage, nets, blur),
        *judge_prediction(test, leakage, nets),
        *judge_search(test),
        *judge_depth(test, worst),
        *_judge_close(test, moving, worst),
        *_judge_missing(test, leakage),
        *judge_left(test),
    )
    return WorstCaseResult(
        test.zone,
        worst,
        chance_of(worst, moving, blur),
        nets,
        tuple(predict_state(test, leakage, each.combination) for each in nets),
        blur.wind,
        _change(nets, worst, ("interior_doors_closed", "zone_door_closed")),
        _change(nets, worst, ("air_handler",)),
        following,
        findings,
        _says(test, worst, following),
    )


def chance_of(worst: StateResult | None, moving: list[StateResult], blur: Blur) -> float:
    """Return the chance that a combination is the deepest of those read.

    Parameters
    ----------
    worst : StateResult or None
        The one that read deepest.
    moving : list of StateResult
        All combinations in which some fan ran.
    blur : Blur
        How far one reading can be off; the baseline is common to all.

    Returns
    -------
    float
        By drawing each reading anew within its own noise [0-1]; 0 where there is none.
    """
    if worst is None:
        return 0.0
    rng = np.random.default_rng(20)
    means = np.array([each.net.value for each in moving])
    spreads = blur.standard / np.sqrt([each.readings for each in moving])
    drawn = means + spreads * rng.standard_normal((DRAWS, len(moving)))
    place = next(i for i, each in enumerate(moving) if each is worst)
    return float(np.mean(np.argmin(drawn, axis=1) == place))


def _change(
    nets: tuple[StateResult, ...], worst: StateResult | None, names: tuple[str, ...]
) -> float | None:
    """Return the largest change that turning one of some switches makes to the deepest one."""
    if worst is None:
        return None
    read = {each.combination: each.net.value for each in nets}
    changes = []
    for name in names:
        other = read.get(worst.combination.flipped(name))
        if other is not None:
            is_on = name in worst.combination.turns
            changes.append(worst.net.value - other if is_on else other - worst.net.value)
    return max(changes, key=abs, default=None)


def _judge_close(
    test: WorstCaseTest, moving: list[StateResult], worst: StateResult | None
) -> tuple[Finding, ...]:
    if worst is None or worst.net.value >= 0.0 or len(moving) < 2:
        return ()
    unsure = worst.net.standard / -worst.net.value
    if unsure <= 0.5:
        return ()
    return (
        Finding(
            "worst-case/lost-in-wind",
            Severity.NOTE,
            f"The deepest reading ({worst.net.value:.1f} Pa) is known to"
            f" {worst.net.standard:.1f} Pa only: wind and gauge hide the fans. Read each"
            " combination for a minute, or come back on a calm day.",
            worst.net.standard,
            -0.5 * worst.net.value,
            "Pa",
            "ours, by propagation of the readings' uncertainty",
            test.zone,
        ),
    )


def _judge_missing(test: WorstCaseTest, leakage: Leakage | None) -> tuple[Finding, ...]:
    missing = missing_for_prediction(test, leakage)
    if not missing:
        return ()
    return (
        Finding(
            "worst-case/no-prediction",
            Severity.NOTE,
            f"What fans should do is not predicted: {', '.join(missing)} not known."
            " Measure it, and a fan that does not run or a wrong baseline will show.",
            source="balance of air of house and zone",
            about=test.zone,
        ),
    )


def _says(test: WorstCaseTest, worst: StateResult | None, following: NextState | None) -> str:
    if worst is None:
        return following.says if following else "No fan has run yet."
    depth = -worst.net.value
    done = "The search is complete." if following is None else f"Next: {following.says}"
    limit = depressurization_limit(test.appliance, test.draft)
    held = ""
    if limit is not None:
        beyond = "more than" if depth > limit.value else "within"
        held = f", {beyond} the {limit.value:.0f} Pa of older practice (recalled, a screen only)"
    if depth <= 0.0:
        return f"No combination pulled the zone below outdoors. {done}"
    return f"With {worst.words}, fans pull the zone {depth:.1f} Pa below outdoors{held}. {done}"
