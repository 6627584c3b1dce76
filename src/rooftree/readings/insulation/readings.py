"""What a person reads of the insulation of one place: depths, and what is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Position(StrEnum):
    """Where the insulation lies."""

    ATTIC_FLOOR = "attic floor"
    WALL = "outside wall"
    KNEE_WALL = "knee wall"
    SLOPE = "sloped ceiling"
    FLOOR = "floor above outdoors or an unheated space"


class Material(StrEnum):
    """What it is made of."""

    LOOSE_CELLULOSE = "loose cellulose"
    LOOSE_GLASS = "loose glass fiber"
    LOOSE_ROCK_WOOL = "loose rock wool"
    PACKED_CELLULOSE = "dense-packed cellulose"
    PACKED_GLASS = "dense-packed glass fiber"
    DAMP_CELLULOSE = "sprayed damp cellulose"
    GLASS_BATT = "glass fiber batt"
    ROCK_WOOL_BATT = "rock wool batt"
    COTTON_BATT = "cotton batt"
    OPEN_FOAM = "open-cell spray foam"
    CLOSED_FOAM = "closed-cell spray foam"
    EXPANDED_BOARD = "expanded polystyrene board"
    EXTRUDED_BOARD = "extruded polystyrene board"
    POLYISO_BOARD = "polyisocyanurate board"
    VERMICULITE = "vermiculite"


class Grade(StrEnum):
    """How well it was put in."""

    I = "grade I"  # noqa: E741
    II = "grade II"
    III = "grade III"
    NOT_GRADED = "not graded"


class Contact(StrEnum):
    """How it lies against the warm side."""

    TOUCHING = "touches it"
    CLOSED_GAP = "gap, closed at its edges"
    OPEN_GAP = "gap, open to moving air"


class Spot(StrEnum):
    """Where a depth was read."""

    FIELD = "out in the field"
    HATCH = "at the hatch or access"
    EAVE = "along the eave or edge"


class Method(StrEnum):
    """How framing counts."""

    COMBINED = "mean of both limits"
    PARALLEL = "parallel paths"
    PLANES = "isothermal planes"


@dataclass(frozen=True, slots=True)
class DepthPoint:
    """One depth read with a ruler.

    Attributes
    ----------
    patch : str
        Name of the patch it belongs to; may be empty where there is one patch only.
    depth : float
        Depth of the insulation there [m], >= 0; 0 where there is none.
    spot : Spot
        Where it was read.
    """

    patch: str
    depth: float
    spot: Spot = Spot.FIELD


@dataclass(frozen=True, slots=True)
class InsulationPatch:
    """A part of the place that is insulated alike.

    Attributes
    ----------
    name : str
        What the depths call it.
    area : float
        Framing included [m²], > 0.
    material : Material
        What lies there.
    label_resistance, label_depth : float or None
        Of a batt or board as printed on it [m²·K/W] and the thickness for which it is
        printed [m]; None where no label was seen.
    density : float or None
        Where it was weighed or is printed [kg/m³].
    age : float or None
        Since it was blown or placed [s]; None where nobody knows.
    covered_share : float
        Share of the patch that has insulation at all [0-1].
    void_share : float or None
        Share of the insulated cavities with gaps or holes through the insulation [0-1];
        None to take it from `grade`.
    grade : Grade
        Installation grade.
    framing_share : float or None
        Share of the area that is wood [0-1]; None to take it from spacing and width, or
        from the table for the position.
    framing_spacing, framing_width : float or None
        From centre to centre and across each piece [m].
    framing_depth : float or None
        In the direction of the heat [m]; None for the table's.
    covers_framing : bool
        Whether what is deeper than the framing lies over it as well.
    contact : Contact
        How it lies against the warm side.
    gap : float
        Thickness of a gap there [m], >= 0.
    reflective : bool
        Whether a clean foil faces the gap.
    air_covered : bool
        Whether batts, paper or film lie over loose fill and keep air from moving in it.
    washed_share : float
        Share of the patch at eaves or edges where wind can blow into it [0-1].
    underlay : float
        Resistance of older insulation below [m²·K/W], >= 0.
    claimed_resistance : float or None
        What a certificate, listing or earlier report says it has [m²·K/W].
    """

    name: str
    area: float
    material: Material
    label_resistance: float | None = None
    label_depth: float | None = None
    density: float | None = None
    age: float | None = None
    covered_share: float = 1.0
    void_share: float | None = None
    grade: Grade = Grade.NOT_GRADED
    framing_share: float | None = None
    framing_spacing: float | None = None
    framing_width: float | None = None
    framing_depth: float | None = None
    covers_framing: bool = True
    contact: Contact = Contact.TOUCHING
    gap: float = 0.0
    reflective: bool = False
    air_covered: bool = False
    washed_share: float = 0.0
    underlay: float = 0.0
    claimed_resistance: float | None = None


@dataclass(frozen=True, slots=True)
class InsulationSurvey:
    """The insulation of one place as found.

    Attributes
    ----------
    where : str
        What it is called: ``"attic floor over the bedrooms"``.
    position : Position
        Where it lies.
    patches : tuple of InsulationPatch
        One or more.
    depths : tuple of DepthPoint
        Three or more for each patch, spread over it.
    area : float or None
        Of the whole place as measured on the plan [m²]; None for the sum of the patches.
    other_resistance : float or None
        Of everything but insulation and films: boards, sheathing, cladding [m²·K/W]; None
        for the table's.
    temperature_difference : float or None
        Between the warm side and the cold air, at which the result is wanted [K]; None
        leaves out that air moves in loose glass fiber when it is cold.
    mean_temperature : float or None
        Of the insulation, at which the result is wanted [K]; None for that of the tables.
    length_uncertainty : float
        Standard uncertainty of the depths, in common for all of them [m].
    """

    where: str
    position: Position
    patches: tuple[InsulationPatch, ...]
    depths: tuple[DepthPoint, ...]
    area: float | None = None
    other_resistance: float | None = None
    temperature_difference: float | None = None
    mean_temperature: float | None = None
    length_uncertainty: float = 0.006
