"""One hour of heat at the faces of all surfaces, in the order in which it happens.

Sources: conduction.py for layers, films.py for films. All functions are compiled; they
take the groups of arrays that arrays.py describes.

Every face balances: what comes from air, radiant point, sun and lamps goes into the
layers. The two faces of an element know each other only through the layers, so they are
solved for in place, and each element leaves in the balance of its spaces a few numbers
that depend on air and radiant temperature alone.

Loops over runs of elements of one space sum in registers.
"""

from __future__ import annotations

from typing import Any

from rooftree.engine.arrays import AIR_OUTDOORS, GROUND, SKY
from rooftree.engine.compiled import on_lanes
from rooftree.engine.films import LEAST_CONVECTION, STEFAN_BOLTZMANN, STILL_AIR
from rooftree.engine.lanes import any_of, root, select, spread
from rooftree.engine.power import cube_root

HELD = 1e9
"""Conductance that holds air and radiant point of a space at an imposed temperature [W/K]:
to 1e-5 K."""

TETHER = 1e-6
"""Conductance that keeps a radiant point without faces at the temperature of its air [W/K]."""


@on_lanes
def let_sun_in(elements: Any, air: Any, work: Any) -> None:
    """Pass the sun through windows into the spaces [W]."""
    beam, diffuse, now = work.sun_beam, work.sun_diffuse, work.now
    nothing = spread(0.0)
    for p in range(air.spaces):
        beam[p] = nothing
        diffuse[p] = nothing
    for w in range(elements.windows):
        p, through = elements.space[elements.first_window + w], elements.glass_area[w]
        beam[p] += through * now[elements.beam_column[w]]
        diffuse[p] += through * now[elements.diffuse_column[w]]


@on_lanes
def start_rooms(air: Any, day_hour: int, state: Any, work: Any) -> None:
    """Begin the balance of radiant points and air with gains of people, lamps and machines."""
    n, matrix, right, now = air.spaces, work.matrix, work.right, work.now
    nothing = spread(0.0)
    for i in range(2 * n):
        for j in range(i, 2 * n):
            matrix[i, j] = nothing
    for p in range(n):
        matrix[p, p] = spread(TETHER)
        matrix[n + p, n + p] = spread(TETHER)
        matrix[p, n + p] = spread(-TETHER)
        if air.held_column[p] >= 0:
            matrix[p, p] += HELD
        to_radiant, to_air = air.radiant[day_hour, p], air.convective[day_hour, p]
        column = air.heat_column[p]
        if column >= 0:
            to_radiant += air.imposed_radiant[0] * now[column]
            to_air += (1.0 - air.imposed_radiant[0]) * now[column]
        if air.held_column[p] >= 0:
            to_radiant += HELD * now[air.held_column[p]]
        right[p] = to_radiant
        right[n + p] = to_air + state.drying_heat[p]


@on_lanes
def recall_past(elements: Any, state: Any, work: Any, e: int) -> tuple[Any, Any]:
    """Return what the layers send out of their two faces by their past [W/m²]."""
    before, beyond = state.face_inside[e], state.face_outside[e]
    across = elements.last_across[e]
    inner = elements.last_inside[e] * before + across * beyond
    outer = across * before + elements.last_outside[e] * beyond
    for m in range(elements.mode[e], elements.mode[e + 1]):
        z = state.modes[m]
        inner += elements.feel_inside[m] * z
        outer += elements.feel_outside[m] * z
    work.past_inside[e] = inner
    work.past_outside[e] = outer
    return inner, outer


@on_lanes
def outdoor_film(elements: Any, face: Any, work: Any, e: int) -> tuple[Any, Any]:
    """Return the conductance of an outside face to all outdoors, and the heat it is given.

    [W/(m²·K)] and [W/m²]: wind and still air, radiation to sky, air and ground at the
    temperature of the air, sun.
    """
    now = work.now
    air, sky = now[AIR_OUTDOORS], now[SKY]
    blown = now[elements.film_column[e]]
    still = STILL_AIR * cube_root(abs(face - air))
    film = still + elements.roughness[e] * (root(still * still + blown * blown) - still)
    squared = face * face
    film += elements.air_factor[e] * (squared + air * air) * (face + air)
    to_sky = elements.sky_factor[e] * (squared + sky * sky) * (face + sky)
    gain = elements.absorptance[e] * now[elements.sun_column[e]] + film * air + to_sky * sky
    return film + to_sky, gain


