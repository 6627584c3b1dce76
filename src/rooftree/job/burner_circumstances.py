"""What the tests of burners and their rooms take from the rest of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.combustion import CombustionResult, CombustionTest, reduce_combustion
from rooftree.readings.combustion_air import (
    CombustionAirResult,
    CombustionAirTest,
    reduce_combustion_air,
)
from rooftree.readings.worst_case import WorstCaseResult, WorstCaseTest, reduce_worst_case

if TYPE_CHECKING:
    from rooftree.job.kinds import Circumstances


def reduce_combustion_of(reading: CombustionTest, at: Circumstances) -> CombustionResult:
    """Reduce the test of one burner; the search of its zone tells how deep fans can pull.

    Parameters
    ----------
    reading : CombustionTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    CombustionResult
    """
    searches = [
        one
        for one in at.readings
        if isinstance(one, WorstCaseTest)
        and (one.appliance, one.draft) == (reading.appliance, reading.draft)
    ]
    found = [worst for one in searches if (worst := reduce_worst_case(one).worst)]
    deepest = min((worst.net.value for worst in found), default=None)
    return reduce_combustion(reading, zone_pressure=deepest)


def reduce_worst_case_of(reading: WorstCaseTest, at: Circumstances) -> WorstCaseResult:
    """Reduce the search of a zone beside what the leakage of the house predicts.

    Parameters
    ----------
    reading : WorstCaseTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    WorstCaseResult
    """
    tested = at.airtightness
    if tested is None:
        return reduce_worst_case(reading)
    flow = tested.flow50
    return reduce_worst_case(
        reading,
        flow_50=flow.value,
        exponent=tested.curve.exponent,
        flow_50_uncertainty=(flow.high - flow.low) / (4.0 * flow.value),
    )


def reduce_combustion_air_of(reading: CombustionAirTest, at: Circumstances) -> CombustionAirResult:
    """Reduce the air of a room with burners; the house tells its floor area.

    Parameters
    ----------
    reading : CombustionAirTest
        Raw readings.
    at : Circumstances
        What the rest of the job tells.

    Returns
    -------
    CombustionAirResult
    """
    return reduce_combustion_air(reading, floor_area=at.enclosure.floor_area)
