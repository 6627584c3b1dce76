"""Quantities inside sentences: written once in both systems, told in the reader's own.

The core makes sentences without knowing who will read them. It writes a quantity in
both systems between two invisible marks; where the sentence is shown, `told` leaves the
system that the reader chose. A sentence that nobody passed through `told` still reads
well: ``"64 cfm (30 L/s)"``.
"""

from __future__ import annotations

import re

from rooftree.units.kinds import DisplaySystem, Kind
from rooftree.units.showing import show, show_range

MARK = "\N{INVISIBLE SEPARATOR}"

_MARKED = re.compile(f"{MARK}([^{MARK}]*){MARK} \\(([^{MARK}]*){MARK}\\)")


def both(value: float, kind: Kind, *, digits: int | None = None) -> str:
    """Return a quantity in both systems, for a sentence: ``"64 cfm (30 L/s)"``.

    Parameters
    ----------
    value : float
        In the unit of the core that `Kind` names.
    kind : Kind
        What it measures.
    digits : int or None
        Significant digits; None for what is sensible for the kind.

    Returns
    -------
    str
        One figure where both systems show it alike.
    """
    return in_either(*(show(value, kind, system, digits=digits) for system in DisplaySystem))


def both_range(low: float, high: float, kind: Kind, *, digits: int | None = None) -> str:
    """Return a range in both systems, for a sentence: ``"60 to 64 cfm (28 to 30 L/s)"``.

    Parameters
    ----------
    low, high : float
        In the unit of the core that `Kind` names.
    kind : Kind
        What they measure.
    digits : int or None
        Significant digits; None for what is sensible for the kind.

    Returns
    -------
    str
        One figure where both ends, or both systems, show alike.
    """
    return in_either(
        *(show_range(low, high, kind, system, digits=digits) for system in DisplaySystem)
    )


def told(text: str, system: DisplaySystem | None) -> str:
    """Return a sentence with its quantities in one system of units.

    Parameters
    ----------
    text : str
        Made with `both`; any other text is returned as it is.
    system : DisplaySystem or None
        What the reader chose; None leaves both and takes the marks out.

    Returns
    -------
    str

    Examples
    --------
    >>> from rooftree.units import both
    >>> told(f"It moves {both(0.0302, Kind.FLOW)}.", DisplaySystem.SI)
    'It moves 30.2 L/s.'
    """
    if MARK not in text:
        return text
    chosen = {None: r"\1 (\2)", DisplaySystem.IP: r"\1", DisplaySystem.SI: r"\2"}
    shown = _MARKED.sub(chosen[system], text).replace(MARK, "")
    # A unit that ends with a point ends the sentence too.
    return shown.replace("w.c..", "w.c.")


def in_either(inch: str, metric: str) -> str:
    """Return words that each reader finds in his own units: for what no `Kind` measures.

    Parameters
    ----------
    inch : str
        For who reads inches and pounds.
    metric : str
        For who reads SI.

    Returns
    -------
    str
        To be told with `told`.

    Examples
    --------
    >>> told(in_either("400 cfm for each ton", "54 L/s for each kW"), DisplaySystem.SI)
    '54 L/s for each kW'
    """
    return inch if inch == metric else f"{MARK}{inch}{MARK} ({metric}{MARK})"
