"""What a simulated year says about itself: balances that should close, rooms left unserved.

Sources
-------
[901G] ANSI/ASHRAE/IES Standard 90.1, appendix G, G3.1.2.3, "System capacities": no more
    than 300 hours a year in which loads are not met (recalled).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity

if TYPE_CHECKING:
    from rooftree.engine.results import YearResult

LARGEST_IMBALANCE = 1e-4
"""Air that may go missing in a space in an hour [kg/s]: a thousandth of what leaks into a
tight house; the network is solved to a hundredth of it."""

LARGEST_HEAT_ERROR = 1e-4
"""Share of all heat that may go missing over the year [-]; the books close to 1e-12."""

MOST_UNMET_HOURS = 300
"""Hours in a year for which heating, or cooling, may fall short [901G]_."""


def judge_year(result: YearResult) -> tuple[Finding, ...]:
    """Return where the numbers of a simulated year should not be trusted as they stand.

    Parameters
    ----------
    result : YearResult
        Of any house.

    Returns
    -------
    tuple of Finding
        Empty where air and heat balance and the machines keep up.
    """
    found = [
        _missing_air(result.mass_residual),
        _missing_heat(result.heat_balance_error),
        _unmet("heating", result.unmet_heating_hours),
        _unmet("cooling", result.unmet_cooling_hours),
    ]
    return tuple(one for one in found if one is not None)


def _missing_air(residual: float) -> Finding | None:
    if residual <= LARGEST_IMBALANCE:
        return None
    return Finding(
        "year/air-balance",
        Severity.NOTE,
        "In some hour the air that enters a space is not what leaves it: look for a fan far "
        "larger than the openings of its space, or for a leak with a coefficient out of all "
        "proportion",
        residual,
        LARGEST_IMBALANCE,
        "kg/s",
        "a thousandth of what leaks into a tight house",
    )


def _missing_heat(share: float) -> Finding | None:
    if share <= LARGEST_HEAT_ERROR:
        return None
    return Finding(
        "year/heat-balance",
        Severity.NOTE,
        "Heat that is stored and heat that crossed the outline of the house do not agree: do not "
        "use the energy of this year, and report the job file",
        share,
        LARGEST_HEAT_ERROR,
        "-",
        "the books close to 1e-12 of what passed",
    )


def _unmet(what: str, hours: int) -> Finding | None:
    if hours <= MOST_UNMET_HOURS:
        return None
    return Finding(
        f"year/unmet-{what}",
        Severity.NOTE,
        f"The {what} falls short in {hours} hours of the year although it runs without a pause: "
        "its energy is less than the setpoints ask for; check capacity, air flow and ducts.",
        float(hours),
        float(MOST_UNMET_HOURS),
        "h",
        "ANSI/ASHRAE/IES Standard 90.1, appendix G, G3.1.2.3 (recalled)",
    )
