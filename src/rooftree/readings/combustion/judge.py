"""Judge one burner, step by step; each step is blind to the others.

A limit that is only recalled never makes a stop or a gate here: it adds a sentence.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.combustion.depressurization import depressurization_limit
from rooftree.readings.combustion.flue_gas import (
    HIGHEST_OXYGEN,
    air_free_carbon_monoxide,
    least_draft,
)
from rooftree.readings.combustion.limits import combustion_limit, recalled_limits

if TYPE_CHECKING:
    from rooftree.readings.combustion.limits import CombustionLimit
    from rooftree.readings.combustion.readings import CombustionTest

NATURAL, FAN_ASSISTED, SEALED, NO_BURNER = (
    "natural draft",
    "fan assisted",
    "sealed combustion",
    "no burner",
)
"""How smoke leaves, as :class:`rooftree.house.Draft` spells it."""

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

SMALLEST_DRAFT = 0.0
"""Pressure of a flue against its room above which smoke cannot rise in it [Pa]."""


def judge_ambient(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the carbon monoxide of the room's air demands.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
        A stop, a gate, or nothing.
    """
    co = test.ambient_co
    leave = _limit("ambient-co", "leave the house")
    stop = _limit("ambient-co", "stop the test")
    source = _limit("ambient-co", "find the source")
    if co >= leave.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide in the room: everybody out now, burners off from"
            " outside if that can be done, call the fire service or the utility."
        )
        return (_finding(test, "ambient-co", Severity.STOP, says, co, leave),)
    if co > stop.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide in the room: stop, turn the burners off, air the"
            " house, and take everybody outside until it has fallen. Call a technician."
        )
        says += _recalled(test, "ambient-co", co)
        return (_finding(test, "ambient-co", Severity.STOP, says, co, stop),)
    if co > source.value:
        says = (
            f"{co:.0f} ppm of carbon monoxide in the room: find the source (burner, stove, garage,"
            " street) before anything makes the house tighter."
        )
        return (_finding(test, "raised-co", Severity.GATE, says, co, source),)
    return ()


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


