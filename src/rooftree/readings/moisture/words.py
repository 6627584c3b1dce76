"""Quantities in the sentences of findings, for people of both systems of units."""

from __future__ import annotations

from rooftree.units import DisplaySystem, Kind, show


def degrees(temperature: float) -> str:
    """Return a temperature as it is written in a sentence.

    Parameters
    ----------
    temperature : float
        [K].

    Returns
    -------
    str
        In both scales.

    Examples
    --------
    >>> degrees(294.26)
    '70 °F (21.1 °C)'
    """
    inch, metric = (show(temperature, Kind.TEMPERATURE, system) for system in DisplaySystem)
    return f"{inch} ({metric})"


def span(difference: float) -> str:
    """Return a difference of temperatures as it is written in a sentence.

    Parameters
    ----------
    difference : float
        [K].

    Returns
    -------
    str
        In both scales.

    Examples
    --------
    >>> span(10.0)
    '18 °F (10 K)'
    """
    return f"{1.8 * difference:.3g} °F ({difference:.2g} K)"
