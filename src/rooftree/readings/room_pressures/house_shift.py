"""Air that moves the pressure of a whole house, by its leakage curve.

Sources
-------
[UNIFORM] Leaks of one exponent spread evenly over the height, in balance before: a uniform
    shift of the pressure and the net flow that makes it. Own derivation.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

ASSUMED_SPREAD, ASSUMED_SPREAD_UNCERTAINTY = 1.5, 0.8
"""Stack pressure from the lowest to the highest leak where it is not known [Pa]: one storey
at a difference of 15 K; ours."""


def shift_flow(change: float, flow_50: float, exponent: float, *, spread: float = 0.0) -> float:
    """Return the net flow that shifts the pressure of a house.

    Parameters
    ----------
    change : float
        House against outdoors, with less without, signed [Pa].
    flow_50 : float
        Leakage of the house at 50 Pa [m³/s], > 0.
    exponent : float
        Of its leakage curve [-], 0.5 to 1.
    spread : float
        Difference that the stack makes between the lowest and the highest leak [Pa], >= 0.

    Returns
    -------
    float
        Net flow into the house [m³/s], signed like `change`.

    Raises
    ------
    OutOfRangeError
        If the flow is not positive, the exponent outside 0.5 to 1 or the spread negative.

    Notes
    -----
    ``Q50 / 50^n`` times the mean of ``sgn(c + x) |c + x|^n`` over x from -s/2 to s/2
    [UNIFORM]_; without a spread ``Q50 (c / 50)^n``, which is too much for changes smaller
    than what the stack makes.

    References
    ----------
    .. [UNIFORM] Own derivation.

    Examples
    --------
    >>> round(shift_flow(-2.0, 0.7, 0.65), 4)
    -0.0864
    >>> round(shift_flow(-2.0, 0.7, 0.65, spread=4.0), 4)
    -0.0822
    """
    if not flow_50 > 0.0:
        raise OutOfRangeError("flow_50", flow_50, math.nextafter(0.0, 1.0), math.inf, "m³/s")
    if not 0.5 <= exponent <= 1.0:
        raise OutOfRangeError("exponent", exponent, 0.5, 1.0, "-")
    if not spread >= 0.0:
        raise OutOfRangeError("spread", spread, 0.0, math.inf, "Pa")
    scale = flow_50 / math.pow(50.0, exponent)
    if spread < 1e-6:
        return scale * math.copysign(math.pow(abs(change), exponent), change)
    upper, lower = abs(change + 0.5 * spread), abs(change - 0.5 * spread)
    power = exponent + 1.0
    return scale * (math.pow(upper, power) - math.pow(lower, power)) / (power * spread)


def flow_shift(flow: float, flow_50: float, exponent: float, *, spread: float = 0.0) -> float:
    """Return how far a net flow shifts the pressure of a house.

    Parameters
    ----------
    flow : float
        Net flow into the house, signed [m³/s].
    flow_50 : float
        Leakage of the house at 50 Pa [m³/s], > 0.
    exponent : float
        Of its leakage curve [-], 0.5 to 1.
    spread : float
        Difference that the stack makes between the lowest and the highest leak [Pa], >= 0.

    Returns
    -------
    float
        Change of the pressure against outdoors [Pa], signed like `flow`.

    Raises
    ------
    OutOfRangeError
        If a size is out of range.

    Notes
    -----
    Inverse of :func:`shift_flow`, by bisection: that rises throughout.

    Examples
    --------
    >>> round(flow_shift(-0.0864, 0.7, 0.65), 2)
    -2.0
    """
    low, high = 0.0, 1.0
    while shift_flow(high, flow_50, exponent, spread=spread) < abs(flow):
        high *= 2.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        if shift_flow(middle, flow_50, exponent, spread=spread) < abs(flow):
            low = middle
        else:
            high = middle
    return math.copysign(0.5 * (low + high), flow)


def stepped_shift(change: float, flow_50: float, exponent: float, spread: float) -> float:
    """Return :func:`shift_flow` for inputs that an uncertainty has moved off their value.

    Parameters
    ----------
    change : float
        Of the pressure, signed [Pa].
    flow_50 : float
        Leakage of the house at 50 Pa [m³/s].
    exponent : float
        Of the leakage curve [-]; held between 0.5 and 1, past which no leak goes.
    spread : float
        Stack pressure from the lowest to the highest leak [Pa]; held at 0 or more.

    Returns
    -------
    float
        [m³/s].
    """
    held = min(max(exponent, 0.5), 1.0)
    return shift_flow(change, flow_50, held, spread=max(spread, 0.0))
