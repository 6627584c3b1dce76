"""Judge the flue gas: carbon monoxide, and whether the sample can be trusted."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.sureness import (
    LIKELY,
    probability_from_odds,
    probability_within,
    sureness,
)
from rooftree.readings.combustion.flue_gas import (
    HIGHEST_OXYGEN,
    LOWEST_CARBON_DIOXIDE,
    ULTIMATE_CARBON_DIOXIDE,
)
from rooftree.readings.combustion.procedure import NATURAL, NO_BURNER, procedure_of
from rooftree.readings.combustion.readings import ProbePlace
from rooftree.readings.combustion.sample import ULTIMATE_SPREAD, flue_gas_of
from rooftree.readings.combustion.saying import (
    OURS,
    PRACTICE,
    doubt,
    limit_finding,
    needed_limit,
    recalled_words,
)
from rooftree.tables.combustion_limits import combustion_limit, recalled_limits

if TYPE_CHECKING:
    from rooftree.readings.combustion.readings import CombustionTest
    from rooftree.readings.combustion.sample import FlueGas
    from rooftree.tables.combustion_limits import CombustionLimit

STEADY = 600.0
"""Time after fire-up at which the procedure reads carbon monoxide, or at steady state [s].

BPI, "Combustion Safety Test Procedure for Vented Appliances"."""

SETTLED = 0.10
"""Change between the last two samples of a steady burner, relative [0-1]; ours."""

SMALL_CHANGE = 10.0
"""Change between two samples that is nothing, whatever the level [ppm]; ours."""

MOST_OXYGEN = 0.213
"""Beyond this a sample has more oxygen than air, 0.2095, by more than a field analyser is off
[0-1]; ours."""

UNDILUTED, DILUTED = (0.08, 0.025), (0.16, 0.02)
"""Mean and spread of oxygen in flue gas before and after a draft hood [0-1]; ours, from the
excess air of atmospheric burners (common practice: 6 to 11 % oxygen)."""

DISAGREEING = 3.0
"""Standard uncertainties between the two gases and the fuel [-]; ours."""

LEGACY_RATIO = 0.008
"""Carbon monoxide over carbon dioxide as left at boilers, older British practice [-].

