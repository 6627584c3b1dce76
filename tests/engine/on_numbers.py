"""Functions of lanes called with plain numbers, for tests."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numba import njit

from rooftree.engine.compiled import OPTIONS
from rooftree.engine.lanes import WIDTH, addresses, group_reader, lanes_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike, NDArray

    from rooftree.engine.lanes import Grid


class Numbers(NamedTuple):
    """Arguments in rows, blocks of lanes in columns; the last row is the answer."""

    blocks: int
    table: Grid


read_numbers = group_reader(Numbers)


def _run_one(function: Any) -> Any:
    @njit(**OPTIONS)
    def run(numbers_table: Any) -> None:
        numbers = read_numbers(numbers_table)
        for k in range(numbers.blocks):
            numbers.table[1, k] = function(numbers.table[0, k])

    return run


def _run_two(function: Any) -> Any:
    @njit(**OPTIONS)
    def run(numbers_table: Any) -> None:
        numbers = read_numbers(numbers_table)
        for k in range(numbers.blocks):
            numbers.table[2, k] = function(numbers.table[0, k], numbers.table[1, k])

    return run


def _run_three(function: Any) -> Any:
    @njit(**OPTIONS)
    def run(numbers_table: Any) -> None:
        numbers = read_numbers(numbers_table)
        for k in range(numbers.blocks):
            numbers.table[3, k] = function(
                numbers.table[0, k], numbers.table[1, k], numbers.table[2, k]
            )

    return run


def on_numbers(function: Any, count: int) -> Callable[..., NDArray[np.float64]]:
    """Return a function of `count` lanes as one of arrays of numbers.

    Parameters
    ----------
    function : callable
        Compiled function of lanes that returns lanes.
    count : int
        Its arguments, 1 to 3.

    Returns
    -------
    callable
        Of array_like numbers, all of one length or scalar.
    """
    run = (_run_one, _run_two, _run_three)[count - 1](function)

    def of_numbers(*arguments: ArrayLike) -> NDArray[np.float64]:
        values = np.broadcast_arrays(*(np.atleast_1d(np.asarray(a, float)) for a in arguments))
        size = values[0].size
        blocks = -(-size // WIDTH)
        table = lanes_of(count + 1, blocks)
        for row, value in enumerate(values):
            flat = table[row].reshape(-1)
            flat[:size] = value.ravel()
            flat[size:] = value.ravel()[-1]
        run(addresses(Numbers(blocks, table)))
        return table[count].reshape(-1)[:size].copy()

    return of_numbers
