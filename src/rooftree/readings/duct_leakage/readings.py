"""What a person reads during a duct leakage test with a duct fan."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DuctFanReading:
    """One fan at one duct pressure: its flow as shown, or its pressure and configuration.

    Attributes
    ----------
    duct_pressure : float
        Ducts with reference to the house (total) or outdoors at that moment [Pa]; readings
        with the same pressure are of fans that ran together.
    flow : float or None
        Flow shown by the gauge [m³/s].
    fan_pressure : float or None
        Pressure across the fan's sensor [Pa].
    configuration : str
        What was on the fan.
    fan : str
        Which fan, where there are several.
    """

    duct_pressure: float
    flow: float | None = None
    fan_pressure: float | None = None
    configuration: str = ""
    fan: str = ""


@dataclass(frozen=True, slots=True)
class DuctFanBand:
    """Calibration of one configuration: ``flow = coefficient * fan_pressure ** exponent``.

    Attributes
    ----------
    configuration : str
        The user's own name for the ring, plate or range.
    low, high : float
        Band of fan pressure for which the calibration holds [Pa].
    coefficient : float
        Of the calibration [m³/(s·Paⁿ)].
    exponent : float
        Of the calibration [-].
    fan : str
        Which fan, where there are several.
    """

    configuration: str
    low: float
    high: float
    coefficient: float
    exponent: float
    fan: str = ""


@dataclass(frozen=True, slots=True)
class DuctLeakageTest:
    """One duct pressurization test.

    Attributes
    ----------
    to_outdoors : bool
        True when the house was held at the duct pressure, so that only leakage to
        outdoors was read; False for total leakage.
    duct_pressure : float
        Ducts with reference to the house (total) or outdoors [Pa]; not used where
        `fan_readings` are given.
    flow : float
        Flow of the duct fan [m³/s]; not used where `fan_readings` are given.
    air_handler_flow : float
        Flow of the air handler in operation [m³/s]; 0 where it is not known.
    exponent : float
        For the way to 25 Pa [-]; 0.6 is usual for ducts.
    flow_uncertainty : float
        Standard uncertainty of the fan's calibration [0-1], relative.
    pressure_uncertainty : float
        Standard uncertainty of one pressure reading [Pa].
    exponent_uncertainty : float
        Standard uncertainty of `exponent` [-].
    fan_readings : tuple of DuctFanReading
        Several fans, configurations or pressures.
    calibration : tuple of DuctFanBand
        Of the fans; empty when the gauge shows flow.
    duct_house_pressure : float or None
        Test to outdoors: ducts with reference to the house, 0 when held equal [Pa].
    house_pressure : float or None
        House with reference to outdoors: the duct pressure in the test to outdoors, 0 in
        that of total leakage with a door open [Pa].
    space_pressure : float or None
        The attic, crawlspace or garage that holds the ducts, with reference to outdoors,
        during the test to outdoors [Pa].
    far_pressure : float or None
        Duct pressure at the register farthest from the fan, read like `duct_pressure` [Pa].
    registers, registers_sealed : int or None
        Registers and grilles counted in the house, and those sealed or fed by the fan [-].
    filter_out : bool or None
        Whether the filter was taken out; None where nobody noted it.
    dampers_open : bool or None
        Whether balancing and zone dampers stood open.
    door_open : bool or None
        Total leakage: whether a door or window to outdoors stood open.
    air_temperature : float or None
        Of the air through the duct fan [K]; None for 20 °C.
    barometric_pressure : float
        At the site [Pa].
    air_handler_uncertainty : float
        Standard uncertainty of `air_handler_flow` [0-1], relative.
    """

    to_outdoors: bool
    duct_pressure: float = 0.0
    flow: float = 0.0
    air_handler_flow: float = 0.0
    exponent: float = 0.6
    flow_uncertainty: float = 0.03
    pressure_uncertainty: float = 0.25
    exponent_uncertainty: float = 0.05
    fan_readings: tuple[DuctFanReading, ...] = ()
    calibration: tuple[DuctFanBand, ...] = ()
    duct_house_pressure: float | None = None
    house_pressure: float | None = None
    space_pressure: float | None = None
    far_pressure: float | None = None
    registers: int | None = None
    registers_sealed: int | None = None
    filter_out: bool | None = None
    dampers_open: bool | None = None
    door_open: bool | None = None
    air_temperature: float | None = None
    barometric_pressure: float = 101_325.0
    air_handler_uncertainty: float = 0.05

    @property
    def readings(self) -> tuple[DuctFanReading, ...]:
        """Fan readings, or the single flow and pressure as one."""
        return self.fan_readings or (DuctFanReading(self.duct_pressure, self.flow),)
