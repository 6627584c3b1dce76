"""What a person reads during a duct leakage test with a duct fan."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DuctLeakageTest:
    """One duct pressurization test.

    Attributes
    ----------
    to_outdoors : bool
        True when the house was held at the duct pressure, so that only leakage to
        outdoors was read; False for total leakage.
    duct_pressure : float
        Ducts with reference to the house (total) or outdoors [Pa].
    flow : float
        Flow of the duct fan [m³/s].
    air_handler_flow : float
        Flow of the air handler in operation [m³/s].
    exponent : float
        For the way to 25 Pa [-]; 0.6 is usual for ducts.
    flow_uncertainty : float
        Standard uncertainty of the flow [0-1], relative.
    pressure_uncertainty : float
        Standard uncertainty of `duct_pressure` [Pa].
    exponent_uncertainty : float
        Standard uncertainty of `exponent` [-].
    """

    to_outdoors: bool
    duct_pressure: float
    flow: float
    air_handler_flow: float
    exponent: float = 0.6
    flow_uncertainty: float = 0.03
    pressure_uncertainty: float = 0.25
    exponent_uncertainty: float = 0.05
