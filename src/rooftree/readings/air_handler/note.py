"""How the findings of this test are worded."""

from __future__ import annotations

from rooftree.finding import Finding, Severity
from rooftree.readings.air_handler.limits import CFM, WATER_INCH

SURE = 2.6
"""Standard uncertainties from which a difference counts [-]: by chance once in a hundred."""


def note(
    code: str,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = "common practice",
    *,
    about: str = "",
) -> Finding:
    """Return a finding of this test.

    Parameters
    ----------
    code : str
        After the kind of test.
    says : str
        What looks wrong, how sure, what to do now.
    value, limit : float or None
        What was found and what it was held against, in `unit` [any].
    unit, source, about : str
        As of a finding.

    Returns
    -------
    Finding
    """
    return Finding(f"air_handler/{code}", Severity.NOTE, says, value, limit, unit, source, about)


def how_sure(distance: float) -> str:
    """Return how sure a difference is.

    Parameters
    ----------
    distance : float
        Difference over its standard uncertainty [-].

    Returns
    -------
    str
    """
    size = abs(distance)
    return "Almost certain" if size >= 4.0 else "Likely" if size >= 3.0 else "Possible"


def pascals(pressure: float) -> str:
    """Return a static pressure as both gauges show it.

    Parameters
    ----------
    pressure : float
        [Pa].

    Returns
    -------
    str
    """
    return f"{pressure:.0f} Pa ({pressure / WATER_INCH:.2f} in. w.c.)"


def cfm(flow: float) -> str:
    """Return a flow in words.

    Parameters
    ----------
    flow : float
        [m³/s].

    Returns
    -------
    str
    """
    return f"{flow / CFM:.0f} cfm"


def kelvins(difference: float) -> str:
    """Return a difference of temperatures in words.

    Parameters
    ----------
    difference : float
        [K].

    Returns
    -------
    str
    """
    return f"{difference:.1f} °C ({1.8 * difference:.0f} °F)"