@on_lanes
def room_film(
    share: Any, warm: float, cold: float, face: Any, air: Any, radiant: Any
) -> tuple[Any, Any]:
    """Return convection and radiation at a face in a space [W/(m²·K)].

    Convection follows the cube root of the difference between face and air an hour ago;
    radiation the cube of the temperature of the radiant point.
    """
    excess = face - air
    factor = select(excess > 0.0, spread(warm), spread(cold))
    radiative = (4.0 * STEFAN_BOLTZMANN) * share * (radiant * radiant * radiant)
    return factor * cube_root(abs(excess)) + LEAST_CONVECTION, radiative


@on_lanes
def sun_inside(elements: Any, work: Any, e: int, p: int) -> Any:
    """Return the light from windows that an inside face takes up [W/m²]."""
    beam, diffuse = work.sun_beam[p], work.sun_diffuse[p]
    return elements.beam_inside[e] * beam + elements.diffuse_inside[e] * diffuse


@on_lanes
def glass_sun(elements: Any, work: Any, e: int) -> Any:
    """Return the sun that the panes of a window give to its inside face [W/m²]."""
    w = e - elements.first_window
    if w < 0 or w >= elements.windows:
        return spread(0.0)
    return elements.glass_taken[w] * work.now[elements.heat_column[w]]


@on_lanes
def follow(work: Any, e: int, c: Any, r: Any, i: Any, source: Any) -> None:
    """Keep how an inside face follows its space: ``i (source + c air + r radiant)``."""
    work.by_air[e] = i * c
    work.by_radiant[e] = i * r
    work.by_itself[e] = i * source


@on_lanes
def add_face(work: Any, n: int, p: int, e: int, area: Any, c: Any, r: Any) -> None:
    """Add a face that was eliminated to the balance of its space."""
    matrix, right = work.matrix, work.right
    to_air, to_radiant = area * c, area * r
    matrix[p, p] += to_radiant * (1.0 - work.by_radiant[e])
    matrix[p, n + p] -= to_air * work.by_radiant[e]
    matrix[n + p, n + p] += to_air * (1.0 - work.by_air[e])
    right[p] += to_radiant * work.by_itself[e]
    right[n + p] += to_air * work.by_itself[e]


@on_lanes
def gather_outdoors(elements: Any, air: Any, state: Any, work: Any) -> Any:
    """Balance the faces of elements to outdoors; return the sun that they took inside [W].

    Outside ``(film + outside) v = across u + source``, which makes the inside
    ``(c + r + inside - across² / (film + outside)) u = source + c air + r radiant``.
    """
    n, taken = air.spaces, spread(0.0)
    for e in range(elements.first_ground):
        p, across = elements.space[e], elements.across[e]
        source, beyond = recall_past(elements, state, work, e)
        sun = sun_inside(elements, work, e, p) + glass_sun(elements, work, e)
        taken += elements.area[e] * sun
        film, gain = outdoor_film(elements, state.face_outside[e], work, e)
        outer = 1.0 / (film + elements.outside[e])
        passed, stood = across * outer, (beyond + gain) * outer
        work.beyond_by_face[e] = passed
        work.beyond_by_itself[e] = stood
        source += sun + across * stood
        c, r = room_film(
            elements.radiant_inside[e], elements.warm_inside[e], elements.cold_inside[e],
            state.face_inside[e], state.air[p], state.radiant[p],
        )  # fmt: skip
        follow(work, e, c, r, 1.0 / (c + r + elements.inside[e] - across * passed), source)
        add_face(work, n, p, e, elements.area[e], c, r)
    return taken


