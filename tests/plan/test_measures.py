"""Check that each measure is a pure change of what it says, and of nothing else."""

from __future__ import annotations

import copy
from dataclasses import fields, replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError, PlanError
from rooftree.house import Draft, Fuel, House, LeakKind, SpaceKind
from rooftree.plan.leakage import flow_at_50
from rooftree.plan.measures import KINDS, apply_measure, apply_measures
from rooftree.plan.measures.air import WHOLE_HOUSE_FAN
from rooftree.plan.measures.enclosure import COVER
from rooftree.plan.measures.parts import insulation_resistance
from rooftree.survey import measure_kinds

if TYPE_CHECKING:
    from collections.abc import Callable

    from rooftree.plan.model import Measure

    MakeMeasure = Callable[..., Measure]

NOT_TWICE = {"drainage", "bonus-floor-fix", "knee-wall-fix", "ducts-inside"}
"""Kinds that take off a share of what is there, so that doing them twice takes off more;
ducts that are inside cannot be brought inside."""


def by_id(parts: tuple[object, ...], key: str) -> object:
    """Return the part with an id."""
    return next(part for part in parts if part.id == key)  # type: ignore[attr-defined]


def test_gates_and_measures_name_the_same_kinds() -> None:
    """Every kind that a gate can hold back is a kind of measure, and the reverse."""
    assert set(KINDS) == set(measure_kinds())


@pytest.mark.parametrize("kind", KINDS)
def test_a_measure_does_not_change_the_house_it_is_given(
    kind: str, house: House, measure: MakeMeasure
) -> None:
    """The house before is as it was, to the last field."""
    before = copy.deepcopy(house)
    apply_measure(house, measure(kind))
    assert house == before


@pytest.mark.parametrize("kind", KINDS)
def test_a_measure_touches_only_what_it_says(kind: str, house: House, measure: MakeMeasure) -> None:
    """Fields of the house that a kind does not name stay the same objects."""
    after = apply_measure(house, measure(kind))
    for part in fields(House):
        if part.name not in KINDS[kind].touches:
            assert getattr(after, part.name) is getattr(house, part.name), part.name


@pytest.mark.parametrize("kind", sorted(set(KINDS) - {"flue-repair"}))
def test_a_measure_changes_something(kind: str, house: House, measure: MakeMeasure) -> None:
    """Each kind but the repair of a flue makes the small house another one."""
    assert apply_measure(house, measure(kind)) != house


@pytest.mark.parametrize("kind", KINDS)
def test_areas_volumes_and_ids_stay(kind: str, house: House, measure: MakeMeasure) -> None:
    """No measure moves a wall: areas, volumes, levels, ids and the people stay."""
    after = apply_measure(house, measure(kind))
    for part in ("spaces", "surfaces", "windows", "leaks", "ducts"):
        assert [p.id for p in getattr(after, part)] == [p.id for p in getattr(house, part)]
    for part in ("surfaces", "windows", "ducts"):
        assert [p.area for p in getattr(after, part)] == [p.area for p in getattr(house, part)]
    assert (after.floor_area, after.volume) == (house.floor_area, house.volume)
    assert after.use == house.use
    assert {fan.id for fan in house.fans} <= {fan.id for fan in after.fans}


@pytest.mark.parametrize("kind", sorted(set(KINDS) - NOT_TWICE))
def test_a_measure_done_twice_is_done_once(kind: str, house: House, measure: MakeMeasure) -> None:
    """A kind that brings something to a target finds nothing left to do."""
    once = apply_measure(house, measure(kind))
    assert apply_measure(once, measure(kind)) == once


@given(st.permutations(["bonus-floor-fix", "air-sealing", "attic-insulation", "heat-pump"]))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_set_of_measures_makes_one_house(
    house: House, measure: MakeMeasure, kinds: list[str]
) -> None:
    """The order in which measures are listed does not matter."""
    listed = apply_measures(house, [measure(kind) for kind in kinds])
    assert listed == apply_measures(house, [measure(kind) for kind in sorted(kinds)])


@given(st.floats(0.35, 1.2))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_air_sealing_meets_its_target(house: House, measure: MakeMeasure, target: float) -> None:
    """A fan test of the sealed house shows the target, or less where it was met before."""
    after = apply_measure(house, measure("air-sealing", target_flow_50=target))
    assert flow_at_50(after) == pytest.approx(min(target, flow_at_50(house)), rel=1e-4)


