"""One picture for each kind of test: where the fan stands, where hoses and probes go."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.papers.setup.parts import CEILING, FLOOR, LEFT, PARTITION, RIGHT, Sketch

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

OUT = 366.0
"""Outdoors, right of the house."""


def fan_test() -> Sketch:
    """Draw the house under a fan test."""
    made = Sketch(
        "A fan test: fan in the door, gauge against outdoors",
        "The test fan stands in an outside door. The gauge's reference hose ends outdoors, away "
        "from the fan's stream and out of the wind; its other port is open to the room. Doors "
        "inside are open.",
    )
    made.partition(is_open=True)
    made.fan()
    made.gauge(266.0, 128.0)
    made.hose((275.0, 139.0), (275.0, 162.0), (302.0, 162.0), (302.0, 200.0), (OUT, 200.0))
    made.note(OUT, 192.0, "outdoors", "middle")
    made.note(PARTITION - 8.0, 128.0, "doors open", "end")
    made.note(RIGHT + 34.0, 132.0, "fan", "middle")
    return made


def zone_pressures() -> Sketch:
    """Draw a hose into the attic while the fan holds the house."""
    made = Sketch(
        "A zone pressure: one hose ends free in the zone",
        "While the fan holds the house, one hose of the gauge ends free in the attic, clear of "
        "insulation and not pinched by the hatch; the other port is open to the room.",
    )
    made.fan()
    made.gauge(150.0, 136.0, "")
    made.note(176.0, 140.0, "room open", "start")
    made.hose((141.0, 147.0), (141.0, 160.0), (112.0, 160.0), (112.0, 62.0 + 12.0))
    made.note(122.0, 80.0, "free in the attic", "start")
    made.note(104.0, CEILING + 16.0, "hatch", "end")
    return made


def added_hole() -> Sketch:
    """Draw a measured hole between house and zone."""
    made = zone_pressures()
    made.pen.box(238.0, CEILING - 4.0, 26.0, 8.0, fill=made.ink.paper, stroke=made.ink.warm,
                 stroke_width=2.0)  # fmt: skip
    made.air((251.0, CEILING + 26.0), (251.0, CEILING + 8.0))
    made.note(251.0, CEILING - 10.0, "known hole", "middle")
    return made


def opened_hatch() -> Sketch:
    """Draw the hatch to the zone wide open."""
    made = Sketch(
        "An opened hatch: zone and fan are read shut and open",
        "The fan holds the house at the same pressure with the hatch shut, then open. The "
        "zone's pressure and the flow of the fan are read each time.",
    )
    made.fan()
    made.gauge(150.0, 136.0, "")
    made.hose((141.0, 147.0), (141.0, 160.0), (112.0, 160.0), (112.0, 74.0))
    pen, ink = made.pen, made.ink
    pen.line(232.0, CEILING, 266.0, CEILING, stroke=ink.room, stroke_width=5.0)
    pen.line(232.0, CEILING, 240.0, CEILING + 30.0, stroke=ink.ink, stroke_width=2.0)
    made.air((252.0, CEILING - 14.0), (252.0, CEILING + 20.0))
    made.note(226.0, CEILING + 20.0, "hatch open", "end")
    return made


def duct_leakage_from_house() -> Sketch:
    """Draw the fan test with the air handler off, then on."""
    made = fan_test()
    made.ducts()
    made.note(150.0, 214.0 + 14.0, "air handler off, then on", "middle")
    return made


def duct_leakage() -> Sketch:
    """Draw the ducts taped and held at a pressure by a fan of their own."""
    made = Sketch(
        "A duct test: registers taped, a fan on the ducts",
        "Every register is taped. The duct fan blows in at the air handler or the largest "
        "return. One hose ends in a supply register, pointing away from the stream; for leakage "
        "to outdoors the house is held at the same pressure by the fan in its door.",
    )
    made.ducts(are_taped=True)
    made.fan(pulls=False)
    made.air((140.0, 147.0), (114.0, 147.0))
    made.note(116.0, 137.0, "duct fan", "start")
    made.gauge(238.0, 124.0, "")
    made.hose((229.0, 135.0), (229.0, 152.0), (276.0, 152.0), (276.0, 180.0))
    made.note(184.0, FLOOR - 7.0, "taped", "middle")
    return made


def duct_pans() -> Sketch:
    """Draw a pan over one register while the fan holds the house."""
    made = Sketch(
        "Pressure pans: a pan over one register at a time",
        "The fan holds the house, the air handler is off and no register is taped. A shallow pan "
        "covers one register; the gauge reads the pan against the room.",
    )
    made.ducts()
    made.fan()
    made.pen.path(f"M168 {FLOOR - 1:g} V{FLOOR - 14:g} H200 V{FLOOR - 1:g}", fill=made.ink.fill,
                  stroke=made.ink.ink, stroke_width=1.6)  # fmt: skip
    made.gauge(226.0, 124.0)
    made.hose((217.0, 135.0), (217.0, 146.0), (184.0, 146.0), (184.0, FLOOR - 9.0))
    made.note(160.0, 152.0, "pan", "end")
    return made


def air_handler() -> Sketch:
    """Draw where static pressures and temperatures of an air handler are read."""
    made = Sketch(
        "An air handler: static pressures before, between and after its parts",
        "Static pressure tips point into the stream: before the filter, after the filter, after "
        "the blower and after the coil. Temperatures are read in the return and in a supply out "
        "of sight of the coil or burner.",
    )
    made.ducts()
    for y, words in ((126.0, "return"), (146.0, "after filter"), (163.0, "after coil")):
        made.probe(110.0, y, words, (10.0, 4.5))
    made.gauge(236.0, 138.0)
    made.probe(150.0, 190.0, "supply", (0.0, 36.0), "middle")
    made.pointer((150.0, 195.0), (150.0, 214.0))
    made.note(277.0, 162.0, "register", "middle")
    return made


def room_pressures() -> Sketch:
    """Draw a hose under a shut door."""
    made = Sketch(
        "A room's pressure: hose under the shut door",
        "The air handler runs and the room's door is shut. One hose passes under the door into "
        "the room; the other port of the gauge is open to the main part of the house.",
    )
    made.ducts()
    made.partition(is_open=False)
    made.gauge(160.0, 126.0)
    made.hose((169.0, 137.0), (169.0, FLOOR - 4.0), (236.0, FLOOR - 4.0))
    made.air((276.0, FLOOR - 6.0), (276.0, FLOOR - 26.0))
    made.note(252.0, 120.0, "door shut", "middle")
    return made


def ventilation() -> Sketch:
    """Draw a flow box over an exhaust grille."""
    made = Sketch(
        "Exhaust flow: a box over the whole grille",
        "The flow box covers the whole grille, tight to the ceiling. Turn it a quarter and read "
        "again; doors and windows as they usually are.",
    )
    made.partition(is_open=False)
    made.exhaust(262.0)
    made.pen.path(f"M244 {CEILING + 2:g} h36 l-6 26 h-24 z", fill=made.ink.fill,
                  stroke=made.ink.ink, stroke_width=1.6)  # fmt: skip
    made.air((262.0, CEILING + 58.0), (262.0, CEILING + 36.0))
    made.note(262.0, CEILING + 74.0, "flow box", "middle")
    return made


def tracer_decay() -> Sketch:
    """Draw loggers of carbon dioxide through the rooms."""
    made = Sketch(
        "Tracer decay: loggers where the air is mixed",
        "Carbon dioxide is raised and mixed by a small fan, then everybody leaves. Loggers stand "
        "at breathing height in several rooms, away from windows and people; one reads outdoors.",
    )
    made.partition(is_open=True)
    made.probe(112.0, 136.0, "logger", (0.0, -12.0), "middle")
    made.probe(270.0, 136.0, "logger", (0.0, -12.0), "middle")
    made.probe(OUT, 136.0, "outdoors", (0.0, -12.0), "middle")
    made.air((150.0, 158.0), (186.0, 158.0))
    made.note(144.0, 162.0, "mixing", "end")
    return made


def combustion() -> Sketch:
    """Draw where a burner's flue is read."""
    made = Sketch(
        "A burner: probe before the draft hood, mirror at its rim",
        "The flue gas probe reads before any dilution air. Spillage is looked for around the rim "
        "of the draft hood, from the moment of firing. A monitor watches the room's air all the "
        "time.",
    )
    made.burner(150.0)
    made.probe(150.0, 126.0, "flue, undiluted", (12.0, -12.0))
    made.probe(141.0, 122.0, "spillage", (-10.0, -2.0), "end")
    made.probe(236.0, 136.0, "room air", (0.0, 20.0), "middle")
    return made


