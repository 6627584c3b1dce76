"""How much a house leaks: the fan test of a house that is only described."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.engine.field_tests import fan_test_flow

if TYPE_CHECKING:
    from rooftree.house import House

TEST_PRESSURE = 50.0
"""Pressure at which tightness is stated [Pa]."""


def flow_at(house: House, pressure: float) -> float:
    """Return what a fan test of the house would show.

    Parameters
    ----------
    house : House
        Any house.
    pressure : float
        Pressure that the fan holds [Pa].

    Returns
    -------
    float
        Flow of the fan [m³/s]; vents and flues open, buffer spaces at their own pressures.
    """
    return fan_test_flow(house, pressure).flow


def flow_at_50(house: House) -> float:
    """Return the leakage of a house at 50 Pa.

    Parameters
    ----------
    house : House
        Any house.

    Returns
    -------
    float
        Flow of the fan [m³/s].
    """
    return flow_at(house, TEST_PRESSURE)
