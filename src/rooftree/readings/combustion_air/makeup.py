"""Makeup air for exhaust fans by a state's rule of thumb.

Sources
-------
[EDINA] City of Edina (Minnesota), "Approved Air Calculations Submittal Form", for Minnesota
    Mechanical Code 501.4.1.
"""

from __future__ import annotations

SQUARE_FOOT = 0.3048**2
CFM = 0.3048**3 / 60.0

PER_FLOOR_AREA = (
    (0.15, "power or direct vent, or no burner"),
    (0.09, "fan assisted, with power or direct vent"),
    (0.06, "one atmospheric burner or one for solid fuel"),
    (0.03, "several atmospheric burners or for solid fuel"),
)
"""Infiltration credited to a house by its burners [cfm/ft²]; [EDINA]."""

COUNTED = 0.80
"""Share of the largest and of the next largest exhaust that counts [0-1]; [EDINA]."""


def makeup_air(
    floor_area: float,
    *,
    atmospheric: int,
    fan_assisted: int = 0,
    continuous: float = 0.0,
    dryer: float = 0.0,
    largest: float = 0.0,
    next_largest: float = 0.0,
) -> float:
    """Return the makeup air that a house needs by a rule of thumb.

    Parameters
    ----------
    floor_area : float
        Conditioned, unfinished basement included [m²], > 0.
    atmospheric : int
        Atmospheric burners and burners for solid fuel [-].
    fan_assisted : int
        Fan-assisted burners [-].
    continuous, dryer, largest, next_largest : float
        Exhaust flows [m³/s], >= 0.

    Returns
    -------
    float
        [m³/s]; 0 where infiltration is enough.

    Notes
    -----
    Exhaust less infiltration: continuous + dryer + 80 % of the two largest, less a factor
    times floor area [EDINA]_.

    References
    ----------
    .. [EDINA] City of Edina, air calculations form.

    Examples
    --------
    >>> area, hood, bath, dryer = 2000 * SQUARE_FOOT, 400 * CFM, 100 * CFM, 135 * CFM
    >>> air = makeup_air(area, atmospheric=1, dryer=dryer, largest=hood, next_largest=bath)
    >>> round(air / CFM)
    415
    """
    if atmospheric > 1:
        factor = PER_FLOOR_AREA[3][0]
    elif atmospheric == 1:
        factor = PER_FLOOR_AREA[2][0]
    else:
        factor = PER_FLOOR_AREA[1][0] if fan_assisted else PER_FLOOR_AREA[0][0]
    infiltration = factor * CFM / SQUARE_FOOT * floor_area
    exhaust = continuous + dryer + COUNTED * (largest + next_largest)
    return max(exhaust - infiltration, 0.0)
