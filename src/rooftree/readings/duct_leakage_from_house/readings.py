"""What a person reads of a house to learn how its ducts leak."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DuctSubtractionTest:
    """Two fan tests at one pressure: registers open, and registers sealed.

    Attributes
    ----------
    house_pressure : float
        House with reference to outdoors, held both times [Pa].
    flow_open, flow_sealed : float
        Flow of the fan with registers open, and with every register and grille sealed
        [m³/s].
    duct_pressure : float or None
        House with reference to the ducts with the registers sealed [Pa]; None where it was
        not read.
    air_handler_flow : float
        Flow of the air handler in operation [m³/s]; 0 where it is not known.
    repeatability : float
        Standard uncertainty of one fan flow when read twice [0-1], relative.
    flow_uncertainty : float
        Standard uncertainty of the fan's calibration [0-1], relative.
    pressure_uncertainty : float
        Standard uncertainty of one pressure reading [Pa].
    exponent : float
        Of the duct leaks [-], 0.5 to 1.
    exponent_uncertainty : float
        Standard uncertainty of `exponent` [-].
    """

    house_pressure: float
    flow_open: float
    flow_sealed: float
    duct_pressure: float | None = None
    air_handler_flow: float = 0.0
    repeatability: float = 0.01
    flow_uncertainty: float = 0.025
    pressure_uncertainty: float = 0.5
    exponent: float = 0.6
    exponent_uncertainty: float = 0.05


@dataclass(frozen=True, slots=True)
class HouseFlow:
    """The fan's flow at one house pressure.

    Attributes
    ----------
    air_handler : bool
        Whether the air handler ran.
    house_pressure : float
        House with reference to outdoors, signed, baseline not taken off [Pa].
    flow : float
        Of the fan [m³/s]. Signed like its direction, in positive, or without sign: then the
        fan blew in where the house was above outdoors.
    """

    air_handler: bool
    house_pressure: float
    flow: float


@dataclass(frozen=True, slots=True)
class DeltaQTest:
    """The fan's flow over several pressures both ways, air handler off and on.

    Attributes
    ----------
    supply_pressure : float
        Supply ducts with reference to the house while the air handler runs, without sign
        [Pa]: half the plenum's where only that was read.
    return_pressure : float
        Return ducts with reference to the house, likewise [Pa].
    flows : tuple of HouseFlow
        Readings.
    air_handler_flow : float
        Flow of the air handler in operation [m³/s]; 0 where it is not known.
    baseline : float
        House with reference to outdoors with the fan sealed and the air handler off [Pa].
    repeatability : float
        Standard uncertainty of one fan flow when read twice [0-1], relative.
    flow_uncertainty : float
        Standard uncertainty of the fan's calibration [0-1], relative.
    pressure_uncertainty : float
        Standard uncertainty of one house pressure [Pa].
    exponent : float
        Of the duct leaks [-], 0.5 to 1.
    exponent_uncertainty : float
        Standard uncertainty of `exponent` [-].
    duct_pressure_uncertainty : float
        Standard uncertainty of `supply_pressure` and `return_pressure` standing for all
        leaks of their side [0-1], relative.
    """

    supply_pressure: float
    return_pressure: float
    flows: tuple[HouseFlow, ...] = ()
    air_handler_flow: float = 0.0
    baseline: float = 0.0
    repeatability: float = 0.01
    flow_uncertainty: float = 0.025
    pressure_uncertainty: float = 0.3
    exponent: float = 0.6
    exponent_uncertainty: float = 0.05
    duct_pressure_uncertainty: float = 0.25
