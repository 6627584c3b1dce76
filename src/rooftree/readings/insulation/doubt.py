"""One doubt about an insulation survey."""

from __future__ import annotations

from rooftree.finding import Finding, Severity

OURS = "ours"
"""Source of a limit that no document gives."""


def doubt(
    code: str,
    says: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "",
    source: str = OURS,
    about: str = "",
) -> Finding:
    """Return one doubt about the insulation.

    Parameters
    ----------
    code : str
        Behind ``insulation/``.
    says : str
        One or two sentences with the remedy.
    value, limit : float or None
        What was found and what it was held against [in `unit`].
    unit : str
        Of both.
    source : str
        Of the limit.
    about : str
        Place or patch.

    Returns
    -------
    Finding
    """
    return Finding(
        code=f"insulation/{code}",
        severity=Severity.NOTE,
        says=says,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        about=about,
    )
