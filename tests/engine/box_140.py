"""The test room of ANSI/ASHRAE Standard 140 and its variations, as houses."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from rooftree.house import (
    OUTDOORS,
    Cooling,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    Window,
)

SIDES = {"south": (180.0, 8.0), "west": (270.0, 6.0), "north": (0.0, 8.0), "east": (90.0, 6.0)}
HEIGHT = 2.7
ALWAYS = (1.0,) * 24

BOARD_WALL = Layer("plasterboard", 0.012, 0.16, 950.0, 840.0)
BOARD_ROOF = Layer("plasterboard", 0.010, 0.16, 950.0, 840.0)
SIDING = Layer("wood siding", 0.009, 0.14, 530.0, 900.0)
DECK = Layer("roof deck", 0.019, 0.14, 530.0, 900.0)

LIGHT_WALL = (BOARD_WALL, Layer("quilt", 0.066, 0.04, 12.0, 840.0), SIDING)
HEAVY_WALL = (
    Layer("concrete block", 0.100, 0.51, 1400.0, 1000.0),
    Layer("foam", 0.0615, 0.04, 10.0, 1400.0),
    SIDING,
)
THICK_WALL = (BOARD_WALL, Layer("insulation", 0.250, 0.04, 10.0, 1400.0), SIDING)
LIGHT_ROOF = (BOARD_ROOF, Layer("quilt", 0.1118, 0.04, 12.0, 840.0), DECK)
THICK_ROOF = (BOARD_ROOF, Layer("insulation", 0.400, 0.04, 12.0, 840.0), DECK)
LIGHT_FLOOR = (Layer("timber", 0.025, 0.14, 650.0, 1200.0), Layer("insulation", 1.003, 0.04))
HEAVY_FLOOR = (Layer("slab", 0.080, 1.13, 1400.0, 1000.0), Layer("insulation", 1.007, 0.04))

NIGHT = tuple(1.0 if hour < 7 or hour >= 18 else 0.0 for hour in range(24))
NEVER = 1000.0


def celsius(*values: float) -> tuple[float, ...]:
    """Return a schedule of 24 values in kelvin; one value holds all day."""
    return tuple(value + 273.15 for value in (values * 24 if len(values) == 1 else values))


def box(
    *,
    wall: tuple[Layer, ...] = LIGHT_WALL,
    roof: tuple[Layer, ...] = LIGHT_ROOF,
    floor: tuple[Layer, ...] = LIGHT_FLOOR,
    windows: dict[str, float] | None = None,
    heat: tuple[float, ...] = celsius(20.0),
    cool: tuple[float, ...] = celsius(27.0),
    is_conditioned: bool = True,
    air_changes: float = 0.5,
    night_air: float = 0.0,
    gain: float = 200.0,
    outside_absorptance: float = 0.6,
    inside_absorptance: float = 0.6,
    emittance: float = 0.9,
    u_value: float = 2.98,
    gain_coefficient: float = 0.758,
    panes: int = 2,
) -> House:
    """Return case 600, or a variation of it.

    The window's U-value and solar heat gain coefficient are recalled; everything else is
    as the standard has it.
    """
    glass = {"south": 12.0} if windows is None else windows
    surface = {
        "inside": "room",
        "outside": OUTDOORS,
        "solar_absorptance": outside_absorptance,
        "emittance": emittance,
        "inside_absorptance": inside_absorptance,
        "inside_emittance": emittance,
    }
    walls = tuple(
        Surface(side, side, "wall", area=width * HEIGHT - glass.get(side, 0.0), tilt=90.0,
                azimuth=azimuth, layers=wall, **surface)
        for side, (azimuth, width) in SIDES.items()
    )  # fmt: skip
    level = (
        Surface("roof", "roof", "roof", area=48.0, tilt=0.0, azimuth=0.0, layers=roof, **surface),
        Surface("floor", "floor", "floor", area=48.0, tilt=180.0, azimuth=0.0, layers=floor,
                sun_exposed=False, wind_exposed=False, **surface),
    )  # fmt: skip
    volume = 48.0 * HEIGHT
    fans = (
        Fan("air", "infiltration", "balanced", "room", air_changes * volume / 3600.0, ALWAYS),
        Fan("night", "night fan", "balanced", "room", night_air, NIGHT),
    )
    return House(
        name="box",
        site=Site(39.833, -104.65, 1650.0, terrain="open", shelter=1.0),
        spaces=(Space("room", "room", SpaceKind.LIVING, 48.0, volume, 0.0, HEIGHT),),
        surfaces=(*walls, *level),
        windows=tuple(
            Window(side, side, "room", area, 90.0, SIDES[side][0], u_value, gain_coefficient, panes)
            for side, area in glass.items()
        ),
        use=Use(0, 0, heat, cool, (gain,) * 24, radiant_fraction=0.6),
        heating=Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0, ducted=False)
        if is_conditioned
        else None,
        cooling=Cooling("ideal", 0.0, 1.0, ducted=False) if is_conditioned else None,
        fans=fans,
    )


PANE = Layer("dark pane", 0.180, 1.0)
"""Resistance of the test room's glass without films: panes and gap [m²·K/W]."""


