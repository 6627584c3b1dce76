"""Compiling of the hour loop, with a cache that notices every change.

The compiler's own cache looks only at the file that holds a function. The hour loop calls
functions of several files, so its cache is stamped with all of them.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from numba import njit

from rooftree.engine.power import SAFE_MATH

if TYPE_CHECKING:
    from collections.abc import Callable

KERNEL_FILES = (
    "compiled.py", "power.py", "network.py", "conduction.py", "films.py", "arrays.py", "heat.py",
    "air.py", "moist.py", "equipment.py", "kernel.py",
)  # fmt: skip
"""Files whose change makes the compiled hour loop stale."""


def compile_hour_loop(function: Callable[..., Any]) -> Any:
    """Compile a function that calls into all of `KERNEL_FILES`, and cache it on disk.

    Parameters
    ----------
    function : callable
        Function in the language of the compiler.

    Returns
    -------
    callable
        The compiled function; it releases the interpreter's lock while it runs.
    """
    # Without reference counts: nothing is allocated inside, and counting would cost more
    # than the physics.
    options: dict[str, Any] = {"error_model": "numpy", "fastmath": SAFE_MATH, "_nrt": False}
    dispatcher = njit(cache=True, nogil=True, **options)(function)
    folder = Path(__file__).parent
    stats = [(folder / name).stat() for name in KERNEL_FILES]
    stamp = tuple((each.st_mtime, each.st_size) for each in stats)
    cache_file = getattr(getattr(dispatcher, "_cache", None), "_cache_file", None)
    if cache_file is not None:
        cache_file._source_stamp = stamp
    return dispatcher
