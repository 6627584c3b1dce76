"""The residential block load of the handbook: design loads of a whole house by hand.

A second opinion on what the model computes for the design days. One block, no rooms; sun,
mass and time of day are in fitted factors.

Sources
-------
[HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, "Residential Cooling and Heating
    Load Calculations": eq. 12 to 14 and 19, Tables 3 and 6, example of an Atlanta house. The
    factors for opaque parts are recalled from the 2005 edition and marked so in their table.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal

import numpy as np

from rooftree.errors import OutOfRangeError
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

Mode = Literal["cooling", "furnace", "heat pump"]

SENSIBLE_FACTOR = 1230.0
"""Heat of air for each kelvin, at sea level [J/(m³·K)] [HOF2021]_."""

LATENT_FACTOR = 3.010e6
"""Heat of the vapor in air for each kilogram per kilogram [J/m³] [HOF2021]_."""

WRAPS = (0.0, 0.7, 1.4)
"""Insulation of ducts in the table of loss factors [m²·K/W] [HOF2021]_."""

LEAKAGES = (0.05, 0.11)
"""Leakage of each side of the ducts in that table, over the fan's flow [0-1] [HOF2021]_."""

_CM2 = 1e-4


def _require(name: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRangeError(name, value, low, high, unit)


@cache
def unit_leakages() -> Mapping[str, float]:
    """Return the leakage area over exposed area of kinds of construction [m²/m²]."""
    rows = table_rows("rooftree.physics", "unit_leakage.csv")
    return MappingProxyType({row["construction"]: _CM2 * float(row["cm2_per_m2"]) for row in rows})


def usual_leakage_area(exposed_area: float, construction: str) -> float:
    """Return the effective leakage area of a house that was not tested.

    Parameters
    ----------
    exposed_area : float
        Of walls, ceiling and whatever else separates inside from outside, garage and attic
        [m²], >= 0.
    construction : str
        ``"tight"``, ``"good"``, ``"average"``, ``"leaky"`` or ``"very leaky"``.

    Returns
    -------
    float
        Effective leakage area at 4 Pa [m²].

    Raises
    ------
    OutOfRangeError
        If the area is negative or the construction none of these.

    Notes
    -----
    Table 3 [HOF2021]_. From class to class it doubles: a test is worth much more.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, Table 3.

    Examples
    --------
    >>> round(1e4 * usual_leakage_area(356.5, "good"))
    499
    """
    _require("exposed_area", exposed_area, 0.0, math.inf, "m²")
    if construction not in unit_leakages():
        raise NotInTableError("construction", construction, tuple(unit_leakages()))
    return exposed_area * unit_leakages()[construction]


class NotInTableError(OutOfRangeError):
    """A word that the published table does not have."""

    def __init__(self, name: str, word: object, words: tuple[object, ...]) -> None:
        ValueError.__init__(self, f"{name} is {word}; use one of {', '.join(map(str, words))}")
        self.name, self.words = name, words


@dataclass(frozen=True, slots=True)
class AirChange:
    """Outdoor air on a design day.

    Attributes
    ----------
    leaking : float
        Through leaks, with the fans that do not balance [m³/s].
    exchanged : float
        By balanced fans [m³/s].
    """

    leaking: float
    exchanged: float

    def sensible(self, difference: float, recovery: float = 0.0) -> float:
        """Return the heat of this air [W], some of the exchanged part's [0-1] recovered."""
        return SENSIBLE_FACTOR * difference * (self.leaking + (1.0 - recovery) * self.exchanged)

    def latent(self, difference: float, recovery: float = 0.0) -> float:
        """Return the heat of the vapor of this air [W], by difference of humidity [kg/kg]."""
        return LATENT_FACTOR * difference * (self.leaking + (1.0 - recovery) * self.exchanged)


def design_air_change(infiltration: float, supplied: float, exhausted: float) -> AirChange:
    """Return the outdoor air of a design day out of leaks and fans.

    Parameters
    ----------
    infiltration : float
        Through leaks without fans [m³/s], >= 0; see `infiltration.design_infiltration`.
    supplied : float
        Outdoor air that fans blow in [m³/s], >= 0.
    exhausted : float
        Air that fans blow out [m³/s], >= 0.

    Returns
    -------
    AirChange

    Raises
    ------
    OutOfRangeError
        If a flow is negative.

    Notes
    -----
    Equations 12 to 14 [HOF2021]_: what is both supplied and exhausted is balanced; the rest
    adds half of itself to the leaks, and is at least all of itself.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, eq. 12 to 14.

    Examples
    --------
    >>> design_air_change(0.04, 0.0, 0.02).leaking
    0.05
    """
    for name, value in (
        ("infiltration", infiltration),
        ("supplied", supplied),
        ("exhausted", exhausted),
    ):
        _require(name, value, 0.0, math.inf, "m³/s")
    balanced = min(supplied, exhausted)
    rest = max(supplied, exhausted) - balanced
    return AirChange(max(rest, infiltration + 0.5 * rest), balanced)


def peak_gains(floor_area: float, people: int) -> tuple[float, float]:
    """Return the heat of people, lights and appliances at the peak of the cooling load.

    Parameters
    ----------
    floor_area : float
        Of the living spaces [m²], > 0.
    people : int
        Number; bedrooms and one more where it is not known.

    Returns
    -------
    tuple of float
        Sensible and latent [W], about four in the afternoon.

    Raises
    ------
    OutOfRangeError
        If the area is not positive.

    Notes
    -----
    ``136 + 2.2 A + 22 N`` and ``20 + 0.22 A + 12 N`` [HOF2021]_.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17.

    Examples
    --------
    >>> [round(gain) for gain in peak_gains(195.3, 4)]
    [654, 111]
    """
    _require("floor_area", floor_area, np.nextafter(0.0, 1.0), math.inf, "m²")
    sensible = 136.0 + 2.2 * floor_area + 22.0 * people
    return sensible, 20.0 + 0.22 * floor_area + 12.0 * people


@cache
def _duct_losses() -> Mapping[tuple[str, str, int], tuple[tuple[float, ...], ...]]:
    rows = table_rows("rooftree.physics", "duct_loss_factors.csv")
    cells: dict[tuple[str, str, int], dict[float, tuple[float, ...]]] = {}
    for row in rows:
        key = (row["location"], row["mode"], int(row["storeys"]))
        factors = tuple(float(row[name]) for name in ("uninsulated", "r_0_7", "r_1_4"))
        cells.setdefault(key, {})[float(row["leakage"])] = factors
    return MappingProxyType(
        {key: tuple(found[leakage] for leakage in LEAKAGES) for key, found in cells.items()}
    )


def duct_loss_factor(
    location: str, mode: Mode, *, storeys: int, leakage: float, insulation: float
) -> float:
    """Return what ducts lose or gain on a design day, over the load of the house.

    Parameters
    ----------
    location : str
        ``"attic"``, ``"basement"``, ``"crawlspace"`` or ``"living space"``.
    mode : {"cooling", "furnace", "heat pump"}
        What runs; for cooling the sensible gain.
    storeys : int
        1, or more.
    leakage : float
        Of the supply, and as much of the return, over the fan's flow [0-1], 0.05 to 0.11.
    insulation : float
        Of the ducts [m²·K/W], 0 to 1.4.

    Returns
    -------
    float
        Factor on the load of the house [-].

    Raises
    ------
    OutOfRangeError
        If something lies outside the table.

    Notes
    -----
    Table 6 [HOF2021]_, computed there with surfaces by default; between its cells straight
    lines, which is our own. Outdoors 35 °C with an attic of 49, a basement of 20 and a
    crawlspace of 22 °C; in winter 0 °C, with a basement of 18 °C.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, Table 6.

    Examples
    --------
    >>> duct_loss_factor("attic", "furnace", storeys=1, leakage=0.05, insulation=1.4)
    0.13
    """
    _require("leakage", leakage, *LEAKAGES, "-")
    _require("insulation", insulation, WRAPS[0], WRAPS[-1], "m²·K/W")
    _require("storeys", storeys, 1, math.inf, "storeys")
    if location == "living space":
        return 0.0
    key = (location, mode, min(storeys, 2))
    if key not in _duct_losses():
        places = dict.fromkeys(place for place, _, _ in _duct_losses())
        raise NotInTableError("location", location, (*places, "living space"))
    by_leakage = [float(np.interp(insulation, WRAPS, row)) for row in _duct_losses()[key]]
    return float(np.interp(leakage, LEAKAGES, by_leakage))


@cache
def _opaque() -> Mapping[str, Mapping[str, str]]:
    rows = table_rows("rooftree.physics", "opaque_cooling.csv")
    return MappingProxyType({row["part"]: row for row in rows})


def opaque_cooling_factor(
    part: str,
    u_value: float,
    difference: float,
    daily_range: float,
    absorptance: float = 0.85,
) -> float:
    """Return the cooling load of an opaque part for each square metre.

    Parameters
    ----------
    part : str
        ``"ceiling under an attic"``, ``"ceiling and roof"``, ``"sunny wall or door"``,
        ``"shaded wall or door"``, ``"floor over outdoors"`` or ``"floor over a crawlspace"``.
    u_value : float
        Of the part [W/(m²·K)], >= 0.
    difference : float
        Outdoors less indoors at the design temperature [K].
    daily_range : float
        Highest less lowest temperature of the day [K].
    absorptance : float
        Of the roof for the sun [0-1].

    Returns
    -------
    float
        Load at the peak of the house [W/m²].

    Raises
    ------
    OutOfRangeError
        If the part is not in the table or the U-value negative.

    Notes
    -----
    ``U (OFt dT + OFb + OFr DR)``: the form is that of [HOF2021]_, the numbers are recalled.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17.

    Examples
    --------
    >>> round(opaque_cooling_factor("sunny wall or door", 0.5, 9.0, 10.0), 2)
    6.8
    """
    if part not in _opaque():
        raise NotInTableError("part", part, tuple(_opaque()))
    _require("u_value", u_value, 0.0, math.inf, "W/(m²·K)")
    row = _opaque()[part]
    rise = float(row["outdoor"]) * difference + float(row["daily_range"]) * daily_range
    sun = float(row["base"]) + float(row["per_absorptance"]) * absorptance
    return u_value * (rise + sun)


def slab_cooling_factor(cover: float) -> float:
    """Return the cooling load of a floor on the ground for each square metre.

    Parameters
    ----------
    cover : float
        Resistance of what covers the slab [m²·K/W], 0 to 1.

    Returns
    -------
    float
        Load at the peak of the house, negative where the slab cools [W/m²].

    Raises
    ------
    OutOfRangeError
        If the cover is out of range.

    Notes
    -----
    ``1.6 - 1.4 / (R + 0.12)`` [HOF2021]_, recalled.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17 (recalled).

    Examples
    --------
    >>> round(slab_cooling_factor(0.21), 2)
    -2.64
    """
    _require("cover", cover, 0.0, 1.0, "m²·K/W")
    return 1.6 - 1.4 / (cover + 0.12)


def window_cooling_factor(
    u_value: float, difference: float, daily_range: float, sun: float
) -> float:
    """Return the cooling load of a window for each square metre.

    Parameters
    ----------
    u_value : float
        Of the window [W/(m²·K)].
    difference : float
        Outdoors less indoors at the design temperature [K].
    daily_range : float
        Highest less lowest temperature of the day [K].
    sun : float
        Sun that becomes load at the peak of the house: peak irradiance x solar heat gain
        coefficient x shade x the share of the direction at that hour [W/m²].

    Returns
    -------
    float
        Load at the peak of the house [W/m²].

    Notes
    -----
    ``U (dT - 0.46 DR) + sun`` [HOF2021]_, recalled. The chapter's tables of irradiance and of
    shares by direction are not here.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17 (recalled).

    Examples
    --------
    >>> round(window_cooling_factor(2.8, 9.0, 10.0, 100.0), 2)
    112.32
    """
    return u_value * (difference - 0.46 * daily_range) + sun


@dataclass(frozen=True, slots=True)
class BlockPart:
    """One part of the enclosure.

    Attributes
    ----------
    name : str
        What it is.
    heating, cooling : float
        Its load on the two design days [W].
    """

    name: str
    heating: float
    cooling: float


@dataclass(frozen=True, slots=True)
class BlockLoad:
    """Design load of a house as one block.

    Attributes
    ----------
    enclosure, air, gains, ducts : float
        Its sensible parts [W].
    latent : float
        Of air and people [W]; 0 for heating.
    """

    enclosure: float
    air: float
    gains: float
    ducts: float
    latent: float

    @property
    def sensible(self) -> float:
        """Return the sensible load [W]."""
        return self.enclosure + self.air + self.gains + self.ducts


def heating_block_load(
    parts: Iterable[BlockPart],
    air: AirChange,
    difference: float,
    duct_factor: float,
    *,
    recovery: float = 0.0,
) -> BlockLoad:
    """Return the heating load of a house as one block.

    Parameters
    ----------
    parts : iterable of BlockPart
        Of the enclosure.
    air : AirChange
        Outdoor air on the heating design day.
    difference : float
        Indoors less outdoors [K].
    duct_factor : float
        What ducts lose over the load [-].
    recovery : float
        Sensible heat of exchanged air that is recovered [0-1].

    Returns
    -------
    BlockLoad
        Without gains, as the chapter has it.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, eq. 19.
    """
    enclosure = sum(part.heating for part in parts)
    outdoor = air.sensible(difference, recovery)
    return BlockLoad(enclosure, outdoor, 0.0, duct_factor * (enclosure + outdoor), 0.0)


def cooling_block_load(
    parts: Iterable[BlockPart],
    air: AirChange,
    difference: float,
    duct_factor: float,
    *,
    gains: tuple[float, float],
    humidity_difference: float,
    recovery: tuple[float, float] = (0.0, 0.0),
) -> BlockLoad:
    """Return the cooling load of a house as one block.

    Parameters
    ----------
    parts : iterable of BlockPart
        Of the enclosure.
    air : AirChange
        Outdoor air on the cooling design day.
    difference : float
        Outdoors less indoors [K].
    duct_factor : float
        What ducts gain over the sensible load [-].
    gains : tuple of float
        Sensible and latent heat of people, lights and appliances [W].
    humidity_difference : float
        Outdoors less indoors [kg/kg]; a dry day counts as none.
    recovery : tuple of float
        Sensible and latent heat of exchanged air that is recovered [0-1].

    Returns
    -------
    BlockLoad

    Notes
    -----
    The latent load is that of air and people; what leaky return ducts bring is left out.

    References
    ----------
    .. [HOF2021] ASHRAE Handbook - Fundamentals, 2021, chapter 17, eq. 19.
    """
    enclosure = sum(part.cooling for part in parts)
    outdoor = air.sensible(difference, recovery[0])
    load = enclosure + outdoor + gains[0]
    latent = gains[1] + max(air.latent(humidity_difference, recovery[1]), 0.0)
    return BlockLoad(enclosure, outdoor, gains[0], duct_factor * load, latent)
