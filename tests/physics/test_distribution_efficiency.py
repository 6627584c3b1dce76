"""Check the duct method of Standard 152 against examples worked by hand, limits and laws."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.distribution_efficiency import (
    SPECIFIC_HEAT,
    DuctSide,
    conduction_share,
    delivery_effectiveness,
    distribution_efficiency,
    duct_air,
    efficiency_of_duct_load,
    moist_delivery_effectiveness,
    with_regain,
    with_simple_regain,
)

SQUARE_FOOT, R_UNIT, KELVIN = 0.09290304, 0.1761102, 1.0 / 1.8
STREAM = 1.08 * 1200.0 * 0.5275279  # heat of 1200 cfm per kelvin [W/K]
RISE = 50.0 * KELVIN
HAND = {
    "source": "ANSI/ASHRAE Standard 152, delivery effectiveness (equations recalled)",
    "read": "memory",
}
"""The numbers of the examples were worked by stepping a parcel of air round the ducts."""


def ducts(
    supply_leak: float = 0.10, return_leak: float = 0.05, insulation: float = 6.0
) -> tuple[DuctSide, DuctSide]:
    """Return ducts of 486 and 90 square feet, 36 °F colder outside than in the rooms."""
    return tuple(
        DuctSide(leak, area * SQUARE_FOOT, insulation * R_UNIT, 36.0 * KELVIN)
        for leak, area in ((supply_leak, 486.0), (return_leak, 90.0))
    )  # type: ignore[return-value]


def regaining(
    of_supply: float, of_return: float, sides: tuple[DuctSide, DuctSide]
) -> tuple[DuctSide, DuctSide]:
    """Return the ducts with regain."""
    supply, back = sides
    return replace(supply, regain=of_supply), replace(back, regain=of_return)


@pytest.mark.published(**HAND, where="1200 cfm, 120 and 60 cfm lost, R-6, 50 °F rise")
def test_shares_of_a_worked_example() -> None:
    """Leaks of a tenth and a twentieth, R-6 ducts: conduction keeps 0.939 and 0.988."""
    supply, back = ducts()
    assert supply.tight_share == pytest.approx(0.9000, abs=1e-4)
    assert back.tight_share == pytest.approx(0.9500, abs=1e-4)
    assert conduction_share(supply, STREAM) == pytest.approx(0.93941, abs=1e-4)
    assert conduction_share(back, STREAM) == pytest.approx(0.98849, abs=1e-4)


@pytest.mark.published(**HAND, where="as found, and sealed to 3 % with R-8")
def test_delivery_effectiveness_of_worked_examples() -> None:
    """0.769 as found and 0.868 once sealed and wrapped: to 1e-4, as they were worked."""
    found = delivery_effectiveness(*ducts(), STREAM, RISE)
    sealed = delivery_effectiveness(*ducts(0.03, 0.03, 8.0), STREAM, RISE)
    assert found == pytest.approx(0.76912, abs=1e-4)
    assert sealed == pytest.approx(0.86802, abs=1e-4)
    assert 1.0 - found / sealed == pytest.approx(0.1139, abs=5e-4)


@pytest.mark.published(**HAND, where="temperatures at the four places of the example")
def test_temperatures_of_a_worked_example() -> None:
    """68 °F rooms, 32 °F round the ducts: each place to 0.01 °F."""
    air = duct_air(*ducts(), STREAM, RISE, (68.0 + 459.67) * KELVIN)
    fahrenheit = [1.8 * t - 459.67 for t in (air.returned, air.mixed, air.plenum, air.register)]
    assert fahrenheit == pytest.approx([67.586, 65.806, 115.806, 110.729], abs=0.01)


@pytest.mark.published(
    source="California ACM manual, appendix on ducts", where="thermal regain", read="memory"
)
@pytest.mark.parametrize(("regain", "corrected"), [(0.10, 0.79221), (0.12, 0.79683),
                                                   (0.30, 0.83838)])  # fmt: skip
def test_simple_regain(regain: float, corrected: float) -> None:
    """Regains of attic, crawlspace and basement in the simple form."""
    assert with_simple_regain(0.76912, regain) == pytest.approx(corrected, abs=1e-4)


@pytest.mark.published(
    source="ANSI/ASHRAE Standard 152, correction for thermal regain",
    where="full form, recalled and derived again", read="memory",
)  # fmt: skip
@pytest.mark.parametrize(
    ("sides", "of_supply", "of_return", "corrected"),
    [
        (ducts(), 0.10, 0.10, 0.78865),
        (ducts(), 0.12, 0.12, 0.79256),
        (ducts(), 0.30, 0.30, 0.82771),
        (ducts(), 0.50, 0.50, 0.86677),
        (ducts(), 0.10, 0.50, 0.79196),
        (ducts(0.03, 0.03, 8.0), 0.10, 0.10, 0.87908),
        (ducts(0.03, 0.03, 8.0), 0.12, 0.12, 0.88129),
        (ducts(0.03, 0.03, 8.0), 0.30, 0.30, 0.90119),
        (ducts(0.03, 0.03, 8.0), 0.50, 0.50, 0.92330),
    ],
)
def test_full_regain(
    sides: tuple[DuctSide, DuctSide], of_supply: float, of_return: float, corrected: float
) -> None:
    """Regain of supply and return, alike and unlike, as found and sealed: to 1e-4."""
    raw = delivery_effectiveness(*sides, STREAM, RISE)
    both = regaining(of_supply, of_return, sides)
    assert with_regain(raw, *both, STREAM, RISE) == pytest.approx(corrected, abs=1e-4)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 17, eq. 19",
    where="duct load factors 0.13, 0.25, 0.63", read="quoted in a summary of the chapter",
)  # fmt: skip
@pytest.mark.parametrize(("factor", "efficiency"), [(0.13, 0.885), (0.25, 0.800), (0.63, 0.613)])
def test_efficiency_of_duct_load(factor: float, efficiency: float) -> None:
    """A duct load of a quarter of the building's makes four fifths."""
    assert efficiency_of_duct_load(factor) == pytest.approx(efficiency, abs=1e-3)


