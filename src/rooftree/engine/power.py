"""A power function that the compiler can spread over the lanes of the processor.

``u ** a`` through the library costs more than everything else in an hour of the air
network. For the strictly positive `u` of the smooth leakage law there is no special case,
so that it comes down to two polynomials: the binary logarithm of the mantissa and the
power of two of what remains.
"""

from __future__ import annotations

import struct
from typing import Any

import numpy as np
from llvmlite import ir  # type: ignore[import-untyped]
from numba import njit, types
from numba.extending import intrinsic

_SQRT_HALF_BITS = struct.unpack("<q", struct.pack("<d", 0.5**0.5))[0]
_ROUND = 6755399441055744.0  # 1.5 * 2**52: adding it rounds to a whole number
_ROUND_BITS = struct.unpack("<q", struct.pack("<d", _ROUND))[0]

SAFE_MATH = {"contract", "nsz", "arcp", "nnan", "ninf"}
"""Liberties that a kernel which uses `power` may give the compiler; not reassociation,
which would undo the rounding. A function that is inlined takes the flags of its caller."""


def _bits_of_number(_typing: Any, _number: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, arguments: Any) -> Any:
        return builder.bitcast(arguments[0], ir.IntType(64))

    return types.int64(types.float64), generate


def _number_of_bits(_typing: Any, _bits: Any) -> Any:
    def generate(_context: Any, builder: Any, _signature: Any, arguments: Any) -> Any:
        return builder.bitcast(arguments[0], ir.DoubleType())

    return types.float64(types.int64), generate


as_bits: Any = intrinsic(_bits_of_number)
"""Return the bits of a float64 as an int64, inside compiled code."""

as_number: Any = intrinsic(_number_of_bits)
"""Return the float64 that has these bits, inside compiled code."""


@njit(fastmath=SAFE_MATH, inline="always")
def power(u: float, a: float) -> float:
    """Return ``u ** a``.

    Parameters
    ----------
    u : float
        Base [-], 1e-290 to 1e290; never zero, negative or not a number.
    a : float
        Exponent [-], -1 to 1.

    Returns
    -------
    float
        The power [-], within 1e-11 of its size, and within 3e-12 for ``abs(a) <= 0.25``
        and `u` within 1e±12, which is where the leakage law lives.

    Notes
    -----
    ``u = 2**k * (1 + f)`` with ``1 + f`` between sqrt(1/2) and sqrt(2); then
    ``2 ** (a * (k + log2(1 + f)))`` is split again into a whole power, which is added to
    the exponent bits, and a polynomial of what remains. Both polynomials interpolate at
    the Chebyshev nodes of their interval: ``log2(1 + f) / f`` in degree 12, error 9.3e-12;
    ``2 ** r`` in degree 8, error 1.1e-12.
    """
    bits = as_bits(u)
    whole = (bits - _SQRT_HALF_BITS) >> 52
    f = as_number(bits - (whole << 52)) - 1.0
    k = as_number(whole + _ROUND_BITS) - _ROUND
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
    log2 = log2 * f + 1.4426950408708794
    t = a * (f * log2 + k)
    rounded = t + _ROUND
    r = t - (rounded - _ROUND)
    exp2 = 1.3255224878668817e-06
    exp2 = exp2 * r + 1.5310079402249296e-05
    exp2 = exp2 * r + 0.00015403455852453838
    exp2 = exp2 * r + 0.0013333450568000645
    exp2 = exp2 * r + 0.009618129159402558
    exp2 = exp2 * r + 0.05550410941205933
    exp2 = exp2 * r + 0.2402265069581299
    exp2 = exp2 * r + 0.6931471805459335
    exp2 = exp2 * r + 1.0
    result: float = as_number(as_bits(exp2) + (as_bits(rounded) << np.int64(52)))
    return result


@njit(cache=True, fastmath=SAFE_MATH)
def powers(u: Any, a: Any, out: Any) -> None:
    """Fill `out` with the powers of many numbers: `power` in a loop, for use from Python.

    Parameters
    ----------
    u : ndarray, shape (n,)
        Bases [-], as for `power`.
    a : ndarray, shape (n,)
        Exponents [-], as for `power`.
    out : ndarray, shape (n,)
        The powers [-].
    """
    for i in range(u.shape[0]):
        out[i] = power(u[i], a[i])
