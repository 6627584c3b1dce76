"""Powers, cube roots and powers of two of lanes.

The library's functions take one number at a time and cost more than everything else in an
hour of the air network. For what the hour loop needs of them, positive bases of ordinary
size, each comes down to a few sums and products that all lanes do at once.
"""

from __future__ import annotations

from typing import Any

from rooftree.engine.compiled import on_lanes
from rooftree.engine.lanes import (
    doubled,
    nearest,
    one_plus,
    rough_inverse_cube_root,
    whole_log2,
)


@on_lanes
def _log2_of(f: Any) -> Any:
    """Return ``log2(1 + f) / f`` for `f` from sqrt(1/2) - 1 to sqrt(2) - 1.

    Interpolated at the Chebyshev nodes in degree 12, error 9.3e-12.
    """
    log2 = 0.07553790398013403
    log2 = log2 * f - 0.14144788210587383
    log2 = log2 * f + 0.14495052999815844
    log2 = log2 * f - 0.14349039375280997
    log2 = log2 * f + 0.15878356832510718
    log2 = log2 * f - 0.1802710257711494
    log2 = log2 * f + 0.20617283226751987
    log2 = log2 * f - 0.24045433696411997
    log2 = log2 * f + 0.28853739437873954
    log2 = log2 * f - 0.3606736553159396
    log2 = log2 * f + 0.4808983601762459
    log2 = log2 * f - 0.7213475209631551
    return log2 * f + 1.4426950408708794


@on_lanes
def exp2(t: Any) -> Any:
    """Return ``2 ** t`` for lanes from -1000 to 1000, within 2e-12 of its size.

    The power of the fraction is interpolated at the Chebyshev nodes in degree 8.
    """
    whole = nearest(t)
    r = t - whole
    power = 1.3255224878668817e-06
    power = power * r + 1.5310079402249296e-05
    power = power * r + 0.00015403455852453838
    power = power * r + 0.0013333450568000645
    power = power * r + 0.009618129159402558
    power = power * r + 0.05550410941205933
    power = power * r + 0.2402265069581299
    power = power * r + 0.6931471805459335
    power = power * r + 1.0
    return doubled(power, whole)


@on_lanes
def power(u: Any, a: Any) -> Any:
    """Return ``u ** a``.

    Parameters
    ----------
    u : lanes
        Base [-], 1e-290 to 1e290; never zero, negative or not a number.
    a : lanes or float
        Exponent [-], -1 to 1.

    Returns
    -------
    lanes
        The power [-], within 1e-11 of its size, and within 3e-12 for ``abs(a) <= 0.25``
        and `u` within 1e±12, which is where the leakage law lives.

    Notes
    -----
    ``u = 2**k * (1 + f)`` with ``1 + f`` between sqrt(1/2) and sqrt(2); then
    ``2 ** (a * (k + log2(1 + f)))``.
    """
    f = one_plus(u) - 1.0
    return exp2(a * (f * _log2_of(f) + whole_log2(u)))


@on_lanes
def cube_root(u: Any) -> Any:
    """Return ``u ** (1/3)`` for lanes from 0 to 1e200, within 6e-10 of its size.

    Newton's method for the inverse cube root, which needs no division.
    """
    r = rough_inverse_cube_root(u)
    third = u * (1.0 / 3.0)
    r = r * (4.0 / 3.0 - third * r * r * r)
    r = r * (4.0 / 3.0 - third * r * r * r)
    r = r * (4.0 / 3.0 - third * r * r * r)
    return u * r * r
