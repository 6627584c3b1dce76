"""Check the handbook's infiltration models against its examples and tables."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.infiltration import (
    basic_infiltration,
    design_infiltration,
    enhanced_infiltration,
    leakage_coefficient,
    shelter_factor,
)

HANDBOOK = "ASHRAE Handbook - Fundamentals (2021), ch. 16"
INCH, FOOT, CFM, MPH = 0.0254, 0.3048, 0.471947e-3, 0.44704


@pytest.mark.published(source=HANDBOOK, where="Examples 2 and 3, basic model", read="source")
@pytest.mark.parametrize(
    ("area", "volume", "shelter", "storeys", "difference", "wind", "hourly", "changes"),
    [
        (0.0500, 340.0, 3, 2, 39.0, 6.7, 265.0, 0.78),
        (0.0690, 255.0, 4, 1, 17.0, 2.7, 141.0, 0.55),
    ],
)
def test_basic_model_gives_the_handbooks_examples(
    area: float,
    volume: float,
    shelter: int,
    storeys: int,
    difference: float,
    wind: float,
    hourly: float,
    changes: float,
) -> None:
    """The examples are printed to three figures: 1 %."""
    flow = float(basic_infiltration(area, difference, wind, storeys=storeys, shelter_class=shelter))
    assert 3600.0 * flow == pytest.approx(hourly, rel=0.01)
    assert 3600.0 * flow / volume == pytest.approx(changes, rel=0.01)


def test_basic_model_in_the_trades_units() -> None:
    """77 in², 70 °F, 15 mph, two storeys, shelter class 4: 138.6 cfm by the IP table, 1 %."""
    flow = basic_infiltration(77 * INCH**2, 70 / 1.8, 15 * MPH, storeys=2, shelter_class=4)
    assert float(flow) / CFM == pytest.approx(138.6, rel=0.01)


def test_basic_model_in_the_trades_units_one_storey() -> None:
    """107 in², 30 °F, 6 mph, one storey, shelter class 4: 82.2 cfm by the IP table, 1 %."""
    flow = basic_infiltration(107 * INCH**2, 30 / 1.8, 6 * MPH, storeys=1, shelter_class=4)
    assert float(flow) / CFM == pytest.approx(82.2, rel=0.01)


@pytest.mark.published(source=HANDBOOK, where="Examples 5 and 6, enhanced model", read="source")
def test_enhanced_model_gives_example_5() -> None:
    """Two storeys on a slab with a flue; printed to two figures: 1.5 % and half a last digit."""
    parts = enhanced_infiltration(
        0.051, 0.67, 39.0, 6.7, storeys=2, shelter=shelter_factor(4, storeys=2, flue=True),
        flue=True,
    )  # fmt: skip
    assert float(parts.stack) == pytest.approx(0.053, abs=0.0005)
    assert float(parts.wind) == pytest.approx(0.027, abs=0.0007)
    assert 3600.0 * float(parts.flow) == pytest.approx(214.0, rel=0.015)
    assert 3600.0 * float(parts.flow) / 340.0 == pytest.approx(0.63, rel=0.015)


@pytest.mark.published(source=HANDBOOK, where="Examples 5 and 6, enhanced model", read="source")
def test_enhanced_model_gives_example_6() -> None:
    """One storey over a crawlspace; with the exponent 2n of the wind that n = 0.6 asks for."""
    parts = enhanced_infiltration(
        0.078, 0.6, 16.0, 2.7, storeys=1, shelter=0.5, foundation="crawlspace"
    )
    assert float(parts.stack) == pytest.approx(0.022, abs=0.0005)
    assert float(parts.wind) == pytest.approx(0.006, abs=0.0005)
    assert 3600.0 * float(parts.flow) == pytest.approx(83.0, rel=0.015)
    assert 3600.0 * float(parts.flow) / 255.0 == pytest.approx(0.32, rel=0.016)


@pytest.mark.parametrize(
    ("storeys", "stack", "wind", "both"),
    [(1, 0.020093, 0.011592, 0.023197), (2, 0.029024, 0.016655, 0.033463)],
)
def test_enhanced_model_by_hand(storeys: int, stack: float, wind: float, both: float) -> None:
    """The equations worked by hand for 20 K and 4 m/s."""
    parts = enhanced_infiltration(0.05, 0.67, 20.0, 4.0, storeys=storeys, shelter=0.7)
    assert float(parts.stack) == pytest.approx(stack, abs=1e-6)
    assert float(parts.wind) == pytest.approx(wind, abs=1e-6)
    assert float(parts.flow) == pytest.approx(both, abs=1e-6)


@pytest.mark.published(source=HANDBOOK, where="Table 9, shelter factors", read="source")
@pytest.mark.parametrize(
    ("flue", "storeys", "factors"),
    [
        (False, 1, [1.00, 0.90, 0.70, 0.50, 0.30]),
        (True, 1, [1.10, 1.02, 0.86, 0.70, 0.54]),
        (True, 2, [1.07, 0.98, 0.81, 0.64, 0.47]),
        (True, 3, [1.06, 0.97, 0.79, 0.61, 0.43]),
    ],
)
def test_shelter_factors(flue: bool, storeys: int, factors: list[float]) -> None:
    """The whole table, cell by cell."""
    read = [shelter_factor(c, storeys=storeys, flue=flue) for c in range(1, 6)]
    assert read == factors


@pytest.mark.published(source=HANDBOOK, where="eq. 45, used in Examples 5 and 6", read="source")
@pytest.mark.parametrize(
    ("area", "exponent", "coefficient"),
    [(0.0500, 0.67, 0.051), (0.0690, 0.60, 0.078), (0.1000, 0.67, 0.102)],
)
def test_leakage_coefficient_from_area(area: float, exponent: float, coefficient: float) -> None:
    """Printed to two or three figures: 1 %."""
    assert leakage_coefficient(area, exponent) == pytest.approx(coefficient, rel=0.01)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 17",
    where="Table 5, infiltration driving force (indoors 20 °C heating, 24 °C cooling)",
    read="source",
)
@pytest.mark.parametrize(
    ("height", "outdoors", "force", "digit"),
    [
        (2.5, -20, 0.086, 0.0005), (2.5, 0, 0.069, 0.0005), (2.5, 35, 0.035, 0.0005),
        (5.0, -20, 0.12, 0.005), (5.0, 0, 0.086, 0.0005), (5.0, 35, 0.046, 0.0005),
        (8.0, -20, 0.16, 0.005), (8.0, 0, 0.11, 0.005), (8.0, 35, 0.058, 0.0005),
        (8.0, -40, 0.22, 0.005), (8.0, 40, 0.074, 0.0005),
    ],
)  # fmt: skip
def test_design_infiltration_gives_the_table(
    height: float, outdoors: float, force: float, digit: float
) -> None:
    """Every cell to its last printed digit."""
    season, inside = ("cooling", 24.0) if outdoors > 30 else ("heating", 20.0)
    flow = design_infiltration(1e-4, height, inside - outdoors, season)  # type: ignore[arg-type]
    assert 1000.0 * flow == pytest.approx(force, abs=1.001 * digit)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 17",
    where="Tables 17 to 23, Atlanta house: infiltration 36 and 17 L/s",
    read="source",
)
def test_design_infiltration_of_the_atlanta_house() -> None:
    """The text reads its driving force off a table; the formula lies up to 6 % lower."""
    area = 356.5 * 1.4e-4
    assert 1e3 * design_infiltration(area, 2.4, 23.5, "heating") == pytest.approx(36, rel=0.06)
    assert 1e3 * design_infiltration(area, 2.4, 9.0, "cooling") == pytest.approx(17, rel=0.06)


@given(st.floats(0.0, 60.0), st.floats(0.0, 15.0), st.integers(1, 3), st.integers(1, 5))
def test_infiltration_rises_with_weather_and_leakage(
    difference: float, wind: float, storeys: int, shelter: int
) -> None:
    """Colder, windier and leakier never means less air; leakage counts in proportion."""

    def basic(area: float, dt: float, u: float) -> float:
        return float(basic_infiltration(area, dt, u, storeys=storeys, shelter_class=shelter))

    base = basic(0.05, difference, wind)
    assert basic(0.05, difference + 1.0, wind) >= base
    assert basic(0.05, difference, wind + 1.0) >= base
    assert basic(0.10, difference, wind) == pytest.approx(2.0 * base)


def test_no_weather_no_infiltration() -> None:
    """In still air of one temperature nothing moves, by either model."""
    assert float(basic_infiltration(0.05, 0, 0, storeys=1, shelter_class=1)) == 0.0
    calm = enhanced_infiltration(0.05, 0.67, 0, 0, storeys=1, shelter=1.0)
    assert float(calm.flow) == 0.0


def test_heat_drives_as_much_as_cold() -> None:
    """The sign of the temperature difference turns the flow round and leaves its size."""
    hours = np.array([-15.0, 15.0])
    flow = enhanced_infiltration(0.05, 0.67, hours, 3.0, storeys=2, shelter=0.5).flow
    assert flow[0] == flow[1]


@pytest.mark.parametrize("storeys", [0, 4])
def test_storeys_without_a_table_are_refused(storeys: int) -> None:
    """The tables hold one to three storeys."""
    with pytest.raises(
        OutOfRangeError, match=rf"^storeys is {storeys} storeys; the method covers 1 to 3 storeys$"
    ):
        basic_infiltration(0.05, 20.0, 4.0, storeys=storeys, shelter_class=3)


@pytest.mark.parametrize("exponent", [0.49, 1.01, math.nan])
def test_exponent_out_of_range_is_refused(exponent: float) -> None:
    """No leak is freer than an orifice or slower than laminar flow."""
    with pytest.raises(OutOfRangeError, match=r"^exponent is .* covers 0\.5 to 1 -$"):
        enhanced_infiltration(0.05, exponent, 20.0, 4.0, storeys=1, shelter=0.7)


def test_half_the_leakage_in_the_flue_is_refused() -> None:
    """The fit of the design model ends where the flue is half of the leakage."""
    with pytest.raises(OutOfRangeError, match=r"^flue_area is 0\.005 m²; the method covers 0 to "):
        design_infiltration(0.01, 2.5, 20.0, "heating", flue_area=0.005)


@pytest.mark.published(source=HANDBOOK, where="Tables 4 and 6, basic model", read="source")
@pytest.mark.parametrize(
    ("shelter", "winds"),
    [
        (1, (0.000319, 0.000420, 0.000494)),
        (2, (0.000246, 0.000325, 0.000382)),
        (3, (0.000174, 0.000231, 0.000271)),
        (4, (0.000104, 0.000137, 0.000161)),
        (5, (0.000032, 0.000042, 0.000049)),
    ],
)
def test_coefficients_of_the_basic_model(shelter: int, winds: tuple[float, ...]) -> None:
    """Every cell: 1 cm² at 1 K alone, and at 1 m/s alone, gives its root in L/s."""
    for storeys, (stack, wind) in enumerate(
        zip((0.000145, 0.000290, 0.000435), winds, strict=True), start=1
    ):
        house = {"storeys": storeys, "shelter_class": shelter}
        lifted, blown = (basic_infiltration(1e-4, dt, u, **house) for dt, u in ((1, 0), (0, 1)))
        assert (1000.0 * float(lifted)) ** 2 == pytest.approx(stack, rel=1e-9)
        assert (1000.0 * float(blown)) ** 2 == pytest.approx(wind, rel=1e-9)


@pytest.mark.published(source=HANDBOOK, where="Tables 7 and 8, enhanced model", read="source")
@pytest.mark.parametrize(
    ("flue", "stacks", "slabs", "crawlspaces"),
    [
        (False, (0.054, 0.078, 0.098), (0.156, 0.170, 0.170), (0.128, 0.142, 0.151)),
        (True, (0.069, 0.089, 0.107), (0.142, 0.156, 0.167), (0.128, 0.142, 0.154)),
    ],
)
def test_coefficients_of_the_enhanced_model(
    flue: bool,
    stacks: tuple[float, ...],
    slabs: tuple[float, ...],
    crawlspaces: tuple[float, ...],
) -> None:
    """Every cell: 1 K alone, and a wind that reaches the walls with 1 m/s alone."""
    for i, multiplier in enumerate((0.48, 0.59, 0.67)):
        for foundation, winds in (("slab", slabs), ("crawlspace", crawlspaces)):
            parts = enhanced_infiltration(
                1.0, 0.67, 1.0, 1.0 / multiplier, storeys=i + 1, shelter=1.0,
                foundation=foundation, flue=flue,  # type: ignore[arg-type]
            )  # fmt: skip
            assert float(parts.stack) == pytest.approx(stacks[i], rel=1e-9)
            assert float(parts.wind) == pytest.approx(winds[i], rel=1e-9)
