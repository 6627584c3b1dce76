"""Check the reduction of duct runs: register, heat, wall, jacket, first minute, doubts."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.ranch import CRAWL, ranch
from rooftree.engine.ducts import duct_balance
from rooftree.engine.moist import HEAT_OF_AIR
from rooftree.house import DuctRun
from rooftree.readings.duct_heat import (
    Cover,
    DuctHeatTest,
    DuctKind,
    DuctRunReading,
    Jacket,
    RunResult,
    duct_heat_limits,
    reduce_duct_heat,
)
from rooftree.readings.duct_heat.run import build_run, size_of
from rooftree.readings.duct_heat.standing import after_standing, start_of
from rooftree.units import told

FOOT, INCH, R = 0.3048, 0.0254, 0.17611018
FEET_PER_MINUTE = FOOT / 60.0


def kelvin(fahrenheit: float) -> float:
    """Return °F in kelvin."""
    return (fahrenheit - 32.0) / 1.8 + 273.15


ROOM = kelvin(76)
OLD = DuctRunReading(
    "bedroom",
    25.0 * FOOT,
    kelvin(55),
    kelvin(135),
    diameter=6.0 * INCH,
    air_speed=600.0 * FEET_PER_MINUTE,
    insulation_resistance=4.0 * R,
)
NEW = replace(OLD, name="den", insulation_resistance=8.0 * R)


def one(reading: DuctRunReading, room: float | None = ROOM) -> RunResult:
    """Return the result of one run."""
    return reduce_duct_heat(DuctHeatTest((reading,), room)).runs[0]


def codes(reading: DuctRunReading, zone: str | None = None) -> set[str]:
    """Return the codes of all findings of one run."""
    found = reduce_duct_heat(DuctHeatTest((reading,), ROOM), zone).findings
    return {finding.code.removeprefix("duct_heat/") for finding in found}


@pytest.mark.published(
    source="practice of duct systems in attics",
    where="supply air of 55 °F at 500 to 700 ft/min in an attic of 130 to 140 °F on a 90 °F day;"
    " R-4 on old flexible duct, R-8 today",
    read="common practice",
)
@pytest.mark.parametrize("speed", [500, 600, 700])
@pytest.mark.parametrize("attic", [130, 140])
def test_attic_run_of_common_practice(speed: float, attic: float) -> None:
    """25 ft of 6 in duct gain several °F under R-4, a good third less under R-8."""
    at = {"air_speed": speed * FEET_PER_MINUTE, "surroundings_temperature": kelvin(attic)}
    old, new = one(replace(OLD, **at)), one(replace(NEW, **at))  # type: ignore[arg-type]
    old_rise, new_rise = (1.8 * (run.register.value - kelvin(55)) for run in (old, new))
    assert 4.0 < old_rise < 8.0
    assert 0.55 < new_rise / old_rise < 0.70
    assert old.delivered is not None
    assert old.delivered.value == pytest.approx(1.0 - old_rise / 21.0, abs=1e-3)


def test_engine_and_reading_agree() -> None:
    """A house with this run as its only duct keeps the same share of the difference."""
    run = one(OLD)
    rate = run.heat.value / (run.register.value - OLD.entering_temperature)
    duct = DuctRun("s", "supply", "supply", CRAWL, run.area, run.resistance, 0.0)
    house = replace(ranch(), ducts=(duct,))
    balance = duct_balance(house, rate / HEAT_OF_AIR)
    around = next(i for i, space in enumerate(house.spaces) if space.id == CRAWL)
    kept = (run.register.value - kelvin(135)) / (kelvin(55) - kelvin(135))
    assert 1.0 - balance.heat_shares[around] == pytest.approx(kept, rel=1e-9)


def test_temperatures_along_the_run_end_at_the_register() -> None:
    """The curve begins with the entering air, rises, and ends at the register."""
    run = one(OLD)
    places, along = zip(*run.along, strict=True)
    assert (places[0], along[0]) == (0.0, OLD.entering_temperature)
    assert places[-1] == pytest.approx(OLD.length)
    assert along[-1] == pytest.approx(run.register.value)
    assert all(np.diff(along) > 0.0)


def test_heat_is_what_the_air_took() -> None:
    """Heat is capacity rate times rise, in W and to the sum of all runs."""
    result = reduce_duct_heat(DuctHeatTest((OLD, NEW), ROOM))
    density = 101_325.0 / (287.055 * OLD.entering_temperature)
    flow = (OLD.air_speed or 0.0) * math.pi * 0.25 * (6.0 * INCH) ** 2
    rise = result.runs[0].register.value - OLD.entering_temperature
    assert result.runs[0].heat.value == pytest.approx(density * flow * 1006.0 * rise, rel=1e-3)
    assert result.heat is not None
    assert result.heat.value == pytest.approx(sum(run.heat.value for run in result.runs))
    assert told(result.says, None).startswith("The 2 runs gain ")


@given(st.floats(0.2, 2.0), st.floats(0.05, 0.5))
def test_more_wrap_loses_less(resistance: float, more: float) -> None:
    """Each bit of insulation brings the register nearer to the entering air."""
    thin, thick = (
        one(replace(OLD, insulation_resistance=r)).register.value
        for r in (resistance, resistance + more)
    )
    assert thick < thin


@given(st.floats(1.2, 4.5))
def test_slower_air_arrives_warmer(speed: float) -> None:
    """With less flow each kilogram takes up more."""
    slow, fast = (one(replace(OLD, air_speed=v)).register.value for v in (speed, 1.1 * speed))
    assert slow > fast


def test_flow_and_speed_say_the_same() -> None:
    """A run read by its flow is the run read by its air speed."""
    flow = (OLD.air_speed or 0.0) * math.pi * 0.25 * (6.0 * INCH) ** 2
    by_flow = one(replace(OLD, air_speed=None, flow=flow))
    assert by_flow.register.value == pytest.approx(one(OLD).register.value)
    assert by_flow.air_speed == pytest.approx(OLD.air_speed)


def test_rectangular_ducts_have_their_own_size() -> None:
    """14 by 8 in has a perimeter of 44 in and a hydraulic diameter of 10.2 in."""
    size = size_of(replace(OLD, diameter=None, width=14.0 * INCH, height=8.0 * INCH))
    assert size is not None
    assert size.perimeter == pytest.approx(44.0 * INCH)
    assert size.hydraulic == pytest.approx(4.0 * 112.0 / 44.0 * INCH)


@pytest.mark.parametrize(
    "change",
    [
        {"cover": Cover.PARTLY},
        {"cover": Cover.BURIED, "cover_depth": 0.1},
        {"foam_thickness": 0.04},
        {"jacket": Jacket.FOIL},
    ],
)
def test_covers_save_heat(change: dict[str, object]) -> None:
    """Loose insulation, foam and a bright jacket each take something off the gain."""
    assert one(replace(OLD, **change)).heat.value < one(OLD).heat.value  # type: ignore[arg-type]


@pytest.mark.parametrize("change", [{"bare_share": 0.3}, {"wrap_thickness": 0.01}])
def test_damage_costs_heat(change: dict[str, float]) -> None:
    """Torn or crushed wrap lets more through."""
    assert one(replace(OLD, **change)).heat.value > one(OLD).heat.value  # type: ignore[arg-type]


@pytest.mark.published(
    source="IECC 2018, R403.3.6.1",
    where="deeply buried duct of R-8 wrap: effective R-25",
    read="memory",
)
def test_deeply_buried_duct_is_near_the_credit() -> None:
    """Conduction alone gives an 8 in duct, 3.5 in under loose fill, R-25 within 15 %."""
    deep = replace(NEW, diameter=8.0 * INCH, cover=Cover.BURIED, cover_depth=3.5 * INCH)
    assert one(deep).resistance / R == pytest.approx(25.0, rel=0.15)


def test_a_register_as_predicted_gives_the_wrap_back() -> None:
    """With exact temperatures the blanket found is the blanket noted."""
    run = one(OLD)
    back = one(replace(OLD, register_temperature=run.register.value))
    assert back.found_resistance is not None
    assert back.found_conductance is not None
    assert back.found_resistance.value == pytest.approx(4.0 * R, rel=0.02)
    assert back.found_conductance.value == pytest.approx(run.conductance.value, rel=1e-6)
    assert back.difference == pytest.approx(0.0)
    assert not {"more-than-wrap", "less-than-wrap"} & codes(
        replace(OLD, register_temperature=run.register.value)
    )


def test_warmer_register_means_less_insulation() -> None:
    """Each degree more at the register is a poorer blanket, down to a bare duct."""
    found = [
        one(replace(OLD, register_temperature=kelvin(f))).found_resistance for f in (60, 63, 85)
    ]
    values = [each.value for each in found if each is not None]
    assert values == sorted(values, reverse=True)
    assert values[-1] == 0.0


def test_too_small_a_change_only_bounds_the_blanket() -> None:
    """Where the air hardly changed along the run, the wall is at least so good."""
    short = replace(NEW, length=1.5, register_temperature=kelvin(55.2))
    run = one(short)
    assert run.found_resistance is None
    assert run.least_found is not None
    assert run.least_found > 0.0


def test_bare_metal_sweats_and_a_blanket_keeps_it_dry() -> None:
    """In 90 °F air of 78 °F dew point bare metal sweats; the blanket named keeps it dry."""
    damp = replace(
        OLD,
        surroundings_temperature=kelvin(90),
        surroundings_dew_point=kelvin(78),
        insulation_resistance=0.0,
        kind=DuctKind.SHEET_METAL,
        jacket=Jacket.METAL,
    )
    run = one(damp)
    assert run.condensing == pytest.approx(1.0, abs=1e-3)
    assert 1.8 * (run.jacket.value - 273.15) + 32.0 == pytest.approx(65.0, abs=3.0)
    assert run.least_blanket is not None
    kept = one(replace(damp, insulation_resistance=run.least_blanket))
    assert kept.jacket.value == pytest.approx(kelvin(78), abs=0.3)
    dry = one(replace(damp, insulation_resistance=6.0 * R))
    assert dry.condensing is not None
    assert dry.condensing < 0.05


def test_bright_jackets_are_colder_and_sweat_sooner() -> None:
    """A face that takes up little radiation lies nearer to the air inside."""
    damp = replace(OLD, surroundings_temperature=kelvin(85), surroundings_humidity=0.85)
    plastic, foil = one(damp), one(replace(damp, jacket=Jacket.FOIL))
    assert foil.jacket.value < plastic.jacket.value
    assert (foil.condensing or 0.0) > (plastic.condensing or 0.0)


def test_no_blanket_helps_in_saturated_air() -> None:
    """At the dew point of the surroundings themselves no blanket is thick enough."""
    run = one(replace(OLD, surroundings_temperature=kelvin(80), surroundings_dew_point=kelvin(80)))
    assert run.least_blanket == math.inf
    found = reduce_duct_heat(
        DuctHeatTest(
            (replace(OLD, surroundings_temperature=300.0, surroundings_dew_point=300.0),), ROOM
        )
    ).findings
    assert any("no blanket helps" in finding.says for finding in found)


@pytest.mark.published(
    source="practice of duct systems in attics",
    where="after standing in a hot attic, hot air comes out of the registers in the first minute",
    read="common practice",
)
def test_first_minute_after_a_stand() -> None:
    """After half an hour air of nearly the attic comes first; within 20 to 90 s it helps."""
    burst = one(replace(OLD, standing_time=1800.0)).burst
    assert burst is not None
    assert burst.first.value > kelvin(120)
    assert burst.seconds is not None
    assert 20.0 < burst.seconds.value < 90.0
    assert burst.temperatures[-1] == pytest.approx(one(OLD).register.value, abs=0.3)
    assert burst.energy > 0.0
    assert "burst" in codes(replace(OLD, standing_time=1800.0))


def test_no_stand_no_burst() -> None:
    """A fan that did not stand, or a room nobody read, has no first minute."""
    assert one(OLD).burst is None
    assert one(replace(OLD, standing_time=1800.0), room=None).burst is None
    short = one(replace(OLD, standing_time=0)).burst
    assert short is not None
    assert short.first.value == pytest.approx(one(OLD).register.value, abs=3.0)


@given(st.floats(10.0, 3000.0), st.floats(1.05, 3.0))
def test_longer_stands_are_hotter(stood: float, factor: float) -> None:
    """The longer the fan stands, the nearer the first air is to the attic."""
    first, second = (one(replace(OLD, standing_time=t)).burst for t in (stood, factor * stood))
    assert first is not None
    assert second is not None
    assert first.first.value <= second.first.value <= OLD.surroundings_temperature + 1e-6


def test_heat_is_conserved_while_the_wall_cools() -> None:
    """With a perfect wrap, what the air takes up is what the wall gives."""
    run = build_run(NEW, 101_325.0)
    assert run is not None
    start = start_of(NEW, run, 101_325.0, [(0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 1.0)])
    closed = replace(start, beyond=np.array([1e9]), still=np.array([1e-3]))
    times, temperatures = after_standing(closed, 1e6)
    taken = np.trapezoid(temperatures[0][1:] - NEW.entering_temperature, times[0][1:])
    warmth = NEW.surroundings_temperature - NEW.entering_temperature
    given_up = float(start.store[0]) * run.length * warmth
    assert run.capacity_rate * taken == pytest.approx(given_up, rel=0.02)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"diameter": None}, "no-size"),
        ({"diameter": 6.0}, "size-unit"),
        ({"air_speed": None}, "no-flow"),
        ({"air_speed": 1300.0 * FEET_PER_MINUTE}, "air-speed"),
        ({"air_speed": 250.0 * FEET_PER_MINUTE}, "air-speed"),
        ({"length": 900.0}, "impossible"),
        ({"insulation_resistance": 8.0}, "insulation-unit"),
        ({"insulation_resistance": 0.25}, "insulation-unit"),
        ({"surroundings_temperature": 135.0 + 273.15}, "temperature-scale"),
        ({"entering_temperature": 55.0 + 273.15, "register_temperature": kelvin(61)},
         "temperature-scale"),
        ({"register_temperature": kelvin(45)}, "register-beyond"),
        ({"register_temperature": kelvin(70)}, "more-than-wrap"),
        ({"register_temperature": kelvin(55.1), "length": 15.0}, "less-than-wrap"),
        ({"register_temperature": kelvin(61), "running_time": 60.0}, "read-too-early"),
        ({"insulation_resistance": 0.0}, "thin-wrap"),
        ({"cover": Cover.BURIED, "cover_depth": 0.1}, "buried-wrap"),
    ],
)  # fmt: skip
def test_doubts_about_a_run(change: dict[str, object], code: str) -> None:
    """Each way to misread or misbuild a run has its finding, and nothing is raised."""
    assert code in codes(replace(OLD, **change))  # type: ignore[arg-type]


def test_buried_wrap_by_climate() -> None:
    """R-8 is enough for a buried duct in a cool climate, not in a humid one."""
    buried = replace(NEW, cover=Cover.BURIED, cover_depth=0.1)
    assert "buried-wrap" in codes(buried, "2A")
    assert "buried-wrap" not in codes(buried, "5A")


def test_deep_burial_names_the_credit_of_the_code() -> None:
    """Where the code's conditions are met, its effective value stands beside the computed one."""
    deep = replace(NEW, cover=Cover.BURIED, cover_depth=0.1)
    assert "deeply-buried" in codes(deep, "5A")
    assert "deeply-buried" not in codes(replace(deep, cover_depth=0.05), "5A")


