"""Units in which the published equations of use are written, in SI."""

from __future__ import annotations

BTU = 1055.05585262
"""British thermal unit (International Table) [J]."""

KWH, THERM = 3.6e6, 1e5 * BTU
"""Kilowatt-hour and therm [J]."""

SQUARE_FOOT = 0.3048**2
"""[m²]."""

GALLON = 231.0 * 0.0254**3
"""US gallon [m³]."""

PINT = GALLON / 8.0 * 1000.0
"""Water in a US pint [kg]."""

RANKINE = 5.0 / 9.0
"""Size of a degree Fahrenheit [K]."""

HOUR, DAY, WEEK = 3600.0, 86400.0, 604800.0
"""[s]."""

YEAR = 365.0 * DAY
"""Length of a year of weather [s]."""

GALLON_A_DAY = GALLON / DAY
"""[m³/s]."""

BTU_A_DAY = BTU / DAY
"""[W]."""


def kelvin(fahrenheit: float) -> float:
    """Return a temperature [K] that a source gives in degrees Fahrenheit.

    Parameters
    ----------
    fahrenheit : float
        Temperature [°F].

    Returns
    -------
    float
        Temperature [K].
    """
    return (fahrenheit + 459.67) * RANKINE
