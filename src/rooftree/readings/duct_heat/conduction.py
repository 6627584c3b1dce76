"""Heat through the wall of a duct: layers round it, and air that cools or warms along it.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals 2021, ch. 21 (air in a duct, exponential form) and
    ch. 26 Table 1 (conductivities).
[SHAPE] Conduction between a level cylinder and a plane above it, shape factor of textbooks
    of heat transfer (recalled).
[COMPRESS] Journal of Light Construction, question on compressing fiberglass batts: x percent
    of the thickness lost takes about x/2 percent of the labelled resistance.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError

WRAP_CONDUCTIVITY = 0.047
"""Of light glass-fibre blanket, 7.5 to 8.2 kg/m³, the middle of 0.046 to 0.048 [W/(m·K)]
[HOF2021]_."""

FOAM_CONDUCTIVITY = 0.0245
"""Of aged closed-cell foam, the middle of 0.020 to 0.029 [W/(m·K)] [HOF2021]_."""

LOOSE_CONDUCTIVITY = 0.0535
"""Of loose glass fibre on an attic floor, the middle of 0.052 to 0.055 [W/(m·K)]
[HOF2021]_; cellulose of 0.040 insulates better."""


def arriving_temperature(
    entering: float, surroundings: float, conductance: float, capacity_rate: float
) -> float:
    """Return the temperature of air at the end of a run.

    Parameters
    ----------
    entering, surroundings : float
        Of the air that enters, and round the run [K].
    conductance : float
        From the air inside to that outside, of the whole run [W/K], >= 0.
    capacity_rate : float
        Mass flow times specific heat [W/K], > 0.

    Returns
    -------
    float
        Temperature [K].

    Raises
    ------
    OutOfRangeError
        If no air flows.

    Notes
    -----
    ``T = T_s + (T_e - T_s) exp(-UA / (m c))`` [HOF2021]_.

    References
    ----------
    [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 21.

    Examples
    --------
    >>> round(arriving_temperature(286.0, 320.0, 10.0, 60.0), 1)
    291.2
    """
    if not capacity_rate > 0.0:
        raise OutOfRangeError("capacity rate", capacity_rate, 0.0, math.inf, "W/K")
    return surroundings + (entering - surroundings) * math.exp(-conductance / capacity_rate)


def conductance_from(
    entering: float, arriving: float, surroundings: float, capacity_rate: float
) -> float:
    """Return the conductance of a run from the temperatures at its ends.

    Parameters
    ----------
    entering, arriving, surroundings : float
        Of the air at both ends and round the run [K]; the arriving one between the others.
    capacity_rate : float
        Mass flow times specific heat [W/K].

    Returns
    -------
    float
        Conductance of the run [W/K].

    Raises
    ------
    OutOfRangeError
        If the arriving air is not between the entering air and the surroundings.

    Notes
    -----
    The inverse of :func:`arriving_temperature`.

    Examples
    --------
    >>> round(conductance_from(286.0, 291.22, 320.0, 60.0), 1)
    10.0
    """
    ends = sorted((entering, surroundings))
    if entering == surroundings or not ends[0] <= arriving <= ends[1] or arriving == surroundings:
        raise OutOfRangeError("arriving temperature", arriving, ends[0], ends[1], "K")
    return -capacity_rate * math.log((arriving - surroundings) / (entering - surroundings))


def round_layer(inner_perimeter: float, thickness: float, conductivity: float) -> float:
    """Return the resistance of a layer round one meter of duct.

    Parameters
    ----------
    inner_perimeter : float
        Round the inner face of the layer [m].
    thickness : float
        Of the layer [m], >= 0.
    conductivity : float
        Of its material [W/(m·K)].

    Returns
    -------
    float
        Resistance of one meter of duct [m·K/W].

    Notes
    -----
    ``ln(P_outer / P_inner) / (2 π k)`` with ``P_outer = P_inner + 2 π t``: exact for a round
    duct. A rectangular one with round corners of the wrap is taken as round of the same
    perimeter, 2 % off for a duct of 0.3 by 0.2 m with 50 mm of wrap.

    Examples
    --------
    >>> round(round_layer(0.5, 0.05, 0.047), 3)
    1.651
    """
    outer = inner_perimeter + 2.0 * math.pi * thickness
    return math.log(outer / inner_perimeter) / (2.0 * math.pi * conductivity)


def flat_resistance(inner_perimeter: float, resistance: float, conductivity: float) -> float:
    """Return the flat blanket whose wrap round a duct has a resistance.

    Parameters
    ----------
    inner_perimeter : float
        Round the inner face of the blanket [m].
    resistance : float
        Of one meter of duct [m·K/W].
    conductivity : float
        Of the blanket [W/(m·K)].

    Returns
    -------
    float
        Resistance of the blanket lying flat [m²·K/W]; the inverse of :func:`round_layer`.

    Examples
    --------
    >>> round(flat_resistance(0.5, 1.651, 0.047), 3)
    1.064
    """
    growth = math.expm1(2.0 * math.pi * conductivity * resistance)
    return inner_perimeter * growth / (2.0 * math.pi) / conductivity


def compressed_resistance(labelled: float, share_of_thickness: float) -> float:
    """Return the resistance of a blanket that is thinner than it was made.

    Parameters
    ----------
    labelled : float
        As made [m²·K/W].
    share_of_thickness : float
        Thickness found over thickness as made [0-1].

    Returns
    -------
    float
        Resistance [m²·K/W]; not more than labelled.

    Notes
    -----
    Half of the share of thickness that is lost is lost of the resistance [COMPRESS]_, a rule
    of thumb: denser glass fibre insulates better.

    References
    ----------
    [COMPRESS] Journal of Light Construction, on compressing fiberglass batts.

    Examples
    --------
    >>> round(compressed_resistance(1.4, 0.5), 2)
    1.05
    """
    return labelled * (0.5 + 0.5 * min(max(share_of_thickness, 0.0), 1.0))


def buried_layer(outer_diameter: float, depth: float, conductivity: float) -> float:
    """Return the resistance of loose insulation over one meter of duct.

    Parameters
    ----------
    outer_diameter : float
        Of the duct with its wrap [m].
    depth : float
        Of the insulation above its top [m], > 0.
    conductivity : float
        Of the insulation [W/(m·K)].

    Returns
    -------
    float
        Resistance of one meter of duct [m·K/W].

    Notes
    -----
    ``arcosh(z / r) / (2 π k)`` with z from the axis to the surface [SHAPE]_, as if the
    insulation went on below the duct: a room below that is cooler than the attic only helps.

    References
    ----------
    [SHAPE] Textbooks of heat transfer, recalled.

    Examples
    --------
    >>> round(buried_layer(0.25, 0.09, 0.0535), 2)
    3.38
    """
    radius = 0.5 * outer_diameter
    return math.acosh(1.0 + depth / radius) / (2.0 * math.pi * conductivity)


def outer_temperature(air: float, surroundings: float, within: float, beyond: float) -> float:
    """Return the temperature of the outer face of a duct.

    Parameters
    ----------
    air, surroundings : float
        Inside and round the duct [K].
    within : float
        Resistance from the air inside to the face [m·K/W] or [m²·K/W].
    beyond : float
        Resistance from the face to the air round it, in the same unit [as `within`].

    Returns
    -------
    float
        Temperature [K].

    Examples
    --------
    >>> round(outer_temperature(285.93, 305.37, 0.7397, 0.1074), 2)
    302.91
    """
    return surroundings - (surroundings - air) * beyond / (within + beyond)


def resistance_against_dew(
    air: float, surroundings: float, dew_point: float, beyond: float
) -> float:
    """Return the resistance that keeps the outer face of a cold duct at the dew point.

    Parameters
    ----------
    air, surroundings, dew_point : float
        Inside the duct, round it, and of the air round it [K].
    beyond : float
        Resistance from the face to the air round it [m²·K/W] or [m·K/W].

    Returns
    -------
    float
        Resistance from the air inside to the face, in the same unit; 0 where none is needed
        and infinite where the air round it is saturated.

    Notes
    -----
    ``R = R_o ((T_s - T_air) / (T_s - T_dew) - 1)``.

    Examples
    --------
    >>> round(resistance_against_dew(285.93, 305.37, 297.04, 0.1074), 3)
    0.143
    """
    if dew_point <= air or air >= surroundings:
        return 0.0
    if dew_point >= surroundings:
        return math.inf
    return beyond * ((surroundings - air) / (surroundings - dew_point) - 1.0)
