"""What to try next: a guided search for the deepest pressure of a zone.

Sources
-------
[SHEET] Two-page procedure sheet that follows an older building analyst's standard (it cites
    its pp. 12 and 14), quoted: baseline, dryer, exhaust fans, doors that make the zone more
    negative, air handler kept only if more negative, doors again.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from typing import TYPE_CHECKING

from rooftree.readings.worst_case.nets import net_states
from rooftree.readings.worst_case.switches import (
    EXHAUSTS,
    TURNS,
    Combination,
    available_exhausts,
    available_turns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.readings.worst_case.nets import StateResult
    from rooftree.readings.worst_case.readings import WorstCaseTest


class Stage(StrEnum):
    """What kind of reading comes next."""

    BASELINE = "baseline before"
    EXHAUST = "one more exhaust fan"
    TURN = "a door or the air handler the other way"
    REPEAT = "the worst case once more"
    BASELINE_AFTER = "baseline after"


@dataclass(frozen=True, slots=True)
class NextState:
    """The reading to take next.

    Attributes
    ----------
    stage : Stage
        Of the search.
    combination : Combination
        Fans and doors to set.
    words : str
        The same in words.
    says : str
        What to do and why, in one sentence.
    """

    stage: Stage
    combination: Combination
    words: str
    says: str


def next_state(test: WorstCaseTest) -> NextState | None:
    """Return the reading to take next.

    Parameters
    ----------
    test : WorstCaseTest
        What has been read so far, and what fans and doors there are.

    Returns
    -------
    NextState or None
        None once the search is complete: with every exhaust fan on, doors and air handler
        have been read in every combination, the deepest one twice, and the baseline again
        after it.

    Notes
    -----
    Order after [SHEET]_. That every exhaust fan runs in the worst case is not tried out
    but follows from the balance of air: drawing more air from anywhere raises no
    pressure anywhere. Doors and air handler can act either way and act together, so the
    nearest combinations to the deepest one come first and all eight are read: stopping
    where no single switch pulls deeper missed the worst case by more than half a pascal
    in one house of seven of those in ``tools/zone_network.py``.

    References
    ----------
    .. [SHEET] Procedure sheet after an older building analyst's standard.

    Examples
    --------
    >>> from rooftree.readings.worst_case.readings import WorstCaseTest, ZoneState
    >>> test = WorstCaseTest("closet", has_range_hood=False, has_bath_fans=False)
    >>> next_state(test).stage.value
    'baseline before'
    """
    if not test.baseline_before:
        return _proposed(
            test,
            Stage.BASELINE,
            Combination(),
            "Everything off, burner off or on pilot, doors inside open: read the baseline three"
            " times.",
        )
    nets = {result.combination: result for result in net_states(test)}
    return _next_exhaust(test, nets) or _next_turn(test, nets) or _last(test, nets)


def _proposed(test: WorstCaseTest, stage: Stage, combination: Combination, says: str) -> NextState:
    return NextState(stage, combination, combination.says(test), says)


def _next_exhaust(test: WorstCaseTest, nets: dict[Combination, StateResult]) -> NextState | None:
    all_on = frozenset(available_exhausts(test))
    if any(combination.exhausts >= all_on for combination in nets):
        return None
    if not all_on:
        says = "There is no exhaust fan: read the zone with everything off, then switch the rest."
        return _proposed(test, Stage.EXHAUST, Combination(), says)
    running = max(
        (each.exhausts & all_on for each in nets if not each.turns), key=len, default=frozenset()
    )
    more = next(name for name in available_exhausts(test) if name not in running)
    return _proposed(
        test,
        Stage.EXHAUST,
        Combination(running | {more}),
        f"Turn on the {EXHAUSTS[more]} too, all else as it is, and read.",
    )


def best_of(test: WorstCaseTest, nets: dict[Combination, StateResult]) -> StateResult | None:
    """Return the deepest combination with every exhaust fan on.

    Parameters
    ----------
    test : WorstCaseTest
        What has been read so far.
    nets : dict of Combination to StateResult
        Every combination read, baseline taken off.

    Returns
    -------
    StateResult or None
        None where none was read with every exhaust fan on.
    """
    all_on = frozenset(available_exhausts(test))
    full = [result for key, result in nets.items() if key.exhausts >= all_on]
    return min(full, key=lambda result: result.net.value, default=None)


def _next_turn(test: WorstCaseTest, nets: dict[Combination, StateResult]) -> NextState | None:
    best = best_of(test, nets)
    if best is None:
        return None
    for flips in _flips(available_turns(test)):
        turned = best.combination
        for name in flips:
            turned = turned.flipped(name)
        if turned not in nets:
            words = [TURNS[name][0] if name in turned.turns else TURNS[name][1] for name in flips]
            return _proposed(
                test,
                Stage.TURN,
                turned,
                f"From the deepest so far ({best.net.value:.1f} Pa), set"
                f" {' and '.join(words)}, all else as it is, and read.",
            )
    return None


def _flips(names: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Return every set of switches to turn, the smallest sets first."""
    for count in range(1, len(names) + 1):
        yield from combinations(names, count)


def _last(test: WorstCaseTest, nets: dict[Combination, StateResult]) -> NextState | None:
    best = best_of(test, nets)
    if best is not None and best.readings == 1:
        return _proposed(
            test,
            Stage.REPEAT,
            best.combination,
            "Set the worst case once more and read it again: a gust can make one deepest.",
        )
    if not test.baseline_after:
        return _proposed(
            test,
            Stage.BASELINE_AFTER,
            Combination(),
            "Everything off again, doors inside open: read the baseline three times more.",
        )
    return None
