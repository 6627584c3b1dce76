"""Temperatures as the section writes them."""

from __future__ import annotations

from rooftree.units import DisplaySystem, Kind, show

_FREEZING = 273.15
"""0 °C [K]."""


def to_the_degree(temperature: float, system: DisplaySystem) -> str:
    """Return a temperature to the whole degree: no air is simulated more closely.

    Parameters
    ----------
    temperature : float
        [K].
    system : DisplaySystem
        In which system to show it.

    Returns
    -------
    str

    Examples
    --------
    >>> to_the_degree(272.19, DisplaySystem.SI), to_the_degree(255.5, DisplaySystem.IP)
    ('−1 °C', '0 °F')
    """
    if system is DisplaySystem.SI:
        temperature = round(temperature - _FREEZING) + _FREEZING
    return show(temperature, Kind.TEMPERATURE, system)
