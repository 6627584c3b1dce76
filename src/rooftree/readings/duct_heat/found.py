"""From the temperatures at both ends to what insulates the run between them."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from rooftree.physics.draws import draw_inputs, propagate_draws
from rooftree.readings.duct_heat.conduction import WRAP_CONDUCTIVITY, flat_resistance

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.duct_heat.readings import DuctHeatTest, DuctRunReading
    from rooftree.readings.duct_heat.run import Run

DRAWS = 4000
"""Draws of each input [-]."""

TELLING = 1.5
"""Standard uncertainties by which the air must have changed along the run for its wall to be
told from it [-]; ours."""


class Found(NamedTuple):
    """What the ends of a run tell of its wall."""

    conductance: Propagated | None
    """Of one meter [W/(m·K)]."""
    resistance: Propagated | None
    """Flat blanket that explains it [m²·K/W]."""
    least: float | None
    """Flat blanket that it is at least, where the change is too small to tell [m²·K/W]."""


def reduce_ends(reading: DuctRunReading, run: Run, test: DuctHeatTest) -> Found:
    """Reduce the temperatures at both ends of a run to its wall.

    Parameters
    ----------
    reading : DuctRunReading
        Of the run.
    run : Run
        Its flow and films.
    test : DuctHeatTest
        Uncertainties.

    Returns
    -------
    Found
        Nothing where the register was not read, or does not lie between the entering air
        and the surroundings.

    Notes
    -----
    ``UA = m c ln((T_s - T_e) / (T_s - T_r))``, then the films off the resistance, then the
    blanket that is left; by drawing all readings (JCGM 101), for the blanket bends upward.
    Draws that leave less than a bare duct give a blanket of 0, those with no change an
    infinite one. Leaks do not matter to it as long as they are small: air that leaks out
    has the temperature of what stays, but the flow at the register is then the smaller one.
    """
    register = reading.register_temperature
    if register is None:
        return Found(None, None, None)
    values = (
        reading.entering_temperature,
        reading.surroundings_temperature,
        register,
        run.flow,
        run.length,
        1.0,
    )
    doubts = (
        test.temperature_uncertainty,
        test.surroundings_uncertainty,
        test.temperature_uncertainty,
        test.flow_uncertainty * run.flow,
        test.length_uncertainty,
        test.film_uncertainty,
    )
    ends = sorted(values[:2])
    change = abs(register - values[0]) / (math.sqrt(2.0) * test.temperature_uncertainty)
    if abs(ends[1] - ends[0]) < 4.0 * test.surroundings_uncertainty:
        return Found(None, None, None)
    sample = _conductances(draw_inputs(values, doubts, DRAWS), run)
    blankets = _blankets(sample, draw_inputs(values, doubts, DRAWS)[5], run)
    if change < TELLING or not ends[0] < register < ends[1]:
        beyond = not ends[0] - 3.0 * doubts[0] <= register <= ends[1] + 3.0 * doubts[0]
        return Found(None, None, None if beyond else float(np.sort(blankets)[DRAWS // 20]))
    each = run.capacity_rate / run.length
    now = -each * math.log((register - values[1]) / (values[0] - values[1]))
    blanket = float(_blankets(np.array([now]), np.array([1.0]), run)[0])
    return Found(propagate_draws(now, sample), propagate_draws(blanket, blankets), None)


def _conductances(draws: NDArray[np.float64], run: Run) -> NDArray[np.float64]:
    """Return the conductance of one meter for each draw; infinite beyond the surroundings."""
    entering, around, register, flow, length, _ = draws
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (register - around) / (entering - around)
        number = np.where(share > 0.0, -np.log(np.maximum(share, 1e-300)), np.inf)
    rate = run.capacity_rate * np.maximum(flow, 1e-9) / run.flow
    return np.asarray(np.maximum(number, 0.0) * rate / np.maximum(length, 0.1), dtype=np.float64)


def _blankets(
    conductances: NDArray[np.float64], film: NDArray[np.float64], run: Run
) -> NDArray[np.float64]:
    """Return the flat blanket for each conductance [m²·K/W]; 0 for bare, infinite for none."""
    with np.errstate(divide="ignore", over="ignore"):
        wrap = 1.0 / conductances - np.maximum(film, 0.05) * (run.inner + run.outer)
        growth = np.expm1(
            np.minimum(2.0 * np.pi * WRAP_CONDUCTIVITY * np.maximum(wrap, 0.0), 700.0)
        )
    flat = run.size.perimeter * growth / (2.0 * np.pi) / WRAP_CONDUCTIVITY
    return np.where(np.isfinite(wrap), flat, np.inf)


def blanket_for(run: Run, conductance: float) -> float:
    """Return the flat blanket in the open air that insulates as well as a run does.

    Parameters
    ----------
    run : Run
        Its films.
    conductance : float
        Of one meter of it [W/(m·K)].

    Returns
    -------
    float
        [m²·K/W]; 0 for a bare duct.
    """
    # The film outside of a wrapped duct, as that of a bare one spread over its jacket.
    film = run.bare_outer * run.size.perimeter / run.outer_perimeter
    wrap = 1.0 / conductance - run.inner - film
    return flat_resistance(run.size.perimeter, max(wrap, 0.0), WRAP_CONDUCTIVITY)
