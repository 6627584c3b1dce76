"""Amounts and lists in the sentences of a plan."""

from __future__ import annotations


def dollars(value: float) -> str:
    """Return an amount of money to the nearest ten dollars, or dollar below a hundred.

    Parameters
    ----------
    value : float
        Amount [$].

    Returns
    -------
    str
        Such as ``"$1,240"``.
    """
    rounded = round(value, -1) if abs(value) >= 100.0 else round(value)
    sign = "-" if rounded < 0 else ""
    return f"{sign}${abs(rounded):,.0f}"


def listed(parts: list[str]) -> str:
    """Return words in a row as a sentence has them.

    Parameters
    ----------
    parts : list of str
        Any number of them.

    Returns
    -------
    str
        Such as ``"a, b and c"``.
    """
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"