def test_air_sealing_leaves_vents_flues_and_doors(house: House, measure: MakeMeasure) -> None:
    """Only cracks to something that is not a living space are sealed."""
    after = apply_measure(house, measure("air-sealing"))
    for old, new in zip(house.leaks, after.leaks, strict=True):
        sealed = old.kind is LeakKind.CRACK
        assert (new.coefficient < old.coefficient) is sealed


def test_air_sealing_cannot_promise_less_than_the_flue(house: House, measure: MakeMeasure) -> None:
    """A target below what openings leave is refused, with the least that can be had."""
    with pytest.raises(
        PlanError,
        match=r"^air-sealing\.target_flow_50 is 0\.0100 m³/s; openings that sealing does not "
        r"close leave at least 0\.\d+ m³/s: raise the target or close them$",
    ):
        apply_measure(house, measure("air-sealing", target_flow_50=0.01))


def test_attic_insulation_covers_the_framing_and_fills_voids(
    house: House, measure: MakeMeasure
) -> None:
    """Old and new insulation together have the resistance asked for, and no void is left."""
    after = apply_measure(house, measure("attic-insulation", resistance=8.0))
    ceiling = by_id(after.surfaces, "ceiling")
    cover = ceiling.layers[-1]  # type: ignore[attr-defined]
    assert cover.name == COVER
    assert insulation_resistance(ceiling) + cover.resistance == pytest.approx(8.0)  # type: ignore[arg-type]
    assert ceiling.void_fraction == 0.0  # type: ignore[attr-defined]


def test_attic_insulation_never_takes_insulation_away(house: House, measure: MakeMeasure) -> None:
    """A resistance that is there already leaves the layers as they are."""
    after = apply_measure(house, measure("attic-insulation", resistance=0.5))
    assert by_id(after.surfaces, "ceiling").layers == by_id(house.surfaces, "ceiling").layers  # type: ignore[attr-defined]


def test_a_shallow_cavity_holds_only_so_much(house: House, measure: MakeMeasure) -> None:
    """A resistance that no insulation reaches in the depth there is, is refused."""
    with pytest.raises(
        PlanError,
        match=r"^knee-wall has a cavity 89 mm deep, which holds at most 4\.45 m²·K/W; "
        r"9\.00 m²·K/W was asked for: lower the setting$",
    ):
        apply_measure(house, measure("knee-wall-fix", resistance=9.0))


def test_bonus_floor_fix_blocks_the_joist_bays(house: House, measure: MakeMeasure) -> None:
    """Cracks to the garage and from the joist bays shrink; the knee walls' stay."""
    after = apply_measure(house, measure("bonus-floor-fix", sealed_share=0.75))
    left = {
        new.id: new.coefficient / old.coefficient
        for old, new in zip(house.leaks, after.leaks, strict=True)
    }
    assert left["bonus-garage"] == left["bonus-joists"] == pytest.approx(0.25)
    assert left["knee-cracks"] == left["wall-cracks"] == 1.0


def test_knee_wall_fix_and_floor_fix_do_not_seal_the_same_leak(
    house: House, measure: MakeMeasure
) -> None:
    """What belongs to the floor over the garage is left to the work on that floor."""
    both = apply_measures(house, [measure("knee-wall-fix"), measure("bonus-floor-fix")])
    assert by_id(both.leaks, "bonus-joists").coefficient == pytest.approx(0.2 * 0.01)  # type: ignore[attr-defined]
    assert by_id(both.leaks, "knee-cracks").coefficient == pytest.approx(0.2 * 0.006)  # type: ignore[attr-defined]


def test_a_closed_crawlspace_keeps_a_path_outdoors_and_less_vapor(
    house: House, measure: MakeMeasure
) -> None:
    """Vents become cracks, the ground gives off less water, and the walls are insulated."""
    after = apply_measure(house, measure("crawlspace-closing"))
    vent = by_id(after.leaks, "crawl-vent")
    assert vent.kind is LeakKind.CRACK  # type: ignore[attr-defined]
    assert 0.0 < vent.coefficient < 0.05 * 0.15  # type: ignore[attr-defined]
    assert after.space("crawl").vapor_source < house.space("crawl").vapor_source
    wall = by_id(after.surfaces, "crawl-wall")
    assert insulation_resistance(wall) == pytest.approx(1.761, rel=1e-3)  # type: ignore[arg-type]


