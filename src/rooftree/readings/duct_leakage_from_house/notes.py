"""How findings of these tests are made."""

from __future__ import annotations

from rooftree.finding import Finding, Severity

INCH_OF_WATER = 249.089
"""[Pa]."""

LOWEST_HOUSE_PRESSURE, HIGHEST_HOUSE_PRESSURE = 15.0, 100.0
"""House pressures between which a single-pressure test of a house makes sense [Pa]; ours."""


def note(
    code: str,
    says: str,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = "ours",
) -> Finding:
    """Return a note.

    Parameters
    ----------
    code : str
        Kind of test and what was noticed.
    says : str
        What looks wrong, how sure, and what to do now.
    value, limit : float or None
        What was found and what it is held against [in `unit`].
    unit : str
        Of both.
    source : str
        Document of the limit.

    Returns
    -------
    Finding
    """
    return Finding(code, Severity.NOTE, says, value, limit, unit, source)


def typed_in_inches(
    kind: str, name: str, pressure: float, low: float, high: float
) -> Finding | None:
    """Return the doubt about a pressure that is right in inches of water only.

    Parameters
    ----------
    kind : str
        Kind of test, for the code.
    name : str
        What was read, with its article.
    pressure : float
        As typed [Pa], either sign.
    low, high : float
        Between which it must lie [Pa].

    Returns
    -------
    Finding or None
        None where the pressure may be pascals.
    """
    shown = abs(pressure)
    in_pascals = shown * INCH_OF_WATER
    if not (0.0 < shown < low and low <= in_pascals <= high):
        return None
    says = (
        f"{name} reads {shown:.2g} Pa. Almost certain: the gauge showed inches of water, for that"
        f" would be {in_pascals:.0f} Pa. Set the gauge to pascals and type it again."
    )
    return note(f"{kind}/units", says, shown, low, "Pa")
