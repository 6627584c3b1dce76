"""What a log of air sealing takes from the rest of the job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.air_sealing import reduce_air_sealing

if TYPE_CHECKING:
    from rooftree.job.kinds import Circumstances
    from rooftree.readings.air_sealing import AirSealingLog, AirSealingResult

TEST_DOUBT = 0.04
"""What a fan test differs from the first row of a log by, besides the fan's calibration
[0-1]: air density, direction and the day; ours."""


def reduce_air_sealing_of(log: AirSealingLog, at: Circumstances) -> AirSealingResult:
    """Reduce a log of air sealing with what the job knows of its house.

    Parameters
    ----------
    log : AirSealingLog
        As written.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    AirSealingResult
    """
    outlook = at.outlook() if at.outlook else None
    return reduce_air_sealing(
        log,
        value_per_flow=outlook.value_per_flow if outlook else None,
        ventilation_flow_50=outlook.ventilation_flow_50 if outlook else None,
        combustion_flow_50=outlook.combustion_flow_50 if outlook else None,
        earlier_flow_50=at.flow_50,
        earlier_uncertainty=TEST_DOUBT,
    )
