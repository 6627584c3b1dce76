"""Reduce the measured fans of a dwelling to what they give and what is missing.

Sources
-------
[622] ASHRAE Standard 62.2, by edition; see :mod:`rooftree.readings.ventilation.need`.
[GUM1] JCGM 101:2008, propagation of distributions.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from rooftree.finding import Finding, Severity
from rooftree.physics.draws import draw_inputs, propagate_draws
from rooftree.physics.propagation import COVERAGE, Propagated, factor_limits
from rooftree.physics.superposition import half_fan_flow, quadrature_flow, sub_additive_flow
from rooftree.readings.ventilation.editions import editions
from rooftree.readings.ventilation.fans import (
    LOCAL,
    is_measured,
    local_reading,
    reduce_fan,
    total_flow,
    whole_house_fan,
)
from rooftree.readings.ventilation.infiltration import infiltration_from_flow
from rooftree.readings.ventilation.intermittent import running_flow
from rooftree.readings.ventilation.judge import judge_fans
from rooftree.readings.ventilation.judge_flows import judge_flows
from rooftree.readings.ventilation.judge_ratings import MATCHED
from rooftree.readings.ventilation.need import required_fan_flow
from rooftree.readings.ventilation.readings import WholeHouseFan
from rooftree.readings.ventilation.residential_code import code_fan_flow
from rooftree.readings.ventilation.results import FanSetting, Together, VentilationResult
from rooftree.readings.ventilation.weather_factor import weather_shielding_factor
from rooftree.units import Kind, both

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.readings.ventilation.fans import FanFlow
    from rooftree.readings.ventilation.need import VentilationNeed
    from rooftree.readings.ventilation.readings import VentilationTest
    from rooftree.weather.year import WeatherYear

COMPUTED_FACTOR = 0.25
"""Relative standard uncertainty of a computed weather-and-shielding factor [0-1]; ours: from
one shelter class to the next it moves by a quarter to a third."""

SETTINGS = ((1.0, 1.0), (0.5, 2.0), (1.0 / 3.0, 3.0), (1.0 / 3.0, 24.0))
"""Shares of the time and cycles [h] for which a fan is sized."""

SURE = 0.95
"""Probability from which the fans are said to be enough or not [0-1]."""

LADDER = np.linspace(-5.0, 5.0, 81)
"""Standard uncertainties of the infiltration at which the need is computed [-]."""


def reduce_ventilation(
    test: VentilationTest,
    *,
    floor_area: float | None = None,
    bedrooms: int | None = None,
    height: float | None = None,
    flow_50: float | None = None,
    flow_50_uncertainty: float = 0.05,
    year: WeatherYear | None = None,
) -> VentilationResult:
    """Reduce the measured fans of a dwelling, and hold them against ASHRAE 62.2.

    Parameters
    ----------
    test : VentilationTest
        Fans, edition and weather factor.
    floor_area : float or None
        Of the dwelling [m²].
    bedrooms : int or None
        Number.
    height : float or None
        From the lowest floor above grade to the highest ceiling [m]; one storey where
        None.
    flow_50 : float or None
        Leakage at 50 Pa of the fan test [m³/s].
    flow_50_uncertainty : float
        Its standard uncertainty [0-1], relative.
    year : WeatherYear or None
        Hourly weather, for a computed factor where none is given.

    Returns
    -------
    VentilationResult
        What lacks an input is None, and a finding says which.

    Raises
    ------
    OutOfRangeError
        If the edition is not in the table, or a size is not positive.

    Notes
    -----
    Terms of the need as in :func:`~rooftree.readings.ventilation.need.required_fan_flow`.
    Whole-house flow is the larger one of supply and exhaust, each the mean over time of
    what counts. Required and balance are drawn from the uncertainty of leakage, factor and
    flows; the rules of the standard themselves count as exact.
    """
    fans = tuple(reduce_fan(one, test.flow_uncertainty, floor_area) for one in test.fans)
    exhaust, supply = sum(f.mean_exhaust for f in fans), sum(f.mean_supply for f in fans)
    is_balanced = min(exhaust, supply) >= (1.0 - MATCHED) * max(exhaust, supply) > 0.0
    provided = _provided(fans, test.flow_uncertainty, by_supply=supply > exhaust)
    factor, says = _factor(test, year)
    infiltration = _infiltration(test, factor, flow_50, flow_50_uncertainty, height)
    judged = judge_flows(fans) + judge_fans(_whole(fans), floor_area)
    rooms = [
        local_reading(fan.reading, LOCAL[fan.reading.purpose], fan.exhaust)
        for fan in fans
        if fan.reading.purpose in LOCAL
    ]

    def need_of(edition: str, leakage: float | None) -> VentilationNeed:
        return required_fan_flow(
            edition, floor_area=floor_area or 1.0, bedrooms=bedrooms or 0, people=test.people,
            height=height or 2.5, flow_50=leakage, weather_factor=factor,
            balanced=is_balanced, exterior_share=test.exterior_share, is_new=test.is_new,
            rooms=rooms, fans=(WholeHouseFan("whole-house fans", provided.value),),
        )  # fmt: skip

    knows_house = floor_area is not None and bedrooms is not None
    need = need_of(test.edition, flow_50) if knows_house else None
    listed = tuple(need_of(one, flow_50) for one in sorted(editions())) if knows_house else ()
    required = balance = chance = None
    if need is not None:
        required, balance, chance = _balance(
            lambda leakage: need_of(test.edition, leakage).fan,
            need,
            provided,
            infiltration,
            flow_50,
        )
    judged += need.findings if need else ()
    return VentilationResult(
        fans=fans,
        exhaust=exhaust,
        supply=supply,
        provided=provided,
        all_exhaust=total_flow(
            [(1.0, fan.exhaust) for fan in fans if fan.exhaust is not None], test.flow_uncertainty
        ),
        is_balanced=is_balanced,
        weather_factor=factor,
        factor_says=says,
        infiltration=infiltration,
        need=need,
        editions=listed,
        required=required,
        balance=balance,
        short_by=None if need is None else need.missing,
        chance_enough=chance,
        together=_together(infiltration, exhaust, supply),
        code_flow=code_fan_flow(floor_area, bedrooms)
        if floor_area is not None and bedrooms is not None
        else None,
        settings=_settings(required, floor_area),
        findings=judged + _missing(test, floor_area, bedrooms, factor),
        says=_in_words(test, need, provided, required, chance),
    )


def _whole(fans: tuple[FanFlow, ...]) -> list[WholeHouseFan]:
    found = []
    for fan in fans:
        flow = fan.exhaust or fan.supply
        whole = whole_house_fan(fan.reading, flow.value) if flow is not None else None
        if whole is not None:
            found.append(whole)
    return found


def _provided(fans: tuple[FanFlow, ...], meter: float, *, by_supply: bool) -> Propagated:
    parts = []
    for fan in fans:
        flow = fan.supply if by_supply else fan.exhaust
        mean = fan.mean_supply if by_supply else fan.mean_exhaust
        if flow is not None and flow.value > 0.0:
            parts.append((mean / flow.value, flow))
    return total_flow(parts, meter)


def _factor(test: VentilationTest, year: WeatherYear | None) -> tuple[float | None, str]:
    if test.weather_factor is not None:
        return test.weather_factor, "as printed by the standard for the place, entered by hand"
    if year is None:
        return None, ""
    computed = weather_shielding_factor(year)
    return computed.value, f"from the hourly year of {computed.station}, {computed.says}"


def _infiltration(
    test: VentilationTest,
    factor: float | None,
    flow_50: float | None,
    relative: float,
    height: float | None,
) -> Propagated | None:
    if factor is None or flow_50 is None:
        return None
    value = infiltration_from_flow(flow_50, height or 2.5, factor)
    doubt = math.hypot(relative, COMPUTED_FACTOR if test.weather_factor is None else 0.0)
    return factor_limits(value, doubt)


def _balance(
    fan_of: Callable[[float | None], float],
    need: VentilationNeed,
    provided: Propagated,
    infiltration: Propagated | None,
    flow_50: float | None,
) -> tuple[Propagated, Propagated, float]:
    """Return required [m³/s], provided less required, and the chance that it is enough."""
    relative, unsure = _on_logarithms(provided), _on_logarithms(infiltration)
    leaks, meter = draw_inputs([0.0, 0.0], [1.0, 1.0])
    given = provided.value * np.exp(relative * meter)
    if infiltration is None or flow_50 is None:
        asked = np.full(given.shape, need.fan)
    else:
        # The need depends on one number that is unsure: a ladder of it is enough.
        steps = [fan_of(flow_50 * math.exp(unsure * step)) for step in LADDER.tolist()]
        asked = np.interp(leaks, LADDER, steps)
    required = propagate_draws(need.fan, asked)
    balance = propagate_draws(provided.value - need.fan, given - asked)
    return required, balance, float(np.mean(given >= asked))


def _on_logarithms(flow: Propagated | None) -> float:
    """Return the standard uncertainty of the logarithm of a flow."""
    if flow is None or not flow.value:
        return 0.0
    return math.log(flow.high / flow.value) / COVERAGE


def _together(infiltration: Propagated | None, exhaust: float, supply: float) -> Together | None:
    if infiltration is None:
        return None
    balanced, unbalanced = min(exhaust, supply), abs(exhaust - supply)
    leaks = infiltration.value
    return Together(
        quadrature_flow(leaks, unbalanced, balanced),
        half_fan_flow(leaks, unbalanced, balanced),
        balanced + sub_additive_flow(leaks, unbalanced),
    )


def _settings(required: Propagated | None, floor_area: float | None) -> tuple[FanSetting, ...]:
    if required is None or floor_area is None or required.value <= 0.0:
        return ()
    return tuple(
        FanSetting(share, cycle, running_flow(required.value, share, cycle, floor_area))
        for share, cycle in SETTINGS
    )


def _missing(
    test: VentilationTest, floor_area: float | None, bedrooms: int | None, factor: float | None
) -> tuple[Finding, ...]:
    findings = []
    if floor_area is None or bedrooms is None:
        lacks = "floor area" if floor_area is None else "number of bedrooms"
        findings.append(
            Finding(
                "ventilation/no-house",
                Severity.NOTE,
                f"What the dwelling needs is not known without its {lacks}: enter it with the"
                " house.",
            )
        )
    if factor is not None and test.weather_factor is None:
        findings.append(
            Finding(
                "ventilation/computed-factor",
                Severity.NOTE,
                f"The weather-and-shielding factor of {factor:.2f} is computed from the hourly"
                " year, not the standard's own, and credits less. Enter the printed one where"
                " you have it.",
                factor,
                unit="1/h",
                source="rooftree: infiltration by AIM-2 and the effective air change over the year",
            )
        )
    if not any(is_measured(one) for one in test.fans):
        findings.append(
            Finding(
                "ventilation/no-flow",
                Severity.NOTE,
                "No fan has a measured flow yet: measure each bath and kitchen fan, the dryer and"
                " the whole-house fan.",
            )
        )
    return tuple(findings)


def _in_words(
    test: VentilationTest,
    need: VentilationNeed | None,
    provided: Propagated,
    required: Propagated | None,
    chance: float | None,
) -> str:
    gives = (
        f"The whole-house fans give {both(provided.value, Kind.FLOW)} on average"
        if provided.value > 0.0
        else "No measured fan ventilates the whole house"
    )
    if need is None or required is None or chance is None:
        return f"{gives}; what the house needs is not known yet."
    asks = f"62.2-{test.edition} asks for {both(need.fan, Kind.FLOW)}"
    if need.fan == 0.0:
        return f"{gives}. 62.2-{test.edition} asks for no fan here: leaks are enough."
    if chance >= SURE:
        return f"{gives} and {asks}: enough."
    if chance <= 1.0 - SURE:
        return f"{gives} and {asks}: {both(need.missing, Kind.FLOW)} are missing."
    return (
        f"{gives} and {asks}: within what the readings leave unsure, with a chance of"
        f" {100.0 * chance:.0f} % that it is enough. Set the fan a little higher."
    )
