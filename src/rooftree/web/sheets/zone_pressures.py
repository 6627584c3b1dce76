"""The page of a zone pressure."""

from __future__ import annotations

from rooftree.web.sheets.layout import Field, Group, Sheet

SHEET = Sheet(
    kind="zone pressure",
    name="Zone pressure",
    group="House and zones",
    says=(
        "What share of the house pressure a buffer space takes tells on which side of it the "
        "larger leak is."
    ),
    parts=(
        Group(
            "While the fan holds the house",
            (
                Field("space", "Space", among="spaces"),
                Field("house_pressure", "House against outdoors", "baseline taken off"),
                Field("zone_pressure", "House against the space", "same sign"),
            ),
        ),
        Group(
            "Assumed",
            (
                Field("exponent", "Exponent of the leaks", "0.65 where nothing is known"),
                Field("pressure_uncertainty", "Gauge, standard uncertainty", "such as 0.5 Pa"),
            ),
            is_folded=True,
        ),
    ),
    picture="zone_pressures",
    setup=(
        "The fan holds the house at one pressure, usually 50 Pa; doors as in the fan test.",
        "The hose ends free in the space, away from insulation, and is not pinched by the hatch.",
        "Wait until the reading is steady; read the zone with the fan sealed too.",
    ),
    nothing_yet="The shares appear here as soon as both pressures are there.",
)
