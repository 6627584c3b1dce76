"""An invented house of simple form, of one or two storeys on any foundation, for comparisons.

Half of its leaks are spread over the height of the walls, a quarter each lies in the ceiling
and at the floor, which is what the handbook's tables assume.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rooftree.house import (
    GROUND,
    OUTDOORS,
    Cooling,
    Fuel,
    Heating,
    House,
    Layer,
    Leak,
    LeakKind,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    Window,
)

Foundation = Literal["slab", "crawlspace", "basement"]

BOARD = Layer("gypsum board", 0.0127, 0.16, 800.0, 1090.0)
BATT = Layer("batt", 0.089, 0.042, 10.0, 840.0, role="insulation")
DEEP_FILL = Layer("loose fill", 0.25, 0.046, 12.0, 840.0, role="insulation")
SHEATHING = Layer("sheathing", 0.0127, 0.12, 500.0, 1630.0)
SHINGLES = Layer("shingles", 0.006, 0.08, 1100.0, 1260.0)
WOOD = Layer("wood", 0.019, 0.14, 600.0, 1630.0)
CONCRETE = Layer("concrete", 0.10, 1.7, 2300.0, 900.0)
BLOCK = Layer("block", 0.19, 0.9, 1400.0, 900.0)

WIDTH, DEPTH, STOREY = 12.0, 10.0, 2.5
FLOOR_AREA = WIDTH * DEPTH
SIDES = (("north", 0.0, WIDTH), ("east", 90.0, DEPTH), ("south", 180.0, WIDTH),
         ("west", 270.0, DEPTH))  # fmt: skip
WINDOW = 5.0
ATTIC, CRAWL, CELLAR = "attic", "crawl", "cellar"
BELOW = {"crawlspace": CRAWL, "basement": CELLAR}
EXPONENT = 0.67
FLUE_SHARE, FLUE_RATIO = 0.2, 1.5


@dataclass(frozen=True, slots=True)
class Plan:
    """What varies: storeys, foundation, air changes an hour at 50 Pa, an open flue."""

    storeys: int
    foundation: Foundation
    air_changes: float
    flue: bool = False

    @property
    def name(self) -> str:
        """Return a short description."""
        flue = ", flue" if self.flue else ""
        storeys = "one storey" if self.storeys == 1 else "two storeys"
        return f"{storeys}, {self.foundation}, {self.air_changes:g} ACH50{flue}"

    @property
    def floor_level(self) -> float:
        """Return the level of the lowest living floor [m]."""
        return 0.2 if self.foundation == "slab" else 0.6

    @property
    def ceiling_level(self) -> float:
        """Return the level of the highest living ceiling [m]."""
        return self.floor_level + self.storeys * STOREY

    @property
    def coefficient(self) -> float:
        """Return the leakage coefficient of the whole house [m³/(s·Paⁿ)]."""
        volume = self.storeys * FLOOR_AREA * STOREY
        return float(self.air_changes * volume / 3600.0 / 50.0**EXPONENT)

    @property
    def flue_share(self) -> float:
        """Return the share of the flue in it [0-1]."""
        return FLUE_SHARE if self.flue else 0.0


def _spaces(plan: Plan) -> tuple[Space, ...]:
    living = tuple(
        Space(f"storey-{i}", f"Storey {i}", SpaceKind.LIVING, FLOOR_AREA, FLOOR_AREA * STOREY,
              plan.floor_level + i * STOREY, STOREY, 6.0e6)
        for i in range(plan.storeys)
    )  # fmt: skip
    attic = Space(ATTIC, "Attic", SpaceKind.ATTIC, FLOOR_AREA, 150.0, plan.ceiling_level, 1.25, 1e6)
    under = {
        "slab": (),
        "crawlspace": (
            Space(CRAWL, "Crawlspace", SpaceKind.CRAWLSPACE, FLOOR_AREA, 84.0, -0.1, 0.7, 1e6),
        ),
        "basement": (
            Space(CELLAR, "Cellar", SpaceKind.BASEMENT, FLOOR_AREA, 252.0, -1.5, 2.1, 4e6),
        ),
    }[plan.foundation]
    return (*living, attic, *under)


def _walls(plan: Plan) -> tuple[Surface, ...]:
    living = tuple(
        Surface(f"wall-{i}-{side}", side, "wall", f"storey-{i}", OUTDOORS,
                length * STOREY - WINDOW, 90.0, azimuth, (BOARD, BATT, SHEATHING, WOOD),
                framing_fraction=0.23)
        for i in range(plan.storeys)
        for side, azimuth, length in SIDES
    )  # fmt: skip
    below = BELOW.get(plan.foundation)
    if below is None:
        return living
    return living + tuple(
        Surface(f"{below}-{side}", side, "wall", below, OUTDOORS, 0.6 * length, 90.0, azimuth,
                (BLOCK,))
        for side, azimuth, length in SIDES
    )  # fmt: skip


def _roof(plan: Plan) -> tuple[Surface, ...]:
    top = f"storey-{plan.storeys - 1}"
    slopes = tuple(
        Surface(f"roof-{side}", side, "roof", ATTIC, OUTDOORS, 67.0, 26.6, azimuth,
                (SHEATHING, SHINGLES), solar_absorptance=0.85)
        for side, azimuth in (("north", 0.0), ("south", 180.0))
    )  # fmt: skip
    gables = tuple(
        Surface(f"gable-{side}", side, "wall", ATTIC, OUTDOORS, 12.5, 90.0, azimuth,
                (SHEATHING, WOOD))
        for side, azimuth in (("east", 90.0), ("west", 270.0))
    )  # fmt: skip
    ceiling = Surface("ceiling", "ceiling", "ceiling", top, ATTIC, FLOOR_AREA, 0.0, 0.0,
                      (BOARD, DEEP_FILL), framing_fraction=0.07)  # fmt: skip
    return (*slopes, *gables, ceiling)


def _floors(plan: Plan) -> tuple[Surface, ...]:
    between = tuple(
        Surface(f"between-{i}", "floor", "floor", f"storey-{i}", f"storey-{i - 1}", FLOOR_AREA,
                180.0, 0.0, (WOOD, BOARD))
        for i in range(1, plan.storeys)
    )  # fmt: skip
    perimeter = 2.0 * (WIDTH + DEPTH)
    if plan.foundation == "slab":
        slab = Surface("slab", "slab", "slab", "storey-0", GROUND, FLOOR_AREA, 180.0, 0.0,
                       (CONCRETE,), perimeter=perimeter)  # fmt: skip
        return (*between, slab)
    below = BELOW[plan.foundation]
    insulated = (WOOD, BATT) if plan.foundation == "crawlspace" else (WOOD,)
    floor = Surface("floor", "floor", "floor", "storey-0", below, FLOOR_AREA, 180.0, 0.0,
                    insulated, framing_fraction=0.1)  # fmt: skip
    earth = Surface("earth", "earth", "floor", below, GROUND, FLOOR_AREA, 180.0, 0.0,
                    (CONCRETE,), perimeter=0.0 if below == CRAWL else perimeter)  # fmt: skip
    if below == CRAWL:
        return (*between, floor, earth)
    sunk = Surface("sunk-wall", "wall in the ground", "wall", below, GROUND, 1.5 * perimeter,
                   90.0, 0.0, (BLOCK,), perimeter=perimeter)  # fmt: skip
    return (*between, floor, earth, sunk)


def _leaks(plan: Plan) -> tuple[Leak, ...]:
    whole, body = plan.coefficient, 1.0 - plan.flue_share
    of_walls, of_level = 0.5 * body * whole, 0.25 * body * whole
    heights = (1.0 / 6.0, 0.5, 5.0 / 6.0)
    part = of_walls / (plan.storeys * len(SIDES) * len(heights))
    walls = tuple(
        Leak(f"wall-{i}-{side}-{k}", side, f"storey-{i}", OUTDOORS,
             plan.floor_level + (i + height) * STOREY, azimuth, part, EXPONENT)
        for i in range(plan.storeys)
        for side, azimuth, _ in SIDES
        for k, height in enumerate(heights)
    )  # fmt: skip
    top = f"storey-{plan.storeys - 1}"
    ceiling = Leak("ceiling", "ceiling", top, ATTIC, plan.ceiling_level, None, of_level, EXPONENT)
    vents = tuple(
        Leak(f"vent-{side}", side, ATTIC, OUTDOORS, plan.ceiling_level, azimuth, 0.15, 0.5,
             LeakKind.VENT)
        for side, azimuth, _ in SIDES
    )  # fmt: skip
    stairs = tuple(
        Leak(f"stairs-{i}", "stairs", f"storey-{i - 1}", f"storey-{i}",
             plan.floor_level + i * STOREY, None, 1.5, 0.5, LeakKind.HOLE)
        for i in range(1, plan.storeys)
    )  # fmt: skip
    flue_level = plan.floor_level + FLUE_RATIO * plan.storeys * STOREY
    flue = Leak("flue", "open flue", top, OUTDOORS, flue_level, None, plan.flue_share * whole,
                EXPONENT, LeakKind.FLUE)  # fmt: skip
    return (*walls, ceiling, *vents, *stairs, *_floor_leaks(plan, of_level),
            *((flue,) if plan.flue else ()))  # fmt: skip


def _floor_leaks(plan: Plan, of_floor: float) -> tuple[Leak, ...]:
    """Return leaks at the level of the floor: to outdoors over a slab, else to what is below."""
    level = plan.floor_level
    if plan.foundation == "slab":
        return tuple(
            Leak(f"sill-{side}", side, "storey-0", OUTDOORS, level, azimuth, of_floor / 4.0,
                 EXPONENT)
            for side, azimuth, _ in SIDES
        )  # fmt: skip
    below = BELOW[plan.foundation]
    floor = Leak("floor", "floor", "storey-0", below, level, None, of_floor, EXPONENT)
    size, exponent = (0.05, 0.5) if below == CRAWL else (0.006, 0.65)
    return (floor, *(
        Leak(f"{below}-{side}", side, below, OUTDOORS, 0.3, azimuth, size, exponent,
             LeakKind.VENT if below == CRAWL else LeakKind.CRACK)
        for side, azimuth, _ in SIDES
    ))  # fmt: skip


def plain_house(plan: Plan) -> House:
    """Return the house, held between 20 and 25 °C by ideal heating and cooling."""
    return House(
        name=plan.name,
        site=Site(36.1, -79.95, 270.0),
        spaces=_spaces(plan),
        surfaces=(*_walls(plan), *_roof(plan), *_floors(plan)),
        windows=tuple(
            Window(f"window-{i}-{side}", side, f"storey-{i}", WINDOW, 90.0, azimuth, 2.8, 0.4)
            for i in range(plan.storeys)
            for side, azimuth, _ in SIDES
        ),
        leaks=_leaks(plan),
        use=Use(3, 3, (293.15,) * 24, (298.15,) * 24, (400.0,) * 24),
        heating=Heating("ideal", Fuel.GAS, 0.0, 1.0, ducted=False),
        cooling=Cooling("ideal", 0.0, 1.0, ducted=False),
    )
