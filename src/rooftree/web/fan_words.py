"""What a reduced fan test says, line by line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.readings.airtightness import hole_in_words
from rooftree.units import Kind, show, show_range

if TYPE_CHECKING:
    from rooftree.physics.uncertainty import Estimate
    from rooftree.readings.airtightness import FanTestResult, LeakageSizes
    from rooftree.units import DisplaySystem


@dataclass(frozen=True, slots=True)
class Line:
    """One result with its limits.

    Attributes
    ----------
    words : str
        What it is.
    value : str
        The result with its unit.
    limits : str
        Between which it lies with 95 % probability; empty where that is not known.
    """

    words: str
    value: str
    limits: str = ""


_SIZES = (
    ("Flow at 50 Pa", "flow50", Kind.FLOW),
    ("Air changes at 50 Pa", "air_changes50", Kind.AIR_CHANGES),
    ("Flow at 50 Pa over envelope area", "permeability50", Kind.PERMEABILITY),
    ("Flow at 50 Pa over floor area", "specific_leakage50", Kind.PERMEABILITY),
    ("Effective leakage area at 4 Pa (ELA)", "effective_leakage_area", Kind.LEAKAGE_AREA),
    ("Equivalent leakage area at 10 Pa (EqLA)", "equivalent_leakage_area", Kind.LEAKAGE_AREA),
    ("Normalized leakage", "normalized_leakage", Kind.RATIO),
)


def size_lines(sizes: LeakageSizes, system: DisplaySystem) -> tuple[Line, ...]:
    """Return every size of the leakage with its limits.

    Parameters
    ----------
    sizes : LeakageSizes
        Of one test or of the mean of several.
    system : DisplaySystem
        Units in which they are shown.

    Returns
    -------
    tuple of Line
    """
    return tuple(_line(words, getattr(sizes, name), kind, system) for words, name, kind in _SIZES)


def curve_lines(result: FanTestResult, system: DisplaySystem) -> tuple[Line, ...]:
    """Return what the fit and the baseline of one test say.

    Parameters
    ----------
    result : FanTestResult
        The test.
    system : DisplaySystem
        Units in which values are shown.

    Returns
    -------
    tuple of Line
    """
    fit = result.fit
    squared = [] if fit.r_squared is None else [Line("r²", f"{fit.r_squared:.4f}")]
    coefficient = _line(
        "Coefficient C, as tested", fit.coefficient_limits, Kind.LEAKAGE_COEFFICIENT, system
    )
    exponent = fit.exponent_limits
    return (
        Line("Fit", f"{fit.method.value}, {result.test.standard.value}"),
        coefficient,
        Line("Exponent n", f"{exponent.value:.3f}", f"{exponent.low:.3f} to {exponent.high:.3f}"),
        *squared,
        Line("Baseline taken off", show(result.baseline.pressure, Kind.PRESSURE, system)),
        *_weighted(result, system),
    )


def _weighted(result: FanTestResult, system: DisplaySystem) -> tuple[Line, ...]:
    """Return the flow by the fit that trusts each station by its own uncertainty."""
    if result.weighted is None:
        return ()
    flow = result.weighted.flow_limits(50.0)
    return (_line("Weighted fit: flow at 50 Pa, as tested", flow, Kind.FLOW, system),)


def hole_sentence(sizes: LeakageSizes, system: DisplaySystem) -> str:
    """Return how large all leaks are together, as something that anybody has seen."""
    hole = hole_in_words(sizes.equivalent_leakage_area.value, system)
    return f"All the leaks together are as large as {hole}."


def _line(words: str, value: Estimate, kind: Kind, system: DisplaySystem) -> Line:
    limits = show_range(value.low, value.high, kind, system)
    return Line(words, show(value.value, kind, system), limits)
