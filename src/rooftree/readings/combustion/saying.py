"""Make the findings of a combustion test."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.readings.combustion.procedure import procedure_of
from rooftree.tables.combustion_limits import combustion_limit, recalled_limits

if TYPE_CHECKING:
    from rooftree.readings.combustion.readings import CombustionTest
    from rooftree.tables.combustion_limits import CombustionLimit

PROCEDURE_SHEET = "BPI, Combustion Safety Test Procedure for Vented Appliances, pp. 1-2"
PRACTICE = "common practice"
OURS = "ours, from the readings themselves"


def needed_limit(quantity: str, demands: str) -> CombustionLimit:
    """Return a limit that holds whatever the protocol.

    Parameters
    ----------
    quantity, demands : str
        As in the table.

    Returns
    -------
    CombustionLimit

    Raises
    ------
    LookupError
        If the table has no such row that was read.
    """
    found = combustion_limit(quantity, demands)
    if found is None:
        raise LookupError(f"the table of limits has no {quantity} that says: {demands}")
    return found


def recalled_words(test: CombustionTest, quantity: str, value: float) -> str:
    """Return a sentence for each recalled caution that a value exceeds.

    Parameters
    ----------
    test : CombustionTest
        Readings.
    quantity : str
        As in the table.
    value : float
        What was read, in the unit of the limit [ppm] or [s].

    Returns
    -------
    str
        Begins with a space; empty where none is exceeded.
    """
    beyond = [
        limit
        for limit in recalled_limits(
            quantity,
            protocol=procedure_of(test).key,
            appliance=test.appliance,
            draft=test.draft,
            vent=test.vent_state.value,
        )
        if value > limit.value and limit.demands != "fail"
    ]
    return "".join(
        f" A recalled limit of {limit.value:.0f} {limit.unit} is exceeded too"
        f" ({limit.source.removeprefix('recalled: ')}): take it as one more warning."
        for limit in beyond
    )


def limit_finding(
    test: CombustionTest,
    code: str,
    severity: Severity,
    says: str,
    value: float | None,
    limit: CombustionLimit,
) -> Finding:
    """Return a finding about a limit of the table.

    Parameters
    ----------
    test : CombustionTest
        Readings.
    code : str
        Without the kind of test.
    severity : Severity
        What it demands.
    says : str
        One or two sentences.
    value : float or None
        What was read, in the unit of the limit [ppm] or [s].
    limit : CombustionLimit
        What it was held against.

    Returns
    -------
    Finding
    """
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


def doubt(
    test: CombustionTest,
    code: str,
    says: str,
    *,
    source: str = PROCEDURE_SHEET,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    severity: Severity = Severity.NOTE,
) -> Finding:
    """Return a doubt about how a reading was taken.

    Parameters
    ----------
    test : CombustionTest
        Readings.
    code : str
        Without the kind of test.
    says : str
        What looks wrong, how sure that is, and what to do now.
    source : str
        Of the rule.
    value, limit : float or None
        What was read and what it was held against, in `unit` [as said there].
    unit : str
        Of both.
    severity : Severity
        What it demands.

    Returns
    -------
    Finding
    """
    return Finding(f"combustion/{code}", severity, says, value, limit, unit, source, test.appliance)
