"""Which surfaces get wet and when, and what grows on them.

Sources
-------
[160] ANSI/ASHRAE Standard 160-2009: humidity of a surface, mean of 30 days, below 80 % while
    the mean temperature is 5 to 40 °C (read in the abstract of Glass et al., ASTM STP 1599,
    2017); 160-2016: mould index below 3 (recalled).
[FPL] Wood below 20 % does not rot: common practice (recalled).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.diagnosis.places import Place, Where, find_places
from rooftree.diagnosis.words import capitalized, the
from rooftree.finding import Finding, Severity
from rooftree.house import OUTDOORS
from rooftree.physics.moist_series import saturation_pressures
from rooftree.physics.mould_index import highest_mould_index
from rooftree.physics.wood_moisture import wood_equilibria
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from rooftree.diagnosis.simulated_year import SimulatedYear

    Floats = NDArray[np.float64]

DAYS = 30
"""Days over which humidity is averaged [160]_."""

HUMID, COLDEST, HOTTEST = 0.80, 278.15, 313.15
"""Mean humidity that a surface may not reach while its mean temperature is between the two
[0-1], [K] [160]_."""

VISIBLE = 3.0
"""Mould index from which mould is seen and a surface fails [-] [160]_."""

ROTS = 0.20
"""Moisture of wood from which it can rot [0-1] [FPL]_."""

WET_HOURS = 24.0
"""Hours below the dew point in a year from which a finding says so [h]; ours."""

CAUTION = (
    " Mould can make people ill: keep it undisturbed, and have large areas cleaned by those who"
    " are equipped for it."
)


@dataclass(frozen=True, slots=True, eq=False)
class DampPlace:
    """How wet one place gets.

    Attributes
    ----------
    place : Place
        Which.
    wet_hours : float
        Hours in which its face is below the dew point of the air at it [h].
    wet_months : ndarray, shape (12,)
        The same by month [h].
    coldest_margin : float
        Least temperature of the face less the dew point [K]; negative where it is wet.
    highest_mean : float
        Highest mean humidity of 30 days while their mean temperature is 5 to 40 °C [0-1]; 0
        where it never is.
    failing_hours : int
        Hours whose 30 days before them fail the criterion of [160]_ [h].
    index : float
        Highest mould index in the second of two such years [-].
    wood_moisture : float or None
        Highest mean of 30 days of the moisture content that wood would have there [0-1];
        None where it is not wood.
    """

    place: Place
    wet_hours: float
    wet_months: Floats
    coldest_margin: float
    highest_mean: float
    failing_hours: int
    index: float
    wood_moisture: float | None


@dataclass(frozen=True, slots=True, eq=False)
class DampDiagnosis:
    """What gets wet in a house.

    Attributes
    ----------
    places : tuple of DampPlace
        The worst first: by mould index, then by wet hours.
    findings : tuple of Finding
        What to know of them.
    """

    places: tuple[DampPlace, ...]
    findings: tuple[Finding, ...]


def diagnose_damp(year: SimulatedYear) -> DampDiagnosis:
    """Say which surfaces get wet in the year, and what grows on them.

    Parameters
    ----------
    year : SimulatedYear
        The year.

    Returns
    -------
    DampDiagnosis

    Notes
    -----
    Relative humidity at a face is the vapor pressure of the air at it over saturation at
    the temperature of the face. Wood is taken to follow the mean of 30 days at its face,
    as thin wood does; thick members follow more slowly. The mould index starts at 0 and
    sees the year twice, so that it does not matter that the year begins in January.
    """
    places = find_places(year)
    if not places:
        return DampDiagnosis((), ())
    # One row for each place: sums along the year then run through memory in order.
    temperature = np.stack([place.temperature for place in places])
    vapor = np.stack([place.vapor for place in places])
    share = np.stack([place.wets for place in places])
    humidity = vapor / saturation_pressures(temperature)
    wet = np.where(humidity >= 1.0, share, 0.0)
    months = year.by_month(wet.T)
    mean_humidity, mean_temperature = _means(np.minimum(humidity, 1.0)), _means(temperature)
    np.minimum(mean_humidity, 1.0, out=mean_humidity)  # sums round
    within = (mean_temperature >= COLDEST) & (mean_temperature <= HOTTEST)
    failing = (within & (mean_humidity >= HUMID)).sum(axis=1)
    highest = np.where(within, mean_humidity, 0.0).max(axis=1)
    index = _indices(places, temperature, np.minimum(humidity, 1.0))
    wood = _wood(places, mean_temperature, mean_humidity)
    margin = _margins(temperature, humidity, share)
    found = [
        DampPlace(
            place,
            float(months[:, k].sum()),
            months[:, k],
            float(margin[k]),
            float(highest[k]),
            int(failing[k]),
            float(index[k]),
            wood.get(k),
        )
        for k, place in enumerate(places)
    ]
    found.sort(key=lambda each: (-round(each.index, 2), -each.wet_hours))
    return DampDiagnosis(tuple(found), _judge(year, found))


def _means(hourly: Floats) -> Floats:
    """Return the mean of the 30 days up to each hour, the year's end before its beginning."""
    span = min(24 * DAYS, hourly.shape[1])
    sums = np.cumsum(np.concatenate([hourly[:, -span:], hourly], axis=1), axis=1)
    return np.asarray((sums[:, span:] - sums[:, :-span]) / span)


