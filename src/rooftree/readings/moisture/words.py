"""Shares in the sentences of findings."""

from __future__ import annotations


def percent(share: float) -> str:
    """Return a share as it is written in a sentence.

    Parameters
    ----------
    share : float
        Of a whole [0-1].

    Returns
    -------
    str

    Examples
    --------
    >>> percent(0.184)
    '18 %'
    """
    return f"{100.0 * share:.0f} %"
