"""Reduce the readings at one burner to an outcome."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.physics.propagation import propagate
from rooftree.readings.combustion.judge import CAUTIONS
from rooftree.readings.combustion.judge_vent import net_pressure, theoretical_draft
from rooftree.readings.combustion.outcome import outcome_of, walk_steps
from rooftree.readings.combustion.sample import flue_gas_of
from rooftree.readings.combustion.spillage import spillage_of

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.combustion.outcome import Outcome, StepResult
    from rooftree.readings.combustion.readings import CombustionTest
    from rooftree.readings.combustion.sample import FlueGas
    from rooftree.readings.combustion.spillage import Spillage


@dataclass(frozen=True, slots=True)
class CombustionResult:
    """What the test of one burner tells.

    Attributes
    ----------
    appliance : str
        Which burner.
    net_pressure : float
        Worst case with the baseline taken off, zone with reference to outdoors [Pa].
    flue_co_air_free : float or None
        Carbon monoxide of the flue gas without excess air [ppm].
    steps : tuple of StepResult
        Every step of the procedure with what it found.
    outcome : Outcome
        Where the test ended, in a sentence.
    findings : tuple of Finding
        Of all steps, in the order of the procedure.
    zone : Propagated
        `net_pressure` with its uncertainty [Pa].
    gas : FlueGas
        The flue sample that counts.
    spillage : Spillage
        When it began and stopped.
    theoretical_draft : float or None
        What the heat in the flue can make before any loss [Pa].
    cautions : str
        The usual cautions; show them wherever the outcome is shown.
    """

    appliance: str
    net_pressure: float
    flue_co_air_free: float | None
    steps: tuple[StepResult, ...]
    outcome: Outcome
    findings: tuple[Finding, ...]
    zone: Propagated
    gas: FlueGas
    spillage: Spillage
    theoretical_draft: float | None
    cautions: str = CAUTIONS

    @property
    def says(self) -> str:
        """Return the outcome in plain sentences."""
        return self.outcome.says


def reduce_combustion(
    test: CombustionTest, *, zone_pressure: float | None = None
) -> CombustionResult:
    """Reduce the readings at one burner.

    Parameters
    ----------
    test : CombustionTest
        Readings.
    zone_pressure : float or None
        Worst case that the search of the appliance zone found, baseline taken off [Pa];
        None where none was made.

    Returns
    -------
    CombustionResult

    Notes
    -----
    Order of the steps after BPI, "Combustion Safety Test Procedure for Vented
    Appliances"; what decides depends on the protocol. Limits with their sources are in
    the table ``combustion_limits``; those that are only recalled never decide.

    Examples
    --------
    >>> from rooftree.readings.combustion.readings import CombustionTest
    >>> heater = CombustionTest(
    ...     "water heater", "natural draft", 0.0, 20.0, 0.09, -0.5, -1.5, "dryer on",
    ...     30.0, -2.5, False, 283.15,
    ... )
    >>> reduce_combustion(heater).outcome.ending.value
    'passed'
    """
    steps = walk_steps(test, zone_pressure=zone_pressure)
    gas = flue_gas_of(test)
    uncertainty = test.pressure_uncertainty
    return CombustionResult(
        test.appliance,
        net_pressure(test),
        gas.air_free.value if gas.air_free else None,
        steps,
        outcome_of(test, steps),
        tuple(finding for step in steps for finding in step.findings),
        propagate(
            lambda worst, baseline: worst - baseline,
            [test.worst_pressure, test.baseline_pressure],
            [uncertainty, uncertainty],
        ),
        gas,
        spillage_of(test),
        theoretical_draft(test),
    )