Cheyney & Cotton, "Combustion Performance Safety Action Levels for Domestic Gas Appliances",
Advantica R5205, 2002."""


def judge_flue_gas(test: CombustionTest) -> tuple[Finding, ...]:
    """Return what the carbon monoxide of the flue gas demands.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    tuple of Finding
        A stop, a gate, doubts, or nothing.
    """
    gas = flue_gas_of(test)
    if test.draft == NO_BURNER and gas.measured is None:
        return ()
    if gas.measured is None:
        return (
            doubt(
                test,
                "flue-co-missing",
                f"Carbon monoxide in the flue of the {test.appliance} was not measured. Measure"
                " undiluted flue gas after ten minutes, before any draft hood.",
            ),
        )
    return (
        *_judge_place(test, gas),
        *_judge_range(test, gas),
        *_judge_time(test, gas),
        *_judge_gases(test, gas),
        *_judge_amount(test, gas, gas.measured),
        *_judge_ratio(test, gas, gas.measured),
    )


def _judge_place(test: CombustionTest, gas: FlueGas) -> tuple[Finding, ...]:
    air = gas.oxygen is not None and gas.oxygen > HIGHEST_OXYGEN
    if air or (gas.carbon_dioxide is not None and gas.carbon_dioxide < LOWEST_CARBON_DIOXIDE):
        share = (
            f"{100.0 * (gas.oxygen or 0.0):.1f} % oxygen"
            if air
            else f"{100.0 * (gas.carbon_dioxide or 0.0):.1f} % carbon dioxide"
        )
        what = (
            "more than air itself: calibrate the analyser in outdoor air, or look for a digit too"
            " many, and"
            if gas.oxygen is not None and gas.oxygen > MOST_OXYGEN
            else "which is nearly all air: move the probe into undiluted flue gas and"
        )
        return (doubt(test, "flue-diluted", f"The sample holds {share}, {what} read again."),)
    if test.probe is ProbePlace.AFTER:
        return (
            doubt(
                test,
                "probe-after-dilution",
                "The probe was behind the draft hood, where room air thins the flue gas: the"
                " carbon monoxide is almost certain to read low. Put it into the passages of the"
                " heat exchanger below the hood, each one in turn, and read again.",
                source=PRACTICE,
            ),
        )
    return _judge_thinness(test, gas) or _judge_logged(test)


def _judge_thinness(test: CombustionTest, gas: FlueGas) -> tuple[Finding, ...]:
    oxygen = gas.oxygen
    if oxygen is None and gas.carbon_dioxide is not None:
        oxygen = 0.2095 * (1.0 - gas.carbon_dioxide / ULTIMATE_CARBON_DIOXIDE[test.fuel])
    if oxygen is None or test.draft != NATURAL:
        return ()
    odds = _log_density(oxygen, *DILUTED) - _log_density(oxygen, *UNDILUTED)
    chance = probability_from_odds(odds) if oxygen > UNDILUTED[0] else 0.0
    if chance < LIKELY:
        return ()
    return (
        doubt(
            test,
            "probe-after-dilution",
            f"{100.0 * oxygen:.1f} % oxygen is much for a burner before its draft hood: it is"
            f" {sureness(chance)} that the probe stood in thinned flue gas, or that the line leaks."
            " Move it below the hood and read again; carbon monoxide is air free only as far as"
            " the oxygen is right.",
            source=OURS,
            value=oxygen,
            limit=UNDILUTED[0],
            unit="0-1",
        ),
    )


def _log_density(value: float, mean: float, spread: float) -> float:
    return -0.5 * ((value - mean) / spread) ** 2 - math.log(spread)


def _judge_logged(test: CombustionTest) -> tuple[Finding, ...]:
    if test.probe is not ProbePlace.NOT_LOGGED:
        return ()
    return (
        doubt(
            test,
            "probe-not-logged",
            "Nobody logged where the probe was. Say so: behind a draft hood the carbon monoxide"
            " reads low, and the test means nothing.",
            source=PRACTICE,
        ),
    )


def _judge_range(test: CombustionTest, gas: FlueGas) -> tuple[Finding, ...]:
    top = test.analyser_range
    highest = max([gas.measured or 0.0, *(one.carbon_monoxide for one in test.flue_samples)])
    if top is None or highest < top:
        return ()
    return (
        doubt(
            test,
            "above-range",
            f"The analyser shows {highest:.0f} ppm and can show {top:.0f} ppm at most: it is"
            " almost certain that there is more. Turn the burner off, purge the analyser in fresh"
            " air, and have the burner serviced.",
            source=OURS,
            value=highest,
            limit=top,
            unit="ppm",
        ),
    )


def _judge_time(test: CombustionTest, gas: FlueGas) -> tuple[Finding, ...]:
    times = [sample.seconds for sample in test.flue_samples]
    if times != sorted(times):
        return (
            doubt(
                test,
                "samples-backwards",
                "The flue samples are not in the order of their times: one time is almost certain"
                " to be mistyped. Look through them now.",
                source=OURS,
            ),
        )
    if len(times) > 1:
        return _judge_steadiness(test)
    if gas.seconds is None or gas.seconds >= STEADY:
        return ()
    return (
        doubt(
            test,
            "not-warmed-up",
            f"Flue gas was sampled {gas.seconds:.0f} s after fire-up: a burner that is still cold"
            " is likely to read differently. Sample at ten minutes, or when three readings in a"
            " row agree.",
            value=gas.seconds,
            limit=STEADY,
            unit="s",
        ),
    )


def _judge_steadiness(test: CombustionTest) -> tuple[Finding, ...]:
    before, last = test.flue_samples[-2].carbon_monoxide, test.flue_samples[-1].carbon_monoxide
    change = last - before
    if abs(change) <= max(SETTLED * max(before, last), SMALL_CHANGE):
        return ()
    rising = change > 0.0
    return (
        doubt(
            test,
            "flue-co-unsteady",
            f"Carbon monoxide in the flue {'rose' if rising else 'fell'} from {before:.0f} to"
            f" {last:.0f} ppm between the last two samples. Wait until it settles; a burner whose"
            " carbon monoxide goes on rising is shut down and serviced.",
            source="Trade action levels (unstable: shut down), quoted in a secondary source",
            value=last,
            limit=before,
            unit="ppm",
            severity=Severity.GATE if rising else Severity.NOTE,
        ),
    )


def _judge_gases(test: CombustionTest, gas: FlueGas) -> tuple[Finding, ...]:
    if gas.oxygen is None and gas.carbon_dioxide is None:
        return (
            doubt(
                test,
                "no-oxygen",
                "Neither oxygen nor carbon dioxide was read with the carbon monoxide, so the air"
                " in the sample cannot be taken out: the true value is likely one and a half to"
                " twice as high. Read oxygen in the same sample now.",
                source=PRACTICE,
            ),
        )
    if gas.ultimate is None:
        return ()
    of_fuel = ULTIMATE_CARBON_DIOXIDE[test.fuel]
    unsure = math.hypot(gas.ultimate.standard, ULTIMATE_SPREAD * of_fuel)
    distance = (gas.ultimate.value - of_fuel) / unsure
    if abs(distance) <= DISAGREEING:
        return ()
    return (
        doubt(
            test,
            "gases-disagree",
            f"Oxygen and carbon dioxide together would make a fuel of"
            f" {100.0 * gas.ultimate.value:.1f} % ultimate carbon dioxide; {test.fuel.value} has"
            f" {100.0 * of_fuel:.1f} %. It is {sureness(probability_within(distance))} that a cell"
            " is worn, the line leaks or the fuel is another. Check the analyser in fresh air.",
            source="ASHRAE Handbook - Fundamentals, 2021, chapter 28, eq. 12 and table 15",
            value=gas.ultimate.value,
            limit=of_fuel,
            unit="0-1",
        ),
    )


def _judge_amount(test: CombustionTest, gas: FlueGas, measured: float) -> tuple[Finding, ...]:
    free = gas.air_free.value if gas.air_free else None
    amount = max(measured, free or 0.0)
    kind = "air-free" if free is not None else "as measured"
    off = needed_limit("flue-co", "shut off")
    if amount >= off.value:
        says = (
            f"{amount:.0f} ppm of carbon monoxide ({kind}) in the flue of the {test.appliance}:"
            " turn it off until a technician has cleaned, tuned or replaced it."
        )
        return (limit_finding(test, "flue-co", Severity.STOP, says, amount, off),)
    if test.own_co_limit is not None:
        return _judge_by_own(test, amount, test.own_co_limit)
    key = procedure_of(test).key
    service = combustion_limit("flue-co", "service", protocol=key, appliance=test.appliance)
    if service and amount > service.value:
        says = (
            f"{amount:.0f} ppm of carbon monoxide ({kind}) in the flue of the {test.appliance}:"
            " have it serviced, and tested again, before the house is made tighter."
        )
        says += recalled_words(test, "flue-co", amount)
        return (limit_finding(test, "flue-co", Severity.GATE, says, amount, service),)
    limits = recalled_limits("flue-co", protocol=key, appliance=test.appliance, draft=test.draft)
    return tuple(
        _recalled(test, _on_basis(limit, measured, free), limit)
        for limit in limits
        if limit.demands == "fail" and _on_basis(limit, measured, free) > limit.value
    )


def _on_basis(limit: CombustionLimit, measured: float, free: float | None) -> float:
    if limit.basis == "as measured" or free is None:
        return measured
    return free if limit.basis == "air-free" else max(measured, free)


def _recalled(test: CombustionTest, amount: float, limit: CombustionLimit) -> Finding:
    says = (
        f"{amount:.0f} ppm of carbon monoxide ({limit.basis}) in the flue of the {test.appliance}:"
        f" the protocol allows {limit.value:.0f} ppm, as far as we recall. Look it up in your copy"
        " and type it in; until then take the burner as failed."
    )
    return limit_finding(test, "flue-co-recalled", Severity.NOTE, says, amount, limit)


def _judge_by_own(test: CombustionTest, amount: float, own: float) -> tuple[Finding, ...]:
    if amount <= own:
        return ()
    return (
        doubt(
            test,
            "flue-co",
            f"{amount:.0f} ppm of carbon monoxide in the flue of the {test.appliance}; your copy"
            f" of the protocol allows {own:.0f} ppm. Have it serviced, and tested again, before"
            " the house is made tighter.",
            source=f"{procedure_of(test).document}, {test.edition or 'own copy'}, as typed in",
            value=amount,
            limit=own,
            unit="ppm",
            severity=Severity.GATE,
        ),
    )


def _judge_ratio(test: CombustionTest, gas: FlueGas, measured: float) -> tuple[Finding, ...]:
    if test.appliance != "boiler" or not gas.carbon_dioxide:
        return ()
    ratio = 1e-6 * measured / gas.carbon_dioxide
    if ratio <= LEGACY_RATIO:
        return ()
    return (
        doubt(
            test,
            "co-ratio",
            f"Carbon monoxide over carbon dioxide is {ratio:.4f}; British practice left no boiler"
            f" above {LEGACY_RATIO}. Have it serviced.",
            source="Cheyney & Cotton, Advantica R5205 (for HSE), 2002",
            value=ratio,
            limit=LEGACY_RATIO,
            unit="-",
        ),
    )
