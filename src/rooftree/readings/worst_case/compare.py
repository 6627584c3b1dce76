"""Hold what was read against the balance of air, and name what would explain the difference."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import (
    ALMOST_CERTAIN,
    probability_from_odds,
    probability_within,
    sureness,
)
from rooftree.readings.worst_case.prediction import predict_state
from rooftree.readings.worst_case.switches import EXHAUSTS, Combination

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.worst_case.nets import Blur, StateResult
    from rooftree.readings.worst_case.prediction import Leakage
    from rooftree.readings.worst_case.readings import WorstCaseTest

DISAGREES = 3.0
"""Standard uncertainties between reading and prediction that are no chance [-]; ours."""

MODEL_SPREAD = 0.15
"""Relative standard uncertainty of the balance itself [0-1]; ours: leaks that are not spread
evenly, wind, rooms behind doors."""

SOURCE = "balance of air of house and zone"


def judge_prediction(
    test: WorstCaseTest, leakage: Leakage | None, nets: tuple[StateResult, ...]
) -> tuple[Finding, ...]:
    """Return whether reading and prediction disagree beyond doubt, where most is predicted.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    leakage : Leakage or None
        Of the house.
    nets : tuple of StateResult
        Every combination read, baseline taken off.

    Returns
    -------
    tuple of Finding
        One at most; it names what would explain the difference best.
    """
    compared = [
        (each, predicted)
        for each in nets
        if not each.combination.is_still
        and (predicted := predict_state(test, leakage, each.combination)) is not None
    ]
    if not compared:
        return ()
    each, predicted = min(compared, key=lambda pair: pair[1].value)
    distance = _distance(each, predicted)
    if abs(distance) <= DISAGREES:
        return ()
    milder = distance > 0.0
    says = (
        f"With {each.words} the zone should stand at {predicted.value:.1f} Pa"
        f" ({predicted.low:.1f} to {predicted.high:.1f}) by the leakage of the house and the flows"
        f" of the fans, and reads {each.net.value:.1f} Pa: it is"
        f" {sureness(probability_within(distance))} that"
        f" {_explained(test, leakage, each) if milder else DEEPER}. Look, and read again."
    )
    return (
        Finding(
            "worst-case/prediction",
            Severity.NOTE,
            says,
            each.net.value,
            predicted.value,
            "Pa",
            SOURCE,
            test.zone,
        ),
    )


DEEPER = (
    "another fan runs, a door is closed that is logged open, the flows or the leakage are other"
    " than measured, or the baseline was not this one"
)


def _unsure(predicted: Propagated) -> float:
    return math.hypot(predicted.standard, MODEL_SPREAD * predicted.value)


def _distance(each: StateResult, predicted: Propagated) -> float:
    unsure = math.hypot(each.net.standard, _unsure(predicted))
    return (each.net.value - predicted.value) / unsure


def _explained(test: WorstCaseTest, leakage: Leakage | None, each: StateResult) -> str:
    """Return the one thing wrong that comes nearest to the reading."""
    best, words = abs(each.net.value), "a window or an outside door is open"
    for name in sorted(each.combination.exhausts):
        without = predict_state(test, leakage, each.combination.flipped(name))
        if without is not None and abs(without.value - each.net.value) < best:
            best = abs(without.value - each.net.value)
            words = f"the {EXHAUSTS[name]} did not run, or its flap is stuck"
    return f"{words}, or that the baseline was not this one"


def judge_steps(
    test: WorstCaseTest,
    leakage: Leakage | None,
    nets: tuple[StateResult, ...],
    blur: Blur,
) -> tuple[Finding, ...]:
    """Return the fans that were logged as running and moved nothing.

    Parameters
    ----------
    test : WorstCaseTest
        Readings.
    leakage : Leakage or None
        Of the house.
    nets : tuple of StateResult
        Every combination read, baseline taken off.
    blur : Blur
        How far one reading can be off.

    Returns
    -------
    tuple of Finding
        One for each fan that is almost certain to have been off.

    Notes
    -----
    Two combinations that differ in one fan share the baseline: the step between them is
    either what the balance says or nothing, and the odds of both are taken. The level of
    all readings with the fan on, against the level without it, is weighed likewise; the
    stronger evidence counts.
    """
    read = {each.combination: each for each in nets}
    found = []
    for name, words in EXHAUSTS.items():
        running = [each for each in nets if name in each.combination.exhausts]
        steps = [
            chance
            for each in running
            if (without := _without(test, leakage, read, each.combination, name)) is not None
            and (chance := _chance_off(test, leakage, each, without, blur)) is not None
        ]
        level = _chance_by_level(test, leakage, running, name, blur)
        chance = max(min(steps, default=0.0), level)
        if chance >= ALMOST_CERTAIN:
            found.append(
                Finding(
                    "worst-case/fan-no-effect",
                    Severity.NOTE,
                    f"The {words} changed nothing, or far less than by its flow and the leakage of"
                    f" the house: it is {sureness(chance)} that it did not run or moves no air."
                    " Feel at its grille and its hood outside, and read again.",
                    chance,
                    ALMOST_CERTAIN,
                    "0-1",
                    SOURCE,
                    test.zone,
                )
            )
    return tuple(found)


def _chance_by_level(
    test: WorstCaseTest,
    leakage: Leakage | None,
    running: list[StateResult],
    name: str,
    blur: Blur,
) -> float:
    """Return the chance that a fan was off from the mean of all readings with it logged on."""
    compared = [
        (each.net, on, off)
        for each in running
        if (on := predict_state(test, leakage, each.combination)) is not None
        and (off := predict_state(test, leakage, each.combination.flipped(name))) is not None
    ]
    if not compared:
        return 0.0
    count = len(compared)
    net = sum(each.value for each, _, _ in compared) / count
    shared = max(each.standard**2 for each, _, _ in compared) - blur.standard**2
    noise = math.sqrt(max(shared, 0.0) + blur.standard**2 / count)
    wanted, spread = _mean([on for _, on, _ in compared])
    least, narrow = _mean([off for _, _, off in compared])
    with_fan, without = math.hypot(noise, spread), math.hypot(noise, narrow)
    odds = 0.5 * ((net - wanted) / with_fan) ** 2 + math.log(with_fan)
    odds -= 0.5 * ((net - least) / without) ** 2 + math.log(without)
    return probability_from_odds(odds)


def _mean(predicted: list[Propagated]) -> tuple[float, float]:
    """Return the mean of predictions that share their doubts, and its uncertainty."""
    count = len(predicted)
    return (
        sum(each.value for each in predicted) / count,
        sum(_unsure(each) for each in predicted) / count,
    )


def _without(
    test: WorstCaseTest,
    leakage: Leakage | None,
    read: dict[Combination, StateResult],
    combination: Combination,
    name: str,
) -> tuple[float, StateResult | None, Propagated | None] | None:
    """Return the same without one fan: what was read (the baseline where nothing ran)."""
    other = combination.flipped(name)
    if other in read:
        return read[other].net.value, read[other], predict_state(test, leakage, other)
    if other.is_still:
        return 0.0, None, predict_state(test, leakage, other)
    return None


def _chance_off(
    test: WorstCaseTest,
    leakage: Leakage | None,
    each: StateResult,
    without: tuple[float, StateResult | None, Propagated | None],
    blur: Blur,
) -> float | None:
    value, other, predicted_other = without
    predicted = predict_state(test, leakage, each.combination)
    if predicted is None or predicted_other is None:
        return None
    noise = each.net.standard if other is None else math.sqrt(2.0) * blur.standard
    step, wanted = each.net.value - value, predicted.value - predicted_other.value
    unsure = math.hypot(noise, test.flow_uncertainty * wanted, _unsure(predicted) / 2.0)
    odds = 0.5 * ((step - wanted) / unsure) ** 2 + math.log(unsure)
    odds -= 0.5 * (step / noise) ** 2 + math.log(noise)
    return probability_from_odds(odds)
