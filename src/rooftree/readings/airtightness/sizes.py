"""What a leakage curve means for a house: air changes, areas, and a hole one can picture.

Sources
-------
[ISO9972] ISO 9972:2015 (names and units as explained by the TightVent platform).
[E779] ASTM E779; [CGSB] CAN/CGSB-149.10-M86; [HOF2021] ASHRAE Handbook - Fundamentals,
2021, chapter 16, eq. 41 to 46; [119] ANSI/ASHRAE 119.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.air import REFERENCE_DENSITY
from rooftree.units import DisplaySystem

if TYPE_CHECKING:
    from rooftree.physics.uncertainty import Estimate
    from rooftree.readings.airtightness.readings import Enclosure

SHARP_EDGED = 0.611
"""Discharge coefficient of a sharp-edged hole, for the equivalent leakage area [-]."""

REFERENCE_HEIGHT = 2.5
"""Height of the one-storey house that normalized leakage compares with [m]."""

FOOT = 0.3048
INCH = 0.0254


@dataclass(frozen=True, slots=True)
class LeakageSizes:
    """Every result of a fan test, each with its 95 % limits.

    The limits hold all that is known of the measurement; they do not hold how well volume
    and areas were taken. Flows are at reference conditions, 20 °C and 101 325 Pa.

    Attributes
    ----------
    flow50, flow10, flow4 : Estimate
        Flow at 50, 10 and 4 Pa [m³/s].
    air_changes50 : Estimate
        Flow at 50 Pa over volume [1/h].
    permeability50 : Estimate
        Flow at 50 Pa over envelope area, qE50 [m³/(s·m²)].
    specific_leakage50 : Estimate
        Flow at 50 Pa over floor area, qF50 [m³/(s·m²)].
    effective_leakage_area : Estimate
        ELA: smooth nozzle with the same flow at 4 Pa [m²].
    equivalent_leakage_area : Estimate
        EqLA: sharp-edged hole with the same flow at 10 Pa [m²].
    normalized_leakage : Estimate
        ELA over floor area, times 1000 (H/2.5 m)^0.3 [-].
    ventilation_normalized_leakage : Estimate
        The same with the exponent 0.4 that ASHRAE 62.2 uses [-].
    specific_leakage_area : Estimate
        ELA over floor area [-].
    normalized_leakage_area : Estimate
        EqLA over envelope area [-].
    """

    flow50: Estimate
    flow10: Estimate
    flow4: Estimate
    air_changes50: Estimate
    permeability50: Estimate
    specific_leakage50: Estimate
    effective_leakage_area: Estimate
    equivalent_leakage_area: Estimate
    normalized_leakage: Estimate
    ventilation_normalized_leakage: Estimate
    specific_leakage_area: Estimate
    normalized_leakage_area: Estimate


def leakage_area(
    flow: float,
    pressure: float,
    discharge_coefficient: float = 1.0,
    density: float = REFERENCE_DENSITY,
) -> float:
    """Return the area of a hole through which a flow would pass.

    Parameters
    ----------
    flow : float
        Through the hole [m³/s].
    pressure : float
        Across the hole [Pa], > 0.
    discharge_coefficient : float
        1 for a smooth nozzle, 0.611 for a sharp edge [-].
    density : float
        Of the air [kg/m³].

    Returns
    -------
    float
        Area [m²].

    Notes
    -----
    ``A = Q sqrt(rho / (2 dp)) / C_D`` [HOF2021]_ eq. 41. With a leakage curve this is
    ``C dp^(n-0.5) sqrt(rho/2) / C_D``: at 4 Pa and ``C_D`` = 1 the effective leakage area
    of [E779]_, at 10 Pa and 0.611 the equivalent leakage area of [CGSB]_.

    Examples
    --------
    >>> round(1e4 * leakage_area(0.0644, 4.0))
    250
    """
    return flow * math.sqrt(density / (2.0 * pressure)) / discharge_coefficient


def normalized_leakage(
    area: float, floor_area: float, height: float, exponent: float = 0.3
) -> float:
    """Return leakage compared with a one-storey house of the same floor area.

    Parameters
    ----------
    area : float
        Effective leakage area [m²].
    floor_area : float
        Of the house [m²].
    height : float
        Of the house [m].
    exponent : float
        On the height [-]: 0.3 in ASHRAE 119 and the studies of the stock, 0.4 in
        ASHRAE 62.2 since 2013.

    Returns
    -------
    float
        Normalized leakage [-].

    Notes
    -----
    ``NL = 1000 (ELA / A_floor) (H / 2.5 m)^z`` [119]_; [HOF2021]_ eq. 46 with z = 0.4.

    Examples
    --------
    >>> round(normalized_leakage(0.025066, 140.0, 5.0), 4)
    0.2204
    """
    return 1000.0 * area / floor_area * math.pow(height / REFERENCE_HEIGHT, exponent)


def leakage_sizes(
    flow50: Estimate, flow10: Estimate, flow4: Estimate, enclosure: Enclosure
) -> LeakageSizes:
    """Return every result that follows from three flows and the size of the house.

    Parameters
    ----------
    flow50, flow10, flow4 : Estimate
        Flow at 50, 10 and 4 Pa at reference conditions.
    enclosure : Enclosure
        Volume, areas and height of the tested space.

    Returns
    -------
    LeakageSizes

    Notes
    -----
    ``n50 = Q50/V``, ``qE50 = Q50/A_E``, ``qF50 = Q50/A_F`` [ISO9972]_.
    """
    floor, envelope = enclosure.floor_area, enclosure.envelope_area
    effective = flow4.times(leakage_area(1.0, 4.0))
    equivalent = flow10.times(leakage_area(1.0, 10.0, SHARP_EDGED))
    return LeakageSizes(
        flow50=flow50,
        flow10=flow10,
        flow4=flow4,
        air_changes50=flow50.times(3600.0 / enclosure.volume),
        permeability50=flow50.times(1.0 / envelope),
        specific_leakage50=flow50.times(1.0 / floor),
        effective_leakage_area=effective,
        equivalent_leakage_area=equivalent,
        normalized_leakage=effective.times(normalized_leakage(1.0, floor, enclosure.height)),
        ventilation_normalized_leakage=effective.times(
            normalized_leakage(1.0, floor, enclosure.height, 0.4)
        ),
        specific_leakage_area=effective.times(1.0 / floor),
        normalized_leakage_area=equivalent.times(1.0 / envelope),
    )


def hole_in_words(area: float, system: DisplaySystem) -> str:
    """Say how large a hole is, as something that anybody has seen.

    Parameters
    ----------
    area : float
        Of the hole [m²], >= 0; best the equivalent leakage area, which is that of a real,
        sharp-edged hole.
    system : DisplaySystem
        Feet and inches, or centimetres.

    Returns
    -------
    str
        To follow "all the leaks together are as large as".

    Notes
    -----
    A window is taken 2 ft (60 cm) wide and 4 ft (120 cm) high, a door 3 ft (90 cm) wide and
    80 in (200 cm) high.

    Examples
    --------
    >>> hole_in_words(0.2787, DisplaySystem.IP)
    'a window left open by 2 ft x 1.5 ft'
    >>> hole_in_words(0.2787, DisplaySystem.SI)
    'a window left open by 60 cm x 46 cm'
    """
    ip = system == DisplaySystem.IP
    if area < 0.01:
        across = 2.0 * math.sqrt(area / math.pi)
        size = f"{across / INCH:.1f} in" if ip else f"{100.0 * across:.0f} cm"
        return f"a round hole {size} across"
    width, tallest = (2.0 * FOOT, 4.0 * FOOT) if ip else (0.6, 1.2)
    if area <= width * tallest:
        height = area / width
        opened = f"2 ft x {_feet(height)}" if ip else f"60 cm x {100.0 * height:.0f} cm"
        return f"a window left open by {opened}"
    door = 3.0 * FOOT * 80.0 * INCH if ip else 0.9 * 2.0
    if area <= door:
        width = area / (80.0 * INCH if ip else 2.0)
        return f"a door left ajar by {f'{width / INCH:.0f} in' if ip else f'{100 * width:.0f} cm'}"
    return f"{area / door:.1f} doors standing wide open"


def _feet(length: float) -> str:
    """Return a length in feet, in inches where it is under one foot."""
    feet = round(length / FOOT, 1)
    return f"{feet:g} ft" if feet >= 1.0 else f"{length / INCH:.0f} in"
