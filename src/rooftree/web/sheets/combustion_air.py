"""The page of air for burners."""

from __future__ import annotations

from rooftree.web.sheets.combustion_air_chart import draw_combustion_air
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

_JOINED = (
    ("room of the burner", "burner's room"),
    ("by permanent openings", "openings"),
    ("by a door only", "door only"),
)
_LEADS = (
    ("indoors, same storey", "same storey"),
    ("indoors, other storey", "other storey"),
    ("outdoors, direct or vertical duct", "outdoors"),
    ("outdoors, horizontal duct", "outdoors, level duct"),
)
_SITS = (
    ("within 12 in of the top", "high"),
    ("within 12 in of the bottom", "low"),
    ("neither", "between"),
)
_COVERS = (
    ("open, or a wide screen", "nothing"),
    ("metal louver", "metal louver"),
    ("wood louver", "wood louver"),
)

SHEET = Sheet(
    kind="combustion air",
    name="Combustion air",
    group="Burners",
    says="Whether the burners of a room get air, by its volume or by openings, as the code counts.",
    parts=(
        Group("The room", (Field("room", "Name"), Field("edition", "Edition of the code"))),
        Rows(
            "burners",
            "Burners in it",
            (
                Field("appliance", "Burner"),
                Field("input_rate", "Input", "such as 40,000 Btu/h"),
                Field("fan_assisted", "Fan assisted?"),
                Field("takes_room_air", "Takes room air?"),
            ),
            each="Burner",
            fewest=2,
        ),
        Rows(
            "spaces",
            "The room, and rooms joined to it",
            (
                Field("name", "Room"),
                Field("floor_area", "Floor"),
                Field("height", "Ceiling height"),
                Field("joined", "Joined", choices=_JOINED),
            ),
            each="Room",
            fewest=2,
        ),
        Rows(
            "openings",
            "Openings for air",
            (
                Field("kind", "Leads", choices=_LEADS),
                Field("width", "Width"),
                Field("height", "Height"),
                Field("place", "Sits", choices=_SITS),
                Field("cover", "Covered by", choices=_COVERS),
                Field("free_share", "Free share, if printed", "such as 60 %"),
            ),
            each="Opening",
            fewest=2,
            says="High and low mean within 12 in of the ceiling and of the floor.",
        ),
        Group(
            "Where it is known",
            (
                Field("air_changes", "Infiltration of these rooms", "such as 0.35 /h"),
                Field("air_changes_uncertainty", "Its standard uncertainty", "such as 20 %"),
                Field("vent_connector_area", "Vent connectors together"),
            ),
        ),
        Group(
            "Exhaust, for makeup air",
            (
                Field("continuous_exhaust", "Running all day"),
                Field("dryer_flow", "Dryer"),
                Field("largest_exhaust", "Largest fan"),
                Field("next_exhaust", "Next largest"),
            ),
            is_folded=True,
        ),
        Group(
            "Assumed where empty",
            (Field("length_uncertainty", "One length", "3 cm"),),
            is_folded=True,
        ),
    ),
    picture="combustion_air",
    setup=(
        "Input from the rating plate of every burner; sealed ones take nothing from the room.",
        "Only rooms without a door between them, or joined by openings, count.",
        "Louvers and screens clean; dampers open or tied to the burner.",
    ),
    draw=draw_combustion_air,
)
