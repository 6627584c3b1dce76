"""Infiltration that 62.2 credits, from the fan test and a weather-and-shielding factor.

Sources
-------
[SWS] US DOE, Standard Work Specifications, "Calculation of the infiltration credit":
    ``Q_inf = 0.052 wsf S Q50``, S by storeys in Table A-1.
[UMC] Uniform Mechanical Code, appendix E, eq. 605.1.3.2: ``NL wsf A / 7.3`` (1.44 in SI).
[622] ASHRAE 62.2-2019, eq. 4-3, quoted in secondary sources: ``S = (H / 2.5 m)^0.4``.
"""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError
from rooftree.readings.ventilation.editions import CFM, SQUARE_FOOT, Form

REFERENCE_HEIGHT = {Form.IP: 8.2 * 0.3048, Form.SI: 2.5}
"""Height of one storey [m]: 8.2 ft, or 2.5 m."""

HEIGHT_EXPONENT = 0.4
"""Exponent of the height [-]."""

LEAKAGE_SHARE = 0.052
"""Infiltration over the flow at 50 Pa, for a factor and a height of one [-]."""


def _require_positive(**values: tuple[float, str]) -> None:
    for name, (value, unit) in values.items():
        if not 0.0 < value < math.inf:
            raise OutOfRangeError(name, value, 0.0, math.inf, unit)


def height_factor(height: float, form: Form = Form.IP) -> float:
    """Return how much more a tall dwelling leaks than a low one.

    Parameters
    ----------
    height : float
        From the lowest floor above grade to the highest ceiling [m], > 0.
    form : Form
        Which of the two printed reference heights to use.

    Returns
    -------
    float
        Factor [-]; 1 for one storey.

    Raises
    ------
    OutOfRangeError
        If the height is not positive.

    Notes
    -----
    ``(H / H_r)^0.4`` [622]_.

    References
    ----------
    .. [622] ASHRAE 62.2-2019, eq. 4-3.

    Examples
    --------
    >>> round(height_factor(5.0, Form.SI), 2)
    1.32
    """
    _require_positive(height=(height, "m"))
    return math.pow(height / REFERENCE_HEIGHT[form], HEIGHT_EXPONENT)


def infiltration_from_flow(
    flow_50: float, height: float, weather_factor: float, form: Form = Form.IP
) -> float:
    """Return the infiltration from the flow of the fan test at 50 Pa.

    Parameters
    ----------
    flow_50 : float
        Leakage at 50 Pa [m³/s], > 0.
    height : float
        From the lowest floor above grade to the highest ceiling [m], > 0.
    weather_factor : float
        Weather-and-shielding factor of the place [1/h], > 0.
    form : Form
        Which of the two printed reference heights to use.

    Returns
    -------
    float
        Effective annual infiltration [m³/s].

    Raises
    ------
    OutOfRangeError
        If a value is not positive.

    Notes
    -----
    ``0.052 Q50 wsf (H / H_r)^0.4`` [SWS]_, [622]_; right for an exponent of 0.65.

    References
    ----------
    .. [SWS] US DOE, Standard Work Specifications, infiltration credit.
    .. [622] ASHRAE 62.2-2019, eq. 4-3.
    """
    _require_positive(flow_50=(flow_50, "m³/s"), weather_factor=(weather_factor, "1/h"))
    return LEAKAGE_SHARE * flow_50 * weather_factor * height_factor(height, form)


def infiltration_from_area(
    leakage_area: float,
    floor_area: float,
    height: float,
    weather_factor: float,
    form: Form = Form.IP,
) -> float:
    """Return the infiltration from the leakage area at 4 Pa.

    Parameters
    ----------
    leakage_area : float
        Effective leakage area at 4 Pa, discharge coefficient 1 [m²], > 0.
    floor_area : float
        Of the dwelling [m²], > 0.
    height : float
        From the lowest floor above grade to the highest ceiling [m], > 0.
    weather_factor : float
        Weather-and-shielding factor of the place [1/h], > 0.
    form : Form
        Which of the two printed constants to use.

    Returns
    -------
    float
        Effective annual infiltration [m³/s].

    Raises
    ------
    OutOfRangeError
        If a value is not positive.

    Notes
    -----
    ``NL wsf A / 7.3`` in cfm and ft², ``NL wsf A / 1.44`` in L/s and m² [UMC]_, with
    ``NL = 1000 (ELA / A) (H / H_r)^0.4``; any exponent of the house.

    References
    ----------
    .. [UMC] Uniform Mechanical Code, appendix E, eq. 605.1.3.2.
    """
    _require_positive(
        leakage_area=(leakage_area, "m²"),
        floor_area=(floor_area, "m²"),
        weather_factor=(weather_factor, "1/h"),
    )
    normalized = 1000.0 * leakage_area / floor_area * height_factor(height, form)
    if form is Form.IP:
        return normalized * weather_factor * floor_area / SQUARE_FOOT / 7.3 * CFM
    return normalized * weather_factor * floor_area / 1.44 / 1000.0
