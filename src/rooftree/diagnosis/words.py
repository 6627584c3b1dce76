"""Names in sentences."""

from __future__ import annotations

from rooftree.house import OUTDOORS


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


def the(name: str) -> str:
    """Return a name with its article, where it is no proper name and has none yet.

    Parameters
    ----------
    name : str
        Of a space, a surface or another part.

    Returns
    -------
    str

    Examples
    --------
    >>> the("bonus room"), the("Anna's room"), the("the ground"), the("outdoors")
    ('the bonus room', "Anna's room", 'the ground', 'outdoors')
    """
    if name[:1].isupper() or name == OUTDOORS or name.startswith("the "):
        return name
    return f"the {name}"
