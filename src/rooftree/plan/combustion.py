"""Burners that take their air from the house: how far fans pull on their flues.

What is predicted is a screen, never a verdict: only the test on the day, with its
readings of spillage and carbon monoxide, tells whether a burner is safe, and only those
who are licensed for it may work on one.

Sources
-------
[LIMITS] Limits by kind of flue: older edition of a building analyst's standard, recalled;
    newer editions judge by spillage and carbon monoxide instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.engine.field_tests import exhaust_pressure
from rooftree.errors import PlanError
from rooftree.finding import Finding, Severity
from rooftree.house import SpaceKind
from rooftree.plan.measures.equipment import room_air_burners
from rooftree.tables.depressurization import depressurization_limit
from rooftree.units import Kind, show
from rooftree.units.kinds import DisplaySystem

if TYPE_CHECKING:
    from rooftree.house import House

NO_WORSE = 0.1
"""A flue is pulled on no more than before when it is within this [Pa]; judgement, below
what a gauge resolves in wind."""

CAUTION = (
    "Test draft, spillage and carbon monoxide before and after the work and at the end of each "
    "day of it; only licensed trades work on burners and flues, by the local code."
)


@dataclass(frozen=True, slots=True)
class FluePull:
    """One burner with the worst that fans do to it.

    Attributes
    ----------
    burner : str
        In plain words.
    space : str
        Name of the space it stands in.
    draft : str
        How its smoke leaves.
    pull : float
        Its space below outdoors with every exhaust fan on [Pa], >= 0.
    limit : float
        What its kind of flue bears [Pa].
    source : str
        Of the limit.
    """

    burner: str
    space: str
    draft: str
    pull: float
    limit: float
    source: str

    @property
    def excess(self) -> float:
        """Return how far the pull exceeds the limit [Pa]; negative where it does not."""
        return self.pull - self.limit


def flue_pulls(house: House, *, extra: float = 0.0) -> tuple[FluePull, ...]:
    """Return each burner on room air with the worst pull on its flue.

    Parameters
    ----------
    house : House
        Any house.
    extra : float
        What a test found beyond the prediction, added to that of each burner in a living
        space [Pa], >= 0.

    Returns
    -------
    tuple of FluePull
        Empty where nothing burns with room air.

    Notes
    -----
    The worse of two: every exhaust fan on, and the air handler with its leaking ducts
    as well. Interior doors are as the record of the house has them.
    """
    burners = room_air_burners(house)
    return tuple(
        FluePull(
            burner,
            house.space(space).name,
            draft.value,
            _worst(house, space) + (extra if _is_inside(house, space) else 0.0),
            *_limit(burner, draft.value, sum(place == space for _, place, _ in burners) > 1),
        )
        for burner, space, draft in burners
    )


def _worst(house: House, space: str) -> float:
    pressures = [exhaust_pressure(house, space, air_handler=on) for on in (False, True)]
    return max(0.0, -min(pressures))


def _limit(burner: str, draft: str, shares: bool) -> tuple[float, str]:
    limit = depressurization_limit(burner, draft, shares_flue=shares)
    if limit is None:
        raise PlanError(f"no depressurization limit is known for {burner} with {draft}")
    return limit.value, limit.source


def beyond_prediction(house: House, measured: float | None) -> float:
    """Return how much further a worst-case test found a burner's room pulled than predicted.

    Parameters
    ----------
    house : House
        The house as found.
    measured : float or None
        Worst case found at a burner in a living space, house below outdoors [Pa], >= 0;
        None where none was measured.

    Returns
    -------
    float
        [Pa]; 0 where nothing was measured, and never below: a lucky day does not make a
        flue safer.

    Notes
    -----
    The record of the house has no closet doors; a closed one adds a pull of its own that
    the other fans of the house hardly change. So the difference is added, not multiplied:
    a factor would blow it up with every fan that is planned.
    """
    predicted = max(
        (
            _worst(house, space)
            for _, space, _ in room_air_burners(house)
            if _is_inside(house, space)
        ),
        default=None,
    )
    if measured is None or predicted is None:
        return 0.0
    return max(0.0, measured - predicted)


def _is_inside(house: House, space: str) -> bool:
    return house.space(space).kind is SpaceKind.LIVING


def is_pulled_too_far(before: tuple[FluePull, ...], after: tuple[FluePull, ...]) -> bool:
    """Tell whether work leaves some flue beyond its limit, and worse than it was.

    Parameters
    ----------
    before, after : tuple of FluePull
        As found, and with the work done.

    Returns
    -------
    bool
        False where what is beyond its limit is no worse than as found.
    """
    found = {pull.burner: pull.pull for pull in before}
    return any(
        pull.excess > 0.0 and pull.pull > found.get(pull.burner, 0.0) + NO_WORSE for pull in after
    )


def judge_flues(before: tuple[FluePull, ...], after: tuple[FluePull, ...]) -> tuple[Finding, ...]:
    """Return what a stage does to each flue.

    Parameters
    ----------
    before, after : tuple of FluePull
        As found, and after the stage.

    Returns
    -------
    tuple of Finding
        One for each burner that is left; one note where the last has gone.
    """
    if not after:
        gone = [pull.burner for pull in before]
        return (
            Finding(
                "plan/no-burner",
                Severity.NOTE,
                f"No burner takes its air from the house any more ({' and '.join(gone)} gone).",
                source="the record of the house",
            ),
        ) if gone else ()  # fmt: skip
    found = {pull.burner: pull.pull for pull in before}
    return tuple(_judged(pull, found.get(pull.burner)) for pull in after)


def _judged(pull: FluePull, found: float | None) -> Finding:
    was = f", {_pascal(found)} as found" if found is not None else ""
    over = pull.excess > 0.0
    verdict = "beyond" if over else "within"
    remedy = (
        "Replace it by a sealed or electric one, or cut the exhaust."
        if over
        else "The test after the work decides, not this prediction."
    )
    return Finding(
        "plan/depressurization-over" if over else "plan/depressurization",
        Severity.GATE if over else Severity.NOTE,
        f"With every exhaust fan on, the {pull.space} around the {pull.burner} ({pull.draft}) is "
        f"pulled {_pascal(pull.pull)} below outdoors{was}, {verdict} the screening limit of "
        f"{_pascal(pull.limit)}. {remedy}",
        pull.pull,
        pull.limit,
        "Pa",
        pull.source,
        pull.burner,
    )


def _pascal(value: float | None) -> str:
    return show(value or 0.0, Kind.PRESSURE, DisplaySystem.SI)
