"""What a measured house was given, in place of what the model would find.

A test house stands on a cellar whose temperature was measured, or is heated by heaters
whose power was metered. To hold the model against such a house, these are imposed.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    import numpy as np
    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True, eq=False)
class Imposed:
    """Hourly values that replace what the model would find; every array has one per hour.

    Attributes
    ----------
    temperature : mapping from str to ndarray
        Air temperature of spaces, by id [K].
    humidity_ratio : mapping from str to ndarray
        Water vapor per dry air of spaces, by id [kg/kg].
    heat : mapping from str to ndarray
        Heat put into spaces beyond gains and equipment, by id [W].
    radiant_fraction : float
        Radiant share of that heat [0-1].
    supplied : mapping from str to ndarray
        Outdoor air that fans exchange in spaces beyond those of the house, by id [m³/s].
    """

    temperature: Mapping[str, NDArray[np.float64]] = field(default_factory=dict)
    humidity_ratio: Mapping[str, NDArray[np.float64]] = field(default_factory=dict)
    heat: Mapping[str, NDArray[np.float64]] = field(default_factory=dict)
    radiant_fraction: float = 0.0
    supplied: Mapping[str, NDArray[np.float64]] = field(default_factory=dict)
