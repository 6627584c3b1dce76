"""What a person reads at one burner."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CombustionTest:
    """Readings at one burner.

    Attributes
    ----------
    appliance : str
        ``"water heater"``, ``"furnace"``, ``"boiler"``, ``"oven"``.
    draft : str
        One of ``rooftree.house.Draft``.
    ambient_co : float
        Carbon monoxide in the air of the room [ppm].
    flue_co : float or None
        Undiluted carbon monoxide in the flue, as measured [ppm].
    flue_oxygen : float or None
        Oxygen there [0-1], for the air-free value.
    baseline_pressure, worst_pressure : float
        Appliance zone with reference to outdoors, with everything off and in the
        worst case found [Pa].
    worst_case : str
        Which fans ran and which doors were shut in the worst case.
    spillage_seconds : float or None
        Time from fire-up until no more spillage [s]; None when it never stopped
        within the test's limit.
    draft_pressure : float or None
        Flue with reference to the room [Pa].
    gas_leak : bool
        Whether a gas leak was found.
    outdoor_temperature : float
        [K].
    """

    appliance: str
    draft: str
    ambient_co: float
    flue_co: float | None
    flue_oxygen: float | None
    baseline_pressure: float
    worst_pressure: float
    worst_case: str
    spillage_seconds: float | None
    draft_pressure: float | None
    gas_leak: bool
    outdoor_temperature: float
