"""Check equipment sizing against the trade's ranges and against the simulated machines."""

from __future__ import annotations

from dataclasses import replace

import pytest

from engine.comparisons.atlanta import atlanta
from engine.ranch import ranch
from engine.test_design import as_found
from engine.test_simulate import greensboro
from engine.validation.fabric_box import box
from engine.weather_years import even_year
from rooftree.engine import simulate
from rooftree.engine.design import design_loads
from rooftree.engine.sizing import MachineSize, Sizing, size_equipment
from rooftree.house import OUTDOORS, Cooling, Fuel, Heating, House


def sized(house: House) -> Sizing:
    """Return the sizing of a house whose rooms are those of the ranch."""
    return size_equipment(house, as_found(), greensboro())


def machine(house: House, use: str) -> MachineSize:
    """Return its machine for heating or cooling."""
    return next(one for one in sized(house).machines if one.use == use)


def codes(house: House) -> set[str]:
    """Return the codes of what is far off."""
    return {finding.code for finding in sized(house).findings}


@pytest.mark.published(
    source="ACCA Manual S",
    where="furnace 100 to 140 % of the heat loss; air conditioner to 115 %; heat pump to 125 %",
    read="quoted in a summary by its editor and in a trade note of 2012",
)
@pytest.mark.parametrize(
    ("use", "kind", "high"),
    [
        ("heating", "furnace", 1.40),
        ("heating", "boiler", 1.40),
        ("cooling", "air conditioner", 1.15),
        ("cooling", "heat pump", 1.25),
    ],
)
def test_upper_ends_of_the_ranges(use: str, kind: str, high: float) -> None:
    """The sizes that fit reach up to these shares of the load at the machine."""
    house = ranch()
    if use == "heating":
        house = replace(house, heating=replace(house.heating, kind=kind))
    else:
        house = replace(house, cooling=replace(house.cooling, kind=kind))
    found = machine(house, use)
    assert found.range is not None
    assert found.range.high == high
    assert found.range.most == pytest.approx(high * found.total_load)
    assert found.range.read == "quoted"


@pytest.mark.published(
    source="ACCA Manual S, 2014",
    where="air conditioners 0.90 to 1.15, with variable speed to 1.30",
    read="memory",
)
def test_a_machine_that_turns_itself_down_may_be_larger() -> None:
    """Variable speed widens the range upward."""
    house = ranch()
    variable = replace(house, cooling=replace(house.cooling, speeds="variable"))
    found = machine(variable, "cooling").range
    assert found is not None
    assert (found.low, found.high, found.read) == (0.90, 1.30, "recalled")


def test_furnace_gives_its_output_and_the_fan_s_heat() -> None:
    """At the design hour a furnace gives what it gives always."""
    house = ranch()
    found = machine(house, "heating")
    assert house.air_handler is not None
    assert found.sensible == pytest.approx(20000.0 + house.air_handler.power)
    assert found.power == pytest.approx(20000.0 / 0.78)
    assert found.delivered < found.sensible
    assert found.load == pytest.approx(found.rooms * found.sensible / found.delivered)


def test_without_ducts_the_rooms_load_is_the_machine_s() -> None:
    """A machine that heats the rooms straight has their load."""
    house = ranch()
    room = replace(house, heating=replace(house.heating, ducted=False))
    found = machine(room, "heating")
    assert found.load == pytest.approx(as_found().heating)
    assert found.delivered == pytest.approx(found.sensible) == pytest.approx(20000.0)


def test_ducts_that_leak_ask_for_a_larger_machine() -> None:
    """Tight and wrapped ducts lessen the load at the machine by more than they stop sparing."""
    house = ranch()
    tight = replace(
        house,
        ducts=tuple(replace(run, leakage=0.0, resistance=10.0) for run in house.ducts),
    )
    for use in ("heating", "cooling"):
        before, after = machine(house, use), machine(tight, use)
        assert after.rooms > before.rooms
        assert after.load < before.load
        assert after.load < 1.1 * after.rooms


def test_ducts_that_lose_everything_are_told_first() -> None:
    """Where nothing arrives no size is named, and the ducts come before the machine."""
    house = ranch()
    torn = replace(house, ducts=tuple(replace(run, leakage=0.3) for run in house.ducts))
    small = replace(torn, cooling=None, heating=replace(house.heating, capacity=2000.0))
    found = size_equipment(small, as_found(), greensboro())
    assert found.machines[0].delivered < 0.0
    assert found.machines[0].range is None
    assert [finding.code for finding in found.findings] == ["sizing/ducts-lose-all"]


@pytest.mark.parametrize(("capacity", "more"), [(7500.0, 0.01), (9000.0, 0.04)])
def test_the_year_runs_the_machine_for_the_load_over_its_output(
    capacity: float, more: float
) -> None:
    """In weather that never changes the air handler runs for the load over what is made.

    A machine that stands now and then runs a little longer, since its ducts cool meanwhile,
    which the load at the machine, one that just suffices, leaves out.
    """
    year, house = even_year(268.15), atlanta()
    ceiling = next(surface for surface in house.surfaces if surface.id == "ceiling")
    slab = next(surface for surface in house.surfaces if surface.id == "slab")
    floor = replace(
        slab, kind="floor", outside=OUTDOORS, layers=ceiling.layers, perimeter=0.0,
        sun_exposed=False,
    )  # fmt: skip
    quiet = replace(
        house,
        surfaces=tuple(floor if surface is slab else surface for surface in house.surfaces),
        use=replace(house.use, sensible_gain=(0.0,) * 24),
        heating=replace(house.heating, capacity=capacity),
    )
    loads = design_loads(quiet, year)
    found = size_equipment(quiet, loads, year).machines[0]
    hourly = simulate(quiet, year, hourly=True).hourly
    assert hourly is not None
    assert hourly.runtime[-1] < 1.0
    longer = hourly.runtime[-1] / (found.load / found.sensible) - 1.0
    assert 0.0 < longer < more
    assert found.load > 1.2 * loads.heating


