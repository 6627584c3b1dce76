"""What a fan test is held against, each limit with where it comes from."""

from __future__ import annotations

import math
from dataclasses import dataclass

from rooftree.readings.airtightness.readings import Standard
from rooftree.readings.airtightness.stations import LARGEST_BASELINE, LARGEST_DRIFT

CHECKLIST = (
    "ISO 9972:2015, as quoted in the Passive House Institute's checklist for test reports of "
    "airtightness measurements"
)
ADVISERS = "ISO 9972:2015, as summarized for German energy advisers"
COURSE = "ISO 9972:2015, as quoted in C. Ghiaus, dm4bem_book, tutorial A06"
RECALLED_ISO = "recalled: ISO 9972:2015"
RECALLED_E779 = "recalled: ASTM E779"
COMMON = "common practice"


@dataclass(frozen=True, slots=True)
class Limit:
    """One number that a reading is held against.

    Attributes
    ----------
    value : float
        In `unit`.
    unit : str
        As written in a docstring.
    source : str
        Document and clause, ``"common practice"``, or ``"recalled: ..."``.
    """

    value: float
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Limits:
    """Limits of one standard.

    Attributes
    ----------
    fewest_points, widest_step : Limit
        Of the stations [-], [Pa].
    highest_pressure, least_highest_pressure : Limit
        That the highest station should reach, and below which the test is void [Pa].
    full_range : Limit
        Highest pressure of the full range [Pa].
    lowest_pressure : Limit
        Of the lowest station [Pa]; or five baselines, whichever is more.
    wind : Limit
        Near the house [m/s].
    stack : Limit
        Height times temperature difference [m·K].
    """

    fewest_points: Limit
    widest_step: Limit
    highest_pressure: Limit
    least_highest_pressure: Limit
    full_range: Limit
    lowest_pressure: Limit
    wind: Limit
    stack: Limit


LIMITS = {
    Standard.ISO_9972: Limits(
        fewest_points=Limit(5, "-", ADVISERS),
        widest_step=Limit(10.0, "Pa", ADVISERS),
        highest_pressure=Limit(50.0, "Pa", ADVISERS),
        least_highest_pressure=Limit(25.0, "Pa", RECALLED_ISO),
        full_range=Limit(50.0, "Pa", ADVISERS),
        lowest_pressure=Limit(10.0, "Pa", ADVISERS),
        wind=Limit(3.0, "m/s", RECALLED_ISO),
        stack=Limit(250.0, "m·K", RECALLED_ISO),
    ),
    Standard.ASTM_E779: Limits(
        fewest_points=Limit(5, "-", RECALLED_E779),
        widest_step=Limit(10.0, "Pa", RECALLED_E779),
        highest_pressure=Limit(50.0, "Pa", COMMON),
        least_highest_pressure=Limit(25.0, "Pa", COMMON),
        full_range=Limit(60.0, "Pa", RECALLED_E779),
        lowest_pressure=Limit(10.0, "Pa", RECALLED_E779),
        wind=Limit(2.0, "m/s", RECALLED_E779),
        stack=Limit(200.0, "m·K", RECALLED_E779),
    ),
}
"""Limits by standard."""

BASELINE = Limit(LARGEST_BASELINE, "Pa", CHECKLIST)
DRIFT = Limit(LARGEST_DRIFT, "Pa", COMMON)
BASELINES_BELOW_LOWEST = Limit(5.0, "-", ADVISERS)
"""How many times the baseline the lowest station must be."""
STATION_TOLERANCE = Limit(3.0, "Pa", ADVISERS)
"""How far a station may lie from where it should."""
GUSTS = Limit(1.0, "Pa", f"{COMMON}; the number is ours")
"""Standard deviation of the baseline readings of one set."""
ROOM_SHARE = Limit(0.1, "0-1", "recalled: ISO 9972:2015, same pressure throughout to 10 %")
"""Pressure between rooms over that of the house."""
LOWEST_CEILING, HIGHEST_CEILING = Limit(2.0, "m", COMMON), Limit(4.0, "m", COMMON)
"""Volume over floor area of nearly every dwelling."""
LEAST_ENVELOPE, MOST_ENVELOPE = Limit(0.9, "-", "geometry"), Limit(2.5, "-", COMMON)
"""Envelope area over that of a cube of the same volume; no box has less than 1."""
SAME_TEMPERATURE = Limit(1e-6, "K", COMMON)
"""Indoor and outdoor temperature nearer than this are one number typed twice."""
LEAST_EXPONENT = Limit(0.5, "-", CHECKLIST)
GREATEST_EXPONENT = Limit(1.0, "-", CHECKLIST)
R_SQUARED = Limit(0.98, "-", COURSE)
LEAST_ONE_POINT = Limit(15.0, "Pa", "recalled: ANSI/RESNET/ICC 380, one-point test")
DIRECTIONS = Limit(0.10, "0-1", COMMON)
"""Difference of the flows at 50 Pa in both directions, over their mean."""
OUTLIER = Limit(0.03, "0-1", COMMON)
"""Below this distance from the line of the others no station is worth naming."""
TIGHTEST, LEAKIEST = Limit(0.2, "1/h", COMMON), Limit(80.0, "1/h", COMMON)
"""Air changes at 50 Pa of nearly every house ever tested lie well inside these."""

SURE_PLACE = Limit(0.8, "0-1", COMMON)
"""Probability from which the place of a change is told without "or near there"."""
SHOWN = Limit(0.05, "0-1", COMMON)
"""How far the flow shown may be from the fan's own calibration."""
SHOWN_OUTSIDE = math.log(1.25)
"""How far outside its band a flow shown must put the fan to be doubted [-], as a logarithm."""
WEAKEST, STRONGEST = Limit(2.0, "Pa", COMMON), Limit(1000.0, "Pa", COMMON)
"""Between which the highest pressure of any house test lies."""

FLOW_SLIP = 0.471947
"""One cfm in L/s [-]: what a flow is wrong by where the two are mixed up."""
PRESSURE_SLIP = 249.089
"""One inch of water in Pa [-]: what a pressure is wrong by where the two are mixed up."""
FLOW_SLIPS = {
    "cfm noted as L/s": FLOW_SLIP,
    "L/s noted as cfm": 1.0 / FLOW_SLIP,
    "m³/h noted as L/s": 1.0 / 3.6,
    "L/s noted as m³/h": 3.6,
    "m³/h noted as cfm": 1.0 / 1.699011,
    "cfm noted as m³/h": 1.699011,
}
"""What a flow must be multiplied with to undo each mistaken unit [-], by what happened."""
SLIP_TOLERANCE = math.log(1.15)
"""How near a ratio must be to such a factor to suspect a slip [-], as a logarithm."""
