"""What a person writes down while sealing a house with the fan running."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SealingRow:
    """One reading of the fan, after one location was sealed.

    Attributes
    ----------
    time : float
        Since the log began [s].
    location : str
        What was sealed since the row before; empty in the first row, before any sealing.
    house_pressure : float
        House with reference to outdoors, signed, as read [Pa].
    fan_flow : float
        Flow of the fan [m³/s].
    work : float
        Spent on the location, of all people together [s].
    material_cost : float
        Of what went into it [$].
    place : str
        Place of the leak map to which it belongs; empty where it is called like that place.
    configuration : str
        Of the fan, as its owner calls it.
    """

    time: float
    location: str
    house_pressure: float
    fan_flow: float
    work: float = 0.0
    material_cost: float = 0.0
    place: str = ""
    configuration: str = ""


@dataclass(frozen=True, slots=True)
class LeakPlace:
    """A place where the house leaks, as far as anybody knows before sealing.

    Attributes
    ----------
    place : str
        What it is called.
    share : float or None
        Of the leakage at the start, from inspection or zone tests [0-1].
    flow_50 : float or None
        Its leakage at 50 Pa where a zone test gave it [m³/s]; goes before `share`.
    flow_uncertainty : float
        Relative standard uncertainty of either [0-1].
    sealable : float
        Share of it that sealing is expected to close [0-1].
    work : float or None
        Expected for that, of all people together [s]; None for as much as the locations
        of the log took on average.
    material_cost : float
        Expected for that [$].
    """

    place: str
    share: float | None = None
    flow_50: float | None = None
    flow_uncertainty: float = 0.5
    sealable: float = 0.5
    work: float | None = None
    material_cost: float = 0.0


@dataclass(frozen=True, slots=True)
class AirSealingLog:
    """A log of guided air sealing.

    Attributes
    ----------
    rows : tuple of SealingRow
        In the order in which they were read; the first before any sealing.
    places : tuple of LeakPlace
        The leak map, where there is one.
    held_pressure : float
        At which the house was to be held, without sign [Pa], > 0.
    baseline_pressure : float
        House with reference to outdoors with the fan sealed, signed [Pa].
    exponent : float
        Of the house's leaks [-], 0.5 to 1.
    exponent_uncertainty : float
        Standard uncertainty of that [-]; 0.057 is the spread over 7000 houses.
    labor_rate : float
        Cost of one person's time [$/s].
    holes_closed : bool
        Whether somebody confirmed before the first row that hatches and holes opened for
        other tests are closed.
    flow_uncertainty : float
        Relative standard uncertainty of the fan's calibration, the same in all rows [0-1].
    repeatability : float
        Relative standard uncertainty of one flow when read twice [0-1]; 0.005 is that of
        averages over half a minute on a calm day.
    pressure_uncertainty : float
        Standard uncertainty of the gauge, the same in all rows [Pa].
    pressure_repeatability : float
        Standard uncertainty of one pressure when read twice, gusts included [Pa].
    """

    rows: tuple[SealingRow, ...]
    places: tuple[LeakPlace, ...] = ()
    held_pressure: float = 50.0
    baseline_pressure: float = 0.0
    exponent: float = 0.65
    exponent_uncertainty: float = 0.057
    labor_rate: float = 0.0
    holes_closed: bool = False
    flow_uncertainty: float = 0.03
    repeatability: float = 0.005
    pressure_uncertainty: float = 0.5
    pressure_repeatability: float = 0.25