def test_capacity_at_the_rating_point_is_the_rated_one() -> None:
    """At 35 °C outdoors and the rated air flow, air of 26.7 °C gives about what is rated."""
    house = box()
    cooling = Cooling("air conditioner", 10000.0, 3.5, 0.75, ducted=False)
    house = replace(
        house,
        heating=None,
        cooling=cooling,
        use=replace(house.use, cooling_setpoint=(299.82,) * 24),
    )
    loads = design_loads(house, greensboro(), cooling_temperature=308.15)
    found = size_equipment(house, loads, greensboro()).machines[0]
    assert found.total == pytest.approx(10000.0, rel=0.01)
    assert found.sensible / found.total == pytest.approx(0.75, abs=0.02)
    assert found.power == pytest.approx(10000.0 / 3.5, rel=0.01)


def test_heat_pump_gives_less_in_the_cold() -> None:
    """On the cold day a heat pump gives less than rated, and its backup stands beside."""
    house = ranch()
    pump = Heating("heat pump", Fuel.ELECTRICITY, 9000.0, 3.3, backup_capacity=5000.0)
    found = machine(replace(house, heating=pump), "heating")
    assert 0.4 * 9000.0 < found.sensible < 0.9 * 9000.0
    assert found.backup == 5000.0
    assert found.range is None


@pytest.mark.parametrize(
    ("output", "code"),
    [(60000.0, "sizing/heating-large"), (13000.0, ""), (8000.0, "sizing/heating-short")],
)
def test_furnaces_far_off_are_told(output: float, code: str) -> None:
    """A furnace beyond either end of the range is told, one within is not."""
    house = ranch()
    furnace = replace(house, heating=replace(house.heating, capacity=output), cooling=None)
    assert codes(furnace) == ({code} if code else set())


@pytest.mark.parametrize(
    ("capacity", "expected"),
    [(30000.0, "sizing/cooling-large"), (5000.0, "sizing/cooling-short")],
)
def test_air_conditioners_far_off_are_told(capacity: float, expected: str) -> None:
    """Too large and too small machines for cooling are told by their total at the design hour."""
    house = ranch()
    cooler = replace(house, cooling=replace(house.cooling, capacity=capacity), heating=None)
    assert expected in codes(cooler)


def test_findings_name_sizes_and_defer_to_the_code() -> None:
    """A finding has both systems of units, the range, its source, and who decides."""
    house = ranch()
    furnace = replace(house, heating=replace(house.heating, capacity=60000.0))
    finding = next(f for f in sized(furnace).findings if f.code == "sizing/heating-large")
    assert "Btu/h" in finding.says
    assert "kW" in finding.says
    assert "the local code asks for" in finding.says
    assert finding.limit == 1.4
    assert finding.value == pytest.approx(machine(furnace, "heating").share)
    assert finding.source.startswith("ACCA Manual S")


def test_heat_pump_without_enough_backup_is_told() -> None:
    """A heat pump and its backup that fall short of the load are told together."""
    house = ranch()
    pump = Heating("heat pump", Fuel.ELECTRICITY, 4000.0, 3.3, backup_capacity=1000.0)
    assert "sizing/heating-short" in codes(replace(house, heating=pump, cooling=None))
    strong = replace(pump, backup_capacity=20000.0)
    assert codes(replace(house, heating=strong, cooling=None)) == set()


def test_moisture_that_the_coil_leaves_is_told() -> None:
    """Where more vapor comes in than the coil takes out the air gets damp, although cool."""
    house = ranch()
    dripping = replace(
        house,
        use=replace(house.use, vapor_gain=2e-3),
        cooling=replace(house.cooling, capacity=17000.0),
    )
    found = size_equipment(dripping, design_loads(dripping, greensboro()), greensboro())
    cooler = next(one for one in found.machines if one.use == "cooling")
    assert cooler.share > 0.9
    assert cooler.latent < cooler.latent_load
    assert "sizing/moisture" in {finding.code for finding in found.findings}


def test_a_coil_that_dries_more_than_it_cools_is_told() -> None:
    """A machine whose total would do and whose sensible part would not leaves the rooms warm."""
    house = ranch()
    cooling = replace(house.cooling, capacity=9400.0, sensible_fraction=0.65)
    slow = replace(house, cooling=cooling, heating=None)
    cooler = machine(slow, "cooling")
    assert cooler.share > 0.9
    assert cooler.usable_sensible < 0.9 * cooler.load
    assert cooler.usable_sensible == pytest.approx(
        cooler.sensible + 0.5 * (cooler.latent - cooler.latent_load)
    )
    assert codes(slow) == {"sizing/cooling-sensible"}


def test_ideal_machines_have_no_size() -> None:
    """Nothing is sized where nothing is installed."""
    loads = design_loads(box(), greensboro())
    assert size_equipment(box(), loads, greensboro()) == Sizing((), ())
