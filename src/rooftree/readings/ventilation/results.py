"""What the measured fans of a dwelling tell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.ventilation.fans import FanFlow
    from rooftree.readings.ventilation.need import VentilationNeed


@dataclass(frozen=True, slots=True)
class Together:
    """Outdoor air of fans and leaks together, by three published rules.

    Attributes
    ----------
    quadrature : float
        Handbook, chapter 16, eq. 51 [m³/s].
    half_fan : float
        Handbook, chapter 17, eq. 12 to 14 [m³/s].
    sub_additive : float
        The rule behind 62.2-2019 [m³/s].
    """

    quadrature: float
    half_fan: float
    sub_additive: float


@dataclass(frozen=True, slots=True)
class FanSetting:
    """A way to run one fan that stands for the flow that is asked for.

    Attributes
    ----------
    run_share : float
        Share of each cycle for which it runs [0-1].
    cycle : float
        From one start to the next [h].
    flow : float
        While it runs [m³/s]; infinite where no flow makes up for the rest.
    """

    run_share: float
    cycle: float
    flow: float


@dataclass(frozen=True, slots=True)
class VentilationResult:
    """What the measured fans of a dwelling tell.

    Attributes
    ----------
    fans : tuple of FanFlow
        Each fan, as it counts.
    exhaust, supply : float
        Mean flows out and in that count for the whole dwelling [m³/s].
    provided : Propagated
        What whole-house fans give, mean over time [m³/s].
    all_exhaust : Propagated
        All that is blown out when every fan and the dryer run at once [m³/s].
    is_balanced : bool
        Whether supply and exhaust differ by a tenth at most.
    weather_factor : float or None
        Weather-and-shielding factor [1/h].
    factor_says : str
        Whether it was printed or computed, and for which house.
    infiltration : Propagated or None
        Effective annual infiltration [m³/s]; None without fan test and factor.
    need : VentilationNeed or None
        By the edition of the test; None without floor area and bedrooms.
    editions : tuple of VentilationNeed
        By every edition, oldest first.
    required : Propagated or None
        Flow that whole-house fans must give by the edition of the test [m³/s].
    balance : Propagated or None
        Provided less required [m³/s].
    short_by : float or None
        What is missing [m³/s], >= 0.
    chance_enough : float or None
        Probability that the fans give enough, by the uncertainty of flows and leaks [0-1].
    together : Together or None
        Outdoor air of fans and leaks together.
    code_flow : float or None
        What the International Residential Code asks for instead [m³/s].
    settings : tuple of FanSetting
        Ways to run one fan for the flow that is required.
    findings : tuple of Finding
        Shortfalls, mistakes and doubts, with what to do.
    says : str
        What it means for this house.
    """

    fans: tuple[FanFlow, ...]
    exhaust: float
    supply: float
    provided: Propagated
    all_exhaust: Propagated
    is_balanced: bool
    weather_factor: float | None
    factor_says: str
    infiltration: Propagated | None
    need: VentilationNeed | None
    editions: tuple[VentilationNeed, ...]
    required: Propagated | None
    balance: Propagated | None
    short_by: float | None
    chance_enough: float | None
    together: Together | None
    code_flow: float | None
    settings: tuple[FanSetting, ...]
    findings: tuple[Finding, ...]
    says: str
