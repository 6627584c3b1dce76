"""The test room of ANSI/ASHRAE Standard 140 and its variations, as houses."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from engine.validation.panes import AIR, ARGON, CLEAR, LOW_EMITTANCE, rate_double, rate_single
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

if TYPE_CHECKING:
    from collections.abc import Iterable

SIDES = {"south": (180.0, 8.0), "west": (270.0, 6.0), "north": (0.0, 8.0), "east": (90.0, 6.0)}
"""Azimuth [°] and length [m] of the four walls."""

FLOOR_AREA, HEIGHT = 48.0, 2.7
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
COMMON_WALL = (Layer("common wall", 0.200, 0.51, 1400.0, 1000.0),)

NIGHT = tuple(1.0 if hour < 7 or hour >= 18 else 0.0 for hour in range(24))
NIGHT_AIR = 1700.0 / 3600.0
"""Flow of the night fan [m³/s]."""

NEVER = 1000.0


@dataclass(frozen=True, slots=True)
class Glass:
    """Kind of window: U-value [W/(m²·K)], gain and transmittance of the sun [-], panes."""

    u_value: float
    gain: float
    transmittance: float
    panes: int


DOUBLE = Glass(*rate_double(CLEAR, CLEAR, AIR), 2)
LOW_E = Glass(*rate_double(LOW_EMITTANCE, CLEAR, ARGON), 2)
SINGLE = Glass(*rate_single(CLEAR), 1)


@dataclass(frozen=True, slots=True)
class Opening:
    """Windows of one size on one side, and what stands out beside each [m]."""

    side: str
    number: int = 1
    width: float = 3.0
    height: float = 2.0
    overhang_depth: float = 0.0
    overhang_gap: float = 0.0
    fin_depth: float = 0.0
    fin_gap: float = 0.0

    @property
    def area(self) -> float:
        """Return the area of all of them [m²]."""
        return self.number * self.width * self.height

    def in_space(self, space: str, glass: Glass) -> Window:
        """Return them as the windows of a space."""
        return Window(
            f"{self.side} glass", self.side, space, self.area, 90.0, SIDES[self.side][0],
            glass.u_value, glass.gain, glass.panes, width=self.width, height=self.height,
            solar_transmittance=glass.transmittance, overhang_depth=self.overhang_depth,
            overhang_gap=self.overhang_gap, fin_depth=self.fin_depth, fin_gap=self.fin_gap,
        )  # fmt: skip


SOUTH = (Opening("south", 2),)
EAST_WEST = (Opening("east"), Opening("west"))


@dataclass(frozen=True, slots=True)
class Optics:
    """How faces of walls, roof and floor take up sun and give off heat radiation [0-1]."""

    outside_absorptance: float = 0.6
    inside_absorptance: float = 0.6
    emittance: float = 0.9


def celsius(*values: float) -> tuple[float, ...]:
    """Return a schedule of 24 values in kelvin; one value holds all day."""
    return tuple(value + 273.15 for value in (values * 24 if len(values) == 1 else values))


def enclose(
    space: str,
    *,
    sides: dict[str, tuple[float, float]],
    area: float,
    wall: tuple[Layer, ...],
    roof: tuple[Layer, ...],
    floor: tuple[Layer, ...],
    windows: Iterable[Opening],
    optics: Optics,
) -> tuple[Surface, ...]:
    """Return walls, roof and floor of a space; under the floor is air without sun and wind."""
    faces = {
        "inside": space,
        "outside": OUTDOORS,
        "solar_absorptance": optics.outside_absorptance,
        "emittance": optics.emittance,
        "inside_absorptance": optics.inside_absorptance,
        "inside_emittance": optics.emittance,
    }
    glass = {opening.side: opening.area for opening in windows}
    prefix = "" if space == "room" else f"{space} "
    walls = tuple(
        Surface(prefix + side, side, "wall", area=length * HEIGHT - glass.get(side, 0.0),
                tilt=90.0, azimuth=azimuth, layers=wall, **faces)
        for side, (azimuth, length) in sides.items()
    )  # fmt: skip
    level = (
        Surface(prefix + "roof", "roof", "roof", area=area, tilt=0.0, azimuth=0.0, layers=roof,
                **faces),
        Surface(prefix + "floor", "floor", "floor", area=area, tilt=180.0, azimuth=0.0,
                layers=floor, sun_exposed=False, wind_exposed=False, **faces),
    )  # fmt: skip
    return (*walls, *level)


def box(
    *,
    wall: tuple[Layer, ...] = LIGHT_WALL,
    roof: tuple[Layer, ...] = LIGHT_ROOF,
    floor: tuple[Layer, ...] = LIGHT_FLOOR,
    windows: Iterable[Opening] = SOUTH,
    glass: Glass = DOUBLE,
    optics: Optics = Optics(),
    heat: tuple[float, ...] = celsius(20.0),
    cool: tuple[float, ...] = celsius(27.0),
    is_conditioned: bool = True,
    air_changes: float = 0.5,
    night_air: float = 0.0,
    gain: float = 200.0,
) -> House:
    """Return case 600, or a variation of it.

    The ratings of the window follow from its panes; everything else is as the standard has
    it. Air is counted at the density of the place, so that no flow is corrected for altitude.
    """
    volume = FLOOR_AREA * HEIGHT
    return House(
        name="box",
        site=Site(39.833, -104.65, 1650.0, terrain="open", shelter=1.0),
        spaces=(Space("room", "room", SpaceKind.LIVING, FLOOR_AREA, volume, 0.0, HEIGHT),),
        surfaces=enclose("room", sides=SIDES, area=FLOOR_AREA, wall=wall, roof=roof, floor=floor,
                         windows=windows, optics=optics),
        windows=tuple(opening.in_space("room", glass) for opening in windows),
        use=Use(0, 0, heat, cool, (gain,) * 24, radiant_fraction=0.6),
        heating=Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0, ducted=False)
        if is_conditioned
        else None,
        cooling=Cooling("ideal", 0.0, 1.0, ducted=False) if is_conditioned else None,
        fans=(
            Fan("air", "infiltration", "balanced", "room", air_changes * volume / 3600.0, ALWAYS),
            Fan("night", "night fan", "balanced", "room", night_air, NIGHT),
        ),
    )  # fmt: skip


def heavy_box(**changes: Any) -> House:
    """Return case 900 or a variation of it."""
    return box(wall=HEAVY_WALL, floor=HEAVY_FLOOR, **changes)


DARK_PANE = Layer("dark pane", 1.0, 1.0 / (1.0 / DOUBLE.u_value - 1.0 / 8.29 - 1.0 / 29.3))
"""Conducts as the test room's glass does and lets no sun through."""