@on_lanes
def gather_ground(elements: Any, air: Any, state: Any, work: Any) -> Any:
    """Do the same for elements to the ground, whose outside has the ground's temperature."""
    n, taken = air.spaces, spread(0.0)
    for e in range(elements.first_ground, elements.first_partition):
        p = elements.space[e]
        source, _ = recall_past(elements, state, work, e)
        sun = sun_inside(elements, work, e, p)
        taken += elements.area[e] * sun
        source += sun + elements.across[e] * work.now[GROUND]
        c, r = room_film(
            elements.radiant_inside[e], elements.warm_inside[e], elements.cold_inside[e],
            state.face_inside[e], state.air[p], state.radiant[p],
        )  # fmt: skip
        follow(work, e, c, r, 1.0 / (c + r + elements.inside[e]), source)
        add_face(work, n, p, e, elements.area[e], c, r)
    return taken


@on_lanes
def gather_partitions(elements: Any, air: Any, state: Any, work: Any) -> Any:
    """Do the same for elements between two spaces, whose two faces are solved together.

    ``a11 u - across v = q1 + c1 air + r1 radiant`` and the same from the other side.
    """
    n, taken = air.spaces, spread(0.0)
    for e in range(elements.first_partition, elements.count):
        p, s = elements.space[e], elements.other[e]
        across = elements.across[e]
        q1, q2 = recall_past(elements, state, work, e)
        sun1 = sun_inside(elements, work, e, p)
        sun2 = elements.beam_outside[e] * work.sun_beam[s]
        sun2 += elements.diffuse_outside[e] * work.sun_diffuse[s]
        taken += elements.area[e] * (sun1 + sun2)
        q1 += sun1
        q2 += sun2
        c1, r1 = room_film(
            elements.radiant_inside[e], elements.warm_inside[e], elements.cold_inside[e],
            state.face_inside[e], state.air[p], state.radiant[p],
        )  # fmt: skip
        c2, r2 = room_film(
            elements.radiant_outside[e], elements.warm_outside[e], elements.cold_outside[e],
            state.face_outside[e], state.air[s], state.radiant[s],
        )  # fmt: skip
        a11 = c1 + r1 + elements.inside[e]
        a22 = c2 + r2 + elements.outside[e]
        scale = 1.0 / (a11 * a22 - across * across)
        i11, i12, i22 = a22 * scale, across * scale, a11 * scale
        follow(work, e, c1, r1, i11, q1)
        work.by_itself[e] += i12 * q2
        work.by_other_air[e] = i12 * c2
        work.by_other_radiant[e] = i12 * r2
        work.beyond_by_air[e] = i12 * c1
        work.beyond_by_radiant[e] = i12 * r1
        work.beyond_by_other_air[e] = i22 * c2
        work.beyond_by_other_radiant[e] = i22 * r2
        work.beyond_by_itself[e] = i12 * q1 + i22 * q2
        add_face(work, n, p, e, elements.area[e], c1, r1)
        add_far_face(work, n, p, s, e, elements.area[e], c1, r1, c2, r2)
    return taken


@on_lanes
def add_far_face(
    work: Any, n: int, p: int, s: int, e: int, area: Any, c1: Any, r1: Any, c2: Any, r2: Any
) -> None:
    """Add the far face of a partition to its space `s`, and what joins the two spaces.

    Rows and columns are radiant p, air p, radiant s, air s; the upper triangle is kept.
    """
    matrix, right = work.matrix, work.right
    to_air, to_radiant = area * c2, area * r2
    matrix[s, s] += to_radiant * (1.0 - work.beyond_by_other_radiant[e])
    matrix[s, n + s] -= to_air * work.beyond_by_other_radiant[e]
    matrix[n + s, n + s] += to_air * (1.0 - work.beyond_by_other_air[e])
    right[s] += to_radiant * work.beyond_by_itself[e]
    right[n + s] += to_air * work.beyond_by_itself[e]
    low, high = min(p, s), max(p, s)
    twice = 2.0 if p == s else 1.0  # both off-diagonal places are then the diagonal
    matrix[low, high] -= twice * area * r1 * work.by_other_radiant[e]
    matrix[n + low, n + high] -= twice * area * c1 * work.by_other_air[e]
    matrix[p, n + s] -= area * r1 * work.by_other_air[e]
    matrix[s, n + p] -= area * c1 * work.by_other_radiant[e]


