"""Vapor of an attic whose boards take it up and give it back, beside the engine's law.

The engine holds a space's vapor as a multiple of what its air holds. Wood holds water by the
relative humidity at its own temperature: warm boards give it off, cold ones take it up. Here
the air's balance is solved again, with the temperatures and flows that the engine found, and
with two layers of wood by the method of effective penetration depths.

Sources
-------
[KERESTECIOGLU1990] Kerestecioglu, A., Swami, M., Kamel, A., "Theoretical and computational
    investigation of simultaneous heat and moisture transfer in buildings: effective
    penetration depth theory", ASHRAE Transactions 96(1), 1990 (recalled).
[WOODS2013] Woods, J., Winkler, J., Christensen, D., "Evaluation of the effective moisture
    penetration depth model for estimating moisture buffering in buildings",
    NREL/TP-5500-57441, 2013 (recalled: depth, surface and deep layer, periods).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.wood_moisture import wood_equilibrium
from rooftree.weather.moisture import saturation_over_water

if TYPE_CHECKING:
    from numpy.typing import NDArray

DAY = 86400.0


@dataclass(frozen=True, slots=True)
class Wood:
    """What wood does with vapor.

    Attributes
    ----------
    density : float
        [kg/m³].
    permeability : float
        For vapor [kg/(m·s·Pa)]: 2e-10 of still air over the 40 of softwood (ISO 10456 has 50
        dry, 20 wet; recalled).
    slope : float
        Change of moisture content with relative humidity around 0.7 [-].
    film : float
        From the air to the face [kg/(m²·s·Pa)]: 3 W/(m²·K) of convection by Lewis' rule.
    periods : tuple of float
        Of the surface and of the deep layer [s].
    """

    density: float = 500.0
    permeability: float = 2.0e-10 / 40.0
    slope: float = (wood_equilibrium(283.15, 0.8) - wood_equilibrium(283.15, 0.6)) / 0.2
    film: float = 3.0 / (1.2 * 1006.0 * 461.5 * 283.0)
    periods: tuple[float, float] = (DAY, 21.0 * DAY)

    def depth(self, period: float, saturation: float) -> float:
        """Return how deep a swing of this period reaches [m] [WOODS2013]_."""
        storing = self.density * self.slope
        return math.sqrt(self.permeability * saturation * period / (math.pi * storing))


def buffered(
    *,
    entering: NDArray[np.float64],
    origins: NDArray[np.float64],
    air_mass: float,
    area: float,
    face: NDArray[np.float64],
    pressure: NDArray[np.float64],
    wood: Wood,
) -> NDArray[np.float64]:
    """Return the humidity ratio of a space whose faces of wood hold water [kg/kg].

    `entering` and `origins`, shape (hours, sources): mass of air that enters [kg/s] and its
    humidity ratio; `face`: temperature of the wood [K]. Implicit in steps of an hour:

    - air: ``M dw/dt = sum(F (w_j - w)) + A K_s (h_s p_sat - p)``
    - surface layer: ``C_s dh_s/dt = K_d p_sat (h_d - h_s) - K_s (h_s p_sat - p)``
    - deep layer: ``C_d dh_d/dt = K_d p_sat (h_s - h_d)``

    with ``C = density slope depth``, ``1/K_s = 1/film + d_s / (2 permeability)``,
    ``1/K_d = (d_s + d_d) / (2 permeability)``, and ``p = w P / 0.622``.
    """
    saturation = saturation_over_water(np.minimum(face, 333.0))
    surface, deep = (wood.depth(each, float(saturation.mean())) for each in wood.periods)
    to_air = 1.0 / (1.0 / wood.film + 0.5 * surface / wood.permeability)
    to_deep = 2.0 * wood.permeability / (surface + deep)
    hold = wood.density * wood.slope * np.array([surface, deep]) / 3600.0
    ratio = np.empty(face.size)
    state = np.array([origins[0, -1], 0.8, 0.8])
    for hour in range(face.size):
        full, per_ratio = saturation[hour], pressure[hour] / 0.622
        inner = to_deep * full
        given = entering[hour] @ origins[hour]
        system = np.array([
            [air_mass / 3600.0 + entering[hour].sum() + area * to_air * per_ratio,
             -area * to_air * full, 0.0],
            [-to_air * per_ratio, hold[0] + inner + to_air * full, -inner],
            [0.0, -inner, hold[1] + inner],
        ])  # fmt: skip
        right = np.array([air_mass / 3600.0, hold[0], hold[1]]) * state
        right[0] += given
        state = np.linalg.solve(system, right)
        ratio[hour] = state[0]
    return ratio


def multiplied(
    *,
    entering: NDArray[np.float64],
    origins: NDArray[np.float64],
    air_mass: float,
    multiple: float,
) -> NDArray[np.float64]:
    """Return the humidity ratio by the engine's law [kg/kg], without condensation."""
    ratio = np.empty(entering.shape[0])
    here, held = origins[0, -1], air_mass * multiple / 3600.0
    for hour in range(ratio.size):
        moved = entering[hour]
        here = (held * here + moved @ origins[hour]) / (held + moved.sum())
        ratio[hour] = here
    return ratio