sides = st.builds(
    DuctSide, st.floats(0.0, 0.5), st.floats(0.0, 100.0), st.floats(0.05, 3.0),
    st.floats(-30.0, 40.0), st.floats(0.0, 1.0),
)  # fmt: skip
rates = st.floats(100.0, 2000.0)
rises = st.one_of(st.floats(3.0, 45.0), st.floats(-15.0, -3.0))


@given(sides, sides, rates, rises)
def test_effectiveness_is_what_the_registers_deliver(
    supply: DuctSide, back: DuctSide, rate: float, rise: float
) -> None:
    """The closed form is the heat of the air at the registers over that of the coil."""
    air = duct_air(supply, back, rate, rise, 294.0)
    delivered = supply.tight_share * (air.register - 294.0) / rise
    assert delivery_effectiveness(supply, back, rate, rise) == pytest.approx(delivered, abs=1e-9)


@given(sides, sides, st.floats(0.1, 2.0), rises)
def test_moist_form_in_dry_air(
    supply: DuctSide, back: DuctSide, mass_flow: float, rise: float
) -> None:
    """In dry air the form with enthalpies is the sensible one."""
    rate = mass_flow * SPECIFIC_HEAT
    air = duct_air(supply, back, rate, rise, 294.0)
    found = moist_delivery_effectiveness(
        supply, back, mass_flow, rate * rise,
        supply_plenum=air.plenum, round_supply=294.0 - supply.difference,
        indoor_enthalpy=SPECIFIC_HEAT * 294.0,
        return_enthalpy=SPECIFIC_HEAT * (294.0 - back.difference),
    )  # fmt: skip
    assert found == pytest.approx(delivery_effectiveness(supply, back, rate, rise), abs=1e-9)


