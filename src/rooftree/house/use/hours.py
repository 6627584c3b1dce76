"""When things happen in a day, and where the thermostat stands.

Sources
-------
[CEC2008] California Energy Commission, Residential Alternative Calculation Method Approval
    Manual, 2008: hourly schedule of internal gains (recalled; the 24 shares sum to 100.0 %).
[ASHRAE90.2] ANSI/ASHRAE Standard 90.2: hourly use of hot water (recalled, less surely; the 24
    shares sum to 1.001).
[RESNET301] ANSI/RESNET/ICC 301-2014, Table 4.2.2(1): thermostat (recalled).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from rooftree.house.use.ip import kelvin

if TYPE_CHECKING:
    from collections.abc import Iterable

EVEN = (1.0,) * 24
"""The same in every hour."""

HEATING, COOLING = kelvin(68.0), kelvin(78.0)
"""Setpoints where nobody said any [K] [RESNET301]_."""

SET_BACK, SET_UP = kelvin(66.0), kelvin(80.0)
"""Setpoints of a programmable thermostat at night and while people are out [K]
[RESNET301]_."""

NIGHT, OUT = (*range(6), 23), tuple(range(9, 15))
"""Hours of the day of the setback, 23:00 to 5:59, and of the setup, 9:00 to 14:59."""


def _over_mean(shares: Iterable[float]) -> tuple[float, ...]:
    values = np.fromiter(shares, dtype=float)
    return tuple(float(value) for value in values / values.mean())


GAIN_HOURS = _over_mean((
    2.4, 2.2, 2.1, 2.1, 2.1, 2.6, 3.8, 5.9, 5.6, 6.0, 5.9, 4.6,
    4.5, 3.0, 2.8, 3.1, 5.7, 6.4, 6.4, 5.2, 5.0, 5.5, 4.4, 2.7,
))  # fmt: skip
"""Heat of people, lights and appliances in each hour over its mean [-] [CEC2008]_."""

HOT_WATER_HOURS = _over_mean((
    0.006, 0.003, 0.001, 0.001, 0.003, 0.022, 0.075, 0.079, 0.076, 0.067, 0.061, 0.050,
    0.042, 0.038, 0.033, 0.038, 0.043, 0.058, 0.068, 0.065, 0.059, 0.047, 0.042, 0.024,
))  # fmt: skip
"""Hot water drawn in each hour over its mean [-] [ASHRAE90.2]_."""

DINNER_HOURS = _over_mean(1.0 if hour in (17, 18) else 0.0 for hour in range(24))
"""Vapor of cooking in each hour over its mean [-]: all of it from five to seven, our own
simplification, since the source counts dinners."""


def heating_setpoints(*, is_programmable: bool = False) -> tuple[float, ...]:
    """Return the heating thermostat of the reference home for each hour of the day [K].

    Parameters
    ----------
    is_programmable : bool
        Whether it is set back at night.

    Returns
    -------
    tuple of float, 24
        Setpoints [K].
    """
    night = SET_BACK if is_programmable else HEATING
    return tuple(night if hour in NIGHT else HEATING for hour in range(24))


def cooling_setpoints(*, is_programmable: bool = False) -> tuple[float, ...]:
    """Return the cooling thermostat of the reference home for each hour of the day [K].

    Parameters
    ----------
    is_programmable : bool
        Whether it is set up while people are out.

    Returns
    -------
    tuple of float, 24
        Setpoints [K].
    """
    away = SET_UP if is_programmable else COOLING
    return tuple(away if hour in OUT else COOLING for hour in range(24))