def ambient_co() -> Sketch:
    """Draw where the air of rooms is read for carbon monoxide."""
    made = Sketch(
        "Room air: outdoors first, then room by room at breathing height",
        "The analyser is zeroed and read outdoors, away from engines, first and last. Indoors it "
        "is read at breathing height in the room of each burner and where people sleep.",
    )
    made.burner(104.0)
    made.partition(is_open=True)
    made.probe(160.0, 136.0, "by the burner", (0.0, -12.0), "middle")
    made.probe(270.0, 136.0, "bedrooms", (0.0, -12.0), "middle")
    made.probe(OUT - 6.0, 136.0, "first and last", (0.0, -12.0), "middle")
    return made


def gas_leaks() -> Sketch:
    """Draw the gas line with the joints that are passed with the detector."""
    made = Sketch(
        "Gas leaks: every joint from the meter to the burner",
        "The detector passes every joint of the gas line slowly, from the meter outdoors to the "
        "valve and the connector of each burner; bubbles confirm what it finds.",
    )
    made.burner(104.0)
    made.hose((OUT, 176.0), (326.0, 176.0), (326.0, 158.0), (140.0, 158.0), (116.0, 158.0))
    for x, y, words, at, anchor in (
        (346.0, 176.0, "meter", (0.0, 16.0), "middle"),
        (262.0, 158.0, "joints", (0.0, -9.0), "middle"),
        (132.0, 158.0, "valve, connector", (2.0, -9.0), "start"),
    ):
        made.probe(x, y, words, at, anchor)
    return made


