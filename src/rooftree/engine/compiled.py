"""Compiling of the hour loop, with a cache that notices every change.

The compiler's own cache looks only at the file that holds a function. The hour loop calls
functions of several files, so its cache is stamped with all of them.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from numba import njit

if TYPE_CHECKING:
    from collections.abc import Callable

Function = TypeVar("Function", bound="Callable[..., Any]")

KERNEL_FILES = (
    "compiled.py", "lanes.py", "power.py", "network.py", "conduction.py", "films.py",
    "arrays.py", "heat.py", "air.py", "vapor.py", "moist.py", "equipment.py", "thermostats.py",
    "books.py", "kernel.py",
)  # fmt: skip
"""Files whose change makes compiled code stale."""

# Nothing is allocated inside, and counting references would cost more than the physics.
OPTIONS: dict[str, Any] = {"error_model": "numpy", "_nrt": False}


def on_lanes(function: Function) -> Function:
    """Compile a function that compiled code calls, with lanes or groups of them.

    Parameters
    ----------
    function : callable
        Function in the language of the compiler.

    Returns
    -------
    callable
    """
    compiled: Function = njit(**OPTIONS)(function)
    return compiled


def compile_entry(function: Callable[..., Any]) -> Any:
    """Compile a function that Python calls and that calls into all of `KERNEL_FILES`.

    Parameters
    ----------
    function : callable
        Function in the language of the compiler, of tables of addresses and numbers.

    Returns
    -------
    callable
        The compiled function, cached on disk; it releases the interpreter's lock while it
        runs.
    """
    dispatcher = njit(cache=True, nogil=True, **OPTIONS)(function)
    folder = Path(__file__).parent
    stats = [(folder / name).stat() for name in KERNEL_FILES]
    stamp = tuple((each.st_mtime, each.st_size) for each in stats)
    cache_file = getattr(getattr(dispatcher, "_cache", None), "_cache_file", None)
    if cache_file is not None:
        cache_file._source_stamp = stamp
    return dispatcher
