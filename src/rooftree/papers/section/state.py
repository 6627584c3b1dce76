"""What the section shows: temperatures, humidities, flows and the neutral level."""

from __future__ import annotations

import calendar
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np

from rooftree.house import OUTDOORS, SpaceKind
from rooftree.physics.air import saturation_pressure

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from rooftree.engine.results import Hourly, YearResult
    from rooftree.house import House
    from rooftree.weather.year import WeatherYear

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²]."""

_AIR_GAS_CONSTANT = 287.055
"""Of dry air [J/(kg·K)]."""


_SHARE_WORDS = (
    (0.90, "Nearly all"),
    (0.72, "Three quarters"),
    (0.60, "Two thirds"),
    (0.45, "Half"),
    (0.37, "Four tenths"),
    (0.29, "A third"),
    (0.22, "A quarter"),
    (0.16, "A fifth"),
    (0.0, "A tenth"),
)

_FEW = 0.05
"""Share of the air from which a space is named [-]."""


@dataclass(frozen=True, slots=True)
class SectionState:
    """What holds in the house at the time that the section shows.

    Attributes
    ----------
    when : str
        Such as ``"7 a.m. on 14 January"`` or ``"Mean of the year"``.
    outdoor_temperature : float
        [K].
    wind_speed : float
        At the weather station [m/s].
    temperature, relative_humidity : mapping from space id to float
        [K] and [0-1].
    flow : mapping from (from, to) to float
        Air that goes from one space to another or to and from outdoors, each direction
        by itself, volume at 1.2 kg/m³ [m³/s].
    neutral_level : float or None
        Level at which the main living space has outdoor pressure [m].
    """

    when: str
    outdoor_temperature: float
    wind_speed: float
    temperature: Mapping[str, float]
    relative_humidity: Mapping[str, float]
    flow: Mapping[tuple[str, str], float]
    neutral_level: float | None


def state_at(house: House, result: YearResult, weather: WeatherYear, hour: int) -> SectionState:
    """Return the state of the house in one hour of the year.

    Parameters
    ----------
    house : House
        As simulated.
    result : YearResult
        With hourly values kept.
    weather : WeatherYear
        The year that was simulated.
    hour : int
        Hour of the year, 0 to 8759.

    Returns
    -------
    SectionState
    """
    return _state(house, result, weather, np.array([hour]), _moment(hour))


def state_over_year(
    house: House, result: YearResult, weather: WeatherYear, months: tuple[int, ...] = ()
) -> SectionState:
    """Return the mean state over the year, or over some months of it (1 to 12).

    Parameters
    ----------
    house : House
        As simulated.
    result : YearResult
        With hourly values kept.
    weather : WeatherYear
        The year that was simulated.
    months : tuple of int
        Which months; none for the whole year.

    Returns
    -------
    SectionState
    """
    month_of_hour = np.repeat(np.arange(1, 13), [24 * d for d in _MONTH_DAYS])
    hours = np.flatnonzero(np.isin(month_of_hour, months)) if months else np.arange(8760)
    names = [calendar.month_name[month] for month in months]
    spoken = f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)
    return _state(house, result, weather, hours, f"Mean of {spoken or 'the year'}")


def state_of_hours(
    house: House,
    result: YearResult,
    weather: WeatherYear,
    hours: NDArray[np.int64],
    when: str,
) -> SectionState:
    """Return the mean state over any hours of the year.

    Parameters
    ----------
    house : House
        As simulated.
    result : YearResult
        With hourly values kept.
    weather : WeatherYear
        The year that was simulated.
    hours : ndarray, shape (n,)
        Which hours, 0 to 8759 [-].
    when : str
        Words for them.

    Returns
    -------
    SectionState
    """
    return _state(house, result, weather, hours, when)


def widest_state(house: House, result: YearResult, weather: WeatherYear) -> SectionState:
    """Return a state that needs the most room: warmest air, largest flows, a neutral level.

    Parameters
    ----------
    house : House
        As simulated.
    result : YearResult
        With hourly values kept.
    weather : WeatherYear
        The year that was simulated.

    Returns
    -------
    SectionState
        Never one that was; flows are those that 2 % of the hours exceed, so that one
        storm does not make every other arrow thin.
    """
    everything = np.arange(weather.temperature.size)
    main = max(house.living_spaces, key=lambda space: space.volume)
    mean = _state(house, result, weather, everything, "")
    return replace(
        mean,
        temperature=dict(
            zip(result.space_ids, map(float, result.maximum_temperature), strict=True)
        ),
        relative_humidity=dict.fromkeys(result.space_ids, 1.0),
        flow=_large_flows(house, result),
        neutral_level=main.floor_level + 0.5 * main.height,
    )


def _large_flows(house: House, result: YearResult) -> dict[tuple[str, str], float]:
    hourly = kept_hours(result)
    column = {leak: k for k, leak in enumerate(result.leak_ids)}
    flows: dict[tuple[str, str], NDArray[np.float64]] = {}
    for leak in house.leaks:
        if leak.id in column:
            mass = hourly.leak_flow[:, column[leak.id]]
            for ends, part in (
                ((leak.first, leak.second), mass.clip(min=0.0)),
                ((leak.second, leak.first), -mass.clip(max=0.0)),
            ):
                flows[ends] = flows.get(ends, 0.0) + part / 1.2
    return {ends: float(np.quantile(flow, _EXCEEDED)) for ends, flow in flows.items()}


_EXCEEDED = 0.98
"""Share of the hours with less flow than the widest arrow shows [0-1]."""

_MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def _moment(hour: int) -> str:
    """Return the words for an hour of the year."""
    at = datetime(2001, 1, 1) + timedelta(hours=hour)
    half = "a.m." if at.hour < 12 else "p.m."
    return f"{(at.hour - 1) % 12 + 1} {half} on {at.day} {calendar.month_name[at.month]}"


def _state(
    house: House,
    result: YearResult,
    weather: WeatherYear,
    hours: NDArray[np.int64],
    when: str,
) -> SectionState:
    hourly = kept_hours(result)
    temperature = hourly.temperature[hours].mean(axis=0)
    humidity = hourly.humidity_ratio[hours].mean(axis=0)
    pressure = float(weather.pressure[hours].mean())
    outdoor = float(weather.temperature[hours].mean())
    ids = result.space_ids
    return SectionState(
        when=when,
        outdoor_temperature=outdoor,
        wind_speed=float(weather.wind_speed[hours].mean()),
        temperature=dict(zip(ids, map(float, temperature), strict=True)),
        relative_humidity={
            key: _relative_humidity(float(t), float(w), pressure)
            for key, t, w in zip(ids, temperature, humidity, strict=True)
        },
        flow=_flows(house, result, hourly, hours),
        neutral_level=_neutral_level(house, result, hourly, hours, outdoor, pressure),
    )


def kept_hours(result: YearResult) -> Hourly:
    """Return the hours of a year, which must have been kept.

    Parameters
    ----------
    result : YearResult
        Any.

    Returns
    -------
    Hourly

    Raises
    ------
    ValueError
        If they were not.
    """
    if result.hourly is None:
        message = "the section needs a year that was simulated with its hours kept"
        raise ValueError(message)
    return result.hourly


def _relative_humidity(temperature: float, humidity_ratio: float, pressure: float) -> float:
    """Return relative humidity [0-1]; 0.621945 is the ratio of the molar masses."""
    vapor = humidity_ratio * pressure / (0.621945 + humidity_ratio)
    return vapor / saturation_pressure(temperature)


def _flows(
    house: House,
    result: YearResult,
    hourly: Hourly,
    hours: NDArray[np.int64],
) -> dict[tuple[str, str], float]:
    """Return mean flows of each direction between neighbours."""
    flows: dict[tuple[str, str], float] = {}
    column = {leak: k for k, leak in enumerate(result.leak_ids)}
    for leak in house.leaks:
        if leak.id not in column:
            continue
        mass = hourly.leak_flow[hours, column[leak.id]]
        for ends, part in (
            ((leak.first, leak.second), mass.clip(min=0.0).mean()),
            ((leak.second, leak.first), -mass.clip(max=0.0).mean()),
        ):
            flows[ends] = flows.get(ends, 0.0) + float(part) / 1.2
    return flows


def _neutral_level(
    house: House,
    result: YearResult,
    hourly: Hourly,
    hours: NDArray[np.int64],
    outdoor: float,
    pressure: float,
) -> float | None:
    """Return where stack and fans leave no pressure across the main room's wall [m]."""
    main = max(house.living_spaces, key=lambda space: space.volume)
    k = result.space_ids.index(main.id)
    inside = float(hourly.temperature[hours, k].mean())
    if abs(inside - outdoor) < 3.0:  # a level would be a guess
        return None
    lighter = pressure / _AIR_GAS_CONSTANT * (1.0 / outdoor - 1.0 / inside)
    return float(-hourly.pressure[hours, k].mean() / (GRAVITY * lighter))


