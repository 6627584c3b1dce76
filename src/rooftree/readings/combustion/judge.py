"""Judge the room and the burner itself; each step is blind to the others.

A limit that is only recalled never makes a stop or a gate here: it adds a sentence.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.known import Answer
from rooftree.readings.combustion.readings import FlameLook
from rooftree.readings.combustion.saying import (
    PRACTICE,
    doubt,
    limit_finding,
    needed_limit,
    recalled_words,
)
from rooftree.tables.depressurization import depressurization_limit

if TYPE_CHECKING:
    from rooftree.readings.combustion.readings import CombustionTest

CAUTIONS = (
    "Carbon monoxide and gas can kill: with symptoms, an alarm or a smell of gas, leave the house"
    " and call for help from outside. This test is a screen on one day in one weather; local codes"
    " and the licensed technician who works on the burner decide."
)
"""The usual cautions, for every page and paper that shows a combustion test."""

SCREEN = (
    "The worst case is a screen, not a verdict: reviews found many false alarms and misses, and"
    " later editions judge by spillage and carbon monoxide."
)

CLEAR_RISE = 3.0
"""Rise of carbon monoxide in the room above which the burner is suspected [ppm]; ours: what an
analyser that shows whole ppm cannot make up."""


def judge_ambient(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the carbon monoxide of the room's air demands.

    Parameters
    ----------
    test : CombustionTest
        Readings; the higher one of before and after the burner ran counts.

    Returns
    -------
    tuple of Finding
        A stop, a gate, doubts, or nothing.
    """
    return _judge_level(test) + _judge_rise(test) + _judge_zero(test)


def _judge_level(test: CombustionTest) -> tuple[Finding, ...]:
    co = max(test.ambient_co, test.ambient_co_after or 0.0)
    leave = needed_limit("ambient-co", "leave the house")
    stop = needed_limit("ambient-co", "stop the test")
    source = needed_limit("ambient-co", "find the source")
    if co >= leave.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide in the room: everybody out now, burners off from"
            " outside if that can be done, call the fire service or the utility."
        )
        return (limit_finding(test, "ambient-co", Severity.STOP, says, co, leave),)
    if co > stop.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide in the room: stop, turn the burners off, air the"
            " house, and take everybody outside until it has fallen. Call a technician."
        )
        says += recalled_words(test, "ambient-co", co)
        return (limit_finding(test, "ambient-co", Severity.STOP, says, co, stop),)
    if co > source.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide in the room: find the source (burner, stove, garage,"
            " street) before anything makes the house tighter."
        )
        return (limit_finding(test, "raised-co", Severity.GATE, says, co, source),)
    return ()


def _judge_rise(test: CombustionTest) -> tuple[Finding, ...]:
    if test.ambient_co_after is None:
        return ()
    rise = test.ambient_co_after - test.ambient_co
    if rise <= CLEAR_RISE:
        return ()
    return (
        doubt(
            test,
            "ambient-rise",
            f"Carbon monoxide in the room rose by {rise:.0f} ppm while the {test.appliance} ran:"
            " it is likely that flue gas came into the room. Look along the draft hood and the"
            " vent joints now, and read the room once more with the burner off.",
            source="ours; a burner whose vent draws leaves the room as it was",
            value=rise,
            limit=CLEAR_RISE,
            unit="ppm",
        ),
    )


def _judge_zero(test: CombustionTest) -> tuple[Finding, ...]:
    if test.zeroed_outdoors is not Answer.NO and test.ambient_co >= 0.0:
        return ()
    why = (
        f"The analyser shows {test.ambient_co:.0f} ppm in the room, less than nothing"
        if test.ambient_co < 0.0
        else "The analyser was not warmed up and zeroed in outdoor air"
    )
    return (
        doubt(
            test,
            "not-zeroed",
            f"{why}: every reading of carbon monoxide is almost certain to be shifted. Take it"
            " outdoors, let it settle, set its zero, and read again.",
            source=PRACTICE,
        ),
    )


