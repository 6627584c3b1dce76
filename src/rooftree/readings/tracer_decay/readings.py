"""What a person or a logger reads of a tracer gas that the air carries away."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Tracer(StrEnum):
    """Gas that is followed."""

    CARBON_DIOXIDE = "carbon dioxide"
    OTHER = "another gas, absent outdoors"


class Activity(StrEnum):
    """What people do while they breathe out carbon dioxide."""

    ASLEEP = "asleep"
    SEATED = "seated, quiet"
    LIGHT = "on their feet, light work"


@dataclass(frozen=True, slots=True)
class TracerReading:
    """One line of the record.

    Attributes
    ----------
    time : float
        From any start that all lines share [s].
    concentration : float
        Of the tracer [ppm].
    position : str
        Where it was read; lines with the same words belong together.
    """

    time: float
    concentration: float
    position: str = ""


@dataclass(frozen=True, slots=True)
class OutdoorReading:
    """The tracer in the air that comes in, before or after the decay.

    Attributes
    ----------
    concentration : float
        Of the tracer outdoors [ppm].
    time : float or None
        On the clock of the record [s]; None where it was not noted.
    """

    concentration: float
    time: float | None = None


@dataclass(frozen=True, slots=True)
class SteadyReading:
    """The tracer while people are in the house and it hardly changes any more.

    Attributes
    ----------
    time : float
        From any start that these lines share [s].
    concentration : float
        Carbon dioxide indoors [ppm].
    """

    time: float
    concentration: float


@dataclass(frozen=True, slots=True)
class TracerDecayTest:
    """A tracer that decays, and what goes with it.

    Attributes
    ----------
    lines : tuple of TracerReading
        In the order of the record; the lines may be many thousands.
    outdoors : tuple of OutdoorReading
        Background, best before and after, with the same sensor.
    tracer : Tracer
        Which gas.
    window_start, window_end : float or None
        Part of the record to use [s]; found from the record where None.
    people : float
        In the house during the decay [-]; animals counted for what they breathe.
    is_mixed : bool
        Whether fans stirred the air and inside doors stood open.
    same_sensor : bool
        Whether outdoors was read with the sensor that was read indoors.
    volume : float or None
        Of the air that was tested [m³].
    volume_uncertainty : float
        Standard uncertainty of the volume [0-1], relative.
    highest_concentration : float or None
        End of the sensor's range [ppm].
    concentration_uncertainty : float
        Standard uncertainty of a reading [0-1], relative; a share common to all readings
        of one sensor drops out of a decay.
    concentration_scatter : float
        Standard deviation of single readings round their mean [ppm].
    steady : tuple of SteadyReading
        Readings near the steady state with people, for the second estimate.
    steady_people : float
        How many people were there during `steady` [-].
    steady_activity : Activity
        What they did.
    """

    lines: tuple[TracerReading, ...] = ()
    outdoors: tuple[OutdoorReading, ...] = ()
    tracer: Tracer = Tracer.CARBON_DIOXIDE
    window_start: float | None = None
    window_end: float | None = None
    people: float = 0.0
    is_mixed: bool = False
    same_sensor: bool = True
    volume: float | None = None
    volume_uncertainty: float = 0.05
    highest_concentration: float | None = None
    concentration_uncertainty: float = 0.03
    concentration_scatter: float = 5.0
    steady: tuple[SteadyReading, ...] = ()
    steady_people: float = 0.0
    steady_activity: Activity = Activity.SEATED
