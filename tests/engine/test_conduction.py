"""Check heat through layers against analytic results and the laws it must obey."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.engine.conduction import (
    Response,
    interrupted_layers,
    resistance_between_faces,
    surface_response,
)
from rooftree.house import Layer

WOOD = Layer("wood", 0.1, 0.14, 500.0, 2500.0)

layers = st.lists(
    st.builds(
        Layer,
        st.just("layer"),
        st.floats(0.005, 0.3),
        st.floats(0.03, 2.0),
        st.sampled_from([0.0, 12.0, 500.0, 2000.0]),
        st.floats(800.0, 2500.0),
    ),
    min_size=1,
    max_size=4,
).map(tuple)


def past_inside(response: Response, modes: np.ndarray, u: float, v: float) -> float:
    """Return what the layers send out of the inside face by their past [W/m²]."""
    last = response.last_inside * u + response.last_across * v
    return float(modes @ response.feel_inside) + last


def past_outside(response: Response, modes: np.ndarray, u: float, v: float) -> float:
    """Return the same of the outside face."""
    last = response.last_across * u + response.last_outside * v
    return float(modes @ response.feel_outside) + last


def run_faces(
    response: Response,
    film_inside: float,
    film_outside: float,
    air: tuple[float, float],
    steps: int,
) -> list[tuple[float, float]]:
    """Return both face temperatures after each step, from a start at zero."""
    modes = np.zeros(response.fade.size)
    u, v = 0.0, 0.0
    faces = []
    matrix = np.array(
        [
            [response.inside + film_inside, -response.across],
            [-response.across, response.outside + film_outside],
        ]
    )
    for _ in range(steps):
        given_to = [
            past_inside(response, modes, u, v) + film_inside * air[0],
            past_outside(response, modes, u, v) + film_outside * air[1],
        ]
        u, v = np.linalg.solve(matrix, given_to)
        modes = response.fade * modes + response.push_inside * u + response.push_outside * v
        faces.append((float(u), float(v)))
    return faces


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals 2021, chapter 27",
    where="example 3",
    read="quoted in a working summary; its layers sum to 3.34, not to the printed 3.31",
)
def test_stud_wall_by_parallel_path() -> None:
    """The handbook's stud wall has its U-value, to its last digit."""
    batt = Layer("batt", 0.77 * 0.12, 0.77 * 0.12 / 2.30, role="insulation")
    wall = (Layer("inside", 0.08, 1.0), batt, Layer("outside", 0.84 - 0.03, 1.0))
    mixed = interrupted_layers(wall, 0.25, 0.0)
    assert 1.0 / (resistance_between_faces(mixed) + 0.15) == pytest.approx(0.36, abs=0.005)


@given(layers, st.sampled_from([60.0, 3600.0, 86400.0]))
def test_layers_hold_their_heat(stack: tuple[Layer, ...], step: float) -> None:
    """Both faces a kelvin warmer for long store the heat capacity of the layers."""
    response = surface_response(stack, step)
    modes = (response.push_inside + response.push_outside) / (1.0 - response.fade)
    held = float(response.store @ modes) + response.held_inside + response.held_outside
    capacity = sum(each.thickness * each.density * each.specific_heat for each in stack)
    assert held == pytest.approx(capacity, rel=1e-6, abs=1e-6)


@given(layers)
def test_steady_resistance_is_that_of_the_layers(stack: tuple[Layer, ...]) -> None:
    """Whatever is merged, the steady flow is the difference over the resistance."""
    response = surface_response(stack)
    modes = response.push_inside / (1.0 - response.fade)
    flow_in = response.inside - past_inside(response, modes, 1.0, 0.0)
    flow_out = -response.across - past_outside(response, modes, 1.0, 0.0)
    expected = 1.0 / resistance_between_faces(stack)
    assert float(flow_in) == pytest.approx(expected, rel=1e-6)
    assert float(flow_out) == pytest.approx(-expected, rel=1e-6)