def _wood(places: Sequence[Place], temperature: Floats, humidity: Floats) -> dict[int, float]:
    """Return the highest moisture of the places that are of wood [0-1]."""
    wooden = [k for k, place in enumerate(places) if place.material.is_wood]
    moisture = wood_equilibria(temperature[wooden], humidity[wooden]).max(axis=1, initial=0.0)
    return dict(zip(wooden, moisture.tolist(), strict=True))


def _indices(places: Sequence[Place], temperature: Floats, humidity: Floats) -> Floats:
    """Return the highest mould index of each place in the second year."""
    highest = np.zeros(len(places))
    # What never comes near 80 % grows nothing on any material.
    damp = humidity.max(axis=1) >= 0.8
    for decline in {place.material.decline for place in places}:
        own = [k for k, p in enumerate(places) if p.material.decline == decline and damp[k]]
        if not own:
            continue
        kinds = [places[k].material.sensitivity for k in own]
        highest[own] = highest_mould_index(
            temperature[own].T, humidity[own].T, kinds, decline=decline
        )
    return highest


def _margins(temperature: Floats, humidity: Floats, share: Floats) -> Floats:
    """Return the least temperature above the dew point [K], near it by Clausius-Clapeyron."""
    slope = 461.5 / 2.45e6 * temperature**2
    margin = -np.log(np.maximum(humidity, 1e-3)) * slope
    return np.asarray(np.where(share > 0.0, margin, np.inf).min(axis=1, initial=np.inf))


def _judge(year: SimulatedYear, found: Sequence[DampPlace]) -> tuple[Finding, ...]:
    """Return one finding for the worst of all places that are alike and fail alike."""
    alike: dict[tuple[str, Where, str, bool], list[DampPlace]] = {}
    for each in found:
        code = _verdict(each)
        if code:
            place = each.place
            key = (code, place.where, place.space if place.is_sure else "", place.is_sure)
            alike.setdefault(key, []).append(each)
    judges = {
        "mould": _judge_mould,
        "wet-wood": _judge_wood,
        "damp-face": _judge_mean,
        "wet-face": _judge_wet,
        "duct-sweats": _judge_jacket,
    }
    findings = []
    for (code, _, _, _), places in alike.items():
        worst = max(places, key=_badness)
        findings.append(judges[code](year, worst, _and_others(len(places) - 1)))
    return tuple(findings)


def _badness(each: DampPlace) -> tuple[float, ...]:
    mean = round(each.highest_mean, 3)
    return (round(each.index, 2), mean, each.wet_hours, -each.coldest_margin)


def _verdict(each: DampPlace) -> str:
    """Return what is worst about a place; empty for nothing."""
    if each.place.where is Where.JACKET:
        return "duct-sweats" if each.wet_hours >= 1.0 else ""
    if each.place.where is Where.GLASS:  # it feeds nothing
        return "wet-face" if each.wet_hours >= WET_HOURS else ""
    if each.index >= VISIBLE:
        return "mould"
    if each.wood_moisture is not None and each.wood_moisture >= ROTS:
        return "wet-wood"
    if each.failing_hours:
        return "damp-face"
    if each.wood_moisture is not None:  # wood takes up the dew of a night
        return ""
    # Behind insulation almost every wall is below the dew point of the rooms at times.
    return "wet-face" if each.place.is_sure and each.wet_hours >= WET_HOURS else ""


