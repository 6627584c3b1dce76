"""Reduce a room, its burners and its openings to whether the burners get air."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.propagation import propagate_positive
from rooftree.physics.sureness import probability_within, sureness
from rooftree.readings.combustion_air.makeup import CFM, makeup_air
from rooftree.readings.combustion_air.openings import opening_rules
from rooftree.readings.combustion_air.readings import Joined
from rooftree.readings.combustion_air.volume import (
    COMPULSORY,
    CUBIC_FOOT,
    MOST_CREDITED,
    burner_air,
    known_air_volume,
    standard_volume,
)

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.combustion_air.openings import OpeningRule
    from rooftree.readings.combustion_air.readings import AirSpace, CombustionAirTest

CODE = "Uniform Mechanical Code (IAPMO), section 701.4 (= NFPA 54, 9.3.2), edition to be confirmed"

LARGE_HOOD = 400.0 * CFM
"""Kitchen exhaust beyond which the code asks for makeup air [m³/s]; IRC M1503.6, recalled."""

CAUTIONS = (
    "Whether a burner gets air enough is decided by the fuel gas code in force and by those who are"
    " licensed to work on it; an opening that is right by the code can still be blocked, and a room"
    " that is right can still be pulled down by fans. Test the burner too."
)
"""The usual cautions, for every page and paper that shows the result."""


@dataclass(frozen=True, slots=True)
class CombustionAirResult:
    """Whether the burners of a room get air.

    Attributes
    ----------
    room : str
        Which.
    input_rate : float
        Of the burners that take room air [W].
    volume : float
        That counts [m³].
    needed : float
        By `method` [m³].
    method : str
        ``"standard"`` or ``"known infiltration"``.
    share : Propagated or None
        Volume over what is needed [-]; None without burners or rooms.
    rules : tuple of OpeningRule
        Every way by openings.
    burner_air : float
        What the burners draw while they run [m³/s].
    makeup : float or None
        Makeup air by the rule of thumb [m³/s]; None without exhaust flows or floor area.
    is_enough : bool or None
        By a rule that was read; None where only a recalled one is met.
    edition : str
        Of the code that decided.
    findings : tuple of Finding
    says : str
        What it means, in one or two sentences.
    cautions : str
        The usual cautions; show them wherever the result is shown.
    """

    room: str
    input_rate: float
    volume: float
    needed: float
    method: str
    share: Propagated | None
    rules: tuple[OpeningRule, ...]
    burner_air: float
    makeup: float | None
    is_enough: bool | None
    edition: str
    findings: tuple[Finding, ...]
    says: str
    cautions: str = CAUTIONS


def reduce_combustion_air(
    test: CombustionAirTest, *, floor_area: float | None = None
) -> CombustionAirResult:
    """Reduce a room with its burners and openings.

    Parameters
    ----------
    test : CombustionAirTest
        Readings.
    floor_area : float or None
        Conditioned floor area of the house, for the estimate of makeup air [m²].

    Returns
    -------
    CombustionAirResult

    Notes
    -----
    By volume first; rooms joined by permanent openings count only where the openings are
    large enough. Outdoor openings are recalled, so that they reassure and never decide.

    Examples
    --------
    >>> from rooftree.readings.combustion_air.readings import (
    ...     AirSpace, CombustionAirTest, RoomBurner)
    >>> test = CombustionAirTest(
    ...     "basement", (AirSpace("basement", 80.0, 2.2),), (RoomBurner("furnace", 29_307.0),))
    >>> reduce_combustion_air(test).is_enough
    True
    """
    burners = [burner for burner in test.burners if burner.takes_room_air]
    rate = sum(burner.input_rate for burner in burners)
    rules = opening_rules(test, rate)
    spaces = _counted(test, rules, recalled=True)
    method = "standard" if test.air_changes is None else "known infiltration"
    share = _share(test, spaces) if rate > 0.0 and spaces else None
    volume = sum(space.floor_area * space.height for space in spaces)
    needed = _needed(test, test.air_changes)
    sure = sum(space.floor_area * space.height for space in _counted(test, rules, recalled=False))
    enough = _is_enough(rate, sure, volume, needed, rules)
    findings = (
        *_judge_log(test, rate),
        *_judge_volume(test, share, volume, needed, enough),
        *_judge_rules(test, rules, enough),
        *_judge_method(test, rate, volume),
        *_judge_hood(test),
    )
    return CombustionAirResult(
        test.room,
        rate,
        volume,
        needed,
        method,
        share,
        rules,
        sum(burner_air(burner.input_rate, fan_assisted=burner.fan_assisted) for burner in burners),
        _makeup(test, floor_area),
        enough,
        test.edition or "to be confirmed",
        findings,
        _says(test, rate, share, enough, method),
    )


def _counted(
    test: CombustionAirTest, rules: tuple[OpeningRule, ...], *, recalled: bool
) -> tuple[AirSpace, ...]:
    """Return the rooms whose volume counts, with or without rules that are only recalled."""
    indoors = [rule for rule in rules if rule.way.endswith("storey")]
    joins = not indoors or any(
        rule.is_met and (recalled or not rule.is_recalled) for rule in indoors
    )
    counted = (Joined.ITSELF, Joined.OPENING) if joins else (Joined.ITSELF,)
    return tuple(space for space in test.spaces if space.joined in counted)


def _needed(test: CombustionAirTest, air_changes: float | None) -> float:
    burners = [burner for burner in test.burners if burner.takes_room_air]
    if air_changes is None:
        return standard_volume(sum(burner.input_rate for burner in burners))
    return sum(
        known_air_volume(burner.input_rate, air_changes, fan_assisted=burner.fan_assisted)
        for burner in burners
    )


def _share(test: CombustionAirTest, spaces: tuple[AirSpace, ...]) -> Propagated:
    areas = [space.floor_area for space in spaces]
    heights = [space.height for space in spaces]
    count, length = len(spaces), test.length_uncertainty
    rate = [] if test.air_changes is None else [test.air_changes]

    def share(*inputs: float) -> float:
        volume = sum(a * h for a, h in zip(inputs[:count], inputs[count : 2 * count], strict=True))
        return volume / _needed(test, inputs[-1] if rate else None)

    return propagate_positive(
        share,
        [*areas, *heights, *rate],
        [
            *(min(math.sqrt(2.0 * area) * length, 0.5 * area) for area in areas),
            *(min(length, 0.5 * height) for height in heights),
            *(min(test.air_changes_uncertainty, 0.9) * value for value in rate),
        ],
    )


def _is_enough(
    rate: float, sure: float, volume: float, needed: float, rules: tuple[OpeningRule, ...]
) -> bool | None:
    if rate <= 0.0 or sure >= needed:
        return True
    if volume >= needed:
        return None
    outdoors = [rule for rule in rules if not rule.way.endswith("storey")]
    return None if any(rule.is_met for rule in outdoors) else False


def _judge_log(test: CombustionAirTest, rate: float) -> tuple[Finding, ...]:
    missing = []
    if not test.burners:
        missing.append("the burners with their input")
    if rate > 0.0 and not any(space.joined is Joined.ITSELF for space in test.spaces):
        missing.append("the room of the burner with its floor area and height")
    if not missing:
        return ()
    return (_finding(test, "not-logged", f"Not logged yet: {' and '.join(missing)}."),)


def _judge_volume(
    test: CombustionAirTest,
    share: Propagated | None,
    volume: float,
    needed: float,
    enough: bool | None,
) -> tuple[Finding, ...]:
    if share is None:
        return ()
    distance = (share.value - 1.0) / share.standard if share.standard > 0.0 else math.inf
    sure = sureness(probability_within(distance))
    feet = f"{volume / CUBIC_FOOT:.0f} of {needed / CUBIC_FOOT:.0f} ft³"
    if enough is True and share.low < 1.0 and share.value < 1.0 + 2.0 * share.standard:
        return (
            _finding(
                test,
                "hardly-enough",
                f"The rooms give {feet}, enough by less than their lengths are known to. Measure"
                " them again before anything is tightened.",
                value=share.value,
                limit=1.0,
                source=CODE,
            ),
        )
    if enough is not False:
        return ()
    return (
        _finding(
            test,
            "short",
            f"The rooms give the burners {feet} and no opening makes up for it: it is {sure} that"
            " they get too little air. Open the room by the code, or replace the burner by a"
            " sealed or electric one, before anything makes the house tighter.",
            severity=Severity.GATE,
            value=share.value,
            limit=1.0,
            source=CODE,
        ),
    )


def _judge_rules(
    test: CombustionAirTest, rules: tuple[OpeningRule, ...], enough: bool | None
) -> tuple[Finding, ...]:
    found = [
        _finding(
            test,
            "opening-small",
            f"By {rule.way} the air does not count: {rule.lacks}. Clean it, enlarge it or move it.",
            value=rule.found,
            limit=rule.needed,
            unit="m²",
            source=rule.source,
        )
        for rule in rules
        if not rule.is_met and (enough is not True or rule.way.endswith("storey"))
    ]
    if enough is None:
        found.append(
            _finding(
                test,
                "by-recalled-rule",
                "The room alone is too small; its openings are enough as far as we recall the"
                " code. Look it up in the edition in force before you rely on it.",
                source="recalled: NFPA 54, 9.3",
            )
        )
    return tuple(found)


def _judge_method(test: CombustionAirTest, rate: float, volume: float) -> tuple[Finding, ...]:
    changes = test.air_changes
    if changes is None or rate <= 0.0:
        return ()
    if changes > MOST_CREDITED:
        return (
            _finding(
                test,
                "air-changes-capped",
                f"{changes:.2f} air changes were measured; the code credits {MOST_CREDITED:.2f} at"
                " most.",
                value=changes,
                limit=MOST_CREDITED,
                unit="1/h",
                source=CODE,
            ),
        )
    if changes < COMPULSORY and volume >= standard_volume(rate):
        return (
            _finding(
                test,
                "standard-not-allowed",
                f"{changes:.2f} air changes are known to be fewer than {COMPULSORY:.2f}, so the"
                " standard rule of 50 ft³ may not be used, though the rooms would meet it.",
                value=changes,
                limit=COMPULSORY,
                unit="1/h",
                source=CODE,
            ),
        )
    return ()


def _judge_hood(test: CombustionAirTest) -> tuple[Finding, ...]:
    largest = test.largest_exhaust
    if largest is None or largest <= LARGE_HOOD:
        return ()
    return (
        _finding(
            test,
            "large-hood",
            f"An exhaust of {largest / CFM:.0f} cfm needs makeup air by the code (400 cfm,"
            " recalled): search the worst case with it on full.",
            value=largest,
            limit=LARGE_HOOD,
            unit="m³/s",
            source="recalled: IRC M1503.6",
        ),
    )


def _makeup(test: CombustionAirTest, floor_area: float | None) -> float | None:
    flows = (test.continuous_exhaust, test.dryer_flow, test.largest_exhaust, test.next_exhaust)
    if floor_area is None or all(flow is None for flow in flows):
        return None
    burners = [burner for burner in test.burners if burner.takes_room_air]
    continuous, dryer, largest, following = (flow or 0.0 for flow in flows)
    return makeup_air(
        floor_area,
        atmospheric=sum(not burner.fan_assisted for burner in burners),
        fan_assisted=sum(burner.fan_assisted for burner in burners),
        continuous=continuous,
        dryer=dryer,
        largest=largest,
        next_largest=following,
    )


def _finding(
    test: CombustionAirTest,
    code: str,
    says: str,
    *,
    severity: Severity = Severity.NOTE,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "-",
    source: str = "common practice",
) -> Finding:
    return Finding(
        f"combustion-air/{code}",
        severity,
        says,
        value,
        limit,
        unit if value is not None else "",
        source,
        test.room,
    )


def _says(
    test: CombustionAirTest,
    rate: float,
    share: Propagated | None,
    enough: bool | None,
    method: str,
) -> str:
    if not test.burners:
        return "No burner has been logged yet."
    if rate <= 0.0:
        return "No burner here takes its air from the room."
    if share is None:
        return "The room has not been measured yet."
    by = f"by the {method} method" if method == "standard" else "by the known infiltration"
    if enough:
        return f"The rooms hold {share.value:.1f} times the air that the burners need {by}."
    if enough is None:
        return (
            f"The rooms hold {share.value:.1f} times the air needed {by}, with openings that are"
            " enough as far as we recall the code."
        )
    return (
        f"The rooms hold only {share.value:.1f} times the air that the burners need {by}: give them"
        " air, or replace them, before anything makes the house tighter."
    )
