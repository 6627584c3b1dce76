"""How the findings of this test are worded."""

from __future__ import annotations

from rooftree.finding import Finding, Severity
from rooftree.units import Kind, both

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


def static_of(pressure: float) -> str:
    """Return a static pressure in words, in the units of whoever reads them.

    Parameters
    ----------
    pressure : float
        [Pa].

    Returns
    -------
    str
    """
    return both(pressure, Kind.STATIC_PRESSURE)


def flow_of(flow: float) -> str:
    """Return a flow in words, in the units of whoever reads them.

    Parameters
    ----------
    flow : float
        [m³/s].

    Returns
    -------
    str
    """
    return both(flow, Kind.FLOW)


def kelvin_of(difference: float) -> str:
    """Return a difference of temperatures in words, in the units of whoever reads them.

    Parameters
    ----------
    difference : float
        [K].

    Returns
    -------
    str
    """
    return both(difference, Kind.TEMPERATURE_DIFFERENCE)
