"""Ranges of the six programs of ANSI/ASHRAE Standard 140-2023 for the test room.

Denver 725650 TMY3. Table numbers are those of the standard's informative results. What is
known to lie outside stands in `OUTSIDE` with its reason; the size is on the page that the
tests write.
"""

from __future__ import annotations

from engine.validation.checks import Check, Suite

SOURCE = "ANSI/ASHRAE Standard 140-2023, informative results, six programs"
READ = "quoted in two public compilations"

Range = tuple[float, float]

LOADS: dict[str, tuple[Range, Range, Range, Range]] = {
    "600": ((3.993, 4.504), (5.432, 6.162), (3.020, 3.359), (5.422, 6.481)),
    "620": ((4.094, 4.719), (3.841, 4.404), (3.038, 3.385), (3.955, 4.797)),
    "640": ((2.403, 2.682), (5.237, 5.893), (4.039, 4.658), (5.365, 6.429)),
    "660": ((3.574, 3.821), (2.966, 3.340), (2.620, 2.955), (3.343, 3.933)),
    "670": ((5.300, 6.140), (5.954, 6.623), (3.655, 4.221), (5.839, 6.925)),
    "680": ((1.732, 2.286), (5.932, 6.529), (1.778, 2.126), (5.761, 7.051)),
    "685": ((4.532, 5.042), (8.238, 9.130), (3.032, 3.374), (6.071, 7.159)),
    "900": ((1.379, 1.814), (2.267, 2.714), (2.443, 2.778), (2.556, 3.376)),
    "920": ((2.956, 3.607), (2.549, 3.128), (2.512, 2.895), (2.710, 3.481)),
    "950": ((0.000, 0.000), (0.586, 0.707), (0.000, 0.000), (2.054, 2.388)),
    "195": ((3.951, 4.217), (0.592, 0.712), (1.791, 1.802), (0.944, 1.118)),
    "220": ((6.377, 7.178), (0.498, 0.803), (2.631, 2.879), (0.968, 1.336)),
    "230": ((9.812, 10.417), (0.897, 1.184), (4.133, 4.316), (1.694, 1.994)),
    "240": ((5.116, 5.944), (0.834, 1.287), (2.431, 2.693), (1.150, 1.534)),
    "250": ((4.733, 5.373), (2.904, 3.612), (2.631, 2.874), (2.688, 3.034)),
    "270": ((4.273, 4.631), (6.698, 7.522), (2.560, 2.843), (5.832, 7.011)),
    "395": ((4.565, 5.145), (0.004, 0.021), (1.948, 2.161), (0.265, 0.547)),
    "430": ((5.171, 5.954), (0.739, 1.084), (3.254, 3.409), (1.704, 2.167)),
}
"""Heat and cold of the year [MWh], peak heat and cold [kW]."""

TEMPERATURES: dict[str, tuple[Range, Range, Range]] = {
    "600FF": ((62.4, 68.4), (-13.8, -9.9), (24.3, 26.1)),
    "650FF": ((61.1, 66.8), (-17.8, -16.7), (17.6, 18.9)),
    "900FF": ((43.3, 46.0), (0.6, 2.2), (24.5, 25.7)),
}
"""Largest, least and mean [°C]."""

DELTAS: dict[str, tuple[Range, Range, Range, Range]] = {
    "620-600": ((0.101, 0.320), (-1.968, -1.418), (-0.110, 0.033), (-1.988, -0.946)),
    "640-600": ((-1.851, -1.368), (-0.302, -0.018), (0.680, 1.623), (-0.079, 0.000)),
    "660-600": ((-0.714, -0.226), (-2.943, -2.172), (-0.635, -0.237), (-2.663, -2.067)),
    "680-600": ((-2.315, -1.831), (0.116, 0.530), (-1.244, -1.129), (0.111, 0.570)),
    "900-600": ((-2.777, -2.324), (-3.674, -3.049), (-0.704, -0.517), (-3.311, -2.611)),
    "920-900": ((1.577, 1.793), (0.242, 0.414), (0.060, 0.344), (-0.320, 0.442)),
    "230-220": ((3.146, 3.475), (0.379, 0.399), (1.294, 1.624), (0.620, 0.726)),
    "240-220": ((-1.261, -1.176), (0.326, 0.484), (-0.200, -0.178), (0.178, 0.198)),
    "250-220": ((-1.805, -1.556), (2.406, 2.921), (-0.008, 0.000), (1.577, 2.022)),
    "270-220": ((-2.905, -2.070), (6.148, 6.912), (-0.303, -0.035), (4.792, 5.903)),
}
"""Changes of the same four numbers between two cases."""

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
          "October", "November", "December")  # fmt: skip

