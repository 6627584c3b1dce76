"""Check that a house that cannot be solved is refused with the part named and the remedy."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from demo_house import recorded_house, true_house
from engine.houses import make_house, make_leak, make_space
from engine.ranch import ranch
from engine.validation.fabric_box import CASES
from rooftree.errors import HouseError
from rooftree.house import Cooling, Fan, Fuel, Heating, House, RoomUnit
from rooftree.house.sound import LIMITS, SCHEDULES, cut_off_spaces, problems_of, require_sound

if TYPE_CHECKING:
    from collections.abc import Callable

RANCH = ranch()


def with_first(name: str, **changes: Any) -> House:
    """Return the ranch with fields of the first part of a kind changed."""
    first, *others = getattr(RANCH, name)
    return replace(RANCH, **{name: (replace(first, **changes), *others)})


def with_layer(**changes: Any) -> House:
    """Return the ranch with fields of the first layer of its first surface changed."""
    first, *others = RANCH.surfaces[0].layers
    return with_first("surfaces", layers=(replace(first, **changes), *others))


def with_use(**changes: Any) -> House:
    """Return the ranch with its use changed."""
    return replace(RANCH, use=replace(RANCH.use, **changes))


@pytest.mark.parametrize("make", [ranch, true_house, recorded_house, lambda: CASES["600"]])
def test_ordinary_houses_pass(make: Callable[[], House]) -> None:
    """Houses of the tests and of the demo have no problem."""
    assert tuple(problems_of(make())) == ()
    require_sound(make())


@pytest.mark.parametrize(
    ("house", "says"),
    [
        (with_first("spaces", floor_area=0.0),
         r"the floor area of space main is 0 m²; give a value above 0 m²"),
        (with_first("spaces", volume=0.0),
         r"the volume of space main is 0 m³; give a value above 0 m³"),
        (with_first("spaces", volume=-5.0),
         r"the volume of space main is -5 m³; give a value above 0 m³"),
        (with_first("spaces", volume=math.nan),
         r"the volume of space main is nan m³; give a value above 0 m³"),
        (with_first("spaces", supply_share=1.2),
         r"the supply share of space main is 1\.2; give 0 to 1"),
        (with_first("surfaces", area=-3.0),
         r"the area of surface \S+ is -3 m²; give a value above 0 m²"),
        (with_first("surfaces", outside="loft"),
         r"surface \S+ names the space loft, which the house does not have"),
        (with_first("surfaces", inside="loft"),
         r"surface \S+ names the space loft, which the house does not have"),
        (with_first("surfaces", layers=()), r"surface \S+ has no layer; give it at least one"),
        (with_layer(thickness=0.0),
         r"the thickness of layer .+ of surface \S+ is 0 m; give a value above 0 m"),
        (with_first("windows", area=-1.0),
         r"the area of window \S+ is -1 m²; give a value above 0 m²"),
        (with_first("windows", space="loft"),
         r"window \S+ names the space loft, which the house does not have"),
        (with_first("windows", overhang_depth=0.6),
         (r"window \S+ has an overhang or fins but no width and height; give both, of one "
         r"window where several are alike")),
        (with_first("leaks", coefficient=-0.01),
         r"the coefficient of leak \S+ is -0\.01 m³/\(s·Paⁿ\); give at least 0 m³/\(s·Paⁿ\)"),
        (with_first("leaks", exponent=0.49),
         r"the exponent of leak \S+ is 0\.49; give 0\.5 to 1"),
        (with_first("ducts", leakage=-0.1), r"the leakage of duct run \S+ is -0\.1; give 0 to 1"),
        (with_first("ducts", side="left"),
         r"duct run \S+ is on the side left; use supply or return"),
        (with_first("fans", hours=(1.0,) * 23),
         r"the hours of fan \S+ has 23 values; give one for each of the 24 hours"),
        (with_first("fans", hours=(1.5,) * 24),
         r"the hours of fan \S+ is 1\.5 at hour 0; give 0 to 1"),
        (with_first("fans", kind="ceiling"),
         r"fan \S+ is ceiling; use exhaust, supply or balanced"),
        (with_use(heating_setpoint=(293.0,) * 25),
         (r"the heating setpoint of the use of the house has 25 values; give one for each of "
         r"the 24 hours")),
        (with_use(sensible_gain=()),
         (r"the sensible gain of the use of the house has 0 values; give one for each of the 24 "
         r"hours")),
        (with_use(heating_setpoint=(-20.0,) * 24),
         (r"the heating setpoint of the use of the house is -20 K at hour 0; give above 0 and up "
         r"to 2000 K")),
        (with_use(thermostat="loft"),
         r"the thermostat names the space loft, which the house does not have"),
        (replace(RANCH, spaces=()), r"the house has no space; add the living space at least"),
    ],
)  # fmt: skip
def test_what_cannot_be_solved_is_refused(house: House, says: str) -> None:
    """The message names the part, its value, and what to give."""
    with pytest.raises(HouseError, match=rf"^{says}$"):
        require_sound(house)


def test_space_without_path_for_air() -> None:
    """A space that no leak joins to outdoors is named, whichever way it is cut off."""
    house = make_house(
        make_space("house"), make_space("attic", kind="attic"),
        leaks=(make_leak("cracks", "house"), make_leak("hatch", "attic", "house", coefficient=0.0)),
    )  # fmt: skip
    with pytest.raises(
        HouseError,
        match=r"^no air can get from outdoors to The attic, not even through other spaces; add a "
        r"leak with a coefficient above zero to each$",
    ):
        require_sound(house)
    assert [space.id for space in cut_off_spaces(house)] == ["attic"]
    ajar = replace(house, leaks=(house.leaks[0], replace(house.leaks[1], coefficient=1e-6)))
    require_sound(ajar)


def test_house_without_leaks() -> None:
    """A house without any leak can be simulated, unless a fan would empty it."""
    tight = make_house(make_space("house"))
    require_sound(tight)
    fan = Fan("fan", "fan", "exhaust", "house", 0.01, (1.0,) * 24)
    with pytest.raises(HouseError, match=r"^no air can get from outdoors to The house, "):
        require_sound(replace(tight, fans=(fan,)))
    require_sound(replace(tight, fans=(replace(fan, kind="balanced"),)))


def test_shares_that_sum_to_more_than_all() -> None:
    """Supply shares, each allowed, are refused when they exceed 1 together."""
    first, second, *others = RANCH.spaces
    spaces = (replace(first, supply_share=0.7), replace(second, supply_share=0.5), *others)
    with pytest.raises(
        HouseError,
        match=r"^the supply shares of the spaces sum to 1\.2; they must not exceed 1 together$",
    ):
        require_sound(replace(RANCH, spaces=spaces))
    one, *runs = RANCH.ducts
    lossy = replace(RANCH, ducts=(replace(one, side="supply", leakage=1.0), *runs))
    with pytest.raises(HouseError, match=r"^the supply ducts leak 1\d\d% of the air handler's "):
        require_sound(lossy)


def test_setpoints_that_fight() -> None:
    """Heating above cooling is refused where there are both."""
    heating = Heating("ideal", Fuel.ELECTRICITY, 0.0, 1.0)
    house = replace(
        with_use(cooling_setpoint=(290.0,) * 24), heating=heating, cooling=Cooling("ideal", 0, 1)
    )
    with pytest.raises(HouseError, match=r"^the heating setpoint is .* at hour \d+; give a "):
        require_sound(house)
    require_sound(replace(house, cooling=None))


def test_two_parts_with_one_id() -> None:
    """Ids are unique within their kind."""
    with pytest.raises(HouseError, match=r"^2 parts of kind leak have the id \S+; give each "):
        require_sound(replace(RANCH, leaks=(*RANCH.leaks, RANCH.leaks[0])))


def test_a_room_unit_is_looked_into() -> None:
    """Numbers and schedules of a room unit count as well."""
    unit = RoomUnit("unit", "unit", "main", cooling=Cooling("air conditioner", 2000.0, 0.0),
                    cooling_setpoint=(297.0,))  # fmt: skip
    problems = tuple(problems_of(replace(RANCH, room_units=(unit,))))
    assert len(problems) == 2
    assert "room unit unit" in problems[0]
    assert problems[1].startswith("the cop of the cooling of room unit unit is 0; ")


def test_every_problem_is_told() -> None:
    """Two mistakes are told in one message."""
    house = replace(with_first("spaces", volume=0.0), use=with_use(people=-1).use)
    with pytest.raises(HouseError, match=r"people of .*; the volume of space main"):
        require_sound(house)


@pytest.mark.parametrize("part", [*LIMITS, *SCHEDULES])
def test_limits_are_of_fields_that_exist(part: type) -> None:
    """No limit is of a field that was renamed."""
    fields = part.__dataclass_fields__  # type: ignore[attr-defined]
    assert set(LIMITS.get(part, {})) | set(SCHEDULES.get(part, {})) <= set(fields)


@given(st.floats(0.3, 60.0), st.floats(1.0, 100.0))
def test_extreme_but_legal_houses_pass(air_changes: float, r_value: float) -> None:
    """0.3 to 60 air changes at 50 Pa and R-1 to R-100 are no reason to refuse."""
    factor = air_changes * RANCH.volume / 3600.0 / 50.0**0.65
    leaks = tuple(replace(leak, coefficient=factor) for leak in RANCH.leaks)
    surfaces = tuple(
        replace(surface, layers=tuple(
            replace(layer, conductivity=layer.thickness / (0.1761 * r_value))
            for layer in surface.layers))
        for surface in RANCH.surfaces
    )  # fmt: skip
    require_sound(replace(RANCH, leaks=leaks, surfaces=surfaces))