def judge_zone(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the worst-case pressure of the appliance zone suggests: notes only.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
    """
    if test.draft == NO_BURNER:
        return ()
    net = net_pressure(test)
    if net > 0.0:
        return (
            Finding(
                "combustion/not-worst-case",
                Severity.NOTE,
                f"The worst case raised the zone by {net:.1f} Pa instead of pulling it down: it is"
                " not the worst one. Try the doors and the air handler again.",
                net,
                0.0,
                "Pa",
                "BPI, Combustion Safety Test Procedure for Vented Appliances, pp. 1-2",
                test.appliance,
            ),
        )
    return judge_predicted_pressure(-net, test.appliance, test.draft)


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


def judge_spillage(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the time until spillage stops demands.

    Parameters
    ----------
    test : CombustionTest
        Readings; sealed and unvented burners have no draft hood to spill from.

    Returns
    -------
    tuple of Finding
        A stop, a gate, or nothing.
    """
    if test.draft not in (NATURAL, FAN_ASSISTED):
        return ()
    short, long = _limit("spillage", "service"), _limit("spillage", "shut off")
    seconds = test.spillage_seconds
    if seconds is None or seconds > long.value:
        time = "and did not stop within the test" if seconds is None else f"for {seconds:.0f} s"
        says = (
            f"Flue gas spilled into the room {time}: turn the {test.appliance} off and have the"
            " flue and the burner repaired or replaced before it runs again."
        )
        return (_finding(test, "spillage", Severity.STOP, says, seconds, long),)
    if seconds > short.value:
        says = (
            f"Flue gas spilled into the room for {seconds:.0f} s in the worst case; one minute is"
            " the most. No tightening and no more exhaust until the flue draws, or the burner is"
            " replaced. Repeat the test under natural conditions too. Later editions allow two"
            " minutes to a warm flue and five to a cold one (recalled)."
        )
        return (_finding(test, "spillage", Severity.GATE, says, seconds, short),)
    return ()


def air_free(test: CombustionTest) -> float | None:
    """Return the air-free carbon monoxide of the flue gas, where it can be told.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    float or None
        Air-free carbon monoxide [ppm]; None without both readings, or where the sample is
        nearly all air.
    """
    if test.flue_co is None or test.flue_oxygen is None:
        return None
    if not 0.0 <= test.flue_oxygen <= HIGHEST_OXYGEN:
        return None
    return air_free_carbon_monoxide(test.flue_co, test.flue_oxygen)


def judge_flue_gas(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the carbon monoxide of the flue gas demands.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
        A stop, a gate, doubts, or nothing.
    """
    if test.draft == NO_BURNER and test.flue_co is None:
        return ()
    if test.flue_co is None:
        return (
            _doubt(
                test,
                "flue-co-missing",
                f"Carbon monoxide in the flue of the {test.appliance} was not measured. Measure"
                " undiluted flue gas after ten minutes, before any draft hood.",
            ),
        )
    free = air_free(test)
    doubts: tuple[Finding, ...] = ()
    if test.flue_oxygen is not None and free is None:
        doubts = (
            _doubt(
                test,
                "flue-diluted",
                f"The sample holds {100.0 * test.flue_oxygen:.1f} % oxygen, which is nearly all"
                " air: move the probe into undiluted flue gas and read again.",
            ),
        )
    return doubts + _judge_amount(test, max(test.flue_co, free or 0.0), air=free is not None)


def _judge_amount(test: CombustionTest, amount: float, *, air: bool) -> tuple[Finding, ...]:
    off = _limit("flue-co", "shut off")
    service = _limit("flue-co", "service", test)
    kind = "air-free" if air else "as measured"
    if amount >= off.value:
        says = (
            f"{amount:.0f} ppm of carbon monoxide ({kind}) in the flue of the {test.appliance}:"
            " turn it off until a technician has cleaned, tuned or replaced it."
        )
        return (_finding(test, "flue-co", Severity.STOP, says, amount, off),)
    if amount > service.value:
        says = (
            f"{amount:.0f} ppm of carbon monoxide ({kind}) in the flue of the {test.appliance}:"
            " have it serviced, and tested again, before the house is made tighter."
        )
        says += _recalled(test, "flue-co", amount)
        return (_finding(test, "flue-co", Severity.GATE, says, amount, service),)
    return ()


def judge_draft(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the draft of a natural-draft flue demands.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
        A gate where the flue does not draw at all, a note where it draws less than older
        practice asked, or nothing.
    """
    if test.draft != NATURAL or test.draft_pressure is None:
        return ()
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
        )
    least = least_draft(test.outdoor_temperature)
    if draft <= least:
        return ()
    return (
        Finding(
            "combustion/weak-draft",
            Severity.NOTE,
            f"The flue of the {test.appliance} draws {-draft:.1f} Pa; older practice asked for"
            f" {-least:.1f} Pa in this weather (recalled). Look at its height, joints and cap.",
            draft,
            least,
            "Pa",
            "recalled: BPI Building Analyst standard, older edition; later editions judge by"
            " spillage and carbon monoxide",
            test.appliance,
        ),
    )


def _limit(quantity: str, demands: str, test: CombustionTest | None = None) -> CombustionLimit:
    appliance = test.appliance if test else "any"
    found = combustion_limit(quantity, demands, appliance=appliance)
    if found is None:
        raise LookupError(f"the table of limits has no {quantity} that says: {demands}")
    return found


def _recalled(test: CombustionTest, quantity: str, value: float) -> str:
    beyond = [
        limit
        for limit in recalled_limits(quantity, appliance=test.appliance, draft=test.draft)
        if value > limit.value
    ]
    return "".join(
        f" A recalled limit of {limit.value:.0f} {limit.unit} is exceeded too"
        f" ({limit.source.removeprefix('recalled: ')}): take it as one more warning."
        for limit in beyond
    )


def _finding(
    test: CombustionTest,
    code: str,
    severity: Severity,
    says: str,
    value: float | None,
    limit: CombustionLimit,
) -> Finding:
    return Finding(
        f"combustion/{code}",
        severity,
        says,
        value,
        limit.value,
        limit.unit,
        limit.source,
        test.appliance,
    )


def _doubt(test: CombustionTest, code: str, says: str) -> Finding:
    return Finding(
        f"combustion/{code}",
        Severity.NOTE,
        says,
        source="BPI, Combustion Safety Test Procedure for Vented Appliances, pp. 1-2",
        about=test.appliance,
    )
