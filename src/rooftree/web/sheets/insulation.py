"""The page of insulation as found."""

from __future__ import annotations

from rooftree.web.sheets.insulation_chart import draw_insulation
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

SHEET = Sheet(
    kind="insulation",
    name="Insulation",
    group="Moisture and insulation",
    says=(
        "What insulation really resists, from its depth in three places or more and what is "
        "wrong with it, and what each defect costs."
    ),
    parts=(
        Group(
            "Where",
            (
                Field("where", "What it is called", "such as attic over the bedrooms"),
                Field("position", "Position"),
                Field("area", "Area of the whole place", "as on the plan; to check the patches"),
            ),
        ),
        Rows(
            "patches",
            "Patches that are insulated alike",
            (
                Field("name", "Name", "such as north half"),
                Field("area", "Area"),
                Field("material", "Material"),
                Field("label_resistance", "Label says", "of batts: R-19"),
                Field("label_depth", "at a thickness of", "of batts: 6 1/4 in"),
                Field("grade", "Installed"),
                Field("void_share", "Voids seen", "goes before the grade"),
                Field("covered_share", "Covered at all", "100 % where nothing is bare"),
                Field(
                    "washed_share",
                    "Open to wind",
                    "share at eaves without a baffle",
                    is_seldom=True,
                ),
                Field("contact", "Against the warm side", is_seldom=True),
                Field("claimed_resistance", "Certificate says", "or a listing", is_seldom=True),
                Field("age", "Age", "of blown insulation", is_seldom=True),
                Field(
                    "framing_share",
                    "Framing, share",
                    "share of the area; else the usual one",
                    is_seldom=True,
                ),
                Field("framing_spacing", "Spacing of the framing", is_seldom=True),
                Field("framing_width", "Width of the framing", is_seldom=True),
                Field("framing_depth", "Depth of the framing", is_seldom=True),
                Field("covers_framing", "Lies over the framing too?", is_seldom=True),
                Field("underlay", "Older insulation below", is_seldom=True),
                Field("density", "Density", is_seldom=True),
                Field("gap", "Gap to the warm side", is_seldom=True),
                Field("reflective", "Foil facing the gap?", is_seldom=True),
                Field("air_covered", "Loose fill covered?", is_seldom=True),
            ),
            each="Patch",
            fewest=1,
        ),
        Rows(
            "depths",
            "Depths, three or more in each patch",
            (
                Field("patch", "Patch", "empty where there is one only"),
                Field("depth", "Depth", "0 where there is none"),
                Field("spot", "Read"),
            ),
            each="Depth",
            fewest=3,
            says="Spread over the patch, each with a ruler in the photo; not at the hatch only.",
        ),
        Group(
            "Assumed where empty",
            (
                Field("other_resistance", "Boards, sheathing, cladding", "else the usual ones"),
                Field("temperature_difference", "Room to attic", "for loose glass in the cold"),
                Field("mean_temperature", "Mean temperature of it", "75 °F unless given"),
                Field("length_uncertainty", "Ruler, standard uncertainty", "1/4 in"),
            ),
            is_folded=True,
        ),
    ),
    setup=(
        "Vermiculite, live knob-and-tube wiring, droppings, more than 120 °F up there: stay out.",
        "Light, mask and boards to kneel on; step on framing only; somebody knows where you are.",
        "Ruler down to the ceiling without pressing the insulation; photo with the ruler in it.",
        "Look for gaps round pipes and lights, squeezed batts, bare spots, missing baffles.",
    ),
    picture="insulation",
    draw=draw_insulation,
    nothing_yet="The resistance appears here with the first patch and depth.",
)
