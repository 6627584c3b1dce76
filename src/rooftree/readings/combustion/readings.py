"""What a person reads, sees and logs at one burner."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from rooftree.known import Answer


class Protocol(StrEnum):
    """By which procedure the outcome is decided; limits and editions are in the tables."""

    OLDER = "older building analyst procedure"
    BPI_1200 = "ANSI/BPI-1200 (2017)"
    FUEL_GAS_CODE = "National Fuel Gas Code, annex G"


class VentState(StrEnum):
    """Whether the vent was warm when the burner fired."""

    COLD = "cold"
    WARM = "warm"
    NOT_LOGGED = "not logged"


class TimerStart(StrEnum):
    """From which moment spillage was timed."""

    FIRE_UP = "burner fire-up"
    CALL = "call for heat"
    LATER = "later than fire-up"
    NOT_LOGGED = "not logged"


class ProbePlace(StrEnum):
    """Where the flue gas was sampled."""

    BEFORE = "before dilution"
    AFTER = "after the draft hood"
    NOT_LOGGED = "not logged"


class BurnerFuel(StrEnum):
    """What burns."""

    NATURAL_GAS = "natural gas"
    PROPANE = "propane"
    OIL = "oil"


class VentCategory(StrEnum):
    """Category of a gas appliance by pressure and condensing in its vent."""

    ONE = "I"
    TWO = "II"
    THREE = "III"
    FOUR = "IV"
    NOT_KNOWN = "not known"


class FlameLook(StrEnum):
    """How the flame looks."""

    STEADY = "steady and blue"
    YELLOW = "yellow or sooting"
    LIFTING = "lifting"
    ROLLING_OUT = "rolling out"
    NOT_SEEN = "not seen"


@dataclass(frozen=True, slots=True)
class SpillageCheck:
    """One look at the draft hood.

    Attributes
    ----------
    seconds : float
        Since the burner fired [s], >= 0.
    spills : bool
        Whether flue gas came out.
    place : str
        Where along the hood, and with what it was seen.
    """

    seconds: float
    spills: bool
    place: str = ""


@dataclass(frozen=True, slots=True)
class FlueSample:
    """One sample of undiluted flue gas.

    Attributes
    ----------
    seconds : float
        Since the burner fired [s], >= 0.
    carbon_monoxide : float
        As measured [ppm], >= 0.
    oxygen, carbon_dioxide : float or None
        In the same sample, dry [0-1].
    """

    seconds: float
    carbon_monoxide: float
    oxygen: float | None = None
    carbon_dioxide: float | None = None


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
        Carbon monoxide in the air of the room before the burner fires [ppm].
    flue_co : float or None
        Undiluted carbon monoxide in the flue, as measured [ppm]; None where it was not
        measured, or where `flue_samples` has it.
    flue_oxygen : float or None
        Oxygen there [0-1], for the air-free value.
    baseline_pressure, worst_pressure : float
        Appliance zone with reference to outdoors, with everything off and in the
        worst case found [Pa].
    worst_case : str
        Which fans ran and which doors were shut in the worst case.
    spillage_seconds : float or None
        Time from fire-up until no more spillage [s]; None when it never stopped
        within the test's limit. Where `spillage_checks` are given, those count.
    draft_pressure : float or None
        Flue with reference to the room [Pa].
    gas_leak : bool
        Whether a gas leak was found at this burner.
    outdoor_temperature : float
        [K].
    protocol : Protocol
        By which procedure the outcome is decided.
    edition : str
        Edition of the assessor's own copy of it; empty where none is at hand.
    own_spillage_limit : float or None
        Longest spillage that this copy prints for this burner and vent [s].
    own_co_limit : float or None
        Most carbon monoxide that it prints, air free unless it says otherwise [ppm].
    vent_category : VentCategory
        From the rating plate.
    flame : FlameLook
        How the flame looks.
    flame_moves : Answer
        Whether the flame changes when the blower starts.
    soot : bool
        Whether soot, scorching, rust or a melted hood was seen at the burner.
    spillage_checks : tuple of SpillageCheck
        Looks at the draft hood since fire-up, in the order taken.
    vent_state : VentState
        At fire-up.
    timed_from : TimerStart
        When the timer was started.
    natural_tested : bool
        Whether spillage was timed again with the fans off and doors as they usually are.
    natural_spillage_seconds : float or None
        Time until no more spillage then [s]; None where it never stopped.
    fuel : BurnerFuel
        What burns.
    flue_carbon_dioxide : float or None
        Carbon dioxide in the flue sample, dry [0-1].
    flue_samples : tuple of FlueSample
        Samples since fire-up, in the order taken; the last one counts.
    probe : ProbePlace
        Where they were taken.
    sample_seconds : float or None
        Time of `flue_co` since fire-up [s].
    analyser_range : float or None
        Highest carbon monoxide that the analyser shows [ppm].
    zeroed_outdoors : Answer
        Whether the analyser was warmed up and zeroed in outdoor air.
    ambient_co_after : float or None
        Carbon monoxide in the room after the burner has run [ppm].
    flue_temperature : float or None
        In the vent where the draft was read [K].
    flue_height : float or None
        From there to the top of the vent [m].
    pilot_relit, thermostat_restored, switches_restored, doors_restored : Answer
        As left: pilot, thermostat or water temperature, gas cock and switches, doors,
        hatches and windows.
    pressure_uncertainty : float
        Standard uncertainty of one pressure [Pa].
    concentration_uncertainty : float
        Standard uncertainty of carbon monoxide, relative [0-1].
    gas_uncertainty : float
        Standard uncertainty of oxygen and of carbon dioxide, as a share of the sample [0-1].
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
    protocol: Protocol = Protocol.OLDER
    edition: str = ""
    own_spillage_limit: float | None = None
    own_co_limit: float | None = None
    vent_category: VentCategory = VentCategory.NOT_KNOWN
    flame: FlameLook = FlameLook.NOT_SEEN
    flame_moves: Answer = Answer.NOT_SAID
    soot: bool = False
    spillage_checks: tuple[SpillageCheck, ...] = ()
    vent_state: VentState = VentState.NOT_LOGGED
    timed_from: TimerStart = TimerStart.FIRE_UP
    natural_tested: bool = False
    natural_spillage_seconds: float | None = None
    fuel: BurnerFuel = BurnerFuel.NATURAL_GAS
    flue_carbon_dioxide: float | None = None
    flue_samples: tuple[FlueSample, ...] = ()
    probe: ProbePlace = ProbePlace.NOT_LOGGED
    sample_seconds: float | None = None
    analyser_range: float | None = None
    zeroed_outdoors: Answer = Answer.NOT_SAID
    ambient_co_after: float | None = None
    flue_temperature: float | None = None
    flue_height: float | None = None
    pilot_relit: Answer = Answer.NOT_SAID
    thermostat_restored: Answer = Answer.NOT_SAID
    switches_restored: Answer = Answer.NOT_SAID
    doors_restored: Answer = Answer.NOT_SAID
    pressure_uncertainty: float = 0.5
    concentration_uncertainty: float = 0.05
    gas_uncertainty: float = 0.002
