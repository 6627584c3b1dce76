"""What a house must be like to be simulated at all; whatever is not, is told with its remedy."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.errors import HouseError
from rooftree.house.model import (
    GROUND,
    OUTDOORS,
    AirHandler,
    Cooling,
    Dehumidifier,
    DuctRun,
    Fan,
    Heating,
    House,
    Layer,
    Leak,
    RoomUnit,
    Site,
    Space,
    Surface,
    Use,
    WaterHeater,
    Window,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

HOURS = 24
"""Values in a schedule of one day."""

FAN_KINDS = ("exhaust", "supply", "balanced")
DUCT_SIDES = ("supply", "return")


@dataclass(frozen=True, slots=True)
class Limits:
    """Which values a number of the house may have.

    Attributes
    ----------
    low, high : float
        Least and largest.
    unit : str
        Of the number.
    is_above : bool
        Whether `low` itself is refused.
    """

    low: float
    high: float
    unit: str
    is_above: bool = False

    def allow(self, value: float) -> bool:
        """Return whether a value is within the limits; one that is not a number never is."""
        return self.low <= value <= self.high and not (self.is_above and value == self.low)

    @property
    def says(self) -> str:
        """Return the limits in words, as what to give."""
        unit = "" if self.unit == "-" else f" {self.unit}"
        if self.low == -math.inf:
            return "a number" if self.high == math.inf else f"at most {self.high:g}{unit}"
        if self.high == math.inf:
            above = "a value above" if self.is_above else "at least"
            return f"{above} {self.low:g}{unit}"
        above = f"above {self.low:g} and up to" if self.is_above else f"{self.low:g} to"
        return f"{above} {self.high:g}{unit}"


def _above(unit: str) -> Limits:
    return Limits(0.0, math.inf, unit, is_above=True)


def _at_least(unit: str, low: float = 0.0) -> Limits:
    return Limits(low, math.inf, unit)


def _any(unit: str) -> Limits:
    return Limits(-1e9, 1e9, unit)


SHARE = Limits(0.0, 1.0, "-")
KELVIN = Limits(100.0, 2000.0, "K")
SETPOINT = Limits(0.0, 2000.0, "K", is_above=True)
"""Near 0 K a setpoint says that the house is never heated, above 1000 K never cooled."""

LIMITS: Mapping[type, Mapping[str, Limits]] = {
    Site: {
        "latitude": Limits(-90.0, 90.0, "°"),
        "longitude": Limits(-180.0, 180.0, "°"),
        "elevation": Limits(-500.0, 9000.0, "m"),
        "shelter": SHARE,
    },
    Space: {
        "floor_area": _above("m²"),
        "volume": _above("m³"),
        "floor_level": _any("m"),
        "height": _above("m"),
        "capacity": _at_least("J/K"),
        "vapor_source": _at_least("kg/s"),
        "supply_share": SHARE,
        "return_share": SHARE,
        "bare_earth": _at_least("m²"),
        "buffering": _at_least("-", 1.0),
    },
    Layer: {
        "thickness": _above("m"),
        "conductivity": _above("W/(m·K)"),
        "density": _at_least("kg/m³"),
        "specific_heat": _at_least("J/(kg·K)"),
    },
    Surface: {
        "area": _above("m²"),
        "tilt": Limits(0.0, 180.0, "°"),
        "azimuth": _any("°"),
        "framing_fraction": SHARE,
        "void_fraction": SHARE,
        "solar_absorptance": SHARE,
        "emittance": SHARE,
        "perimeter": _at_least("m"),
        "inside_absorptance": SHARE,
        "inside_emittance": SHARE,
        "washed_fraction": SHARE,
    },
    Window: {
        "area": _above("m²"),
        "tilt": Limits(0.0, 180.0, "°"),
        "azimuth": _any("°"),
        "u_value": _above("W/(m²·K)"),
        "solar_heat_gain_coefficient": SHARE,
        "panes": Limits(1.0, 3.0, "-"),
        "shading_factor": SHARE,
        "width": _at_least("m"),
        "height": _at_least("m"),
        "overhang_depth": _at_least("m"),
        "overhang_gap": _at_least("m"),
        "fin_depth": _at_least("m"),
        "fin_gap": _at_least("m"),
    },
    Leak: {
        "level": _any("m"),
        "azimuth": _any("°"),
        "coefficient": _at_least("m³/(s·Paⁿ)"),
        "exponent": Limits(0.5, 1.0, "-"),
        "chimney": _at_least("m"),
        "gas_temperature": KELVIN,
    },
    DuctRun: {"area": _at_least("m²"), "resistance": _above("m²·K/W"), "leakage": SHARE},
    AirHandler: {"flow": _above("m³/s"), "power": _at_least("W")},
    Heating: {
        "capacity": _at_least("W"),
        "efficiency": _above("-"),
        "backup_capacity": _at_least("W"),
        "crankcase": _at_least("W"),
        "pump_power": _at_least("W"),
        "pilot": _at_least("W"),
    },
    Cooling: {
        "capacity": _at_least("W"),
        "cop": _above("-"),
        "sensible_fraction": SHARE,
        "crankcase": _at_least("W"),
    },
    WaterHeater: {"efficiency": _above("-"), "standby_loss": _at_least("W"), "setpoint": KELVIN},
    Fan: {
        "flow": _at_least("m³/s"),
        "power": _at_least("W"),
        "recovery": SHARE,
        "latent_recovery": SHARE,
    },
    Dehumidifier: {
        "capacity": _at_least("kg/s"),
        "energy_factor": _above("kg/J"),
        "setpoint": SHARE,
    },
    Use: {
        "people": _at_least("-"),
        "bedrooms": _at_least("-"),
        "radiant_fraction": SHARE,
        "vapor_gain": _at_least("kg/s"),
        "electricity": _at_least("W"),
        "hot_water_heat": _at_least("W"),
        "cooking_gas": _at_least("W"),
        "open_window_area": _at_least("m²"),
    },
}
"""Numbers of each part of the house and what they may be; None is allowed where a part may
say nothing. R-1 to R-100 and 0.3 to 60 air changes an hour at 50 Pa are far inside."""

SCHEDULES: Mapping[type, Mapping[str, Limits]] = {
    Fan: {"hours": SHARE},
    RoomUnit: {"heating_setpoint": SETPOINT, "cooling_setpoint": SETPOINT},
    Use: {
        "heating_setpoint": SETPOINT,
        "cooling_setpoint": SETPOINT,
        "sensible_gain": _any("W"),
        "vapor_hours": _at_least("-"),
        "hot_water_hours": _at_least("-"),
    },
}
"""Values for each hour of the day."""

MAY_BE_EMPTY = frozenset({"vapor_hours", "hot_water_hours"})


@dataclass(frozen=True, slots=True)
class _Part:
    """One part of the house with what it is called in a message."""

    called: str
    value: object


def require_sound(house: House) -> None:
    """Refuse a house that cannot be simulated.

    Parameters
    ----------
    house : House
        Any.

    Raises
    ------
    HouseError
        Naming each part that is wrong, what it has and what to give instead; several
        problems are told one after another.

    Notes
    -----
    What is only unlikely passes: 0.3 or 60 air changes an hour, R-1 or R-100, a house
    without heating. A house without any leak passes if no fan forces air into it or out of
    it; otherwise each space needs a path for air to outdoors.
    """
    problems = tuple(problems_of(house))
    if problems:
        raise HouseError("; ".join(problems))


def problems_of(house: House) -> Iterator[str]:
    """Yield what makes a house impossible to simulate, each with its remedy.

    Parameters
    ----------
    house : House
        Any.

    Yields
    ------
    str
        One problem, without a full stop.
    """
    if not house.spaces:
        yield "the house has no space; add the living space at least"
        return
    parts = tuple(_parts(house))
    yield from _same_ids(house)
    for part in parts:
        yield from _numbers(part)
        yield from _schedules(part)
    names = tuple(_names(house))
    yield from names
    yield from _words(house)
    yield from _shares(house)
    yield from _shades(house)
    yield from _setpoints(house)
    if not names and _moves_air(house):
        yield from _cut_off(house)


def cut_off_spaces(house: House) -> tuple[Space, ...]:
    """Return the spaces that no chain of leaks joins to outdoors.

    Parameters
    ----------
    house : House
        Any; leaks with a coefficient of zero do not count.

    Returns
    -------
    tuple of Space
        In the order of the house.
    """
    reached, before = {OUTDOORS}, 0
    open_ = [{leak.first, leak.second} for leak in house.leaks if leak.coefficient > 0.0]
    while len(reached) > before:
        before = len(reached)
        for ends in open_:
            if ends & reached:
                reached |= ends
    return tuple(space for space in house.spaces if space.id not in reached)


def _parts(house: House) -> Iterator[_Part]:
    """Yield every part that has numbers of its own."""
    yield _Part("the site", house.site)
    yield _Part("the use of the house", house.use)
    for kind, group in _groups(house):
        for each in group:
            yield _Part(f"{kind} {each.id}", each)
    for surface in house.surfaces:
        for layer in surface.layers:
            yield _Part(f"layer {layer.name} of surface {surface.id}", layer)
    for unit in house.room_units:
        yield from _machines(f" of room unit {unit.id}", unit.heating, unit.cooling)
    yield from _machines("", house.heating, house.cooling)
    if house.air_handler:
        yield _Part("the air handler", house.air_handler)
    if house.water_heater:
        yield _Part("the water heater", house.water_heater)
    for dryer in house.dehumidifiers:
        yield _Part(f"the dehumidifier in {dryer.space}", dryer)


def _machines(of: str, heating: Heating | None, cooling: Cooling | None) -> Iterator[_Part]:
    if heating:
        yield _Part(f"the heating{of}", heating)
    if cooling:
        yield _Part(f"the cooling{of}", cooling)


def _groups(house: House) -> tuple[tuple[str, tuple[_WithId, ...]], ...]:
    return (
        ("space", house.spaces),
        ("surface", house.surfaces),
        ("window", house.windows),
        ("leak", house.leaks),
        ("duct run", house.ducts),
        ("fan", house.fans),
        ("room unit", house.room_units),
    )


_WithId = Space | Surface | Window | Leak | DuctRun | Fan | RoomUnit


def _same_ids(house: House) -> Iterator[str]:
    """Yield ids that two parts share, where parts are looked up by them."""
    for kind, group in _groups(house):
        if kind in ("surface", "window"):
            continue
        for key, times in Counter(each.id for each in group).items():
            if times > 1:
                yield f"{times} parts of kind {kind} have the id {key}; give each its own"


def _numbers(part: _Part) -> Iterator[str]:
    for name, limits in LIMITS.get(type(part.value), {}).items():
        value = getattr(part.value, name)
        if value is not None and not limits.allow(value):
            unit = "" if limits.unit == "-" else f" {limits.unit}"
            yield (
                f"the {name.replace('_', ' ')} of {part.called} is {value:g}{unit}; "
                f"give {limits.says}"
            )


def _schedules(part: _Part) -> Iterator[str]:
    for name, limits in SCHEDULES.get(type(part.value), {}).items():
        hours = getattr(part.value, name)
        if hours is None or (not hours and name in MAY_BE_EMPTY):
            continue
        words = f"the {name.replace('_', ' ')} of {part.called}"
        if len(hours) != HOURS:
            yield f"{words} has {len(hours)} values; give one for each of the {HOURS} hours"
            continue
        for hour, value in enumerate(hours):
            if not limits.allow(value):
                unit = "" if limits.unit == "-" else f" {limits.unit}"
                yield f"{words} is {value:g}{unit} at hour {hour}; give {limits.says}"
                break


def _names(house: House) -> Iterator[str]:
    """Yield the parts that name a space which is not there."""
    spaces = {space.id for space in house.spaces}
    for owner, name in _named(house):
        if name not in spaces:
            yield f"{owner} names the space {name}, which the house does not have"
    for surface in house.surfaces:
        if not surface.layers:
            yield f"surface {surface.id} has no layer; give it at least one"
    for leak in house.leaks:
        yield from _ends(leak, spaces)


def _named(house: House) -> Iterator[tuple[str, str]]:
    """Yield each part that names a space, with the name."""
    for surface in house.surfaces:
        yield f"surface {surface.id}", surface.inside
        if surface.outside not in (OUTDOORS, GROUND):
            yield f"surface {surface.id}", surface.outside
    rooms: Iterable[tuple[str, Iterable[Window | DuctRun | Fan | RoomUnit]]] = (
        ("window", house.windows),
        ("duct run", house.ducts),
        ("fan", house.fans),
        ("room unit", house.room_units),
    )
    for kind, group in rooms:
        for each in group:
            yield f"{kind} {each.id}", each.space
    for dryer in house.dehumidifiers:
        yield "a dehumidifier", dryer.space
    if house.air_handler:
        yield "the air handler", house.air_handler.space
    if house.water_heater:
        yield "the water heater", house.water_heater.space
    if house.heating and house.heating.space:
        yield "the heating", house.heating.space
    if house.use.thermostat:
        yield "the thermostat", house.use.thermostat


def _ends(leak: Leak, spaces: set[str]) -> Iterator[str]:
    for end in (leak.first, leak.second):
        if end not in spaces and end != OUTDOORS:
            yield (
                f"leak {leak.id} joins {end}, which is neither a space of the house nor "
                f"{OUTDOORS}; use the id of a space"
            )
    if leak.first == leak.second:
        yield (f"leak {leak.id} joins {leak.first} to itself; name the space on its other side")


def _words(house: House) -> Iterator[str]:
    """Yield kinds and sides that are none."""
    for fan in house.fans:
        if fan.kind not in FAN_KINDS:
            yield f"fan {fan.id} is {fan.kind}; use exhaust, supply or balanced"
    for run in house.ducts:
        if run.side not in DUCT_SIDES:
            yield f"duct run {run.id} is on the side {run.side}; use supply or return"


def _shares(house: House) -> Iterator[str]:
    """Yield shares that sum to more than there is."""
    for name in ("supply_share", "return_share"):
        shares = [getattr(space, name) or 0.0 for space in house.spaces]
        total = math.fsum(shares)
        if total > 1.0 + 1e-6 and max(shares) <= 1.0:
            yield (
                f"the {name.replace('_', ' ')}s of the spaces sum to {total:g}; "
                "they must not exceed 1 together"
            )
    for side in DUCT_SIDES:
        lost = math.fsum(run.leakage for run in house.ducts if run.side == side)
        if lost >= 1.0:
            yield (
                f"the {side} ducts leak {lost:.0%} of the air handler's flow; "
                "the parts must sum to less than all of it"
            )


def _shades(house: House) -> Iterator[str]:
    for window in house.windows:
        stands_out = window.overhang_depth > 0.0 or window.fin_depth > 0.0
        if stands_out and not (window.width > 0.0 and window.height > 0.0):
            yield (
                f"window {window.id} has an overhang or fins but no width and height; give both, "
                "of one window where several are alike"
            )


def _setpoints(house: House) -> Iterator[str]:
    """Yield an hour in which heating and cooling would run against each other."""
    if not (house.heating and house.cooling):
        return
    pairs = zip(house.use.heating_setpoint, house.use.cooling_setpoint, strict=False)
    for hour, (heat, cool) in enumerate(pairs):
        if heat > cool:
            yield (
                f"the heating setpoint is {heat:g} K and the cooling setpoint {cool:g} K at hour "
                f"{hour}; give a cooling setpoint that is not below that of heating"
            )
            return


def _moves_air(house: House) -> bool:
    return bool(house.leaks) or any(fan.kind != "balanced" for fan in house.fans)


def _cut_off(house: House) -> Iterator[str]:
    cut_off = [space.name for space in cut_off_spaces(house)]
    if cut_off:
        yield (
            f"no air can get from outdoors to {', '.join(cut_off)}, not even through other "
            "spaces; add a leak with a coefficient above zero to each"
        )
