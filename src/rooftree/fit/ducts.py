"""How much the ducts of a house leak."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.fit.unknowns import runs_outside

if TYPE_CHECKING:
    from rooftree.house import House


def duct_leakage(house: House) -> float:
    """Return the duct leakage to outside the living spaces, both sides together.

    Parameters
    ----------
    house : House
        With or without ducts.

    Returns
    -------
    float
        In operation, which is that at 25 Pa [m³/s].
    """
    if house.air_handler is None:
        return 0.0
    return sum(run.leakage for run in runs_outside(house)) * house.air_handler.flow
