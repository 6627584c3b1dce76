"""Air for burners through openings: free area, and what the fuel gas code asks for.

Sources
-------
[NFPA54] NFPA 54, 9.3: 9.3.2.3 text reproduced (openings on the same storey); other storeys,
    outdoor openings and free shares of louvers recalled.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.readings.combustion_air.readings import OpeningKind, OpeningPlace
from rooftree.readings.combustion_air.volume import THOUSAND_BTU
from rooftree.tables import load_table

if TYPE_CHECKING:
    from rooftree.readings.combustion_air.readings import AirOpening, CombustionAirTest

SQUARE_INCH = 0.0254**2
"""[m²]"""

LEAST_INDOORS = 100.0 * SQUARE_INCH
"""Least free area of each opening on the same storey [m²]; [NFPA54], 9.3.2.3."""

LEAST_SIDE = 3.0 * 0.0254
"""Least side of an opening [m]; [NFPA54], 9.3.2.3."""


@dataclass(frozen=True, slots=True)
class OpeningRule:
    """One way to bring air in by openings, held against what there is.

    Attributes
    ----------
    way : str
        In words.
    needed : float
        Free area asked of each opening, or of all where they are added [m²].
    found : float
        The least one that counts, or their sum [m²].
    is_met : bool
        Whether it is met, places and sides included.
    is_recalled : bool
        Whether the rule was recalled only, or the free area rests on a recalled share.
    source : str
        Of the rule; begins with ``"recalled: "`` where it was not read.
    lacks : str
        What is wrong, in words; empty where it is met.
    """

    way: str
    needed: float
    found: float
    is_met: bool
    is_recalled: bool
    source: str
    lacks: str


def free_area(opening: AirOpening) -> float:
    """Return the area of an opening that lets air through.

    Parameters
    ----------
    opening : AirOpening
        Frame, cover and free share.

    Returns
    -------
    float
        [m²]

    Notes
    -----
    The printed free share where there is one; else 0.75 for metal and 0.25 for wooden
    louvers [NFPA54]_, recalled.

    References
    ----------
    .. [NFPA54] NFPA 54, 9.3.7.

    Examples
    --------
    >>> from rooftree.readings.combustion_air.readings import AirOpening, Cover, OpeningKind
    >>> round(free_area(AirOpening(OpeningKind.DIRECT, 0.4, 0.2, cover=Cover.METAL)), 3)
    0.06
    """
    frame = opening.width * opening.height
    if opening.free_share is not None:
        return frame * opening.free_share
    cover = opening.cover.value.split(maxsplit=1)[0]
    share = next(
        (
            float(row["value"])
            for row in load_table("combustion_air")
            if row["rule"] == "free-area" and row["where"] == cover
        ),
        1.0,
    )
    return frame * share


def rests_on_recalled(opening: AirOpening) -> bool:
    """Tell whether the free area of an opening rests on a recalled share.

    Parameters
    ----------
    opening : AirOpening
        One opening.

    Returns
    -------
    bool
        True for a louver whose free share is not printed.
    """
    return opening.free_share is None and "louver" in opening.cover.value


def opening_rules(test: CombustionAirTest, input_rate: float) -> tuple[OpeningRule, ...]:
    """Return every way that the openings of a room could count, with what it lacks.

    Parameters
    ----------
    test : CombustionAirTest
        Openings and vent connectors.
    input_rate : float
        Of all burners that take room air [W].

    Returns
    -------
    tuple of OpeningRule
        Only ways for which there is an opening.

    Notes
    -----
    Each for 1000 Btu/h: indoors on the same storey two openings of 1 in², of 100 in² at
    the least, one high and one low; other storeys 2 in² in all; outdoors two of 1/4 in²
    (direct or vertical) or 1/2 in² (horizontal ducts), or one high of 1/3 in² and no
    less than the vent connectors [NFPA54]_.

    References
    ----------
    .. [NFPA54] NFPA 54, 9.3.2 and 9.3.3.
    """
    of_kind = {
        kind: tuple(opening for opening in test.openings if opening.kind is kind)
        for kind in OpeningKind
    }
    rules = []
    if same := of_kind[OpeningKind.SAME_STOREY]:
        rules.append(_two("indoor", "same storey", same, input_rate, LEAST_INDOORS))
    if other := of_kind[OpeningKind.OTHER_STOREY]:
        rules.append(_sum("indoor", "other storey", other, input_rate))
    direct, ducts = of_kind[OpeningKind.DIRECT], of_kind[OpeningKind.HORIZONTAL]
    if len(direct) > 1:
        rules.append(_two("outdoor", "two direct or vertical", direct, input_rate))
    if ducts and len(direct + ducts) > 1:
        rules.append(_two("outdoor", "two horizontal ducts", direct + ducts, input_rate))
    if direct or ducts:
        rules.append(_one(test, direct + ducts, input_rate))
    return tuple(rules)


def _needed(rule: str, where: str, input_rate: float) -> tuple[float, str, bool]:
    row = next(
        row for row in load_table("combustion_air") if row["rule"] == rule and row["where"] == where
    )
    is_recalled = row["read"] == "recalled"
    source = f"{'recalled: ' if is_recalled else ''}{row['source']}"
    return float(row["value"]) * SQUARE_INCH * input_rate / THOUSAND_BTU, source, is_recalled


def _two(
    rule: str,
    where: str,
    openings: tuple[AirOpening, ...],
    input_rate: float,
    least: float = 0.0,
) -> OpeningRule:
    each, source, is_recalled = _needed(rule, where, input_rate)
    needed = max(each, least)
    areas = {
        place: sum(free_area(one) for one in openings if one.place is place)
        for place in (OpeningPlace.HIGH, OpeningPlace.LOW)
    }
    found = min(areas.values())
    lacks = [f"none {place.value}" for place, area in areas.items() if area == 0.0]
    if not lacks and found < needed:
        lacks.append(f"{_inches(found)} where {_inches(needed)} are asked of each")
    lacks += _narrow(openings)
    return OpeningRule(
        f"openings, {where}", needed, found, not lacks,
        is_recalled or any(map(rests_on_recalled, openings)), source, "; ".join(lacks),
    )  # fmt: skip


def _sum(rule: str, where: str, openings: tuple[AirOpening, ...], input_rate: float) -> OpeningRule:
    needed, source, is_recalled = _needed(rule, where, input_rate)
    found = sum(map(free_area, openings))
    lacks = [] if found >= needed else [f"{_inches(found)} where {_inches(needed)} are asked"]
    lacks += _narrow(openings)
    return OpeningRule(
        f"openings, {where}", needed, found, not lacks, is_recalled, source, "; ".join(lacks)
    )


def _one(
    test: CombustionAirTest, openings: tuple[AirOpening, ...], input_rate: float
) -> OpeningRule:
    by_input, source, is_recalled = _needed("outdoor", "one", input_rate)
    needed = max(by_input, test.vent_connector_area or 0.0)
    high = [one for one in openings if one.place is OpeningPlace.HIGH]
    found = max(map(free_area, high), default=0.0)
    lacks = [] if high else [f"none {OpeningPlace.HIGH.value}"]
    if high and found < needed:
        lacks.append(f"{_inches(found)} where {_inches(needed)} are asked")
    if high and test.vent_connector_area is None:
        lacks.append("area of the vent connectors not known")
    lacks += _narrow(openings)
    return OpeningRule(
        "one opening outdoors", needed, found, not lacks, is_recalled, source, "; ".join(lacks)
    )


def _narrow(openings: tuple[AirOpening, ...]) -> list[str]:
    narrow = any(min(one.width, one.height) < LEAST_SIDE for one in openings)
    return ["a side of less than 3 in"] if narrow else []


def _inches(area: float) -> str:
    return f"{area / SQUARE_INCH:.0f} in²"
