"""Relative uncertainty that temperatures and measured lengths give a result.

Sources
-------
[GUM] JCGM 100:2008, eq. 12: of a product of powers, relative uncertainties times their
exponents add in quadrature.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError
from rooftree.physics.uncertainty import UncertaintyTerm


def temperature_term(
    name: str, temperature: float, temperature_uncertainty: float, exponent: float
) -> UncertaintyTerm:
    """Return what a temperature gives a result that goes with a power of it.

    Parameters
    ----------
    name : str
        What contributes, in plain words.
    temperature : float
        Absolute, > 0 [K].
    temperature_uncertainty : float
        Standard uncertainty, >= 0 [K].
    exponent : float
        Power of the temperature in the result [-]: 0.5 for a flow from a fan or nozzle
        pressure, whose density goes with 1/T.

    Returns
    -------
    UncertaintyTerm
        Relative [0-1].

    Raises
    ------
    OutOfRangeError
        If the temperature is not above zero, or its uncertainty is negative.

    Examples
    --------
    >>> round(temperature_term("air at the fan", 293.15, 1.0, 0.5).standard, 5)
    0.00171
    """
    _require_positive("temperature", temperature, "K")
    _require_size("temperature uncertainty", temperature_uncertainty, "K")
    return UncertaintyTerm(name, abs(exponent) * temperature_uncertainty / temperature)


def rectangle_term(
    name: str, width: float, height: float, length_uncertainty: float
) -> UncertaintyTerm:
    """Return the relative uncertainty of the area of a measured rectangle.

    Parameters
    ----------
    name : str
        What contributes, in plain words.
    width, height : float
        As measured, > 0 [m].
    length_uncertainty : float
        Standard uncertainty of each, independent, >= 0 [m].

    Returns
    -------
    UncertaintyTerm
        Relative [0-1].

    Raises
    ------
    OutOfRangeError
        If a side is not above zero, or the uncertainty is negative.

    Examples
    --------
    >>> round(rectangle_term("grille", 0.30, 0.40, 0.003).standard, 4)
    0.0125
    """
    _require_positive("width", width, "m")
    _require_positive("height", height, "m")
    _require_size("length uncertainty", length_uncertainty, "m")
    return UncertaintyTerm(name, length_uncertainty * math.hypot(1.0 / width, 1.0 / height))


def circle_term(name: str, diameter: float, length_uncertainty: float) -> UncertaintyTerm:
    """Return the relative uncertainty of the area of a measured circle.

    Parameters
    ----------
    name : str
        What contributes, in plain words.
    diameter : float
        As measured, > 0 [m].
    length_uncertainty : float
        Its standard uncertainty, >= 0 [m].

    Returns
    -------
    UncertaintyTerm
        Relative [0-1].

    Raises
    ------
    OutOfRangeError
        If the diameter is not above zero, or the uncertainty is negative.

    Examples
    --------
    >>> circle_term("hole", 0.10, 0.001).standard
    0.02
    """
    _require_positive("diameter", diameter, "m")
    _require_size("length uncertainty", length_uncertainty, "m")
    return UncertaintyTerm(name, 2.0 * length_uncertainty / diameter)


def _require_positive(name: str, value: float, unit: str) -> None:
    if not 0.0 < value < math.inf:
        raise OutOfRangeError(name, value, 0.0, math.inf, unit)


def _require_size(name: str, value: float, unit: str) -> None:
    if not 0.0 <= value < math.inf:
        raise OutOfRangeError(name, value, 0.0, math.inf, unit)