def worst_case() -> Sketch:
    """Draw the hose from the appliance zone to outdoors, with fans on."""
    made = Sketch(
        "Worst case: the burner's room against outdoors",
        "One port of the gauge is open to the room of the burner, the other hose ends outdoors "
        "out of the wind. Exhaust fans and the air handler are switched on one after the other, "
        "and doors opened or shut, to find the state that pulls hardest.",
    )
    made.burner(104.0)
    made.partition(is_open=True)
    made.exhaust(262.0)
    made.gauge(162.0, 132.0)
    made.hose((171.0, 143.0), (171.0, 160.0), (302.0, 160.0), (302.0, 200.0), (OUT, 200.0))
    made.note(OUT, 192.0, "outdoors", "middle")
    return made


def combustion_air() -> Sketch:
    """Draw the openings that bring a burner its air."""
    made = Sketch(
        "Combustion air: the volume that the burner shares, and its openings",
        "The volume of the room with the burner, and of rooms joined to it by openings high and "
        "low, counts; so do openings and ducts to outdoors.",
    )
    made.burner(104.0)
    made.partition(is_open=False)
    for y in (CEILING + 12.0, FLOOR - 14.0):
        made.pen.line(PARTITION, y - 7.0, PARTITION, y + 7.0, stroke=made.ink.paper,
                      stroke_width=5.0)  # fmt: skip
        made.air((PARTITION + 24.0, y), (PARTITION - 14.0, y))
    made.note(PARTITION + 32.0, CEILING + 16.0, "opening high", "start")
    made.note(PARTITION + 32.0, FLOOR - 10.0, "opening low", "start")
    return made


