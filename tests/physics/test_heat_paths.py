"""Check bridged layers against printed examples and against conduction in two dimensions."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.physics.heat_paths import (
    VoidLevel,
    combined_resistance,
    corrected_transmittance,
    isothermal_planes,
    parallel_paths,
    void_correction,
)

WALL = "ASHRAE Handbook - Fundamentals, overall wood-frame wall example (ch. 27)"
SUMMARY = "quoted in a working summary of the chapter"
CAVITY, STUD = 19.11, 10.49

shares = st.floats(0.0, 1.0).map(lambda f: (f, 1.0 - f))
resistance = st.floats(0.01, 20.0)


def test_layers_of_the_wood_frame_wall() -> None:
    """Both paths of the handbook's wall are the sums of its layers, to their last digit."""
    others = sum((0.17, 0.81, 4.0, 0.45, 0.68))
    cavity, stud = others + 13.0, others + 4.38
    assert cavity == pytest.approx(CAVITY, abs=0.01)
    assert stud == pytest.approx(STUD, abs=0.01)
    transmittance = 1.0 / cavity
    assert transmittance == pytest.approx(0.052, abs=0.0005)


@pytest.mark.published(source=WALL, where="IP edition, parallel path, R 15.85", read="memory")
def test_wood_frame_wall_by_parallel_paths() -> None:
    """The handbook's wall with 25 % of framing has its printed U, to its last digit."""
    wall = parallel_paths([0.75, 0.25], [CAVITY, STUD])
    assert 1.0 / wall == pytest.approx(0.063, abs=0.0005)
    assert wall == pytest.approx(15.85, abs=0.05)


@pytest.mark.published(source=WALL, where="IP edition, isothermal planes", read="memory")
def test_wood_frame_wall_by_isothermal_planes() -> None:
    """The same wall with free flow sideways has its printed R and U, to their last digits."""
    wall = isothermal_planes(4.98 + 1.13, [([0.75, 0.25], [13.0, 4.38])])
    assert wall == pytest.approx(14.82, abs=0.005)
    assert 1.0 / wall == pytest.approx(0.067, abs=0.0005)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals 2021, chapter 27", where="example 3, SI", read=SUMMARY
)
def test_wood_frame_wall_in_si() -> None:
    """The SI edition's wall has its printed U by both methods.

    Parallel: U 0.36 to its last digit, R 2.78 within 0.03 (its layers sum to 3.34, not to
    the printed 3.31). Planes: R 2.58 and U 0.388, within 0.002 of the latter.
    """
    cavity, stud = 0.03 + 0.11 + 0.70 + 2.30 + 0.08 + 0.12, 0.03 + 0.11 + 0.70 + 0.77 + 0.08 + 0.12
    parallel = parallel_paths([0.75, 0.25], [cavity, stud])
    assert 1.0 / parallel == pytest.approx(0.36, abs=0.01)
    assert parallel == pytest.approx(2.78, abs=0.03)
    planes = isothermal_planes(cavity - 2.30, [([0.75, 0.25], [2.30, 0.77])])
    assert planes == pytest.approx(2.58, abs=0.01)
    assert 1.0 / planes == pytest.approx(0.388, abs=0.002)
    assert parallel_paths([0.75, 0.25], [2.30, 0.77]) == pytest.approx(1.54, abs=0.005)


@pytest.mark.published(
    source="Warmer Mornings (blog), lumpy attic insulation", where="exact arithmetic", read="source"
)
def test_lumpy_attic() -> None:
    """Half an attic at R-10 and half at R-50 works as R-16.7, not as their mean of 30."""
    assert parallel_paths([0.5, 0.5], [10.0, 50.0]) == pytest.approx(16.7, abs=0.05)


@pytest.mark.published(
    source="Energy Conservation How To (blog), 2017", where="attic hatch", read="source"
)
def test_attic_hatch() -> None:
    """A fifth of an attic bare leaves R-11.6 of R-41, to its last digit."""
    total = parallel_paths([0.8, 0.2], [41.0, 3.0])
    assert total == pytest.approx(11.6, abs=0.05)
    assert total - 3.0 == pytest.approx(8.6, abs=0.05)


@pytest.mark.published(
    source="Fine Homebuilding, winter 2009",
    where="R-38 batts with voids",
    read="quoted in a home blog",
)
@pytest.mark.parametrize(("void", "left"), [(0.005, 32.0), (0.02, 22.0)])
def test_voids_in_batts(void: float, left: float) -> None:
    """Voids of 0.5 and 2 % leave R-32 and R-22 of R-38, to half of R-1."""
    assert parallel_paths([1.0 - void, void], [38.0, 1.0]) == pytest.approx(left, abs=0.5)


@pytest.mark.parametrize(
    ("label", "void", "left"),
    [
        (38.0, 0.002, 35.4), (38.0, 0.005, 32.1), (38.0, 0.008, 29.3), (38.0, 0.01, 27.7),
        (38.0, 0.05, 13.3), (38.0, 0.10, 8.1),
        (30.0, 0.01, 23.3), (30.0, 0.02, 19.0), (30.0, 0.05, 12.2),
    ],
)  # fmt: skip
def test_table_of_voids(label: float, void: float, left: float) -> None:
    """The same sum for other voids and labels, to a tenth."""
    assert parallel_paths([1.0 - void, void], [label, 1.0]) == pytest.approx(left, abs=0.1)


