"""Ratings of a window from its panes, as the suites describe them.

Sources: net radiation between panes and inward share of what each absorbs, Duffie and Beckman,
"Solar Engineering of Thermal Processes" (recalled); gap as still gas, which is within a few
percent for 12 mm, with radiation between its two faces at 283 K.
"""

from __future__ import annotations

from dataclasses import dataclass

from rooftree.engine.films import STEFAN_BOLTZMANN
from rooftree.engine.glazing import INSIDE_COEFFICIENT, OUTSIDE_COEFFICIENT

AIR, ARGON = 0.0249, 0.0169
"""Conductivity of the gas in the gap at 10 °C [W/(m·K)] (recalled)."""


@dataclass(frozen=True, slots=True)
class Pane:
    """One pane: thickness [m], transmittance, reflectance outside and inside, emittance."""

    thickness: float
    transmittance: float
    outside: float
    inside: float
    emittance: tuple[float, float] = (0.84, 0.84)

    @property
    def resistance(self) -> float:
        """Return the resistance at 1.0 W/(m·K) [m²·K/W]."""
        return self.thickness / 1.0


CLEAR = Pane(0.003048, 0.834, 0.075, 0.075)
LOW_EMITTANCE = Pane(0.003180, 0.452, 0.359, 0.397, (0.84, 0.047))


def gap_resistance(outer: Pane, inner: Pane, conductivity: float, width: float = 0.012) -> float:
    """Return the resistance of the gap between two panes [m²·K/W]."""
    exchange = 1.0 / (1.0 / outer.emittance[1] + 1.0 / inner.emittance[0] - 1.0)
    radiation = 4.0 * STEFAN_BOLTZMANN * exchange * 283.15**3
    return 1.0 / (radiation + conductivity / width)


def rate_single(pane: Pane) -> tuple[float, float, float]:
    """Return U-value [W/(m²·K)], solar heat gain coefficient and transmittance [-] of one pane."""
    inside, outside = 1.0 / INSIDE_COEFFICIENT, 1.0 / OUTSIDE_COEFFICIENT
    u_value = 1.0 / (inside + pane.resistance + outside)
    absorbed = 1.0 - pane.transmittance - pane.outside
    inward = u_value * (outside + 0.5 * pane.resistance)
    return u_value, pane.transmittance + absorbed * inward, pane.transmittance


def rate_double(outer: Pane, inner: Pane, gas: float) -> tuple[float, float, float]:
    """Return U-value [W/(m²·K)], solar heat gain coefficient and transmittance [-] of two."""
    inside, outside = 1.0 / INSIDE_COEFFICIENT, 1.0 / OUTSIDE_COEFFICIENT
    gap = gap_resistance(outer, inner, gas)
    u_value = 1.0 / (inside + outside + gap + outer.resistance + inner.resistance)
    many = 1.0 - outer.inside * inner.outside
    through = outer.transmittance * inner.transmittance / many
    back = outer.transmittance * inner.outside / many
    taken_outer = (1.0 - outer.transmittance - outer.outside) + back * (
        1.0 - outer.transmittance - outer.inside
    )
    taken_inner = outer.transmittance / many * (1.0 - inner.transmittance - inner.outside)
    inward_outer = u_value * (outside + 0.5 * outer.resistance)
    inward_inner = 1.0 - u_value * (inside + 0.5 * inner.resistance)
    gain = through + taken_outer * inward_outer + taken_inner * inward_inner
    return u_value, gain, through
