"""What insulation resists by material, density and temperature, and how it settles.

Sources
-------
[NOREGRETS] No-Regrets Remodeling (1997), reprinted by LBNL, citing the DOE insulation fact
    sheet and ASHRAE Fundamentals 1993: resistance of an inch.
[HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 26, table 1.
[ORNL] Wilkes and Childs, ORNL, "Thermal Performance of Fiberglass and Cellulose Attic
    Insulations": air that moves in loose glass fiber in the cold.
[ISO10456] ISO 10456, conversion of conductivity for temperature (recalled).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from rooftree.errors import OutOfRangeError
from rooftree.readings.insulation.readings import Material
from rooftree.tables.rows import table_rows

PACKAGE = "rooftree.readings.insulation"

TABLE_TEMPERATURE = 297.0
"""Mean temperature at which US tables are measured, 75 °F [K]; common practice."""

SETTLED = 2.0 * 365.0 * 86400.0
"""Age from which loose fill has settled [s]; ours, no source gives the time it takes."""

STILL_BELOW, CONVECTION_FULL, CONVECTION_MOST = 18.0, 40.5, 45.0
"""Differences at which air begins to move in loose glass fiber, at which the loss was
measured, and up to which we go beyond it [K] [ORNL]_: 32, 73 and 81 °F."""

CONVECTION_LOSS, CONVECTION_DOUBT = 0.425, 0.043
"""Loss of resistance there, 35 to 50 %, and its standard uncertainty [0-1] [ORNL]_."""


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One row of the table of materials.

    Attributes
    ----------
    material : Material
        Which.
    form : str
        ``"loose"``, ``"packed"``, ``"batt"``, ``"foam"`` or ``"board"``.
    low, high : float
        Conductivity [W/(m·K)].
    densities : tuple of float or None
        For which it was given [kg/m³].
    settling : tuple of float
        Share of the depth that is lost in time, lowest and highest [0-1]; recalled.
    unevenness : float
        Usual standard deviation of the depth over its mean [-]; ours.
    temperature_slope : float
        Relative rise of the conductivity [1/K] [ISO10456]_; recalled.
    source : str
        Of the conductivity.
    """

    material: Material
    form: str
    low: float
    high: float
    densities: tuple[float, float] | None
    settling: tuple[float, float]
    unevenness: float
    temperature_slope: float
    source: str


@dataclass(frozen=True, slots=True)
class Conductivity:
    """A conductivity with what is not known of it.

    Attributes
    ----------
    value, uncertainty : float
        And its standard uncertainty [W/(m·K)].
    by_density : bool
        Whether the density decided it.
    """

    value: float
    uncertainty: float
    by_density: bool


@cache
def material_table() -> dict[Material, MaterialRow]:
    """Return the table of materials.

    Returns
    -------
    dict of Material to MaterialRow
    """
    rows = {}
    for row in table_rows(PACKAGE, "materials.csv"):
        dense = (row["low_density"], row["high_density"])
        rows[Material(row["material"])] = MaterialRow(
            material=Material(row["material"]),
            form=row["form"],
            low=float(row["low_k"]),
            high=float(row["high_k"]),
            densities=(float(dense[0]), float(dense[1])) if all(dense) else None,
            settling=(float(row["low_settling"]), float(row["high_settling"])),
            unevenness=float(row["unevenness"]),
            temperature_slope=float(row["temperature_slope"]),
            source=row["source"],
        )
    return rows


@cache
def _density_table(material: Material) -> tuple[tuple[float, float, float], ...]:
    """Return density, conductivity and half its range for each published density."""
    return tuple(
        (
            0.5 * (float(row["low_density"]) + float(row["high_density"])),
            0.5 * (float(row["low_k"]) + float(row["high_k"])),
            0.5 * (float(row["high_k"]) - float(row["low_k"])),
        )
        for row in table_rows(PACKAGE, "densities.csv")
        if row["material"] == material
    )


