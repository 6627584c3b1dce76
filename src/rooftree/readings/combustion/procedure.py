"""The procedures by which a burner can be judged: steps, what counts, and the edition.

Sources
-------
[CSTP] BPI, "Combustion Safety Test Procedure for Vented Appliances", pp. 1-2 (undated; the
    older rule of one minute).
[1200] ANSI/BPI-1200, training slides on its combustion part: draft and depressurization no
    longer pass or fail; category I by spillage and carbon monoxide, III and IV by carbon
    monoxide only; warm and cold vents apart.
[NFGC] National Fuel Gas Code (NFPA 54, ANSI Z223.1), annex G, quoted in a trade article:
    spillage after five minutes of main burner operation.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

from rooftree.readings.combustion.readings import CombustionTest, Protocol, VentCategory

NATURAL, FAN_ASSISTED, SEALED, NO_BURNER = (
    "natural draft",
    "fan assisted",
    "sealed combustion",
    "no burner",
)
"""How smoke leaves, as :class:`rooftree.house.Draft` spells it."""


class Step(StrEnum):
    """Steps of the test, in the order of the procedures."""

    AMBIENT = "air of the room"
    GAS = "gas leak"
    LOOK = "look at the burner"
    ZONE = "worst-case pressure"
    SPILLAGE = "spillage"
    NATURAL = "spillage under natural conditions"
    FLUE_GAS = "flue gas"
    DRAFT = "draft"
    AS_LEFT = "as left"


@dataclass(frozen=True, slots=True)
class Procedure:
    """One protocol.

    Attributes
    ----------
    key : str
        As in the column `protocol` of the limits.
    document : str
        Title.
    edition : str
        Of the rules that are used here, and how they are known.
    screens : frozenset of Step
        Steps that are read and shown but neither pass nor fail a burner.
    tells_warm_from_cold : bool
        Whether the limit on spillage depends on the vent at fire-up.
    """

    key: str
    document: str
    edition: str
    screens: frozenset[Step]
    tells_warm_from_cold: bool


PROCEDURES = MappingProxyType(
    {
        Protocol.OLDER: Procedure(
            "older",
            "BPI, Combustion Safety Test Procedure for Vented Appliances",
            "undated sheet with the older rule of one minute (read); its limits on"
            " depressurization and draft are recalled",
            frozenset({Step.ZONE}),
            tells_warm_from_cold=False,
        ),
        Protocol.BPI_1200: Procedure(
            "bpi-1200",
            "ANSI/BPI-1200, combustion safety",
            "2015 and 2017: what decides was read in training slides, its numbers are recalled",
            frozenset({Step.ZONE, Step.DRAFT}),
            tells_warm_from_cold=True,
        ),
        Protocol.FUEL_GAS_CODE: Procedure(
            "fuel-gas-code",
            "National Fuel Gas Code (NFPA 54, ANSI Z223.1), annex G",
            "edition not known: five minutes as quoted in a trade article, carbon monoxide"
            " recalled",
            frozenset({Step.ZONE, Step.DRAFT}),
            tells_warm_from_cold=False,
        ),
    }
)
"""What each protocol asks for."""


def procedure_of(test: CombustionTest) -> Procedure:
    """Return the procedure that a test follows.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    Procedure
    """
    return PROCEDURES[test.protocol]


def asked_steps(test: CombustionTest) -> tuple[Step, ...]:
    """Return the steps that make sense for a burner, in order.

    Parameters
    ----------
    test : CombustionTest
        Readings; only the kind of burner and what was done count.

    Returns
    -------
    tuple of Step
        No spillage or draft of a burner that cannot spill; no pressure where nothing
        burns; the repetition under natural conditions only where it was done.
    """
    leave_out = set()
    if test.draft == NO_BURNER:
        leave_out |= {Step.ZONE, Step.AS_LEFT}
    if not can_spill(test):
        leave_out |= {Step.SPILLAGE, Step.NATURAL}
    if not test.natural_tested:
        leave_out.add(Step.NATURAL)
    if test.draft != NATURAL:
        leave_out.add(Step.DRAFT)
    return tuple(step for step in Step if step not in leave_out)


def can_spill(test: CombustionTest) -> bool:
    """Tell whether flue gas can come out of a burner's vent by itself.

    Parameters
    ----------
    test : CombustionTest
        Readings.

    Returns
    -------
    bool
        False for sealed burners, for those without a vent, and for categories III and IV,
        whose vents are under pressure [1200]_.

    References
    ----------
    .. [1200] ANSI/BPI-1200, training slides.
    """
    if test.vent_category in (VentCategory.THREE, VentCategory.FOUR):
        return False
    return test.draft in (NATURAL, FAN_ASSISTED)
