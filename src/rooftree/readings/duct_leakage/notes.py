"""How findings of duct tests are made."""

from __future__ import annotations

from rooftree.finding import Finding, Severity

E1554 = "recalled: ASTM E1554, methods B and C"


def duct_note(
    code: str, says: str, value: float | None, limit: float | None, unit: str, source: str
) -> Finding:
    """Return a note about a duct test.

    Parameters
    ----------
    code : str
        Second part of the finding's code.
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
    return Finding(f"duct-leakage/{code}", Severity.NOTE, says, value, limit, unit, source)
