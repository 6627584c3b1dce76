"""Air for burners by the volume of the room: the standard method and known infiltration.

Sources
-------
[UMC] Uniform Mechanical Code (IAPMO), section 701.4, indoor combustion air, which is that of
    NFPA 54, 9.3.2 (edition to be confirmed).
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17: air that burners need.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError
from rooftree.tables import load_table

CUBIC_FOOT = 0.3048**3
"""[m³]"""

THOUSAND_BTU = 1055.05585262e3 / 3600.0
"""A thousand British thermal units in an hour [W]."""

COMPULSORY, MOST_CREDITED = 0.40, 0.60
"""Air changes below which the known-infiltration method must be used where they are known, and
above which no more are credited [1/h]; [UMC], DOE/NREL Standard Work Specifications 5.0502.1a."""

FORCED_DRAFT_AIR = 0.4e-6
"""Air that a new forced-draft burner needs [m³/(s·W)]; an existing natural-draft one twice that;
[HOF2021]."""


def _cubic_feet(rule: str, where: str) -> float:
    return next(
        float(row["value"])
        for row in load_table("combustion_air")
        if row["rule"] == rule and row["where"] == where
    )


def standard_volume(input_rate: float) -> float:
    """Return the volume that the standard method asks for.

    Parameters
    ----------
    input_rate : float
        Of all burners that take room air [W], >= 0.

    Returns
    -------
    float
        [m³]

    Raises
    ------
    OutOfRangeError
        If the rate is negative.

    Notes
    -----
    50 ft³ for each 1000 Btu/h, 4.83 m³/kW [UMC]_.

    References
    ----------
    .. [UMC] Uniform Mechanical Code, 701.4.

    Examples
    --------
    >>> round(standard_volume(1000.0), 2)
    4.83
    """
    _require_rate(input_rate)
    return _cubic_feet("standard", "any") * CUBIC_FOOT * input_rate / THOUSAND_BTU


def known_air_volume(input_rate: float, air_changes: float, *, fan_assisted: bool) -> float:
    """Return the volume that the known-infiltration method asks for.

    Parameters
    ----------
    input_rate : float
        Of the burners of this kind [W], >= 0.
    air_changes : float
        Of the rooms by infiltration [1/h], > 0; no more than 0.60 is credited.
    fan_assisted : bool
        Whether they are fan assisted.

    Returns
    -------
    float
        [m³]; the volumes of both kinds add up.

    Raises
    ------
    OutOfRangeError
        If the rate is negative or the air changes not positive.

    Notes
    -----
    ``(21 ft³ / ACH) (I / 1000 Btu/h)``, with 15 ft³ for fan-assisted burners [UMC]_.

    References
    ----------
    .. [UMC] Uniform Mechanical Code, 701.4.

    Examples
    --------
    >>> volume = known_air_volume(40.0 * THOUSAND_BTU, 0.40, fan_assisted=False)
    >>> round(volume / CUBIC_FOOT)
    2100
    """
    _require_rate(input_rate)
    if not 0.0 < air_changes < math.inf:
        raise OutOfRangeError("air_changes", air_changes, 0.0, math.inf, "1/h")
    kind = "fan assisted" if fan_assisted else "other than fan assisted"
    feet = _cubic_feet("known-air", kind) / min(air_changes, MOST_CREDITED)
    return feet * CUBIC_FOOT * input_rate / THOUSAND_BTU


def burner_air(input_rate: float, *, fan_assisted: bool) -> float:
    """Return the air that a burner draws while it runs.

    Parameters
    ----------
    input_rate : float
        [W], >= 0.
    fan_assisted : bool
        Whether a fan moves its air; a natural-draft burner with its hood draws twice as
        much.

    Returns
    -------
    float
        [m³/s]

    Raises
    ------
    OutOfRangeError
        If the rate is negative.

    Notes
    -----
    0.4 L/(s·kW) for new forced draft, twice that for existing natural draft [HOF2021]_.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17.

    Examples
    --------
    >>> round(burner_air(30_000.0, fan_assisted=False), 3)
    0.024
    """
    _require_rate(input_rate)
    return FORCED_DRAFT_AIR * input_rate * (1.0 if fan_assisted else 2.0)


def _require_rate(input_rate: float) -> None:
    if not 0.0 <= input_rate < math.inf:
        raise OutOfRangeError("input_rate", input_rate, 0.0, math.inf, "W")