def judge_gas(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what a gas leak demands.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
        A stop, or nothing.
    """
    if not test.gas_leak:
        return ()
    return (
        Finding(
            code="combustion/gas-leak",
            severity=Severity.STOP,
            says=(
                "A gas leak was found: touch no switch, leave if the smell is strong, call the gas"
                " utility from outside. No work goes on until every leak is repaired and tested."
            ),
            source=(
                "Minnesota and Tennessee weatherization field guides, 8.2.2; recalled:"
                " ANSI/BPI-1200 (10 % of the lower explosive limit: leave)"
            ),
            about=test.appliance,
        ),
    )


def judge_look(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the look at the burner demands.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
        Stops, or nothing.
    """
    found = []
    if test.flame in (FlameLook.YELLOW, FlameLook.LIFTING, FlameLook.ROLLING_OUT):
        found.append(
            (
                "flame",
                (
                    f"The flame of the {test.appliance} is {test.flame.value}: turn it off and"
                    " have it serviced before it runs again."
                ),
            )
        )
    if test.flame_moves is Answer.YES:
        found.append(
            (
                "heat-exchanger",
                (
                    "The flame changes when the blower starts: the heat exchanger may be cracked."
                    " Turn the burner off and have it opened by a licensed technician."
                ),
            )
        )
    if test.soot:
        found.append(
            (
                "soot",
                (
                    "Soot, scorching, rust or a melted hood shows that flames or flue gas have come"
                    f" out: turn the {test.appliance} off until it has been serviced."
                ),
            )
        )
    return tuple(
        doubt(test, code, says, source=PRACTICE, severity=Severity.STOP) for code, says in found
    )


def judge_left(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what must be put back before anybody leaves.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
        A gate for what was said not to be as it was, a note for what nobody said.
    """
    items = {
        "the pilot": test.pilot_relit,
        "thermostat and water temperature": test.thermostat_restored,
        "gas cock and switches": test.switches_restored,
        "doors, hatches and windows": test.doors_restored,
    }
    undone = [name for name, answer in items.items() if answer is Answer.NO]
    unsaid = [name for name, answer in items.items() if answer is Answer.NOT_SAID]
    found: tuple[Finding, ...] = ()
    if undone:
        found += (
            doubt(
                test,
                "not-restored",
                f"Not as it was found: {', '.join(undone)}. Put it back before you leave; without"
                " its pilot or setting the house has no heat or hot water, and gas may collect.",
                source=PRACTICE,
                severity=Severity.GATE,
            ),
        )
    if unsaid:
        found += (
            doubt(
                test,
                "as-left",
                f"Before you leave, say that these are as they were: {', '.join(unsaid)}.",
                source=PRACTICE,
            ),
        )
    return found


def judge_predicted_pressure(depth: float, appliance: str, draft: str) -> tuple[Finding, ...]:
    """Return what a pull on an appliance zone suggests, read or predicted: notes only.

    Parameters
    ----------
    depth : float
        How far the zone is pulled below outdoors [Pa], >= 0.
    appliance : str
        ``"water heater"``, ``"furnace"``, ``"boiler"``, ``"oven"``.
    draft : str
        How its smoke leaves, as :class:`rooftree.house.Draft` spells it.

    Returns
    -------
    tuple of Finding
        One note where the pull exceeds the recalled limit of its kind of flue.

    Notes
    -----
    The limits by kind of flue are recalled, so they never hold work back by themselves.
    """
    limit = depressurization_limit(appliance, draft)
    if limit is None or depth <= limit.value:
        return ()
    says = (
        f"Fans pull the zone of the {appliance} ({draft}) {depth:.1f} Pa below outdoors; older"
        f" practice allows {limit.value:.0f} Pa (recalled). Cut the exhaust, bring air in, or"
        f" replace the burner, and repeat the spillage test. {SCREEN}"
    )
    return (
        Finding(
            "combustion/zone-pressure",
            Severity.NOTE,
            says,
            depth,
            limit.value,
            "Pa",
            limit.source,
            appliance,
        ),
    )