@pytest.mark.parametrize(
    ("level", "correction"),
    [(VoidLevel.NONE, 0.0), (VoidLevel.BRIDGING, 0.00694), (VoidLevel.CIRCULATING, 0.02778)],
)
def test_void_correction(level: VoidLevel, correction: float) -> None:
    """The three levels of voids of ISO 6946 add what its formula says, to 0.0001 W/(m²·K)."""
    assert void_correction(level, 2.5, 3.0) == pytest.approx(correction, abs=1e-4)


@pytest.mark.published(
    source="ISO 6946", where="corrections below 3 % are left out", read="quoted in a trade magazine"
)
def test_small_corrections_are_left_out() -> None:
    """A correction of just less than 3 % of the transmittance does not count, 3 % does."""
    assert corrected_transmittance(1.0, 0.0299) == 1.0
    assert corrected_transmittance(1.0, 0.03) == pytest.approx(1.03)


@given(shares, resistance, resistance, resistance)
def test_planes_never_resist_more_than_paths(
    parts: tuple[float, float], one: float, other: float, whole: float
) -> None:
    """Free flow sideways can only let more heat through than none."""
    upper = parallel_paths(parts, [whole + one, whole + other])
    lower = isothermal_planes(whole, [(parts, [one, other])])
    assert lower <= upper * (1.0 + 1e-9)


@given(resistance, resistance)
def test_without_a_bridge_all_methods_agree(whole: float, part: float) -> None:
    """A layer of one material has one resistance by every method."""
    upper = parallel_paths([0.3, 0.7], [whole + part, whole + part])
    lower = isothermal_planes(whole, [([0.3, 0.7], [part, part])])
    assert upper == pytest.approx(lower)
    assert combined_resistance(max(upper, lower), min(upper, lower)) == pytest.approx(upper)


def bay(share: float, stud: float, fill: float, board: float) -> float:
    """Return the resistance of half a framing bay by conduction in two dimensions.

    Films of 0.12 and 0.03 and two boards of 12.7 mm round 89 mm of cavity, 406 mm between
    centers; 24 cells across and 30 through.
    """
    across, through = 24, 30
    width = np.full(across, 0.203 / across)
    framed = round(share * across)
    depth = np.concatenate(
        [np.full(5, 0.0127 / 5), np.full(20, 0.089 / 20), np.full(5, 0.0127 / 5)]
    )
    k = np.full((through, across), board)
    k[5:25, :] = fill
    k[5:25, :framed] = stud
    number = through * across
    matrix, right = np.zeros((number, number)), np.zeros(number)

    def join(one: int, other: int, conductance: float) -> None:
        matrix[one, one] += conductance
        matrix[other, other] += conductance
        matrix[one, other] -= conductance
        matrix[other, one] -= conductance

    for i in range(through):
        for j in range(across):
            cell = i * across + j
            half = depth[i] / (2.0 * k[i, j])
            if i + 1 < through:
                below = depth[i + 1] / (2.0 * k[i + 1, j])
                join(cell, cell + across, width[j] / (half + below))
            if j + 1 < across:
                side = width[j] / (2.0 * k[i, j]) + width[j + 1] / (2.0 * k[i, j + 1])
                join(cell, cell + 1, depth[i] / side)
            if i == 0:
                matrix[cell, cell] += width[j] / (0.12 + half)
                right[cell] += width[j] / (0.12 + half)
            if i == through - 1:
                matrix[cell, cell] += width[j] / (0.03 + half)
    temperature = np.linalg.solve(matrix, right).reshape(through, across)
    flow = np.sum(width * (1.0 - temperature[0]) / (0.12 + depth[0] / (2.0 * k[0])))
    return float(np.sum(width) / flow)


@pytest.mark.parametrize("share", [0.125, 0.25])
@pytest.mark.parametrize("fill", [0.025, 0.040])
@pytest.mark.parametrize("board", [0.04, 0.16])
def test_conduction_in_two_dimensions_lies_between(share: float, fill: float, board: float) -> None:
    """Real conduction round a stud resists more than planes and less than parallel paths."""
    whole = 0.15 + 2 * 0.0127 / board
    parts = ([share, 1.0 - share], [0.089 / 0.12, 0.089 / fill])
    upper = parallel_paths(parts[0], [whole + part for part in parts[1]])
    lower = isothermal_planes(whole, [parts])
    assert lower * (1.0 - 1e-6) <= bay(share, 0.12, fill, board) <= upper * (1.0 + 1e-6)


def test_limits_too_far_apart_are_refused() -> None:
    """Upper over lower limit of 1.5 is still combined, more is refused."""
    assert combined_resistance(1.5, 1.0) == 1.25
    with pytest.raises(
        OutOfRangeError,
        match=r"^upper limit of the resistance is 1\.51 m²·K/W; "
        r"the method covers 1 to 1\.5 m²·K/W$",
    ):
        combined_resistance(1.51, 1.0)


def test_no_resistance_is_refused() -> None:
    """A path without resistance from air to air cannot be."""
    with pytest.raises(OutOfRangeError, match=r"^resistance is 0 m²·K/W; .* 0 to inf m²·K/W$"):
        parallel_paths([0.5, 0.5], [1.0, 0.0])


def test_a_layer_resists_no_more_than_the_whole() -> None:
    """The layer with the voids is part of the whole."""
    with pytest.raises(OutOfRangeError, match=r"^resistance of the layer is 3 m²·K/W; .*$"):
        void_correction(VoidLevel.BRIDGING, 3, 2)