def test_a_good_run_is_quiet() -> None:
    """A new run, read well, raises nothing."""
    run = one(NEW)
    read = replace(NEW, register_temperature=run.register.value, running_time=900)
    assert codes(read) == set()


def test_nothing_to_compute_is_said() -> None:
    """Without runs, or with one that lacks its flow, the result says what is needed."""
    assert reduce_duct_heat(DuctHeatTest(())).heat is None
    result = reduce_duct_heat(DuctHeatTest((replace(OLD, air_speed=None),)))
    assert result.runs == ()
    assert result.says.startswith("No run could be computed")


def test_winter_runs_lose() -> None:
    """Warm air in a cold attic loses heat, and its jacket does not sweat."""
    winter = replace(
        OLD,
        entering_temperature=kelvin(115),
        surroundings_temperature=kelvin(30),
        surroundings_humidity=0.8,
    )
    run = one(winter, kelvin(68))
    assert run.heat.value < 0.0
    assert run.condensing is not None
    assert run.condensing < 0.05
    assert run.delivered is not None
    assert 0.7 < run.delivered.value < 0.95


def test_recalled_limits_say_so() -> None:
    """Every limit names its document or says that it is ours or recalled."""
    assert all(limit.source for limit in duct_heat_limits())
    recalled = [limit for limit in duct_heat_limits() if limit.source.startswith("recalled")]
    assert {limit.quantity for limit in recalled} == {"air-speed", "insulation", "deeply-buried"}


@pytest.mark.published(
    source="Insulation Institute and CodeWatcher, notes on the 2018 IECC",
    where="buried ducts: R-13 wrap in zones 1A to 3A, R-8 elsewhere, with vapor retarder",
    read="source",
)
def test_wrap_of_buried_ducts() -> None:
    """Both values as printed, to a hundredth of R."""
    wraps = {
        limit.rule: limit.value / R
        for limit in duct_heat_limits()
        if limit.quantity == "buried-wrap"
    }
    assert wraps == {
        "humid": pytest.approx(13.0, abs=0.01),
        "elsewhere": pytest.approx(8.0, abs=0.01),
    }
