"""Names at the beginning of sentences."""

from __future__ import annotations


def capitalized(name: str) -> str:
    """Return a name as it begins a sentence.

    Parameters
    ----------
    name : str
        Of a space, a surface or another part.

    Returns
    -------
    str

    Examples
    --------
    >>> capitalized("bonus room over the Garage")
    'Bonus room over the Garage'
    """
    return name[:1].upper() + name[1:]