def test_duct_sealing_meets_its_target_on_each_side(house: House, measure: MakeMeasure) -> None:
    """Supply and return outside the living spaces each leak the target share."""
    after = apply_measure(house, measure("duct-sealing", target_leakage=0.05))
    for side in ("supply", "return"):
        total = sum(r.leakage for r in after.ducts if r.side == side and r.space != "main")
        assert total == pytest.approx(0.05)
    assert by_id(after.ducts, "supply-hall") == by_id(house.ducts, "supply-hall")


def test_ducts_inside_run_through_living_spaces_only(house: House, measure: MakeMeasure) -> None:
    """Every run ends up in the space that was named."""
    after = apply_measure(house, measure("ducts-inside", space="bonus"))
    assert {run.space for run in after.ducts} == {"bonus", "main"}


def test_a_heat_pump_replaces_both_and_burns_nothing(house: House, measure: MakeMeasure) -> None:
    """Heating and cooling are electric, and as large as before where nothing is said."""
    after = apply_measure(house, measure("heat-pump"))
    assert after.heating is not None
    assert after.cooling is not None
    assert (after.heating.kind, after.heating.fuel, after.heating.draft) == (
        "heat pump", Fuel.ELECTRICITY, Draft.NONE,
    )  # fmt: skip
    assert after.heating.capacity == 18_000.0
    assert after.cooling.capacity == 10_000.0


def test_the_flue_is_capped_when_its_burner_goes(house: House, measure: MakeMeasure) -> None:
    """A flue that no burner in its space needs any more leaks no more, unless it is kept."""
    capped = apply_measure(house, measure("water-heater"))
    kept = apply_measure(house, measure("water-heater", closed_flue="keep"))
    assert by_id(capped.leaks, "flue").coefficient == 0.0  # type: ignore[attr-defined]
    assert kept.leaks == house.leaks


def test_the_flue_stays_while_another_burner_needs_it(house: House, measure: MakeMeasure) -> None:
    """Two burners share a flue: the first replacement leaves it open."""
    assert house.heating is not None
    shared = replace(house, heating=replace(house.heating, space="main"))
    after = apply_measure(shared, measure("water-heater"))
    assert by_id(after.leaks, "flue").coefficient == 0.0035  # type: ignore[attr-defined]


def test_local_exhaust_raises_and_adds_fans(house: House, measure: MakeMeasure) -> None:
    """The weak bath fan is raised, the missing hood added, the dryer left alone."""
    after = apply_measure(house, measure("local-exhaust"))
    flows = {fan.purpose: fan.flow for fan in after.fans}
    assert flows == {"bath": 0.0236, "kitchen": 0.0472, "dryer": 0.055}


def test_ventilation_is_one_fan_all_day(house: House, measure: MakeMeasure) -> None:
    """A second size replaces the first; recovery needs balanced flow."""
    after = apply_measure(house, measure("ventilation", flow=0.02, recovery=0.7))
    after = apply_measure(after, measure("ventilation", flow=0.03, recovery=0.7, style="balanced"))
    fans = [fan for fan in after.fans if fan.id == WHOLE_HOUSE_FAN]
    assert [(fan.flow, fan.recovery, fan.hours) for fan in fans] == [(0.03, 0.7, (1.0,) * 24)]


MISSING = {
    "air-sealing": ("leaks", "a crack between a living space and something else"),
    "attic-insulation": ("surfaces", "a ceiling between a living space and an attic"),
    "bonus-floor-fix": ("surfaces", "a floor of a living space over a garage"),
    "knee-wall-fix": ("surfaces", "a wall between a living space and a knee-wall attic"),
    "wall-insulation": ("surfaces", "a wall between a living space and outdoors"),
    "windows": ("windows", "a window of a living space"),
    "duct-sealing": ("ducts", "a duct outside the living spaces"),
    "duct-insulation": ("ducts", "a duct outside the living spaces"),
    "ducts-inside": ("ducts", "a duct outside the living spaces"),
    "furnace": ("heating", "heating to replace"),
    "heat-pump": ("heating", "heating to replace"),
    "air-conditioner": ("air_handler", "an air handler with ducts"),
    "water-heater": ("water_heater", "a water heater to replace"),
}


