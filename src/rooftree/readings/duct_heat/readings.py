"""What a person reads of one duct run: its size, its wrap, its air, and where it runs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rooftree.physics.air import STANDARD_PRESSURE


class DuctKind(StrEnum):
    """What the duct is made of."""

    FLEXIBLE = "flexible"
    SHEET_METAL = "sheet metal"
    BOARD = "duct board"


class Jacket(StrEnum):
    """What the outer face is."""

    PLASTIC = "plastic or paper"
    FOIL = "bright foil"
    METAL = "bare metal"


class Cover(StrEnum):
    """How the duct lies."""

    AIR = "in the air"
    PARTLY = "half in loose insulation"
    BURIED = "under loose insulation"


@dataclass(frozen=True, slots=True)
class DuctRunReading:
    """One run, from the plenum or the last branch to its register.

    Attributes
    ----------
    name : str
        Of the run or its register.
    length : float
        [m].
    entering_temperature : float
        Of the air where the run begins [K].
    surroundings_temperature : float
        Of the air round it [K].
    diameter : float or None
        Inside, of a round duct [m].
    width, height : float or None
        Inside, of a rectangular duct [m].
    air_speed : float or None
        Mean in the duct [m/s].
    flow : float or None
        Air flow [m³/s]; goes before `air_speed`.
    insulation_resistance : float
        As labelled, of the flat blanket [m²·K/W]; 0 for none.
    wrap_thickness : float or None
        As found [m]; None where it is as made.
    bare_share : float
        Share of the surface on which the wrap is torn or missing [0-1].
    foam_thickness : float
        Closed-cell foam sprayed over the duct [m].
    kind : DuctKind
        What it is made of.
    jacket : Jacket
        Its outer face.
    cover : Cover
        How it lies.
    cover_depth : float
        Loose insulation over its top [m].
    surroundings_humidity : float or None
        Relative humidity of the air round it [0-1].
    surroundings_dew_point : float or None
        Dew point of that air [K]; goes before the humidity.
    standing_time : float or None
        How long the fan stood still before it started [s].
    register_temperature : float or None
        Of the air at the register [K].
    running_time : float or None
        How long the fan had run when that was read [s].
    """

    name: str
    length: float
    entering_temperature: float
    surroundings_temperature: float
    diameter: float | None = None
    width: float | None = None
    height: float | None = None
    air_speed: float | None = None
    flow: float | None = None
    insulation_resistance: float = 0.0
    wrap_thickness: float | None = None
    bare_share: float = 0.0
    foam_thickness: float = 0.0
    kind: DuctKind = DuctKind.FLEXIBLE
    jacket: Jacket = Jacket.PLASTIC
    cover: Cover = Cover.AIR
    cover_depth: float = 0.0
    surroundings_humidity: float | None = None
    surroundings_dew_point: float | None = None
    standing_time: float | None = None
    register_temperature: float | None = None
    running_time: float | None = None


@dataclass(frozen=True, slots=True)
class DuctHeatTest:
    """Duct runs read on one visit.

    Attributes
    ----------
    runs : tuple of DuctRunReading
        One row for each run.
    room_temperature : float or None
        Of the rooms that the ducts serve [K].
    barometric_pressure : float
        [Pa].
    temperature_uncertainty : float
        Standard uncertainty of an air temperature in the duct [K].
    surroundings_uncertainty : float
        Standard uncertainty of the temperature round the whole run [K]: it varies along it.
    humidity_uncertainty : float
        Standard uncertainty of a relative humidity [0-1].
    flow_uncertainty : float
        Standard uncertainty of a flow or air speed [0-1], relative.
    length_uncertainty : float
        Standard uncertainty of a length [m].
    insulation_uncertainty : float
        Standard uncertainty of the labelled resistance [0-1], relative.
    film_uncertainty : float
        Standard uncertainty of the films of air [0-1], relative.
    """

    runs: tuple[DuctRunReading, ...]
    room_temperature: float | None = None
    barometric_pressure: float = STANDARD_PRESSURE
    temperature_uncertainty: float = 0.4
    surroundings_uncertainty: float = 2.0
    humidity_uncertainty: float = 0.03
    flow_uncertainty: float = 0.10
    length_uncertainty: float = 0.3
    insulation_uncertainty: float = 0.15
    film_uncertainty: float = 0.20
