"""Houses drawn at random over the whole model: legal, and up to the ends of what is legal.

Every house has a number, and the same number always gives the same house: Hypothesis draws
numbers, and tools/many_houses.py counts through them.
"""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random
from typing import TYPE_CHECKING, TypeVar

from hypothesis import strategies as st

from rooftree.house import (
    GROUND,
    OUTDOORS,
    AirHandler,
    Cooling,
    Dehumidifier,
    Draft,
    DuctRun,
    Fan,
    Fuel,
    Heating,
    House,
    Layer,
    Leak,
    LeakKind,
    RoomUnit,
    Site,
    Space,
    SpaceKind,
    Surface,
    Use,
    WaterHeater,
    Window,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

T = TypeVar("T")

MOST_LIVING, MOST_BUFFERS = 8, 6
"""Spaces of each kind at most."""

LEAST_R, MOST_R = 0.1761, 17.61
"""Resistance of all layers of a surface: R-1 to R-100 [m²·K/W]."""

TIGHTEST, LEAKIEST = 0.3, 60.0
"""Air changes of the living spaces an hour at 50 Pa."""

BUFFERS = tuple(kind for kind in SpaceKind if kind is not SpaceKind.LIVING)
DAY = range(24)


class Draw:
    """Draws from a source of random numbers; every call is a choice that can shrink."""

    def __init__(self, source: Random) -> None:
        self._source = source

    def between(self, low: float, high: float) -> float:
        """Return a number, each alike."""
        return self._source.uniform(low, high)

    def sized(self, low: float, high: float) -> float:
        """Return a number whose logarithms are alike, within the ends."""
        exponent = self._source.uniform(math.log(low), math.log(high))
        return min(max(math.exp(exponent), low), high)

    def count(self, low: int, high: int) -> int:
        """Return a whole number, ends included."""
        return self._source.randint(low, high)

    def one_of(self, *choices: T) -> T:
        """Return one of the choices."""
        return choices[self._source.randint(0, len(choices) - 1)]

    def happens(self, share: float = 0.5) -> bool:
        """Return whether it happens, which it does in this share of draws."""
        return self._source.random() < share

    def maybe(self, make: Callable[[], T], share: float = 0.5) -> T | None:
        """Return what is made, or nothing."""
        return make() if self.happens(share) else None

    def day(self, low: float, high: float) -> tuple[float, ...]:
        """Return 24 values: all alike, of day and night, or each its own."""
        first, second = self.between(low, high), self.between(low, high)
        form = self.count(0, 2)
        if form == 0:
            return (first,) * 24
        if form == 1:
            return tuple(first if 7 <= hour < 22 else second for hour in DAY)
        return tuple(self.between(low, high) for _ in DAY)


def _space(draw: Draw, i: int, kind: SpaceKind) -> Space:
    area, height = draw.sized(2.0, 200.0), draw.sized(0.4, 6.0)
    buried = kind in (SpaceKind.CRAWLSPACE, SpaceKind.BASEMENT)
    damp = buried or draw.happens(0.1)
    return Space(
        f"space-{i}", f"Space {i}", kind, area, area * height * draw.between(0.3, 1.0),
        draw.between(-3.0, 1.0) if buried else draw.between(0.0, 8.0), height,
        capacity=draw.one_of(0.0, 5e4 * area),
        vapor_source=area * draw.one_of(0.0, draw.sized(1e-8, 5e-6)),
        bare_earth=draw.between(0.0, area) if damp and draw.happens() else 0.0,
        buffering=draw.sized(1.0, 30.0),
    )  # fmt: skip


def _spaces(draw: Draw) -> tuple[Space, ...]:
    living, buffers = draw.count(1, MOST_LIVING), draw.count(0, MOST_BUFFERS)
    kinds = [SpaceKind.LIVING] * living + [draw.one_of(*BUFFERS) for _ in range(buffers)]
    return tuple(_space(draw, i, kind) for i, kind in enumerate(kinds))


def _layers(draw: Draw) -> tuple[Layer, ...]:
    """Return one to four layers of light or heavy stuff, R-1 to R-100 together."""
    whole, number = draw.sized(LEAST_R, MOST_R), draw.count(1, 4)
    weights = [draw.between(0.05, 1.0) for _ in range(number)]
    layers = []
    for k, weight in enumerate(weights):
        thickness = draw.sized(0.002, 0.5)
        mass = draw.one_of(0.0, 12.0, 600.0, 2300.0)
        layers.append(
            Layer(
                f"layer {k}", thickness, thickness / (whole * weight / sum(weights)), mass,
                draw.between(700.0, 2000.0) if mass else 0.0,
                draw.one_of("structure", "insulation"),
            )
        )  # fmt: skip
    return tuple(layers)


def _surface(draw: Draw, name: str, inside: Space, others: Sequence[str], least: float) -> Surface:
    """Return a surface of at least this share of the floor's area."""
    outside = draw.one_of(OUTDOORS, OUTDOORS, *others)
    level = outside == GROUND or draw.happens(0.3)
    area = inside.floor_area * draw.sized(least, 3.0)
    return Surface(
        name, name, draw.one_of("wall", "ceiling", "roof", "floor", "door"), inside.id, outside,
        area, draw.one_of(0.0, 180.0) if level and outside != GROUND else
        draw.one_of(90.0, 180.0) if outside == GROUND else draw.between(0.0, 180.0),
        draw.between(0.0, 360.0), _layers(draw),
        framing_fraction=draw.one_of(0.0, draw.between(0.0, 0.4)),
        void_fraction=draw.one_of(0.0, draw.between(0.0, 0.5)),
        solar_absorptance=draw.between(0.05, 0.98),
        emittance=draw.between(0.05, 0.95),
        sun_exposed=draw.happens(0.8),
        wind_exposed=draw.happens(0.8),
        perimeter=draw.one_of(0.0, 4.0 * math.sqrt(area)) if outside == GROUND else 0.0,
        inside_absorptance=draw.between(0.05, 0.98),
        inside_emittance=draw.one_of(0.05, 0.9),
        washed_fraction=draw.one_of(0.0, draw.between(0.0, 0.5)),
    )  # fmt: skip


def _surfaces(draw: Draw, spaces: tuple[Space, ...]) -> tuple[Surface, ...]:
    """Return two to seven surfaces for each space, to anything, itself included.

    The first is as large as the floor, and does not lead back into the space.
    """
    surfaces = []
    for i, space in enumerate(spaces):
        away = (GROUND, *(other.id for other in spaces if other is not space))
        surfaces.append(_surface(draw, f"surface-{i}", space, away, 1.0))
        surfaces += [
            _surface(draw, f"surface-{i}-{k}", space, (*away, space.id), 0.02)
            for k in range(draw.count(1, 6))
        ]
    return tuple(surfaces)


def _window(draw: Draw, name: str, space: Space) -> Window:
    area, tilt = draw.sized(0.1, 0.3 * space.floor_area + 1.0), draw.one_of(90.0, 30.0, 0.0)
    window = Window(
        name, name, space.id, area, tilt, draw.between(0.0, 360.0), draw.sized(0.6, 6.5),
        draw.between(0.05, 0.85), draw.count(1, 3), shading_factor=draw.between(0.0, 1.0),
    )  # fmt: skip
    if draw.happens(0.7):
        return window
    return replace(
        window, width=draw.between(0.4, 3.0), height=draw.between(0.4, 2.5),
        overhang_depth=draw.between(0.0, 2.0), overhang_gap=draw.between(0.0, 1.0),
        fin_depth=draw.between(0.0, 1.0), fin_gap=draw.between(0.0, 1.0),
    )  # fmt: skip


def _windows(draw: Draw, spaces: tuple[Space, ...]) -> tuple[Window, ...]:
    return tuple(
        _window(draw, f"window-{i}-{k}", space)
        for i, space in enumerate(spaces)
        for k in range(draw.count(0, 3))
    )


def _leak(draw: Draw, name: str, first: Space, second: str, scale: float) -> Leak:
    facade = draw.between(0.0, 360.0) if second == OUTDOORS and draw.happens(0.8) else None
    kind = draw.one_of(LeakKind.CRACK, LeakKind.CRACK, LeakKind.VENT, LeakKind.HOLE)
    size = draw.sized(0.01, 1.0) if kind is LeakKind.CRACK else draw.sized(0.1, 100.0)
    return Leak(
        name, name, first.id, second, first.floor_level + draw.between(0.0, first.height), facade,
        scale * size, draw.between(0.5, 1.0) if kind is LeakKind.CRACK else 0.5, kind,
    )  # fmt: skip


def _leaks(draw: Draw, spaces: tuple[Space, ...]) -> tuple[Leak, ...]:
    """Return leaks that join every space to outdoors, at least through others.

    Their size follows from 0.3 to 60 air changes an hour at 50 Pa, spread unevenly.
    """
    volume = sum(space.volume for space in spaces if space.kind is SpaceKind.LIVING)
    scale = draw.sized(TIGHTEST, LEAKIEST) * volume / 3600.0 / 50.0**0.65 / len(spaces)
    leaks = []
    for i, space in enumerate(spaces):
        before = (OUTDOORS, *(other.id for other in spaces[:i]))
        leaks.append(_leak(draw, f"joint-{i}", space, draw.one_of(*before), scale))
        away = (OUTDOORS, OUTDOORS, *(other.id for other in spaces if other is not space))
        leaks += [
            _leak(draw, f"leak-{i}-{k}", space, draw.one_of(*away), scale)
            for k in range(draw.count(0, 6))
        ]
    return tuple(leaks)


def _flue(draw: Draw, name: str, space: str, fired_by: str) -> Leak:
    return Leak(
        name, name, space, OUTDOORS, draw.between(2.0, 10.0), None, draw.sized(1e-3, 3e-2), 0.5,
        LeakKind.FLUE, fired_by=fired_by, chimney=draw.between(1.0, 10.0),
        gas_temperature=draw.between(320.0, 500.0),
    )  # fmt: skip


def _flues(draw: Draw, house: House) -> tuple[Leak, ...]:
    flues = []
    if house.heating and house.heating.draft in (Draft.NATURAL, Draft.FAN_ASSISTED):
        flues.append(_flue(draw, "flue-heating", house.heating.space, "heating"))
    if house.water_heater and house.water_heater.draft is Draft.NATURAL:
        flues.append(_flue(draw, "flue-water", house.water_heater.space, "water heater"))
    if draw.happens(0.2):
        flues.append(_flue(draw, "flue-open", house.spaces[0].id, ""))
    return tuple(flues)


def _living_area(spaces: tuple[Space, ...]) -> float:
    return sum(space.floor_area for space in spaces if space.kind is SpaceKind.LIVING)


def _heating(draw: Draw, spaces: tuple[Space, ...], area: float, *, may_be_ideal: bool) -> Heating:
    """Return heating of 20 to 150 W for each square metre; unlimited if it may be."""
    more = ("ideal",) if may_be_ideal else ()
    kind = draw.one_of("furnace", "boiler", "heat pump", "resistance", *more)
    burns = kind in ("furnace", "boiler")
    is_pump = kind == "heat pump"
    return Heating(
        kind, draw.one_of(Fuel.GAS, Fuel.OIL, Fuel.PROPANE) if burns else Fuel.ELECTRICITY,
        area * draw.sized(20.0, 150.0),
        draw.between(0.5, 0.98) if burns else draw.between(1.5, 5.0) if is_pump else 1.0,
        ducted=kind != "boiler" and draw.happens(0.8),
        draft=draw.one_of(Draft.NATURAL, Draft.FAN_ASSISTED, Draft.SEALED) if burns else Draft.NONE,
        space=draw.one_of(*spaces).id,
        backup_capacity=area * draw.one_of(0.0, 30.0, 100.0) if is_pump else 0.0,
        speeds=draw.one_of("single", "variable") if is_pump else "single",
        crankcase=draw.one_of(0.0, 60.0) if is_pump else 0.0,
        pump_power=draw.one_of(0.0, 80.0) if kind == "boiler" else 0.0,
        pilot=draw.one_of(0.0, 150.0) if burns else 0.0,
        part_load=draw.one_of((), (0.02, 0.98), (0.01, 0.9, 0.09)) if burns else (),
    )  # fmt: skip


def _cooling(draw: Draw, area: float, *, may_be_ideal: bool) -> Cooling:
    """Return cooling of 10 to 100 W for each square metre; unlimited if it may be."""
    more = ("ideal",) if may_be_ideal else ()
    kind = draw.one_of("air conditioner", "heat pump", *more)
    return Cooling(
        kind, area * draw.sized(10.0, 100.0), draw.between(2.0, 6.0),
        sensible_fraction=draw.between(0.68, 0.81), ducted=draw.happens(0.8),
        speeds=draw.one_of("single", "variable") if kind != "ideal" else "single",
        crankcase=draw.one_of(0.0, 50.0),
    )  # fmt: skip


def _handler(
    draw: Draw, spaces: tuple[Space, ...], heating: Heating | None, cooling: Cooling | None
) -> AirHandler:
    """Return an air handler that suits its coil, and warms air by 60 K at most."""
    usual = 5.4e-5 * cooling.capacity * draw.sized(0.6, 1.6) if cooling else 0.0
    if heating and not cooling:
        usual = (heating.capacity + heating.backup_capacity) / (1200.0 * draw.between(10.0, 60.0))
    flow = max(usual, 0.02)
    return AirHandler(draw.one_of(*spaces).id, flow, draw.one_of(0.0, 800.0 * flow))


def _ducts(draw: Draw, spaces: tuple[Space, ...]) -> tuple[DuctRun, ...]:
    runs = []
    for side in ("supply", "return"):
        number = draw.count(0, 3)
        runs += [
            DuctRun(
                f"{side}-{k}", side, side, draw.one_of(*spaces).id, draw.one_of(0.0, 5.0, 40.0),
                draw.sized(0.1, 2.5), draw.one_of(0.0, draw.between(0.0, 0.45 / number)),
            )
            for k in range(number)
        ]  # fmt: skip
    return tuple(runs)


def _setpoints(draw: Draw) -> tuple[tuple[float, ...], tuple[float, ...]]:
    heat = draw.day(285.0, 296.0)
    apart = draw.day(0.5, 12.0)
    return heat, tuple(low + gap for low, gap in zip(heat, apart, strict=True))


def _room_unit(draw: Draw, i: int, space: Space, spaces: tuple[Space, ...]) -> RoomUnit:
    own = draw.happens()
    heat, cool = _setpoints(draw)
    area = space.floor_area
    return RoomUnit(
        f"unit-{i}", f"unit {i}", space.id,
        draw.maybe(lambda: _heating(draw, spaces, area, may_be_ideal=False), 0.7),
        draw.maybe(lambda: _cooling(draw, area, may_be_ideal=False), 0.7),
        heat if own else None, cool if own else None,
    )  # fmt: skip


def _room_units(draw: Draw, spaces: tuple[Space, ...]) -> tuple[RoomUnit, ...]:
    living = [space for space in spaces if space.kind is SpaceKind.LIVING]
    return tuple(
        _room_unit(draw, i, space, spaces) for i, space in enumerate(living) if draw.happens(0.15)
    )


def _fans(draw: Draw, spaces: tuple[Space, ...]) -> tuple[Fan, ...]:
    kinds = ("exhaust", "supply", "balanced")
    fans = []
    for k in range(draw.count(0, 4)):
        kind = draw.one_of(*kinds)
        recovers = kind == "balanced"
        fans.append(
            Fan(
                f"fan-{k}", f"fan {k}", kind, draw.one_of(*spaces).id, draw.sized(0.003, 0.2),
                draw.day(0.0, 1.0), draw.one_of(0.0, 40.0),
                recovery=draw.between(0.0, 1.0) if recovers else 0.0,
                latent_recovery=draw.between(0.0, 1.0) if recovers else 0.0,
            )
        )  # fmt: skip
    return tuple(fans)


def _driers(draw: Draw, spaces: tuple[Space, ...]) -> tuple[Dehumidifier, ...]:
    return tuple(
        Dehumidifier(space.id, draw.sized(5e-5, 6e-4), draw.sized(3e-7, 1e-6),
                     draw.between(0.35, 0.8))
        for space in spaces
        if draw.happens(0.15)
    )  # fmt: skip


def _water_heater(draw: Draw, spaces: tuple[Space, ...]) -> WaterHeater:
    kind = draw.one_of("tank", "tankless", "heat pump")
    burns = kind != "heat pump" and draw.happens()
    return WaterHeater(
        kind, Fuel.GAS if burns else Fuel.ELECTRICITY,
        draw.between(2.0, 3.5) if kind == "heat pump" else draw.between(0.5, 0.97),
        draw.one_of(*spaces).id,
        draw.one_of(Draft.NATURAL, Draft.SEALED) if burns else Draft.NONE,
        0.0 if kind == "tankless" else draw.between(0.0, 120.0),
    )  # fmt: skip


def _about_one(draw: Draw) -> tuple[float, ...]:
    """Return hourly weights with a mean of one, or none."""
    weights = draw.day(0.0, 3.0)
    mean = sum(weights) / 24.0
    return tuple(weight / mean for weight in weights) if mean > 0.1 and draw.happens() else ()


def _use(draw: Draw, spaces: tuple[Space, ...]) -> Use:
    living = [space.id for space in spaces if space.kind is SpaceKind.LIVING]
    heat, cool = _setpoints(draw)
    area = _living_area(spaces)
    return Use(
        draw.count(0, 8), draw.count(0, 6), heat, cool, draw.day(0.0, 15.0 * area),
        radiant_fraction=draw.between(0.0, 1.0),
        vapor_gain=area * draw.one_of(0.0, draw.sized(1e-7, 5e-6)),
        electricity=draw.between(0.0, 2000.0), hot_water_heat=draw.between(0.0, 800.0),
        cooking_gas=draw.one_of(0.0, 60.0), vapor_hours=_about_one(draw),
        hot_water_hours=_about_one(draw), thermostat=draw.one_of("", *living),
        open_window_area=draw.one_of(0.0, 0.0, draw.between(0.1, 4.0)),
    )  # fmt: skip


def _with_shares(draw: Draw, spaces: tuple[Space, ...]) -> tuple[Space, ...]:
    """Return the spaces, the living ones with measured shares of supply and return, or not."""
    living = [space for space in spaces if space.kind is SpaceKind.LIVING]
    if draw.happens():
        return spaces
    weights = [space.floor_area * draw.sized(0.4, 2.5) for space in living]
    shares = iter(weight / sum(weights) for weight in weights)
    back = draw.one_of(*living)
    return tuple(
        replace(space, supply_share=next(shares), return_share=1.0 if space is back else 0.0)
        if space.kind is SpaceKind.LIVING
        else space
        for space in spaces
    )


def random_house(source: Random) -> House:
    """Return a house drawn from a source of random numbers; the same for the same numbers."""
    draw = Draw(source)
    spaces = _with_shares(draw, _spaces(draw))
    area = _living_area(spaces)
    # Unlimited heat for one room would flood the others that share it.
    alone = sum(space.kind is SpaceKind.LIVING for space in spaces) == 1
    heating = draw.maybe(lambda: _heating(draw, spaces, area, may_be_ideal=alone), 0.85)
    cooling = draw.maybe(lambda: _cooling(draw, area, may_be_ideal=alone), 0.7)
    has_handler = draw.happens(0.7)
    house = House(
        name="A random house",
        site=Site(
            draw.between(-60.0, 65.0), draw.between(-180.0, 180.0), draw.between(0.0, 3000.0),
            draw.one_of("city", "suburban", "open", "water"), draw.between(0.0, 1.0),
        ),
        spaces=spaces,
        surfaces=_surfaces(draw, spaces),
        use=_use(draw, spaces),
        windows=_windows(draw, spaces),
        leaks=_leaks(draw, spaces),
        ducts=_ducts(draw, spaces) if has_handler else (),
        air_handler=_handler(draw, spaces, heating, cooling) if has_handler else None,
        heating=heating,
        cooling=cooling,
        water_heater=draw.maybe(lambda: _water_heater(draw, spaces), 0.8),
        fans=_fans(draw, spaces),
        dehumidifiers=_driers(draw, spaces),
        room_units=() if alone else _room_units(draw, spaces),
    )  # fmt: skip
    return replace(house, leaks=(*house.leaks, *_flues(draw, house)))


def numbered_house(number: int) -> House:
    """Return the random house with this number, always the same."""
    return random_house(Random(number))  # noqa: S311


numbers = st.integers(0, 2**31 - 1)
"""Strategy for the numbers of random houses."""
