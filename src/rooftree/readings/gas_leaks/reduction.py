"""Reduce the walk along the gas lines to what must be done, and by whom.

Sources
-------
[GUIDES] Minnesota and Tennessee weatherization field guides, 8.2.2: pass all joints at about
    an inch a second, confirm with bubbles, repair all leaks, replace kinked or corroded
    flexible connectors and those made before 1973, bond corrugated tubing.
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 28, table 2: flammability limits.
[1200] ANSI/BPI-1200: at a tenth of the lower explosive limit, leave (recalled).
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.known import Answer
from rooftree.readings.gas_leaks.readings import FoundBy, Gas

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rooftree.readings.gas_leaks.readings import GasLeak, GasLeakTest

EXPLOSIVE = MappingProxyType({Gas.NATURAL_GAS: (0.05, 0.15), Gas.PROPANE: (0.021, 0.101)})
"""Lower and upper flammability limit in air [0-1]; [HOF2021], table 2 (methane, propane)."""

LEAVE_SHARE = 0.10
"""Share of the lower explosive limit at which everybody leaves [0-1]; [1200], recalled."""

GUIDES = "Minnesota and Tennessee weatherization field guides, 8.2.2"

CAUTIONS = (
    "Gas that escapes can burn or explode. With a strong smell touch no switch, no telephone and no"
    " flame, leave, and call the utility from outside. Only those whom the local code licenses for"
    " it work on gas lines."
)
"""The usual cautions, for every page and paper that shows the record."""


@dataclass(frozen=True, slots=True)
class GasLeakResult:
    """What the walk tells.

    Attributes
    ----------
    open_leaks : int
        Leaks not yet repaired and found tight.
    leave_at : float
        Gas in room air at which everybody leaves, as a share of the air [0-1].
    findings : tuple of Finding
    cautions : str
        The usual cautions; show them wherever the result is shown.
    says : str
        What it means, in one or two sentences.
    """

    open_leaks: int
    leave_at: float
    findings: tuple[Finding, ...]
    says: str
    cautions: str = CAUTIONS


def reduce_gas_leaks(test: GasLeakTest) -> GasLeakResult:
    """Reduce the record of gas leaks.

    Parameters
    ----------
    test : GasLeakTest
        What was found.

    Returns
    -------
    GasLeakResult

    Notes
    -----
    Any leak stops the work until it is repaired and tested [GUIDES]_. That everybody
    leaves at a tenth of the lower explosive limit is recalled; it adds its sentence to a
    stop that gas in the air makes by itself.

    References
    ----------
    .. [GUIDES] Minnesota and Tennessee weatherization field guides, 8.2.2.

    Examples
    --------
    >>> from rooftree.readings.gas_leaks.readings import GasLeak, GasLeakTest
    >>> reduce_gas_leaks(GasLeakTest(leaks=(GasLeak("union at the meter"),))).open_leaks
    1
    """
    open_leaks = [leak for leak in test.leaks if not is_closed(leak)]
    findings = (*_judge_air(test), *_judge_leaks(open_leaks), *_judge_lines(test))
    return GasLeakResult(
        len(open_leaks),
        LEAVE_SHARE * EXPLOSIVE[test.gas][0],
        findings,
        _says(test, open_leaks, findings),
    )


def is_closed(leak: GasLeak) -> bool:
    """Tell whether a leak is done with.

    Parameters
    ----------
    leak : GasLeak
        One leak.

    Returns
    -------
    bool
        Repaired, and tested again.
    """
    return leak.repaired and leak.tested_again


def _judge_air(test: GasLeakTest) -> tuple[Finding, ...]:
    share = test.ambient_gas or 0.0
    if share <= 0.0 and not test.smell_on_entry:
        return ()
    low = "Propane sinks: look low, in pits and crawlspaces. " if test.gas is Gas.PROPANE else ""
    says = (
        "There is gas in the air: touch no switch, leave if the smell is strong, and call the"
        f" utility from outside. {low}Nothing burns or is switched until it is gone."
    )
    if share >= LEAVE_SHARE:
        says += (
            f" {100.0 * share:.0f} % of the lower explosive limit is beyond the tenth at which"
            " everybody leaves (recalled: ANSI/BPI-1200)."
        )
    return (_finding("gas-in-air", says, Severity.STOP, share or None, 0.0, "0-1"),)


def _judge_leaks(open_leaks: list[GasLeak]) -> Iterator[Finding]:
    for leak in open_leaks:
        sure = "almost certain" if leak.confirmed or leak.found_by is FoundBy.BUBBLES else "likely"
        confirm = "" if sure == "almost certain" else " Confirm it with bubbles."
        yield _finding(
            "leak",
            f"Gas leaks at: {leak.place} ({leak.found_by.value}, {sure}).{confirm} No work goes on"
            " until it is repaired by somebody licensed for it and found tight.",
            Severity.STOP,
            about=leak.place,
        )
        if leak.repaired:
            yield _finding(
                "not-tested-again",
                f"The leak at {leak.place} was repaired and not tested again: pass the detector"
                " over it now.",
                about=leak.place,
            )
        elif not leak.reported_to:
            yield _finding(
                "not-reported",
                f"Nobody has been told of the leak at {leak.place}: tell the owner and the utility"
                " before you go on, and write down whom.",
                about=leak.place,
            )


def _judge_lines(test: GasLeakTest) -> Iterator[Finding]:
    if test.all_reached is not Answer.YES:
        yield _finding(
            "not-all-reached",
            "Not every joint from the meter or tank to each burner was passed, or nobody said so:"
            " go along the line at about an inch a second, and log what cannot be reached.",
        )
    if test.connectors is Answer.YES:
        yield _finding(
            "connector",
            "A flexible connector is kinked, corroded or older than 1973: have it replaced.",
            Severity.GATE,
        )
    if test.tubing_bonded is Answer.NO:
        yield _finding(
            "not-bonded",
            "Corrugated tubing is not bonded: lightning can burn holes into it. Have a licensed"
            " electrician bond it.",
        )


def _finding(
    code: str,
    says: str,
    severity: Severity = Severity.NOTE,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    about: str = "",
) -> Finding:
    return Finding(f"gas-leaks/{code}", severity, says, value, limit, unit, GUIDES, about)


def _says(test: GasLeakTest, open_leaks: list[GasLeak], findings: tuple[Finding, ...]) -> str:
    if any(finding.code == "gas-leaks/gas-in-air" for finding in findings):
        return findings[0].says
    if open_leaks:
        number = "A leak is" if len(open_leaks) == 1 else f"{len(open_leaks)} leaks are"
        return f"{number} open: no other work goes on until repaired and found tight."
    if test.all_reached is Answer.YES:
        if test.leaks:
            number = "one was" if len(test.leaks) == 1 else f"{len(test.leaks)} were"
            left = "No leak is left on the joints that can be reached"
            return f"{left}: {number} found and repaired."
        return "No leak was found on the joints that can be reached."
    return "The walk along the gas lines is not finished."
