"""Acceptance ranges of the residential cases: zone loads of a year [million Btu].

The example criterion of ANSI/ASHRAE Standard 140, annex B22: the 90 % band of three programs
of 1995, widened to at least 4 million Btu beyond them.
"""

from __future__ import annotations

from engine.validation.checks import Check, Suite

SOURCE = "NREL/TP-472-7332 (1995) and ANSI/ASHRAE Standard 140, residential cases, annex B22"
READ = "quoted in an NREL validation report and its results workbook"

Range = tuple[float, float]

HEATING: dict[str, Range] = {
    "L100": (48.76, 79.46), "L110": (71.92, 103.99), "L120": (37.86, 64.27),
    "L140": (43.25, 56.48), "L150": (40.97, 71.32), "L170": (61.03, 92.41),
    "L302": (56.69, 90.55),
}  # fmt: skip
"""Colorado Springs."""

HEATING_CHANGES: dict[str, Range] = {
    "L110-L100": (19.39, 28.14), "L120-L100": (-18.57, -7.67), "L140-L100": (-24.41, -4.55),
    "L150-L100": (-12.52, -3.01), "L170-L100": (7.12, 17.65), "L302-L100": (4.56, 14.53),
}  # fmt: skip

COOLING: dict[str, Range] = {
    "L100": (50.66, 64.08), "L110": (53.71, 68.50), "L120": (47.36, 60.14),
    "L140": (19.52, 30.54), "L150": (62.42, 82.32), "L170": (41.83, 53.30),
}  # fmt: skip
"""Las Vegas."""

COOLING_CHANGES: dict[str, Range] = {
    "L110-L100": (-0.95, 7.86), "L120-L100": (-8.31, 0.70), "L140-L100": (-38.68, -27.14),
    "L150-L100": (8.71, 21.27), "L170-L100": (-15.00, -4.83),
}  # fmt: skip


def _checks(quantity: str, suffix: str, ranges: dict[str, Range]) -> tuple[Check, ...]:
    return tuple(
        Check("-".join(part + suffix for part in case.split("-")), quantity, "MBtu", *limits, 2)
        for case, limits in ranges.items()
    )


HEATING_CHECKS = _checks("heat of the year", "AC", {**HEATING, **HEATING_CHANGES})
COOLING_CHECKS = _checks("cold of the year", "AL", {**COOLING, **COOLING_CHANGES})

SUITE = Suite(
    "Residential house",
    SOURCE,
    READ,
    "Colorado Springs (AC) and Las Vegas (AL), years of 1981. Films are the engine's own, not the "
    "fixed ones of the specification: rooms lose less through them, so that heat lies in the lower "
    "half of the ranges, as with other hourly engines. Recalled: rating of the windows, framing of "
    "the better wall. The slab is given its published resistance to outdoor air. 1 MBtu is "
    "1.055 GJ.",
    (*HEATING_CHECKS, *COOLING_CHECKS),
)