@given(layers, st.floats(-20.0, 40.0), st.floats(-20.0, 40.0))
def test_no_heat_is_lost_in_a_step(stack: tuple[Layer, ...], inside: float, outside: float) -> None:
    """What flows in through both faces in a step is what is stored more."""
    response = surface_response(stack)
    modes = np.linspace(-1.0, 1.0, response.fade.size) * 100.0
    u, v = 5.0, -3.0
    flow_in = response.inside * inside - response.across * outside
    flow_in -= past_inside(response, modes, u, v)
    flow_out = response.outside * outside - response.across * inside
    flow_out -= past_outside(response, modes, u, v)
    after = response.fade * modes + response.push_inside * inside + response.push_outside * outside
    stored = response.store @ (after - modes)
    stored += response.held_inside * (inside - u) + response.held_outside * (outside - v)
    size = 3600.0 * (abs(flow_in) + abs(flow_out)) + abs(stored) + 1.0
    assert float(stored - 3600.0 * (flow_in + flow_out)) == pytest.approx(0.0, abs=1e-7 * size)


@given(layers)
def test_turning_the_surface_around_swaps_its_faces(stack: tuple[Layer, ...]) -> None:
    """The same layers from the other side respond the same, with the faces exchanged."""
    one, other = surface_response(stack), surface_response(stack[::-1])
    assert one.inside == pytest.approx(other.outside, rel=1e-6)
    assert one.across == pytest.approx(other.across, rel=1e-6, abs=1e-9)


def test_framing_and_voids_cost_resistance() -> None:
    """More wood or more voids in the insulation always conduct more."""
    wall = (Layer("board", 0.012, 0.16), Layer("batt", 0.09, 0.04, role="insulation"))
    plain = resistance_between_faces(interrupted_layers(wall, 0.0, 0.0))
    framed = resistance_between_faces(interrupted_layers(wall, 0.2, 0.0))
    both = resistance_between_faces(interrupted_layers(wall, 0.2, 0.1))
    assert plain > framed > both


def test_surface_without_insulation_is_left_alone() -> None:
    """Framing has nothing to interrupt where there is no insulation."""
    wall = (Layer("block", 0.19, 0.9, 1400.0, 900.0),)
    assert interrupted_layers(wall, 0.25, 0.1) == wall


def test_wind_leaves_nothing_of_open_insulation() -> None:
    """Where wind blows through all of an open batt, board and films are left, as in a void."""
    batt = Layer("batt", 0.089, 0.042, 10.0, 840.0, role="insulation")
    wall = (Layer("board", 0.0127, 0.16, 800.0, 1090.0), batt)
    washed = interrupted_layers(wall, 0.0, 0.0, 1.0)
    assert resistance_between_faces(washed) == pytest.approx(0.0127 / 0.16, abs=1e-5)
    empty = resistance_between_faces(interrupted_layers(wall, 0.0, 0.3))
    assert resistance_between_faces(interrupted_layers(wall, 0.0, 0.0, 0.3)) == pytest.approx(empty)


def test_wind_leaves_a_film_behind_closed_layers() -> None:
    """Between two boards, insulation that wind blows through resists like a film of still air."""
    batt = Layer("batt", 0.089, 0.042, 10.0, 840.0, role="insulation")
    board = Layer("board", 0.0127, 0.16, 800.0, 1090.0)
    washed = interrupted_layers((board, batt, board), 0.0, 0.0, 1.0)
    assert washed[1].resistance == pytest.approx(0.12)
    assert washed[1].density == pytest.approx(10.0)


@given(st.floats(0.0, 0.5), st.floats(0.0, 0.5), st.floats(0.0, 0.9), st.floats(0.0, 0.1))
def test_more_wind_never_insulates(framing: float, void: float, washed: float, more: float) -> None:
    """The resistance falls with the share that wind blows through, whatever else is wrong."""
    batt = Layer("batt", 0.089, 0.042, 10.0, 840.0, role="insulation")
    wall = (Layer("board", 0.0127, 0.16, 800.0, 1090.0), batt)
    before = resistance_between_faces(interrupted_layers(wall, framing, void, washed))
    after = resistance_between_faces(interrupted_layers(wall, framing, void, washed + more))
    assert after <= before * (1.0 + 1e-9)