def with_dark_panes(house: House) -> House:
    """Return the house with panes on its south side that let no sun through."""
    wall = next(surface for surface in house.surfaces if surface.id == "south")
    wall = replace(wall, area=wall.area - 12.0)
    pane = replace(wall, id="pane", name="pane", area=12.0, layers=(PANE,))
    others = tuple(surface for surface in house.surfaces if surface.id != "south")
    return replace(house, surfaces=(wall, pane, *others))


def in_depth(**changes: Any) -> House:
    """Return case 220 or a variation of it."""
    usual: dict[str, Any] = {
        "windows": {}, "air_changes": 0.0, "gain": 0.0, "cool": celsius(20.0),
        "outside_absorptance": 0.1,
    }  # fmt: skip
    return with_dark_panes(box(**{**usual, **changes}))


SETBACK = celsius(*(10.0,) * 7, 15.0, *(20.0,) * 15, 10.0)

CASES: dict[str, House] = {
    "600": box(),
    "620": box(windows={"east": 6.0, "west": 6.0}),
    "640": box(heat=SETBACK),
    "680": box(wall=THICK_WALL, roof=THICK_ROOF),
    "685": box(cool=celsius(20.0)),
    "900": box(wall=HEAVY_WALL, floor=HEAVY_FLOOR),
    "920": box(wall=HEAVY_WALL, floor=HEAVY_FLOOR, windows={"east": 6.0, "west": 6.0}),
    "950": box(
        wall=HEAVY_WALL, floor=HEAVY_FLOOR, heat=celsius(-270.0), night_air=1703.16 / 3600.0,
        cool=celsius(*(NEVER if night else 27.0 for night in NIGHT)),
    ),
    "195": box(
        windows={}, air_changes=0.0, gain=0.0, cool=celsius(20.0), outside_absorptance=0.1,
        inside_absorptance=0.1, emittance=0.1,
    ),
    "220": in_depth(),
    "230": in_depth(air_changes=1.0),
    "240": in_depth(gain=200.0),
    "250": in_depth(outside_absorptance=0.9),
    "270": box(air_changes=0.0, gain=0.0, cool=celsius(20.0), outside_absorptance=0.1,
               inside_absorptance=0.9),
    "395": box(windows={}, air_changes=0.0, gain=0.0, outside_absorptance=0.1),
    "430": with_dark_panes(box(windows={})),
    "600FF": box(is_conditioned=False),
    "900FF": box(wall=HEAVY_WALL, floor=HEAVY_FLOOR, is_conditioned=False),
    "650FF": box(is_conditioned=False, night_air=1703.16 / 3600.0),
}  # fmt: skip
"""The cases that are held against published results."""