def moisture() -> Sketch:
    """Draw where air, surfaces and wood are read."""
    made = Sketch(
        "Moisture: air of each place, coldest surfaces, wood",
        "Air temperature and humidity are read in every place and outdoors, surfaces where they "
        "are coldest, and wood at three depths away from metal and foil.",
    )
    made.probe(190.0, 66.0, "attic air", (10.0, 4.0))
    made.probe(190.0, 132.0, "room air", (10.0, 4.0))
    made.probe(190.0, 192.0, "crawlspace air", (10.0, 4.0))
    made.probe(OUT, 132.0, "outdoors", (0.0, -12.0), "middle")
    made.probe(LEFT + 4.0, CEILING + 8.0, "coldest corner", (10.0, 10.0))
    made.probe(96.0, FLOOR + 3.0, "wood", (-2.0, -10.0), "middle")
    return made


def duct_heat() -> Sketch:
    """Draw a duct through the attic with its temperatures."""
    made = Sketch(
        "Duct heat: what enters, what is around, what leaves",
        "Temperatures are read where the air enters the duct, around the duct, and at the "
        "register; the length, size and jacket of the run are measured.",
    )
    pen, ink = made.pen, made.ink
    pen.path(
        f"M126 {FLOOR:g} V85 H256 V{CEILING:g} h14 V72 H112 V{FLOOR:g} z",
        fill=ink.fill,
        stroke=ink.ink,
        stroke_width=1.6,
    )
    made.probe(119.0, 140.0, "enters", (14.0, 4.5))
    made.probe(176.0, 58.0, "around it", (9.0, 4.5))
    made.probe(263.0, CEILING + 12.0, "register", (0.0, 22.0), "middle")
    made.air((263.0, CEILING + 44.0), (263.0, CEILING + 62.0))
    return made


def insulation() -> Sketch:
    """Draw depths measured at several places of a ceiling."""
    made = Sketch(
        "Insulation: depth at three places or more, away from the hatch",
        "A ruler stands on the ceiling in the insulation, at three places or more, also at the "
        "eaves and far from the hatch. Each is photographed with the ruler in view.",
    )
    for x1, x2, depth in ((66.0, 140.0, 12.0), (140.0, 240.0, 22.0), (240.0, 314.0, 9.0)):
        made.insulation(x1, x2, depth)
    for x, depth in ((100.0, 12.0), (190.0, 22.0), (284.0, 9.0)):
        made.ruler(x, depth)
    made.note(190.0, CEILING + 24.0, "middle, eaves, far from the hatch", "middle")
    return made


def air_sealing() -> Sketch:
    """Draw the fan holding the house while leaks are closed."""
    made = Sketch(
        "Air sealing: the fan holds the house while leaks are closed",
        "The fan holds the house at one pressure all the time. After each place that is sealed, "
        "the flow of the fan is read again once the pressure is back.",
    )
    made.fan()
    for x in (110.0, 190.0, 262.0):
        made.air((x, CEILING + 4.0), (x, CEILING - 14.0))
    made.note(190.0, CEILING + 22.0, "seal, wait, read the flow", "middle")
    made.gauge(266.0, 140.0, "")
    return made


PICTURES: Mapping[str, Callable[[], Sketch]] = {
    made.__name__: made
    for made in (
        fan_test,
        zone_pressures,
        added_hole,
        opened_hatch,
        duct_leakage,
        duct_leakage_from_house,
        duct_pans,
        air_handler,
        room_pressures,
        ventilation,
        tracer_decay,
        ambient_co,
        gas_leaks,
        combustion,
        worst_case,
        combustion_air,
        moisture,
        duct_heat,
        insulation,
        air_sealing,
    )
}
"""Every picture by the name that a sheet gives it."""
