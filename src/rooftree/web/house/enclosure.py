"""Forms of where the house stands, of its spaces, and of what encloses them."""

from __future__ import annotations

from rooftree.web.house.days import FROM, VALUE
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

SITE = Sheet(
    kind="site",
    name="Site",
    group="Place",
    says="Where the house stands, and how open it is to the wind.",
    parts=(
        Group(
            "Place",
            (
                Field("latitude", "Latitude", "north positive"),
                Field("longitude", "Longitude", "east positive"),
                Field("elevation", "Height above sea level"),
            ),
        ),
        Group(
            "Wind",
            (
                Field(
                    "terrain",
                    "Surroundings",
                    choices=(
                        ("city", "center of a city"),
                        ("suburban", "suburb or wood"),
                        ("open", "open country"),
                        ("water", "shore of open water"),
                    ),
                ),
                Field("shelter", "Wind that is left at the walls", "100 % for no shelter"),
            ),
        ),
    ),
)

SPACE = Sheet(
    kind="space",
    name="Space",
    group="Spaces",
    says="One body of air with a temperature of its own: a storey, a problem room, an attic.",
    parts=(
        Group(
            "Size and place",
            (
                Field("name", "Name"),
                Field("kind", "Kind", "only a living space is heated"),
                Field("floor_area", "Floor area"),
                Field("volume", "Volume of air"),
                Field("floor_level", "Level of its floor", "above the ground outside"),
                Field("height", "Mean height"),
            ),
        ),
        Group(
            "Moisture and heat kept",
            (
                Field("bare_earth", "Damp earth that lies open"),
                Field("vapor_source", "Other water that gets in", "leaks, aquarium; no people"),
                Field("buffering", "Water its materials take up", "over that of its air; 15 usual"),
                Field("capacity", "Heat kept by furnishings", "beyond the air"),
            ),
        ),
        Group(
            "Share of heating and cooling",
            (
                Field("supply_share", "Of the supply air", "empty: by floor area"),
                Field("return_share", "Of the return air", "empty: as the supply"),
            ),
            is_folded=True,
        ),
    ),
)

_LAYERS = Rows(
    "layers",
    "Layers, from inside to outside",
    (
        Field("name", "Material"),
        Field("thickness", "Thickness"),
        Field("resistance", "Resistance", "such as R-13"),
        Field("conductivity", "or conductivity", "such as R-3.7/in"),
        Field("density", "Density"),
        Field("specific_heat", "Heat capacity"),
        Field(
            "role",
            "Counts as",
            choices=(("insulation", "insulation"), ("structure", "structure")),
        ),
    ),
    each="Layer",
    fewest=1,
    says="Each has a thickness, and a resistance or a conductivity. Voids and framing interrupt "
    "what is insulation; measures add to it. Empty a layer to leave it out.",
)

SURFACE = Sheet(
    kind="surface",
    name="Surface",
    group="Enclosure",
    says="One assembly between a space and something else, windows taken off.",
    parts=(
        Group(
            "Size and place",
            (
                Field("name", "Name"),
                Field("kind", "Kind"),
                Field("inside", "Belongs to", among="spaces"),
                Field("outside", "On its other side", among="surface_sides"),
                Field("area", "Area without windows"),
                Field("tilt", "Tilt", "0° roof, 90° wall, 180° floor"),
                Field("azimuth", "Faces", "such as SW or 225°"),
                Field("perimeter", "Edge on the ground", "of a floor on the ground"),
            ),
        ),
        _LAYERS,
        Group(
            "What interrupts the insulation",
            (
                Field("framing_fraction", "Framing", "share of the area"),
                Field("void_fraction", "Missing or not working", "share of the insulated area"),
                Field("washed_fraction", "Washed by wind", "share of the insulated area"),
            ),
        ),
        Group(
            "Sun, wind and faces",
            (
                Field("solar_absorptance", "Sun taken up outside", "70 % usual"),
                Field("emittance", "Emittance outside", "90 %; 5 % for foil"),
                Field("inside_absorptance", "Sun taken up inside", "60 % usual"),
                Field("inside_emittance", "Emittance inside", "90 %; 5 % for foil"),
                Field("sun_exposed", "Does sun reach it?"),
                Field("wind_exposed", "Does wind reach it?"),
            ),
            is_folded=True,
        ),
    ),
)

WINDOW = Sheet(
    kind="window",
    name="Window",
    group="Enclosure",
    says="One window, or several alike on one side of the house.",
    parts=(
        Group(
            "Size and place",
            (
                Field("name", "Name"),
                Field("space", "Lights", among="spaces"),
                Field("area", "Area with frames"),
                Field("tilt", "Tilt", "90° upright"),
                Field("azimuth", "Faces", "such as SW or 225°"),
            ),
        ),
        Group(
            "Glass",
            (
                Field("u_value", "Heat let through (U)", "such as U-0.35"),
                Field("solar_heat_gain_coefficient", "Sun let through (SHGC)"),
                Field("panes", "Panes", "2 usual"),
                Field("solar_transmittance", "Sun passed straight", "data sheet; else empty"),
                Field("shading_factor", "Sun left by trees and blinds", "100 % for no shade"),
            ),
        ),
        Group(
            "Shade of what stands out",
            (
                Field("width", "Width of each"),
                Field("height", "Height of each"),
                Field("overhang_depth", "Overhang stands out"),
                Field("overhang_gap", "Overhang above the glass"),
                Field("fin_depth", "Fins stand out"),
                Field("fin_gap", "Fins beside the glass"),
            ),
            says="An overhang or fins need width and height of one window.",
            is_folded=True,
        ),
    ),
)

LEAK = Sheet(
    kind="leak",
    name="Leak",
    group="Enclosure",
    says="A path for air. Cracks are scaled until the fan test gives what was measured; vents, "
    "flues and holes stay as they are.",
    parts=(
        Group(
            "Path",
            (
                Field("name", "Name"),
                Field("kind", "Kind", "crack where it is not chosen"),
                Field("first", "From", among="spaces"),
                Field("second", "To", among="leak_sides"),
                Field("level", "Height above the ground"),
                Field("azimuth", "Opens to", "empty where no wind reaches it"),
            ),
        ),
        Group(
            "Size",
            (
                Field("coefficient", "Coefficient", "flow at 1 Pa, such as 8 cfm/Pa^n"),
                Field("exponent", "Exponent", "0.5 to 1; 0.65 usual"),
            ),
        ),
        Group(
            "A flue that fires",
            (
                Field("fired_by", "Belongs to the"),
                Field("chimney", "Height of hot gas"),
                Field("gas_temperature", "Temperature of the gas", "mean, while it burns"),
            ),
            is_folded=True,
        ),
    ),
)


def day_rows(name: str, legend: str, column: str, says: str = "", *, seldom: bool = False) -> Rows:
    """Return the part of a form in which the hours of a day are written as periods."""
    columns = (Field(FROM, "From", "such as 6:00"), Field(VALUE, column))
    return Rows(name, legend, columns, each="Period", fewest=1, says=says, is_seldom=seldom)
