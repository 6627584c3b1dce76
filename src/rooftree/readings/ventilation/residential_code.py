"""Whole-house ventilation of the International Residential Code, for comparison with 62.2.

Sources
-------
[IRC] International Residential Code, M1505.4.3: continuous rates and intermittent factors.
"""

from __future__ import annotations

import math

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.readings.ventilation.editions import CFM, SQUARE_FOOT

FIRST_CELL, STEP = 30.0 * CFM, 15.0 * CFM
"""Rate of the smallest dwelling, and what each band of area or bedrooms adds [m³/s]."""

AREA_BAND = 1500.0 * SQUARE_FOOT
"""Width of a band of floor area [m²]."""

BANDS = 6
"""Bands of floor area; beyond 7500 ft² the last one holds [-]."""

BEDROOM_BANDS = 5
"""Bands of bedrooms; beyond seven the last one holds [-]."""

RUN_SHARES = (0.25, 0.33, 0.50, 0.66, 0.75, 1.00)
FACTORS = (4.0, 3.0, 2.0, 1.5, 1.3, 1.0)


def code_fan_flow(floor_area: float, bedrooms: int, run_share: float = 1.0) -> float:
    """Return the whole-house fan flow that the residential code asks for.

    Parameters
    ----------
    floor_area : float
        Of the dwelling [m²], > 0.
    bedrooms : int
        Number.
    run_share : float
        Share of each four hours for which the fan runs [0-1], at least 0.25.

    Returns
    -------
    float
        Flow while it runs [m³/s].

    Raises
    ------
    OutOfRangeError
        If the area is not positive, or the fan runs less than a quarter of the time.

    Notes
    -----
    Tables M1505.4.3(1) and (2) [IRC]_; factors are interpolated, as the code allows.

    References
    ----------
    .. [IRC] International Residential Code, M1505.4.3.

    Examples
    --------
    >>> round(code_fan_flow(180.0, 3) / CFM)
    60
    """
    if not 0.0 < floor_area < math.inf:
        raise OutOfRangeError("floor_area", floor_area, 0.0, math.inf, "m²")
    if not RUN_SHARES[0] <= run_share <= 1.0:
        raise OutOfRangeError("run_share", run_share, RUN_SHARES[0], 1.0, "-")
    by_area = min(max(math.ceil(floor_area / AREA_BAND - 1e-9), 1), BANDS) - 1
    by_bedrooms = min(bedrooms // 2, BEDROOM_BANDS - 1)
    factor = float(np.interp(run_share, RUN_SHARES, FACTORS))
    return (FIRST_CELL + STEP * (by_area + by_bedrooms)) * factor