@pytest.mark.parametrize("kind", MISSING)
def test_a_house_without_what_is_changed_is_refused(
    kind: str, house: House, measure: MakeMeasure
) -> None:
    """The message names the kind and what is missing."""
    part, missing = MISSING[kind]
    empty = () if isinstance(getattr(house, part), tuple) else None
    with pytest.raises(PlanError, match=rf"^{kind} needs {missing}; this house has none$"):
        apply_measure(replace(house, **{part: empty}), measure(kind))


@pytest.mark.parametrize("kind", ["drainage", "crawlspace-closing"])
def test_a_house_without_a_crawlspace_has_nothing_to_close(
    kind: str, house: House, measure: MakeMeasure
) -> None:
    """Measures below the floor need a space below the floor."""
    spaces = tuple(space for space in house.spaces if space.kind is not SpaceKind.CRAWLSPACE)
    with pytest.raises(PlanError, match=rf"^{kind} needs a crawlspace.*; this house has none$"):
        apply_measure(replace(house, spaces=spaces), measure(kind))


def test_a_flue_repair_needs_a_burner(house: House, measure: MakeMeasure) -> None:
    """An all-electric house has no flue to repair."""
    electric = apply_measures(house, [measure("heat-pump"), measure("water-heater")])
    with pytest.raises(
        PlanError, match=r"^flue-repair needs a burner with a flue; this house has none$"
    ):
        apply_measure(electric, measure("flue-repair"))


def test_an_unknown_kind_is_refused(house: House, measure: MakeMeasure) -> None:
    """The message lists the kinds there are."""
    with pytest.raises(
        PlanError, match=r"^measure 'solar' has the kind 'solar'; kinds are: flue-repair, .*$"
    ):
        apply_measure(house, measure("solar"))


def test_an_unknown_setting_is_refused(house: House, measure: MakeMeasure) -> None:
    """The message lists the settings that the kind takes."""
    with pytest.raises(
        PlanError,
        match=r"^duct-sealing has no setting 'target'; it takes: target_leakage$",
    ):
        apply_measure(house, measure("duct-sealing", target=0.1))


def test_a_setting_that_is_needed_must_be_given(house: House, measure: MakeMeasure) -> None:
    """The message names the kind, the setting and what it is."""
    with pytest.raises(
        PlanError,
        match=r"^water-heater needs its setting 'efficiency': useful heat over what is bought "
        r"\[-\]$",
    ):
        apply_measure(house, replace(measure("water-heater"), settings={}))


@pytest.mark.parametrize("share", [0.0, 0.5])
def test_ends_of_a_setting_are_allowed(share: float, house: House, measure: MakeMeasure) -> None:
    """The range of a setting includes its two ends."""
    after = apply_measure(house, measure("duct-sealing", target_leakage=share))
    assert sum(run.leakage for run in after.ducts if run.side == "return") <= share + 1e-12


def test_a_setting_out_of_range_is_refused(house: House, measure: MakeMeasure) -> None:
    """The message names the setting, its value and the range, with the unit."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^duct-sealing\.target_leakage is 0\.6 of 1; the method covers 0 to 0\.5 of 1$",
    ):
        apply_measure(house, measure("duct-sealing", target_leakage=0.6))


def test_whole_numbers_are_taken(house: House, measure: MakeMeasure) -> None:
    """A setting typed without a decimal point works like any other."""
    after = apply_measure(house, measure("windows", u_value=1, panes=3))
    assert {window.panes for window in after.windows} == {3}


@pytest.mark.parametrize(
    ("kind", "wrong"),
    [
        ("heat-pump", {"ducted": "maybe"}),
        ("heat-pump", {"heating_cop": "good"}),
        ("water-heater", {"kind": 3.0}),
    ],
)
def test_a_word_for_a_number_is_refused(
    kind: str, wrong: dict[str, float | str], house: House, measure: MakeMeasure
) -> None:
    """A word where a number belongs, or a word that is not on the list, is refused by name."""
    with pytest.raises(PlanError, match=rf"^{kind}\.\w+ is .*; it takes.*$"):
        apply_measure(house, measure(kind, **wrong))
