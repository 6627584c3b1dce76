"""How warm each room feels, and which of its faces are too cold or too hot.

Sources
-------
[7730] ISO 7730:2005: predicted mean vote, categories of operative temperature (table A.5,
    recalled), discomfort by warm and cold floors (eq. 8, recalled) and by radiant asymmetry
    (table A.4, recalled).
[7726] ISO 7726:1998: operative temperature (recalled).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.diagnosis.words import capitalized, the
from rooftree.errors import OutOfRangeError
from rooftree.finding import Finding, Severity
from rooftree.house import Surface
from rooftree.units import Kind, both, both_range

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from rooftree.diagnosis.simulated_year import SimulatedYear

    Floats = NDArray[np.float64]

BAND = (292.15, 300.15)
"""Operative temperatures between which a room is comfortable [K]: 19 to 27 °C, winter and
summer of category C for light work at a desk ([7730]_, table A.5, recalled)."""

WINTER_CLOTHES, SUMMER_CLOTHES = 1.0, 0.5
"""Clothing in months of the heating season and in the others [clo] [7730]_."""

FLOOR_BAND = (292.15, 302.15)
"""Temperatures of a floor between which it is comfortable in shoes [K] ([7730]_, recalled)."""

COOL_WALL, WARM_CEILING = 10.0, 5.0
"""Radiant asymmetry by a cool wall or window and by a warm ceiling at which 5 % complain [K]
([7730]_, table A.4, recalled)."""

FLOORS, CEILINGS = 135.0, 45.0
"""Tilt of a floor of its space and of a ceiling over it [°]."""

MANY_HOURS = 200
"""Hours outside the band in a year from which a finding says so [h]; ours."""


def operative_temperature(
    air: ArrayLike, radiant: ArrayLike, air_speed: float = 0.1
) -> NDArray[np.float64]:
    """Return the temperature that a person feels: between air and surfaces.

    Parameters
    ----------
    air, radiant : array_like
        Temperature of the air and mean radiant temperature [K].
    air_speed : float
        Against the person, 0 to 1 [m/s].

    Returns
    -------
    ndarray
        [K].

    Raises
    ------
    OutOfRangeError
        If the air speed is outside the range.

    Notes
    -----
    ``A t_air + (1 - A) t_radiant`` with A = 0.5 below 0.2 m/s, 0.6 up to 0.6, 0.7 up to
    1 m/s [7726]_ (recalled).

    References
    ----------
    .. [7726] ISO 7726:1998, annex G.3.

    Examples
    --------
    >>> float(operative_temperature(293.15, 289.15))
    291.15
    """
    if not 0.0 <= air_speed <= 1.0:
        raise OutOfRangeError("air speed", air_speed, 0.0, 1.0, "m/s")
    weight = 0.5 if air_speed < 0.2 else 0.6 if air_speed < 0.6 else 0.7
    return np.asarray(
        weight * np.asarray(air, dtype=float) + (1.0 - weight) * np.asarray(radiant, dtype=float)
    )


def dissatisfied_with_floor(temperature: ArrayLike) -> NDArray[np.float64]:
    """Return the share of people in shoes who find a floor too cold or too warm.

    Parameters
    ----------
    temperature : array_like
        Of the floor [K].

    Returns
    -------
    ndarray
        [0-1].

    Notes
    -----
    ``100 - 94 exp(-1.387 + 0.118 t - 0.0025 t²)`` percent, t in °C [7730]_ (recalled).

    References
    ----------
    .. [7730] ISO 7730:2005, eq. 8.

    Examples
    --------
    >>> dissatisfied_with_floor([292.15, 297.15, 302.15]).round(3).tolist()
    [0.104, 0.055, 0.121]
    """
    t = np.asarray(temperature, dtype=float) - 273.15
    return np.asarray(1.0 - 0.94 * np.exp(-1.387 + 0.118 * t - 0.0025 * t * t))


@dataclass(frozen=True, slots=True, eq=False)
class Votes:
    """What people in a room would say of its temperature.

    Attributes
    ----------
    mean_vote : ndarray, shape (hours,)
        Predicted mean vote [-]: -3 cold, 0 neutral, 3 hot; beyond 2 either way only a sign.
    dissatisfied : ndarray, shape (hours,)
        Predicted share of people who are dissatisfied [0-1].
    """

    mean_vote: Floats
    dissatisfied: Floats


def predicted_votes(
    air: ArrayLike,
    radiant: ArrayLike,
    relative_humidity: ArrayLike,
    *,
    clothing: ArrayLike,
    activity: float = 1.2,
    air_speed: float = 0.1,
) -> Votes:
    """Return the predicted mean vote, and the share of people dissatisfied.

    Parameters
    ----------
    air, radiant : array_like, shape (hours,)
        Temperature of the air and mean radiant temperature [K].
    relative_humidity : array_like, shape (hours,)
        [0-1].
    clothing : array_like
        1.0 in winter, 0.5 in summer [clo].
    activity : float
        1.2 for light work while seated [met].
    air_speed : float
        Against the person [m/s].

    Returns
    -------
    Votes

    Notes
    -----
    Fanger's equations as in [7730]_, through the package pythermalcomfort, which is loaded
    when this is called for the first time (about two seconds). Applies between 10 and
    30 °C of air, 10 and 40 °C of radiation and votes of -2 to 2; beyond, values are
    continued and only tell cold from hot.

    References
    ----------
    .. [7730] ISO 7730:2005, eq. 1 to 5.
    """
    from pythermalcomfort.models import pmv_ppd_iso

    told = pmv_ppd_iso(
        tdb=np.asarray(air, dtype=float) - 273.15,
        tr=np.asarray(radiant, dtype=float) - 273.15,
        vr=air_speed,
        rh=100.0 * np.asarray(relative_humidity, dtype=float),
        met=activity,
        clo=clothing,
        limit_inputs=False,
        round_output=False,
    )
    return Votes(np.asarray(told.pmv, dtype=float), np.asarray(told.ppd, dtype=float) / 100.0)


def votes_in_room(year: SimulatedYear, space: str) -> Votes:
    """Return what people in a room would say of it in every hour of the year.

    Parameters
    ----------
    year : SimulatedYear
        The year.
    space : str
        Id of the space.

    Returns
    -------
    Votes
        For light work while seated in still air, in the clothes of the season.

    Raises
    ------
    KeyError
        If there is no such space.
    """
    year.house.space(space)
    index, hourly = year.result.space_ids.index(space), year.hourly
    winter = year.heating_months()[year.month]
    return predicted_votes(
        hourly.temperature[:, index],
        hourly.radiant[:, index],
        year.relative_humidity()[:, index],
        clothing=np.where(winter, WINTER_CLOTHES, SUMMER_CLOTHES),
    )


@dataclass(frozen=True, slots=True, eq=False)
class RoomComfort:
    """How one living space feels.

    Attributes
    ----------
    space : str
        Its id.
    operative : ndarray, shape (hours,)
        Operative temperature [K].
    cold_hours, hot_hours : int
        Hours below and above the band [h].
    cold_degree_hours, hot_degree_hours : float
        The same, each hour by how far it is outside [K·h].
    coldest_glass, floor, ceiling : ndarray or None, shape (hours,)
        Inside face of its coldest window, and means of its floors and ceilings by area [K];
        None where it has none.
    cool_glass_hours : int
        Hours in which its coldest window is more than 10 K below what is felt [h].
    warm_ceiling_hours : int
        Hours in which its ceiling is more than 5 K above what is felt [h].
    cold_floor_hours : int
        Hours in which its floor is below 19 °C [h].
    """

    space: str
    operative: Floats
    cold_hours: int
    hot_hours: int
    cold_degree_hours: float
    hot_degree_hours: float
    coldest_glass: Floats | None
    floor: Floats | None
    ceiling: Floats | None
    cool_glass_hours: int
    warm_ceiling_hours: int
    cold_floor_hours: int


@dataclass(frozen=True, slots=True, eq=False)
class ComfortDiagnosis:
    """How the living spaces feel.

    Attributes
    ----------
    band : tuple of float
        Operative temperatures between which a room is comfortable [K].
    rooms : tuple of RoomComfort
        In the order of the living spaces.
    findings : tuple of Finding
        What to know of them.
    """

    band: tuple[float, float]
    rooms: tuple[RoomComfort, ...]
    findings: tuple[Finding, ...]


def diagnose_comfort(year: SimulatedYear, band: tuple[float, float] = BAND) -> ComfortDiagnosis:
    """Say how the living spaces feel over the year.

    Parameters
    ----------
    year : SimulatedYear
        The year.
    band : tuple of float
        Operative temperatures between which a room is comfortable, the lower first [K].

    Returns
    -------
    ComfortDiagnosis

    Raises
    ------
    OutOfRangeError
        If the upper end of the band is not above the lower.

    Notes
    -----
    Differences of glass and ceiling to what is felt in the middle of the room are a screen
    for radiant asymmetry: the asymmetry of a person depends on how much of the face is in
    view, and is half of the difference close to a large window or under a ceiling.
    """
    low, high = band
    if not low < high:
        raise OutOfRangeError("upper end of the band", high, low, 333.15, "K")
    rooms = tuple(
        _room(year, index, band)
        for index, space in enumerate(year.house.spaces)
        if year.is_living[index]
    )
    findings = tuple(finding for room in rooms for finding in _judge(year, room, band))
    return ComfortDiagnosis(band, rooms, findings)


def _room(year: SimulatedYear, index: int, band: tuple[float, float]) -> RoomComfort:
    hourly = year.hourly
    felt = operative_temperature(hourly.temperature[:, index], hourly.radiant[:, index])
    glass = [
        e for e, each in enumerate(year.elements)
        if year.inside[e] == index and not isinstance(each, Surface)
    ]  # fmt: skip
    coldest = hourly.face_inside[:, glass].min(axis=1) if glass else None
    floor, ceiling = (_mean_face(year, index, floor=each) for each in (True, False))
    cold, hot = np.maximum(band[0] - felt, 0.0), np.maximum(felt - band[1], 0.0)
    return RoomComfort(
        space=year.house.spaces[index].id,
        operative=felt,
        cold_hours=int((cold > 0.0).sum()),
        hot_hours=int((hot > 0.0).sum()),
        cold_degree_hours=float(cold.sum()),
        hot_degree_hours=float(hot.sum()),
        coldest_glass=coldest,
        floor=floor,
        ceiling=ceiling,
        cool_glass_hours=0 if coldest is None else int((felt - coldest > COOL_WALL).sum()),
        warm_ceiling_hours=0 if ceiling is None else int((ceiling - felt > WARM_CEILING).sum()),
        cold_floor_hours=0 if floor is None else int((floor < FLOOR_BAND[0]).sum()),
    )


def _mean_face(year: SimulatedYear, index: int, *, floor: bool) -> Floats | None:
    """Return the mean temperature of the floors or ceilings of a space by area [K]."""
    tilt = np.array([element.tilt for element in year.elements])
    down, up = tilt > FLOORS, tilt < CEILINGS
    near, far = (down, up) if floor else (up, down)
    inner = np.flatnonzero((year.inside == index) & near)
    outer = np.flatnonzero((year.beyond == index) & (year.inside != index) & far)
    if not inner.size and not outer.size:
        return None
    hourly = year.hourly
    faces = np.column_stack([hourly.face_inside[:, inner], hourly.face_outside[:, outer]])
    area = year.area[np.concatenate([inner, outer])]
    return np.asarray(faces @ area / area.sum())


def _judge(
    year: SimulatedYear, room: RoomComfort, band: tuple[float, float]
) -> tuple[Finding, ...]:
    name = year.house.space(room.space).name
    source = "ISO 7730:2005 (recalled); the number of hours is ours"
    findings = []
    outside = room.cold_hours + room.hot_hours
    if outside >= MANY_HOURS:
        least, most = float(room.operative.min()), float(room.operative.max())
        says = (
            f"{capitalized(the(name))} feels too cold for {room.cold_hours:,} and too hot for "
            f"{room.hot_hours:,} hours of the year: outside "
            f"{both_range(*band, Kind.TEMPERATURE)}. It feels like "
            f"{both_range(least, most, Kind.TEMPERATURE)} at the extremes. Deal with the causes "
            "that the diagnosis names before equipment is made larger."
        )
        findings.append(_note("outside-band", says, outside, room.space, source))
    if room.cold_floor_hours >= MANY_HOURS:
        says = (
            f"The floor of {the(name)} is below {both(FLOOR_BAND[0], Kind.TEMPERATURE)} in "
            f"{room.cold_floor_hours:,} hours of the year: feet are cold however warm the air is."
        )
        findings.append(_note("cold-floor", says, room.cold_floor_hours, room.space, source))
    if room.cool_glass_hours >= MANY_HOURS:
        says = (
            f"The coldest window of {the(name)} is more than "
            f"{both(COOL_WALL, Kind.TEMPERATURE_DIFFERENCE)} colder than the room feels in "
            f"{room.cool_glass_hours:,} hours of the year: it chills who sits beside it, and cold "
            "air falls down along it."
        )
        findings.append(_note("cold-glass", says, room.cool_glass_hours, room.space, source))
    if room.warm_ceiling_hours >= MANY_HOURS:
        says = (
            f"The ceiling of {the(name)} is more than "
            f"{both(WARM_CEILING, Kind.TEMPERATURE_DIFFERENCE)} warmer than the room feels in "
            f"{room.warm_ceiling_hours:,} hours of the year: heads are hot however cool the air is."
        )
        findings.append(_note("warm-ceiling", says, room.warm_ceiling_hours, room.space, source))
    return tuple(findings)


def _note(code: str, says: str, hours: int, space: str, source: str) -> Finding:
    return Finding(
        f"diagnosis/{code}", Severity.NOTE, says, float(hours), float(MANY_HOURS), "h", source,
        space,
    )  # fmt: skip