def _and_others(number: int) -> str:
    if number == 0:
        return ""
    return " (and one more like it)" if number == 1 else f" (and {number} more like it)"


def _name(year: SimulatedYear, each: DampPlace) -> str:
    return next((the(s.name) for s in year.house.spaces if s.id == each.place.space), OUTDOORS)


def _gaps(year: SimulatedYear, each: DampPlace) -> str:
    if each.place.is_sure:
        return ""
    if each.place.space == OUTDOORS:
        return " wherever outdoor air gets to it"
    return f" wherever air of {_name(year, each)} gets to it through gaps"


def _judge_mould(year: SimulatedYear, each: DampPlace, others: str) -> Finding:
    grows = "is likely to grow" if each.place.is_sure else "can grow"
    says = (
        f"{capitalized(each.place.name)}{others} {grows} visible mould{_gaps(year, each)}: its "
        f"mould index reaches {each.index:.1f} in the simulated year, and from 3 on mould is "
        f"seen. "
        f"{_remedy(each)}{CAUTION}"
    )
    return _finding("mould", says, each.index, VISIBLE, "-", "recalled: ASHRAE 160-2016", each)


def _judge_mean(year: SimulatedYear, each: DampPlace, others: str) -> Finding:
    says = (
        f"{capitalized(each.place.name)}{others} has a mean humidity of "
        f"{100.0 * each.highest_mean:.0f} % over 30 days{_gaps(year, each)}, and 80 % is the most "
        f"for a clean surface; it fails on {each.failing_hours / 24.0:.0f} days of the year. "
        f"{_remedy(each)}"
    )
    source = "ANSI/ASHRAE Standard 160-2009, as told in Glass et al. 2017"
    return _finding("damp-face", says, each.highest_mean, HUMID, "0-1", source, each)


def _judge_wet(year: SimulatedYear, each: DampPlace, others: str) -> Finding:
    worst = _MONTHS[int(np.argmax(each.wet_months))]
    says = (
        f"{capitalized(each.place.name)}{others} is below the dew point{_gaps(year, each)} in "
        f"{each.wet_hours:.0f} hours of the year, most of them in {worst}. {_remedy(each)}"
    )
    source = "simulated year; the number of hours is ours"
    return _finding("wet-face", says, each.wet_hours, WET_HOURS, "h", source, each)


def _judge_wood(year: SimulatedYear, each: DampPlace, others: str) -> Finding:
    moisture = each.wood_moisture or 0.0
    says = (
        f"Wood at the {each.place.name}{others} comes to {100.0 * moisture:.0f} % moisture"
        f"{_gaps(year, each)}, and can rot from {100.0 * ROTS:.0f} % on. Probe it with a moisture "
        "meter, and have wood that gives way looked at by someone licensed to judge structures. "
        f"{_remedy(each)}"
    )
    source = "recalled: common practice; Wood Handbook, eq. 4-5"
    return _finding("wet-wood", says, moisture, ROTS, "0-1", source, each)


def _judge_jacket(year: SimulatedYear, each: DampPlace, others: str) -> Finding:
    space = _name(year, each)
    says = (
        f"{capitalized(each.place.name)}{others} sweats for {each.wet_hours:.0f} hours of the year "
        f"while it cools: it falls {both(-each.coldest_margin, Kind.TEMPERATURE_DIFFERENCE)} below "
        f"the dew point of {space}. Dry {space} first; wrap the duct thicker, closed at every seam."
    )
    source = "simulated year; film of still air at the jacket"
    return _finding("duct-sweats", says, each.wet_hours, 1.0, "h", source, each)


def _remedy(each: DampPlace) -> str:
    if each.place.where is Where.GLASS:
        return "Lower the humidity inside, or get warmer glass."
    if not each.place.is_sure:
        return "Close the gaps on the side that the damp air comes from, and dry that air."
    return "Dry the air there, warm the face, or keep the damp air away from it."


_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def _finding(
    code: str, says: str, value: float, limit: float, unit: str, source: str, each: DampPlace
) -> Finding:
    return Finding(
        f"diagnosis/{code}", Severity.NOTE, says, value, limit, unit, source, each.place.id
    )