def conductivity_of(
    material: Material, density: float | None = None, mean_temperature: float | None = None
) -> Conductivity:
    """Return the conductivity of a material.

    Parameters
    ----------
    material : Material
        Which.
    density : float or None
        Where it is known [kg/m³]; decides only for materials and densities for which
        conductivities by density are published.
    mean_temperature : float or None
        Of the insulation [K], 230 to 340; None for 297 K.

    Returns
    -------
    Conductivity
        The middle of the published range; its standard uncertainty is that of any value
        in the range being as likely as another.

    Raises
    ------
    OutOfRangeError
        If the temperature is outside its range.

    Notes
    -----
    Ranges of [NOREGRETS]_ and [HOF2021]_; between two published densities a straight
    line. Temperature: ``k exp(f (T - 297 K))`` [ISO10456]_, recalled, for fibers only.

    References
    ----------
    .. [NOREGRETS] No-Regrets Remodeling (1997), reprinted by LBNL.
    .. [HOF2021] ASHRAE Handbook - Fundamentals 2021, chapter 26, table 1.
    .. [ISO10456] ISO 10456 (recalled).

    Examples
    --------
    >>> from rooftree.readings.insulation.readings import Material
    >>> round(conductivity_of(Material.LOOSE_CELLULOSE).value, 4)
    0.0427
    >>> round(conductivity_of(Material.GLASS_BATT, density=13.5).value, 3)
    0.038
    """
    row = material_table()[material]
    value, half, by_density = 0.5 * (row.low + row.high), 0.5 * (row.high - row.low), False
    steps = _density_table(material)
    if density is not None and steps and steps[0][0] <= density <= steps[-1][0]:
        (first, low, wide), (second, high, narrow) = steps
        part = (density - first) / (second - first)
        value, half, by_density = low + part * (high - low), max(wide, narrow), True
    factor = temperature_factor(material, mean_temperature)
    return Conductivity(value * factor, half * factor / math.sqrt(3.0), by_density)


def temperature_factor(material: Material, mean_temperature: float | None) -> float:
    """Return conductivity at a temperature over that at the tables' temperature.

    Parameters
    ----------
    material : Material
        Which.
    mean_temperature : float or None
        Of the insulation [K], 230 to 340; None for 297 K.

    Returns
    -------
    float
        Ratio [-].

    Raises
    ------
    OutOfRangeError
        If the temperature is outside its range.
    """
    if mean_temperature is None:
        return 1.0
    if not 230.0 <= mean_temperature <= 340.0:
        raise OutOfRangeError("mean temperature", mean_temperature, 230.0, 340.0, "K")
    slope = material_table()[material].temperature_slope
    return math.exp(slope * (mean_temperature - TABLE_TEMPERATURE))


def settling_ahead(material: Material, age: float | None) -> tuple[float, float]:
    """Return the share of its depth that loose fill has still to lose.

    Parameters
    ----------
    material : Material
        Which.
    age : float or None
        Since it was blown [s], >= 0; None where nobody knows.

    Returns
    -------
    tuple of float
        The share and its standard uncertainty [0-1].

    Raises
    ------
    OutOfRangeError
        If the age is negative.

    Notes
    -----
    All of it on the day it is blown, none after two years, in proportion between: our
    reading, the shares themselves are recalled. Of unknown age it is taken to have
    settled: most insulation that is found is old.
    """
    if age is not None and not age >= 0.0:
        raise OutOfRangeError("age", age, 0.0, math.inf, "s")
    low, high = material_table()[material].settling
    if age is None or age >= SETTLED:
        return 0.0, 0.0
    part = 1.0 - age / SETTLED
    return part * 0.5 * (low + high), part * 0.5 * (high - low) / math.sqrt(3.0)


def convection_loss(
    material: Material, difference: float | None, *, air_covered: bool
) -> tuple[float, float]:
    """Return the share of its resistance that loose glass fiber loses to moving air.

    Parameters
    ----------
    material : Material
        Which; only loose glass fiber loses any.
    difference : float or None
        Between the warm side and the cold air above [K]; None leaves the effect out.
    air_covered : bool
        Whether batts, paper or film lie over it, which stops the air.

    Returns
    -------
    tuple of float
        The share and its standard uncertainty [0-1].

    Raises
    ------
    OutOfRangeError
        If the difference is beyond what was measured.

    Notes
    -----
    None up to a difference of 18 K, 35 to 50 % at 39 to 42 K, none in batts and
    cellulose [ORNL]_; between the two a straight line, ours.

    References
    ----------
    .. [ORNL] Wilkes and Childs, ORNL, "Thermal Performance of Fiberglass and Cellulose Attic
       Insulations" (abstract).

    Examples
    --------
    >>> from rooftree.readings.insulation.readings import Material
    >>> convection_loss(Material.LOOSE_GLASS, 40.5, air_covered=False)
    (0.425, 0.043)
    """
    if material is not Material.LOOSE_GLASS or air_covered or difference is None:
        return 0.0, 0.0
    if not difference <= CONVECTION_MOST:
        raise OutOfRangeError("temperature difference", difference, 0.0, CONVECTION_MOST, "K")
    part = max(0.0, (difference - STILL_BELOW) / (CONVECTION_FULL - STILL_BELOW))
    return part * CONVECTION_LOSS, part * CONVECTION_DOUBT