HEATING_BY_MONTH: tuple[Range, ...] = (
    (655.6, 734.9), (626.3, 702.1), (433.5, 495.0), (448.0, 517.3), (112.8, 150.7), (2.7, 16.0),
    (4.8, 16.7), (1.4, 9.6), (51.8, 84.8), (317.0, 367.1), (575.6, 645.8), (682.0, 763.5),
)  # fmt: skip
COOLING_BY_MONTH: tuple[Range, ...] = (
    (417.9, 554.0), (315.4, 398.0), (410.7, 489.0), (218.7, 263.0), (321.2, 364.0),
    (497.4, 578.3), (505.9, 568.4), (606.5, 674.0), (672.1, 743.0), (611.1, 681.0),
    (377.1, 454.7), (386.2, 503.3),
)  # fmt: skip
"""Case 600 [kWh]."""

FEBRUARY_1: tuple[Range, ...] = (
    (4.5, 13.0), (2.9, 10.3), (1.4, 7.9), (-0.0, 5.7), (-1.2, 3.8), (-2.3, 2.1), (-3.2, 0.7),
    (-3.3, 0.1), (-0.2, 4.1), (6.1, 12.0), (12.5, 20.7), (20.2, 29.8), (28.5, 38.2),
    (36.1, 44.9), (41.9, 48.8), (45.4, 49.8), (43.5, 47.3), (36.5, 44.0), (29.7, 39.5),
    (24.2, 34.4), (19.3, 29.3), (15.0, 24.6), (11.2, 20.2), (8.1, 16.3),
)  # fmt: skip
"""Temperature of case 600FF hour by hour [°C]."""

ANNUAL_SUN: dict[str, Range] = {
    "on the horizontal": (1663.0, 1670.0),
    "on the south wall": (1291.0, 1387.0),
    "on the north wall": (399.0, 477.0),
    "through the south glass": (804.0, 826.0),
}
"""Of the year [kWh/m²]."""

TRANSMISSIVITY: Range = (0.587, 0.627)
"""Sun through the south glass over sun on it, of the year [-]."""

JULY_14: dict[str, tuple[Range, ...]] = {
    "horizontal": (
        (0, 6), (82, 103), (264, 290), (466, 493), (657, 682), (816, 838), (932, 948), (996, 1005),
        (1002, 1008), (946, 955), (835, 848), (679, 697), (490, 512), (286, 309), (99, 116), (0, 7),
    ),
    "south": (
        (0, 3), (15, 27), (34, 55), (56, 82), (139, 179), (273, 306), (372, 399), (428, 450),
        (433, 453), (390, 409), (300, 321), (174, 198), (64, 85), (39, 58), (19, 30), (0, 3),
    ),
    "west": (
        (0, 3), (15, 27), (34, 55), (56, 82), (76, 104), (92, 119), (104, 134), (110, 141),
        (208, 259), (443, 492), (645, 684), (771, 812), (818, 862), (758, 807), (526, 590), (0, 95),
    ),
}  # fmt: skip
"""Sun on three planes on a clear day, in the hours that end at 5 to 20 [Wh/m²]."""

QUANTITIES = (
    ("heat of the year", "MWh"), ("cold of the year", "MWh"), ("peak of heat", "kW"),
    ("peak of cold", "kW"),
)  # fmt: skip

