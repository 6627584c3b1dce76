"""Fan pressurization tests of the enclosure: readings in, leakage with limits and doubts out.

`reduce_fan_test` reduces one direction, `reduce_both_directions` averages, `flow_at` gives
the flow at any pressure, `compare_with_code` holds the house against a building code,
`compare_tests` says whether a later test differs by more than the noise and `hole_in_words`
how large all leaks are together.
"""

from rooftree.readings.airtightness.candidates import Cause
from rooftree.readings.airtightness.code_limits import (
    CodeComparison,
    LimitComparison,
    compare_with_code,
)
from rooftree.readings.airtightness.comparing import TestComparison, compare_tests
from rooftree.readings.airtightness.curve import FitMethod, LeakageCurve, LeakageFit
from rooftree.readings.airtightness.explanations import Explanation
from rooftree.readings.airtightness.readings import (
    Direction,
    Enclosure,
    Fan,
    FanBand,
    FanReading,
    FanTest,
    Standard,
    Station,
)
from rooftree.readings.airtightness.reduction import (
    flow_at,
    reduce_both_directions,
    reduce_fan_test,
)
from rooftree.readings.airtightness.results import (
    AirtightnessResult,
    FanTestResult,
    FitBand,
    FlowEstimate,
)
from rooftree.readings.airtightness.sizes import (
    LeakageSizes,
    hole_in_words,
    leakage_area,
    normalized_leakage,
)
from rooftree.readings.airtightness.stations import Baseline, Densities, LeftOut, StationResult

__all__ = [
    "AirtightnessResult",
    "Baseline",
    "Cause",
    "CodeComparison",
    "Densities",
    "Direction",
    "Enclosure",
    "Explanation",
    "Fan",
    "FanBand",
    "FanReading",
    "FanTest",
    "FanTestResult",
    "FitBand",
    "FitMethod",
    "FlowEstimate",
    "LeakageCurve",
    "LeakageFit",
    "LeakageSizes",
    "LeftOut",
    "LimitComparison",
    "Standard",
    "Station",
    "StationResult",
    "TestComparison",
    "compare_tests",
    "compare_with_code",
    "flow_at",
    "hole_in_words",
    "leakage_area",
    "normalized_leakage",
    "reduce_both_directions",
    "reduce_fan_test",
]
