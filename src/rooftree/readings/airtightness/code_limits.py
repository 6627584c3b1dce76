"""A measured house against the air leakage limit of a building code."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import OutOfRangeError
from rooftree.tables.air_leakage_limits import AirLeakageLimit, air_leakage_limits

if TYPE_CHECKING:
    from rooftree.physics.uncertainty import Estimate
    from rooftree.readings.airtightness.results import AirtightnessResult, FanTestResult


@dataclass(frozen=True, slots=True)
class LimitComparison:
    """One limit against what was measured.

    Attributes
    ----------
    limit : AirLeakageLimit
        Where it stands and what it says.
    measured : Estimate
        In the unit of the limit, with 95 % limits.
    is_met : bool
        Whether the value itself satisfies the limit.
    is_clear : bool
        Whether the limit lies outside the 95 % limits of the value.
    """

    limit: AirLeakageLimit
    measured: Estimate
    is_met: bool
    is_clear: bool

    @property
    def is_decisive(self) -> bool:
        """Whether the limit may decide: one that is only recalled never does."""
        return not self.limit.is_recalled


@dataclass(frozen=True, slots=True)
class CodeComparison:
    """Every limit of one edition in one climate zone against what was measured.

    Attributes
    ----------
    code : str
        Code and edition.
    zone : int
        Number of the climate zone.
    comparisons : tuple of LimitComparison
        The limit first, then alternatives and caps.
    is_met : bool or None
        Whether the house satisfies the code; None where only recalled limits say so, or
        the edition says nothing about the zone.
    says : str
        The same in one plain sentence.
    """

    code: str
    zone: int
    comparisons: tuple[LimitComparison, ...]
    is_met: bool | None
    says: str


def compare_with_code(
    result: FanTestResult | AirtightnessResult,
    code: str,
    zone: str | int,
    *,
    is_small: bool = False,
) -> CodeComparison:
    """Compare a measured house with the air leakage limits of a building code.

    Parameters
    ----------
    result : FanTestResult or AirtightnessResult
        One test, or the mean of several.
    code : str
        Code and edition, such as ``"IECC 2021"``; see
        :func:`rooftree.tables.air_leakage_limits.codes_with_limits`.
    zone : str or int
        Climate zone, 0 to 8, with or without its moisture letter: ``"4A"``.
    is_small : bool
        Whether the dwelling is attached, or has 1500 ft² (139 m²) of floor or less: some
        editions offer it another limit.

    Returns
    -------
    CodeComparison

    Raises
    ------
    LookupError
        If the table has no such code.
    OutOfRangeError
        If the zone is not 0 to 8.

    Notes
    -----
    Meeting the limit or one of its alternatives satisfies the prescriptive path; caps, which
    hold on every path, are shown and decide nothing. Nobody certifies a house with this:
    states and cities amend, and the building official decides.
    """
    number = _zone_number(zone)
    comparisons = tuple(
        _compared(limit, result)
        for limit in air_leakage_limits(code, number)
        if is_small or not limit.is_small_only
    )
    is_met = _verdict(comparisons)
    says = _sentence(code, number, comparisons, is_met)
    return CodeComparison(code, number, comparisons, is_met, says)


def _zone_number(zone: str | int) -> int:
    text = str(zone).strip().rstrip("ABCabc")
    number = int(text) if text.isdecimal() else -1
    if not 0 <= number <= 8:
        raise OutOfRangeError("climate zone", float(number), 0, 8, "")
    return number


def _compared(
    limit: AirLeakageLimit, result: FanTestResult | AirtightnessResult
) -> LimitComparison:
    sizes = result.sizes
    measured = sizes.air_changes50 if limit.quantity == "air_changes" else sizes.permeability50
    is_met = measured.value < limit.limit if limit.is_strict else measured.value <= limit.limit
    is_clear = not measured.low <= limit.limit <= measured.high
    return LimitComparison(limit, measured, is_met, is_clear)


def _verdict(comparisons: tuple[LimitComparison, ...]) -> bool | None:
    """Let only limits that somebody has read decide."""
    paths = [c for c in comparisons if c.limit.role != "cap"]
    if any(c.is_met and c.is_decisive for c in paths):
        return True
    if not paths or any(c.is_met for c in paths) or not any(c.is_decisive for c in paths):
        return None
    return False


def _sentence(
    code: str, zone: int, comparisons: tuple[LimitComparison, ...], is_met: bool | None
) -> str:
    main = next((c for c in comparisons if c.limit.role == "limit"), None)
    if main is None:
        return f"{code} says nothing about climate zone {zone}."
    value = main.measured.value
    shown = f"{value:.1f}" if round(value, 1) != main.limit.limit else f"{value:.2f}"
    measured = f"{shown} air changes per hour at 50 Pa"
    asked = f"the {main.limit.limit:g} that {code} asks for in climate zone {zone}"
    if is_met is None:
        side = "within" if main.is_met else "above"
        what = "a limit" if main.limit.is_recalled else "but within an alternative"
        return (
            f"{measured} is {side} {asked}, {what} that is recalled and not yet read: look it up."
        )
    if is_met and not main.is_met:
        return f"{measured} is above {asked}, but the limit per envelope area is met."
    doubt = "" if main.is_clear else ", but too near to it to be sure"
    return f"{measured} is {'within' if main.is_met else 'above'} {asked}{doubt}."
