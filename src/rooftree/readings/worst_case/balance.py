"""The pressure that fans should give a zone, by the balance of air of house and zone.

Sources
-------
[CURVE] The leakage curve of the house turned round, ``P = (Q / C)^(1/n)``.
[SERIES] Mass balance of two spaces joined by an opening, each with a leak to outdoors.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.openings import SHARP_EDGE, stack_pressure

if TYPE_CHECKING:
    from collections.abc import Callable

STEPS = 200
"""Most steps towards a balance; ten are usual."""

NEAR = 1e-8
"""Pressure that is near enough [Pa], and flow over the coefficient [Paⁿ]."""

CLOSE = 1e-6
"""Width of a bracket of flows over what it was at first that is narrow enough [-]."""

FLAT = 1e-9
"""Smallest pressure for the slope of a power law, which is endless at zero [Pa]."""


@dataclass(frozen=True, slots=True)
class Envelope:
    """Leaks of a house with one zone.

    Attributes
    ----------
    coefficient : float
        Of house and zone together [m³/(s·Paⁿ)], > 0.
    exponent : float
        Of all leaks [-], 0.5 to 1.
    zone_share : float
        Part of the coefficient in the zone's own outer walls [0-1].
    stack : float
        Half of the pressure of warm air between the lower and the upper leaks [Pa], >= 0.
    """

    coefficient: float
    exponent: float
    zone_share: float = 0.0
    stack: float = 0.0

    def inflow(self, depth: float) -> float:
        """Return what leaks in while everything stands below outdoors.

        Parameters
        ----------
        depth : float
            Below outdoors [Pa], signed.

        Returns
        -------
        float
            [m³/s], signed.

        Notes
        -----
        Half of the leaks lie low and half high; warm air adds to one and takes from the
        other.
        """
        return 0.5 * self.coefficient * (
            _signed_power(depth + self.stack, self.exponent)
            + _signed_power(depth - self.stack, self.exponent)
        )  # fmt: skip

    def depth(self, flow: float) -> float:
        """Return how far below outdoors everything stands while fans draw a flow.

        Parameters
        ----------
        flow : float
            Exhaust less supply [m³/s], signed.

        Returns
        -------
        float
            [Pa], signed: inverse of :meth:`inflow`.

        Examples
        --------
        >>> round(Envelope(1500.0 / 50.0**0.65, 0.65).depth(300.0), 2)
        4.2
        """
        calm = math.copysign(math.pow(abs(flow) / self.coefficient, 1.0 / self.exponent), flow)
        if self.stack == 0.0:
            return calm
        return self._depth_in_stack(flow, calm)

    def _depth_in_stack(self, flow: float, calm: float) -> float:
        """Return the depth by Newton's method, kept between bounds that close in."""
        n, s = self.exponent, self.stack
        low, high = -abs(calm) - s, abs(calm) + s
        depth = calm
        for turn in range(STEPS):
            excess = self.inflow(depth) - flow
            if abs(excess) < NEAR * self.coefficient:
                break
            low, high = (low, depth) if excess > 0.0 else (depth, high)
            up, down = max(abs(depth + s), FLAT), max(abs(depth - s), FLAT)
            slope = 0.5 * self.coefficient * n * (math.pow(up, n - 1.0) + math.pow(down, n - 1.0))
            following = depth - excess / slope
            is_step = low < following < high and abs(following - depth) > NEAR
            depth = following if is_step and turn % 4 != 3 else 0.5 * (low + high)
        return depth


def _signed_power(value: float, exponent: float) -> float:
    return math.copysign(math.pow(abs(value), exponent), value)


