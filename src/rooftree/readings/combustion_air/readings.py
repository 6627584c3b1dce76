"""What a person measures of the room that a burner takes its air from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Joined(StrEnum):
    """How a room is joined to the burner."""

    ITSELF = "room of the burner"
    OPENING = "by permanent openings"
    DOOR = "by a door only"


class OpeningKind(StrEnum):
    """Where an opening for air leads."""

    SAME_STOREY = "indoors, same storey"
    OTHER_STOREY = "indoors, other storey"
    DIRECT = "outdoors, direct or vertical duct"
    HORIZONTAL = "outdoors, horizontal duct"


class OpeningPlace(StrEnum):
    """How high an opening sits."""

    HIGH = "within 12 in of the top"
    LOW = "within 12 in of the bottom"
    BETWEEN = "neither"


class Cover(StrEnum):
    """What covers an opening."""

    NONE = "open, or a wide screen"
    METAL = "metal louver"
    WOOD = "wood louver"


@dataclass(frozen=True, slots=True)
class AirSpace:
    """One room that may give air.

    Attributes
    ----------
    name : str
        In words.
    floor_area : float
        [m²], > 0.
    height : float
        Of the ceiling [m], > 0.
    joined : Joined
        To the burner.
    """

    name: str
    floor_area: float
    height: float
    joined: Joined = Joined.ITSELF


@dataclass(frozen=True, slots=True)
class RoomBurner:
    """One burner in the room.

    Attributes
    ----------
    appliance : str
        In words.
    input_rate : float
        From the rating plate [W], > 0.
    fan_assisted : bool
        Whether a fan draws or blows its flue gas.
    takes_room_air : bool
        False for sealed burners, which need nothing here.
    """

    appliance: str
    input_rate: float
    fan_assisted: bool = False
    takes_room_air: bool = True


@dataclass(frozen=True, slots=True)
class AirOpening:
    """One opening or duct for air.

    Attributes
    ----------
    kind : OpeningKind
        Where it leads.
    width, height : float
        Of its frame [m], > 0.
    place : OpeningPlace
        How high it sits.
    cover : Cover
        What covers it.
    free_share : float or None
        Free area over frame from its maker [0-1]; None where it is not printed.
    """

    kind: OpeningKind
    width: float
    height: float
    place: OpeningPlace = OpeningPlace.BETWEEN
    cover: Cover = Cover.NONE
    free_share: float | None = None


@dataclass(frozen=True, slots=True)
class CombustionAirTest:
    """Air for the burners of one room.

    Attributes
    ----------
    room : str
        Id or name.
    spaces : tuple of AirSpace
        The room and those that it is joined to.
    burners : tuple of RoomBurner
        All burners in it.
    openings : tuple of AirOpening
        All openings made for air.
    air_changes : float or None
        Infiltration of these rooms where it was measured [1/h], > 0.
    vent_connector_area : float or None
        Of all vent connectors in the room together [m²].
    edition : str
        Edition of the fuel gas code in force; empty where it is not known.
    continuous_exhaust, dryer_flow, largest_exhaust, next_exhaust : float or None
        Exhaust flows of the house for the estimate of makeup air [m³/s].
    air_changes_uncertainty : float
        Standard uncertainty of `air_changes`, relative [0-1].
    length_uncertainty : float
        Standard uncertainty of one length [m].
    """

    room: str
    spaces: tuple[AirSpace, ...] = ()
    burners: tuple[RoomBurner, ...] = ()
    openings: tuple[AirOpening, ...] = ()
    air_changes: float | None = None
    vent_connector_area: float | None = None
    edition: str = ""
    continuous_exhaust: float | None = None
    dryer_flow: float | None = None
    largest_exhaust: float | None = None
    next_exhaust: float | None = None
    air_changes_uncertainty: float = 0.2
    length_uncertainty: float = 0.03
