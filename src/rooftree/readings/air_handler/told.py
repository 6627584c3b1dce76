"""A flow with its doubt, or why there is none."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.physics.propagation import propagate_positive
from rooftree.readings.air_handler.note import note
from rooftree.readings.air_handler.results import MethodFlow

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.finding import Finding


def told(
    method: str, formula: Callable[..., float], values: list[float], doubts: list[float]
) -> MethodFlow | Finding:
    """Return the flow that a formula gives, or that its doubt is as large as itself.

    Parameters
    ----------
    method : str
        In plain words.
    formula : callable
        Takes the inputs in order and returns the flow.
    values : list of float
        Readings, each in its own unit.
    doubts : list of float
        Standard uncertainty of each.

    Returns
    -------
    MethodFlow or Finding
    """
    try:
        return MethodFlow(method, propagate_positive(formula, values, doubts))
    except ValueError:
        return note(
            "hardly-told",
            f"Flow by {method}: the doubt of its readings is as large as they are, so nothing"
            " follows from them. Look at their units, and read again where more can be read.",
        )
