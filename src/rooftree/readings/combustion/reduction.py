"""Reduce the readings at one burner to an outcome."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.readings.combustion.judge import CAUTIONS, air_free, net_pressure
from rooftree.readings.combustion.outcome import outcome_of, walk_steps

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.readings.combustion.outcome import Outcome, StepResult
    from rooftree.readings.combustion.readings import CombustionTest


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
    cautions : str
        The usual cautions; show them wherever the outcome is shown.
    """

    appliance: str
    net_pressure: float
    flue_co_air_free: float | None
    steps: tuple[StepResult, ...]
    outcome: Outcome
    findings: tuple[Finding, ...]
    cautions: str = CAUTIONS

    @property
    def says(self) -> str:
        """Return the outcome in plain sentences."""
        return self.outcome.says


def reduce_combustion(test: CombustionTest) -> CombustionResult:
    """Reduce the readings at one burner.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    CombustionResult

    Notes
    -----
    Order of the steps after BPI, "Combustion Safety Test Procedure for Vented
    Appliances". Limits with their sources are in ``limits.csv``; those that are only
    recalled never decide.

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
    steps = walk_steps(test)
    findings = tuple(finding for step in steps for finding in step.findings)
    return CombustionResult(
        test.appliance, net_pressure(test), air_free(test), steps, outcome_of(steps), findings
    )