def _falling_zero(excess: Callable[[float], float], low: float, high: float) -> float:
    """Return where a falling function is zero, by false position with halved ends."""
    above, below = excess(low), excess(high)
    side, whole = 0, high - low
    for _ in range(STEPS):
        if high - low < CLOSE * whole or below == above:
            break
        middle = (low * below - high * above) / (below - above)
        value = excess(middle)
        if value == 0.0:
            return middle
        if value > 0.0:
            low, above = middle, value
            below, side = (0.5 * below, 1) if side == 1 else (below, 1)
        else:
            high, below = middle, value
            above, side = (0.5 * above, -1) if side == -1 else (above, -1)
    return 0.5 * (low + high)


def opening_pressure(flow: float, area: float, *, density: float = 1.2041) -> float:
    """Return the pressure across an opening that passes a flow.

    Parameters
    ----------
    flow : float
        [m³/s], >= 0.
    area : float
        Free area [m²], > 0.
    density : float
        Of the air in it [kg/m³].

    Returns
    -------
    float
        [Pa], >= 0.

    Notes
    -----
    ``rho/2 (Q / (Cd A))^2``, inverse of :func:`rooftree.physics.openings.opening_flow`.

    Examples
    --------
    >>> round(opening_pressure(0.0547, 0.01), 1)
    50.0
    """
    return 0.5 * density * (flow / (SHARP_EDGE * area)) ** 2


def stack_of_house(
    height: float | None, indoor_temperature: float | None, outdoor_temperature: float | None
) -> float:
    """Return the pressure of warm air between lower and upper leaks, for :class:`Envelope`.

    Parameters
    ----------
    height : float or None
        Of the heated house above its lowest leaks [m].
    indoor_temperature, outdoor_temperature : float or None
        [K]

    Returns
    -------
    float
        [Pa], >= 0; 0 where something is not known.

    Notes
    -----
    Two leaks at 0.29 of the height above and below the middle scatter as much as leaks
    spread evenly over it.
    """
    if height is None or indoor_temperature is None or outdoor_temperature is None:
        return 0.0
    return abs(
        stack_pressure(height / (2.0 * math.sqrt(3.0)), indoor_temperature, outdoor_temperature)
    )


def zone_pressure(
    envelope: Envelope, house_flow: float, zone_flow: float = 0.0, door: float | None = None
) -> float:
    """Return the pressure of the zone that the balance of air gives.

    Parameters
    ----------
    envelope : Envelope
        Leaks of house and zone.
    house_flow : float
        What fans draw from the house less what they blow in [m³/s].
    zone_flow : float
        What is drawn from the zone itself [m³/s].
    door : float or None
        Free area between zone and house [m²], > 0; None for an open door, which makes
        them one space.

    Returns
    -------
    float
        Zone with reference to outdoors [Pa]; negative where air is drawn.

    Notes
    -----
    One space: the leakage curve turned round [CURVE]_. Two: with the flow F through the
    door from zone to house, ``C_h f(-p_h) = Q_h - F`` and ``C_z f(-p_z) = Q_z + F``, and
    ``p_z - p_h`` by the sharp-edged opening from F: one equation in F, of which the
    excess of pressure falls through zero once [SERIES]_.

    References
    ----------
    .. [CURVE] Leakage curve.
    .. [SERIES] Mass balance.

    Examples
    --------
    >>> house = Envelope(0.05, 0.65, zone_share=0.05)
    >>> round(zone_pressure(house, 0.1), 2)
    -2.9
    """
    if door is None or envelope.zone_share <= 0.0:
        return -envelope.depth(house_flow + zone_flow)
    share = envelope.zone_share
    own = Envelope(share * envelope.coefficient, envelope.exponent, stack=envelope.stack)
    rest = Envelope((1.0 - share) * envelope.coefficient, envelope.exponent, stack=envelope.stack)

    def of_zone(through: float) -> float:
        return -own.depth(zone_flow + through)

    def excess(through: float) -> float:
        across = math.copysign(opening_pressure(abs(through), door), through)
        return of_zone(through) + rest.depth(house_flow - through) - across

    most = abs(house_flow) + abs(zone_flow)
    if most < NEAR * envelope.coefficient:
        return 0.0
    return of_zone(_falling_zero(excess, -most, most))