_ALTITUDE = (
    "natural convection inside is counted as at sea level; at 1650 m it is an eighth weaker "
    "(density to the power 2/3), with which this would lie inside, but heat of case 230 0.7 % and "
    "of case 640 0.6 % below the programs"
)
_STEP = "the engine steps by the hour; in steps of ten minutes it would lie inside"
_TRACE = (
    "within an hour faces and sun are constant, so that the temperature runs a quarter of an hour "
    "early while the sun climbs; in steps of ten minutes hours 9 to 12 would lie inside, 13 and 14 "
    "0.3 and 0.2 K above"
)
_RAMP = (
    "the engine steps by the hour, in which faces and a thermostat that rises from 10 to 20 °C "
    "stand still, so that a setback saves 5 % too much; in steps of ten minutes it would save "
    "1.785 MWh of heat and 0.276 of cold, both inside"
)
_BARE = (
    "with emittances of 0.1 convection alone makes the films; the programs agree to 0.6 %, ours is "
    "0.4 % below the lowest, and in steps of ten minutes 0.2 % above the highest"
)
OUTSIDE: dict[tuple[str, str], str] = {
    ("950", "peak of cold"): _ALTITUDE,
    ("195", "peak of heat"): _BARE,
    ("640-600", "heat of the year"): _RAMP,
    ("640-600", "cold of the year"): _RAMP,
    ("660-600", "heat of the year"): _ALTITUDE,
    ("680-600", "peak of heat"): _STEP,
    ("900-600", "peak of heat"): _STEP,
    ("240-220", "heat of the year"): _STEP,
    ("270-220", "peak of heat"): _ALTITUDE,
    ("600", "heat of April"): _ALTITUDE,
    ("600", "cold of October"): _ALTITUDE,
    **{("600FF", f"temperature on 1 February, hour {hour}"): _TRACE for hour in range(9, 15)},
}
"""Why a result lies outside, by case and quantity; each reason was tried."""


def _check(case: str, quantity: str, unit: str, limits: Range, digits: int) -> Check:
    return Check(case, quantity, unit, *limits, digits, OUTSIDE.get((case, quantity), ""))


def _four(table: dict[str, tuple[Range, Range, Range, Range]]) -> tuple[Check, ...]:
    return tuple(
        _check(case, quantity, unit, limits, 3)
        for case, ranges in table.items()
        for (quantity, unit), limits in zip(QUANTITIES, ranges, strict=True)
    )


LOAD_CHECKS = _four(LOADS)
DELTA_CHECKS = _four(DELTAS)
TEMPERATURE_CHECKS = tuple(
    _check(case, f"{which} temperature", "°C", limits, 1)
    for case, ranges in TEMPERATURES.items()
    for which, limits in zip(("largest", "least", "mean"), ranges, strict=True)
)
MONTH_CHECKS = tuple(
    _check("600", f"{kind} of {month}", "kWh", limits, 1)
    for kind, ranges in (("heat", HEATING_BY_MONTH), ("cold", COOLING_BY_MONTH))
    for month, limits in zip(MONTHS, ranges, strict=True)
)
TRACE_CHECKS = tuple(
    _check("600FF", f"temperature on 1 February, hour {hour}", "°C", limits, 1)
    for hour, limits in enumerate(FEBRUARY_1, start=1)
)
SUN_CHECKS = (
    *(_check("600", f"sun {where}", "kWh/m²", limits, 0) for where, limits in ANNUAL_SUN.items()),
    _check("600", "sun through the south glass over sun on it", "-", TRANSMISSIVITY, 3),
)
DAY_CHECKS = tuple(
    _check("600", f"sun on 14 July, {plane}, hour {hour}", "Wh/m²", limits, 0)
    for plane, ranges in JULY_14.items()
    for hour, limits in enumerate(ranges, start=5)
)

SUITE = Suite(
    "Test room",
    SOURCE,
    READ,
    "Denver 725650 TMY3. Ratings of the windows, and what they pass, follow from the published "
    "panes. A range is the span of the six programs; a result outside it is a flag to explain, not "
    "proof of an error. "
    "Cases 610 and 630 (shade), 650 and 960 (sunspace) run, without ranges to hold them against. "
    "Changes are named by the two cases. Changed with these results in view: still air conducts "
    "0.02 instead of 0.1 W/(m²·K) to a face (before, cold of 685 and 270 and peaks of 620 and 685 "
    "lay outside; now cold of 270 is inside by its last digit, the peak of heat of 195 "
    "outside), one pane absorbs what its reflectance leaves (before, cold of 670 lay outside), and "
    "a window may state what it passes of the sun (before, a fit to its ratings gave the coated "
    "glass of 660 0.349 for the 0.389 of its panes; its cold and peak of cold lay outside). "
    "Tried and left out: weaker convection at altitude.",
    (*LOAD_CHECKS, *TEMPERATURE_CHECKS, *DELTA_CHECKS, *MONTH_CHECKS, *TRACE_CHECKS, *SUN_CHECKS,
     *DAY_CHECKS),
)  # fmt: skip
