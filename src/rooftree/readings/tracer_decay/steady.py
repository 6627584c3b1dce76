"""Air flow from what people breathe out, near the steady state.

Sources
-------
[BATTERMAN2017] S. Batterman, IJERPH 14(2):145, 2017, section 2.1: mass balance.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.propagation import propagate_positive
from rooftree.readings.tracer_decay.formulas import HOUR, PER_MILLION, steady_flow
from rooftree.readings.tracer_decay.generation import generation_rates
from rooftree.readings.tracer_decay.judge_steady import judge_steady
from rooftree.readings.tracer_decay.results import SteadyResult

if TYPE_CHECKING:
    from rooftree.readings.tracer_decay.background import Background
    from rooftree.readings.tracer_decay.readings import TracerDecayTest

COMMON_SHARE = 0.5
"""Share of the spread from person to person that all of a household share [0-1]; ours."""

MOST_STORED = 0.5
"""Share of the source that may still pile up in the air [0-1]; ours."""


def reduce_steady(
    test: TracerDecayTest, background: Background, volume: float | None
) -> SteadyResult | None:
    """Reduce readings near the steady state to an air flow.

    Parameters
    ----------
    test : TracerDecayTest
        Readings, people and what they do.
    background : Background
        Of the air that comes in.
    volume : float or None
        Of the air [m³]; without it a concentration that still changes gives no flow.

    Returns
    -------
    SteadyResult or None
        None where nothing was read.

    Notes
    -----
    ``Q = (n G - V dC/dt) / (C - C_out)`` [BATTERMAN2017]_, the rise by least squares. What
    a person gives off is uncertain by a fifth, half of it shared by all; the sensor's
    share does not drop out here.

    References
    ----------
    .. [BATTERMAN2017] S. Batterman, IJERPH 14(2):145, 2017, section 2.1.
    """
    if not test.steady:
        return None
    mean, rise, rise_doubt = _mean_and_rise(test)
    person = generation_rates()[test.steady_activity]
    source = test.steady_people * person.rate
    stored = 0.0 if volume is None else volume * rise * PER_MILLION
    clear = abs(rise) > 3.0 * rise_doubt
    findings = judge_steady(
        mean - background.value,
        background.standard,
        test.steady_people,
        stored_share=abs(stored) / source if source > 0.0 else 0.0,
        most_stored=MOST_STORED,
        lacks_volume=clear and volume is None,
    )
    if findings:
        return SteadyResult(mean, rise * HOUR, source, None, None, person.source, findings)
    crowd = COMMON_SHARE + (1.0 - COMMON_SHARE) / max(test.steady_people, 1.0)
    # A gain that indoors and outdoors share is a share of their difference only.
    gained = mean - background.value if test.same_sensor else mean
    doubts = (
        source * person.uncertainty * math.sqrt(crowd),
        math.hypot(gained * test.concentration_uncertainty, background.standard),
        (volume or 0.0) * rise_doubt * PER_MILLION,
    )

    def flow_of(source: float, concentration: float, stored: float) -> float:
        return steady_flow(source, concentration, background.value, stored)

    flow = propagate_positive(flow_of, (source, mean, stored), doubts)
    changes = None
    if volume is not None:
        doubt = volume * test.volume_uncertainty
        changes = propagate_positive(
            lambda flow, size: flow / size * HOUR, (flow.value, volume), (flow.standard, doubt)
        )
    return SteadyResult(mean, rise * HOUR, source, flow, changes, person.source, ())


def _mean_and_rise(test: TracerDecayTest) -> tuple[float, float, float]:
    """Return the mean [ppm], its rise [ppm/s] and the standard uncertainty of that."""
    time = np.array([reading.time for reading in test.steady])
    values = np.array([reading.concentration for reading in test.steady])
    away = time - time.mean()
    spread = float(away @ away)
    if spread == 0.0:
        return float(values.mean()), 0.0, 0.0
    rise = float(away @ values) / spread
    left = values - values.mean() - rise * away
    # The stated scatter counts for four degrees of freedom beside the observed.
    known = 4.0 + max(len(time) - 2, 0)
    variance = (4.0 * test.concentration_scatter**2 + float(left @ left)) / known
    return float(values.mean()), rise, math.sqrt(variance / spread)
