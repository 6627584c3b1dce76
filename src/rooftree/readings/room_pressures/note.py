"""How the findings of this test are worded."""

from __future__ import annotations

from rooftree.finding import Finding, Severity
from rooftree.units import Kind, both

SURE = 2.6
"""Standard uncertainties from which a difference counts [-]: by chance once in a hundred."""

CFM = 4.719474e-4
"""One cubic foot a minute [m³/s]."""

WATER_INCH = 249.089
"""One inch of water [Pa]."""

SQUARE_INCH = 0.0254**2
"""One square inch [m²]."""


def note(
    code: str,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = "ours",
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
    return Finding(f"room_pressures/{code}", Severity.NOTE, says, value, limit, unit, source, about)


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


def area_of(area: float) -> str:
    """Return an area in words, in the units of whoever reads them.

    Parameters
    ----------
    area : float
        [m²].

    Returns
    -------
    str
    """
    return both(area, Kind.LEAKAGE_AREA)


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
