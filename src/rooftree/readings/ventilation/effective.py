"""The steady air change that would dilute a steady source as well as a changing one does.

Sources
-------
[SHERMAN1986] M. Sherman, D. Wilson, "Relating actual and effective ventilation in
    determining indoor air quality", Building and Environment 21, 1986 (recalled).
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.errors import OutOfRangeError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike


def effective_air_change(air_changes: ArrayLike, step: float = 1.0) -> float:
    """Return the effective air change of a period that repeats itself.

    Parameters
    ----------
    air_changes : array_like, shape (n,)
        Air change of each step [1/h], >= 0 and not all 0.
    step : float
        Length of a step [h], > 0.

    Returns
    -------
    float
        Effective air change [1/h]; never above the mean.

    Raises
    ------
    OutOfRangeError
        If an air change is negative or all are 0, or the step is not positive.

    Notes
    -----
    ``tau_i = (1 - exp(-A_i dt)) / A_i + tau_(i-1) exp(-A_i dt)``, and the inverse of the
    mean of ``tau`` at the ends of the steps [SHERMAN1986]_.

    References
    ----------
    .. [SHERMAN1986] M. Sherman, D. Wilson, 1986, recalled.

    Examples
    --------
    >>> round(effective_air_change([0.2, 0.8]), 4)
    0.4928
    """
    rates = np.asarray(air_changes, dtype=np.float64)
    lowest, highest = float(rates.min()), float(rates.max())
    if not (lowest >= 0.0 and highest > 0.0):
        wrong = lowest if not lowest >= 0.0 else highest
        raise OutOfRangeError("air_changes", wrong, 0.0, math.inf, "1/h, not all zero")
    if not step > 0.0:
        raise OutOfRangeError("step", step, 0.0, math.inf, "h")
    kept = np.exp(-rates * step)
    still = rates == 0.0
    added = np.where(still, step, -np.expm1(-rates * step) / np.where(still, 1.0, rates))
    pairs = list(zip(kept.tolist(), added.tolist(), strict=True))
    first = _end(pairs, 0.0)
    age = first / -math.expm1(-float(rates.sum()) * step)
    total = 0.0
    for share, more in pairs:
        age = age * share + more
        total += age
    return len(pairs) / total


def _end(pairs: list[tuple[float, float]], age: float) -> float:
    for share, more in pairs:
        age = age * share + more
    return age