def with_dark_panes(house: House) -> House:
    """Return the house with panes on its south side that let no sun through."""
    wall = next(surface for surface in house.surfaces if surface.id == "south")
    pane = replace(wall, id="pane", name="pane", area=12.0, layers=(DARK_PANE,))
    wall = replace(wall, area=wall.area - 12.0)
    others = tuple(surface for surface in house.surfaces if surface.id != "south")
    return replace(house, surfaces=(wall, pane, *others))


DIM = Optics(outside_absorptance=0.1)


def in_depth(**changes: Any) -> House:
    """Return case 220 or a variation of it."""
    usual: dict[str, Any] = {
        "windows": (), "air_changes": 0.0, "gain": 0.0, "cool": celsius(20.0), "optics": DIM,
    }  # fmt: skip
    return with_dark_panes(box(**{**usual, **changes}))


def with_sunspace() -> House:
    """Return case 960: a light room without windows behind a heavy, unheated sunspace.

    Recalled: the sunspace is 2 m deep, has the glass of case 600, 0.5 air changes and no
    gains; the wall between is 0.2 m of masonry.
    """
    sides = {side: SIDES[side] for side in ("west", "north", "east")}
    back = box(windows=())
    room = enclose("room", sides=sides, area=FLOOR_AREA, wall=LIGHT_WALL, roof=LIGHT_ROOF,
                   floor=LIGHT_FLOOR, windows=(), optics=Optics())  # fmt: skip
    ends = {"south": SIDES["south"], "west": (270.0, 2.0), "east": (90.0, 2.0)}
    sun = enclose("sunspace", sides=ends, area=16.0, wall=HEAVY_WALL, roof=LIGHT_ROOF,
                  floor=HEAVY_FLOOR, windows=SOUTH, optics=Optics())  # fmt: skip
    common = Surface("common", "common wall", "wall", "room", "sunspace", 8.0 * HEIGHT, 90.0, 180.0,
                     COMMON_WALL, solar_absorptance=0.6)  # fmt: skip
    volume = 16.0 * HEIGHT
    return replace(
        back,
        spaces=(
            *back.spaces,
            Space("sunspace", "sunspace", SpaceKind.GARAGE, 16.0, volume, 0.0, HEIGHT),
        ),
        surfaces=(*room, *sun, common),
        windows=tuple(opening.in_space("sunspace", DOUBLE) for opening in SOUTH),
        fans=(
            *back.fans,
            Fan("outer", "infiltration", "balanced", "sunspace", 0.5 * volume / 3600.0, ALWAYS),
        ),
    )


SETBACK = celsius(*(10.0,) * 7, 15.0, *(20.0,) * 15, 10.0)
"""Case 640; the rise from 10 to 20 °C between 7 and 8 as its mean."""

CASES: dict[str, House] = {
    "600": box(),
    "610": box(windows=(replace(SOUTH[0], overhang_depth=1.0, overhang_gap=0.5),)),
    "620": box(windows=EAST_WEST),
    "630": box(windows=tuple(replace(one, overhang_depth=1.0, overhang_gap=0.5, fin_depth=1.0)
                             for one in EAST_WEST)),
    "640": box(heat=SETBACK),
    "650": box(heat=celsius(-270.0), night_air=NIGHT_AIR,
               cool=celsius(*(NEVER if night else 27.0 for night in NIGHT))),
    "660": box(glass=LOW_E),
    "670": box(glass=SINGLE),
    "680": box(wall=THICK_WALL, roof=THICK_ROOF),
    "685": box(cool=celsius(20.0)),
    "900": heavy_box(),
    "920": heavy_box(windows=EAST_WEST),
    "950": heavy_box(heat=celsius(-270.0), night_air=NIGHT_AIR,
                     cool=celsius(*(NEVER if night else 27.0 for night in NIGHT))),
    "960": with_sunspace(),
    "195": box(windows=(), air_changes=0.0, gain=0.0, cool=celsius(20.0),
               optics=Optics(0.1, 0.1, 0.1)),
    "220": in_depth(),
    "230": in_depth(air_changes=1.0),
    "240": in_depth(gain=200.0),
    "250": in_depth(optics=Optics(0.9)),
    "270": box(air_changes=0.0, gain=0.0, cool=celsius(20.0), optics=Optics(0.1, 0.9)),
    "395": box(windows=(), air_changes=0.0, gain=0.0, optics=DIM),
    "430": with_dark_panes(box(windows=())),
    "600FF": box(is_conditioned=False),
    "650FF": box(is_conditioned=False, night_air=NIGHT_AIR),
    "900FF": heavy_box(is_conditioned=False),
}  # fmt: skip
"""Every case that we run; 610, 630, 650 and 960 without ranges to hold them against."""