def breathing_sentence(house: House, flow: Mapping[tuple[str, str], float]) -> str:
    """Say where the air that enters the living spaces comes from.

    Parameters
    ----------
    house : House
        Whose spaces are meant.
    flow : mapping
        As in `SectionState` [m³/s].

    Returns
    -------
    str
        A title for the section.
    """
    living = {space.id for space in house.living_spaces}
    entering: dict[str, float] = {}
    for (source, target), amount in flow.items():
        if target in living and source not in living:
            entering[source] = entering.get(source, 0.0) + amount
    total = sum(entering.values())
    buffers = sorted(
        ((amount, source) for source, amount in entering.items() if source != OUTDOORS),
        reverse=True,
    )
    named = [(amount, source) for amount, source in buffers[:2] if amount > _FEW * total]
    share = sum(amount for amount, _ in named) / total if total else 0.0
    if share < 0.1:
        most = "Most" if sum(amount for amount, _ in buffers) >= 0.1 * total > 0.0 else "Nearly all"
        return f"{most} of the air that enters comes straight from outdoors"
    word = next(words for limit, words in _SHARE_WORDS if share >= limit)
    through = " and ".join(dict.fromkeys(_plain(house, source) for _, source in named))
    return f"{word} of the air that leaks in comes through {through}"


def _plain(house: House, space_id: str) -> str:
    space = house.space(space_id)
    plain = {
        SpaceKind.ATTIC: "the attic",
        SpaceKind.KNEE_WALL_ATTIC: "the knee-wall attic",
        SpaceKind.CRAWLSPACE: "the crawlspace",
        SpaceKind.BASEMENT: "the basement",
        SpaceKind.GARAGE: "the garage",
        SpaceKind.LIVING: space.name,
    }
    return plain[space.kind]