@on_lanes
def eliminate_radiant(work: Any, n: int) -> None:
    """Eliminate the radiant points, and fill in the lower triangle of the air's matrix."""
    matrix, right = work.matrix, work.right
    for k in range(n):
        pivot = 1.0 / matrix[k, k]
        for i in range(k + 1, 2 * n):
            factor = matrix[k, i] * pivot
            if any_of(abs(factor) > 0.0):
                for j in range(i, 2 * n):
                    matrix[i, j] -= factor * matrix[k, j]
                right[i] -= factor * right[k]
    for i in range(n, 2 * n):
        for j in range(n, i):
            matrix[i, j] = matrix[j, i]


@on_lanes
def restore_radiant(work: Any, state: Any, n: int) -> None:
    """Find the radiant points back from the temperatures of the air."""
    matrix, right = work.matrix, work.right
    for k in range(n - 1, -1, -1):
        total = right[k]
        for j in range(k + 1, n):
            total -= matrix[k, j] * state.radiant[j]
        for j in range(n):
            total -= matrix[k, n + j] * state.air[j]
        state.radiant[k] = total / matrix[k, k]


@on_lanes
def remember(elements: Any, state: Any, e: int, here: Any, beyond: Any) -> None:
    """Keep the faces of an element, and step its modes."""
    for m in range(elements.mode[e], elements.mode[e + 1]):
        pushed = elements.push_inside[m] * here + elements.push_outside[m] * beyond
        state.modes[m] = elements.fade[m] * state.modes[m] + pushed
    state.face_inside[e] = here
    state.face_outside[e] = beyond


@on_lanes
def restore_faces(elements: Any, state: Any, work: Any) -> tuple[Any, Any]:
    """Find all faces back from the temperatures of the spaces, and step the layers.

    Returns net and gross heat that enters through the outside faces [W].
    """
    air, radiant, now = state.air, state.radiant, work.now
    net, gross = spread(0.0), spread(0.0)
    for e in range(elements.first_partition):
        p = elements.space[e]
        here = work.by_air[e] * air[p] + work.by_radiant[e] * radiant[p] + work.by_itself[e]
        beyond = now[GROUND]
        if e < elements.first_ground:
            beyond = work.beyond_by_face[e] * here + work.beyond_by_itself[e]
        heat = elements.outside[e] * beyond - elements.across[e] * here - work.past_outside[e]
        heat *= elements.area[e]
        net += heat
        gross += abs(heat)
        remember(elements, state, e, here, beyond)
    for e in range(elements.first_partition, elements.count):
        p, s = elements.space[e], elements.other[e]
        here = work.by_air[e] * air[p] + work.by_radiant[e] * radiant[p] + work.by_itself[e]
        here += work.by_other_air[e] * air[s] + work.by_other_radiant[e] * radiant[s]
        beyond = work.beyond_by_air[e] * air[p] + work.beyond_by_radiant[e] * radiant[p]
        beyond += work.beyond_by_other_air[e] * air[s]
        beyond += work.beyond_by_other_radiant[e] * radiant[s] + work.beyond_by_itself[e]
        remember(elements, state, e, here, beyond)
    return net, gross


@on_lanes
def stored_heat(elements: Any, air: Any, state: Any) -> Any:
    """Return the heat in all layers and in the air [J], from an arbitrary zero."""
    total = spread(0.0)
    for e in range(elements.count):
        held = elements.held_inside[e] * state.face_inside[e]
        held += elements.held_outside[e] * state.face_outside[e]
        for m in range(elements.mode[e], elements.mode[e + 1]):
            held += elements.store[m] * state.modes[m]
        total += elements.area[e] * held
    for p in range(air.spaces):
        total += air.capacity[p] * state.air[p]
    return total