@given(sides, sides, rates, rises)
def test_regain_is_counted_heat(supply: DuctSide, back: DuctSide, rate: float, rise: float) -> None:
    """Regain adds its shares of supply losses and of return conduction, and nothing else."""
    raw = delivery_effectiveness(supply, back, rate, rise)
    air = duct_air(supply, back, rate, rise, 294.0)
    of_supply = (air.plenum - 294.0) - supply.tight_share * (air.register - 294.0)
    of_return = 294.0 - air.returned
    expected = raw + (supply.regain * of_supply + back.regain * of_return) / rise
    assert with_regain(raw, supply, back, rate, rise) == pytest.approx(expected, abs=1e-9)


def test_perfect_ducts_deliver_everything() -> None:
    """Without leaks and area all the heat arrives, whatever the weather."""
    perfect = DuctSide(0.0, 0.0, 1.0, 30.0)
    assert delivery_effectiveness(perfect, perfect, 600.0, 20.0) == 1.0


def test_ducts_in_air_as_warm_as_the_rooms() -> None:
    """Without a difference only what leaks and conducts of the coil's own heat is lost."""
    supply, back = (replace(side, difference=0.0) for side in ducts())
    kept = 0.9 * conduction_share(supply, STREAM)
    assert delivery_effectiveness(supply, back, STREAM, RISE) == kept


def test_limits_of_regain() -> None:
    """None changes nothing; with a tight return and equal regains the simple form is exact."""
    raw = delivery_effectiveness(*ducts(), STREAM, RISE)
    assert with_regain(raw, *ducts(), STREAM, RISE) == raw
    tight = regaining(0.3, 0.3, ducts(return_leak=0.0))
    raw = delivery_effectiveness(*tight, STREAM, RISE)
    assert with_regain(raw, *tight, STREAM, RISE) == pytest.approx(with_simple_regain(raw, 0.3))


def test_efficiency_is_a_product() -> None:
    """Equipment and load multiply what is delivered."""
    assert distribution_efficiency(0.8, equipment=0.9, load=0.5) == pytest.approx(0.36)
    assert distribution_efficiency(1.0) == 1.0


@pytest.mark.parametrize(
    ("name", "make"),
    [
        ("leakage", lambda: DuctSide(1.0, 1.0, 1.0, 1.0)),
        ("leakage", lambda: DuctSide(-0.1, 1.0, 1.0, 1.0)),
        ("area", lambda: DuctSide(0.1, -1.0, 1.0, 1.0)),
        ("resistance", lambda: DuctSide(0.1, 1.0, 0.0, 1.0)),
        ("regain", lambda: DuctSide(0.1, 1.0, 1.0, 1.0, 1.1)),
        ("regain", lambda: with_simple_regain(0.8, -0.1)),
        ("capacity_rate", lambda: conduction_share(ducts()[0], 0.0)),
        (r"rise \(other than zero\)", lambda: delivery_effectiveness(*ducts(), STREAM, 0.0)),
        (r"rise \(other than zero\)", lambda: with_regain(0.8, *ducts(), STREAM, 0.0)),
        ("load", lambda: distribution_efficiency(0.8, load=0.0)),
        ("equipment", lambda: distribution_efficiency(0.8, equipment=-1.0)),
        ("factor", lambda: efficiency_of_duct_load(-1.0)),
    ],
)
def test_what_cannot_be_is_refused(name: str, make: object) -> None:
    """A value that no duct has is refused by name and range."""
    with pytest.raises(OutOfRangeError, match=rf"^{name} is .*; the method covers .* to .*$"):
        make()  # type: ignore[operator]


def test_no_air_is_refused() -> None:
    """Without mass flow there is nothing to deliver."""
    with pytest.raises(OutOfRangeError, match=r"^mass_flow is 0 kg/s; "):
        moist_delivery_effectiveness(
            *ducts(), 0.0, -1.0, supply_plenum=286.0, round_supply=300.0, indoor_enthalpy=5e4,
            return_enthalpy=6e4,
        )  # fmt: skip
