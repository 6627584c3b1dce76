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
        to_radiant, to_air = air.radiant[day_hour, p], air.convective[day_hour, p]
        column = air.heat_column[p]
        if column >= 0:
            to_radiant += air.imposed_radiant[0] * now[column]
            to_air += (1.0 - air.imposed_radiant[0]) * now[column]
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
def add_face(work: Any, n: int, p: int, area: Any, c: Any, r: Any, i: Any, source: Any) -> None:
    """Add a face that was eliminated to the balance of its space.

    The face stands at ``i (source + c air + r radiant)``.
    """
    matrix, right = work.matrix, work.right
    by_air, by_radiant = area * c, area * r
    matrix[p, p] += by_radiant * (1.0 - i * r)
    matrix[p, n + p] -= by_air * i * r
    matrix[n + p, n + p] += by_air * (1.0 - i * c)
    right[p] += by_radiant * i * source
    right[n + p] += by_air * i * source


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
        beyond += gain
        outer = 1.0 / (film + elements.outside[e])
        passed = across * outer
        source += sun + passed * beyond
        c, r = room_film(
            elements.radiant_inside[e], elements.warm_inside[e], elements.cold_inside[e],
            state.face_inside[e], state.air[p], state.radiant[p],
        )  # fmt: skip
        inner = 1.0 / (c + r + elements.inside[e] - across * passed)
        add_face(work, n, p, elements.area[e], c, r, inner, source)
        work.film_inside[e] = c
        work.beam_inside[e] = r
        work.film_outside[e] = film
        work.gain_outside[e] = gain
        work.source_inside[e] = source
        work.source_outside[e] = beyond
        work.inner[e] = inner
        work.outer[e] = outer
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
        inner = 1.0 / (c + r + elements.inside[e])
        add_face(work, n, p, elements.area[e], c, r, inner, source)
        work.film_inside[e] = c
        work.beam_inside[e] = r
        work.source_inside[e] = source
        work.inner[e] = inner
    return taken


@on_lanes
def gather_partitions(elements: Any, air: Any, state: Any, work: Any) -> Any:
    """Do the same for elements between two spaces, whose two faces are solved together."""
    n, taken = air.spaces, spread(0.0)
    matrix, right = work.matrix, work.right
    for e in range(elements.first_partition, elements.count):
        p, s = elements.space[e], elements.other[e]
        across, area = elements.across[e], elements.area[e]
        q1, q2 = recall_past(elements, state, work, e)
        sun1 = sun_inside(elements, work, e, p)
        sun2 = elements.beam_outside[e] * work.sun_beam[s]
        sun2 += elements.diffuse_outside[e] * work.sun_diffuse[s]
        taken += area * (sun1 + sun2)
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
        u, v = area * (i11 * q1 + i12 * q2), area * (i12 * q1 + i22 * q2)
        # rows and columns: radiant p, air p, radiant s, air s; the upper triangle is kept
        matrix[p, p] += area * r1 * (1.0 - i11 * r1)
        matrix[p, n + p] -= area * r1 * i11 * c1
        matrix[n + p, n + p] += area * c1 * (1.0 - i11 * c1)
        matrix[s, s] += area * r2 * (1.0 - i22 * r2)
        matrix[s, n + s] -= area * r2 * i22 * c2
        matrix[n + s, n + s] += area * c2 * (1.0 - i22 * c2)
        low, high = min(p, s), max(p, s)
        twice = 2.0 if p == s else 1.0  # both off-diagonal places are then the diagonal
        matrix[low, high] -= twice * area * r1 * i12 * r2
        matrix[n + low, n + high] -= twice * area * c1 * i12 * c2
        matrix[p, n + s] -= area * r1 * i12 * c2
        matrix[s, n + p] -= area * r2 * i12 * c1
        right[p] += r1 * u
        right[n + p] += c1 * u
        right[s] += r2 * v
        right[n + s] += c2 * v
        work.film_inside[e] = c1
        work.beam_inside[e] = r1
        work.film_outside[e] = c2
        work.beam_outside[e] = r2
        work.source_inside[e] = q1
        work.source_outside[e] = q2
        work.inner[e] = i11
        work.outer[e] = i22
        work.joint[e] = i12
    return taken


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

    Returns net and gross heat that enters from beyond the outer films and the ground [W].
    """
    air, radiant, now = state.air, state.radiant, work.now
    net, gross = spread(0.0), spread(0.0)
    for e in range(elements.first_partition):
        p = elements.space[e]
        room = work.film_inside[e] * air[p] + work.beam_inside[e] * radiant[p]
        here = work.inner[e] * (work.source_inside[e] + room)
        if e < elements.first_ground:
            beyond = work.outer[e] * (work.source_outside[e] + elements.across[e] * here)
            heat = work.gain_outside[e] - work.film_outside[e] * beyond
        else:
            beyond = now[GROUND]
            heat = elements.outside[e] * beyond - elements.across[e] * here
            heat -= work.past_outside[e]
        heat *= elements.area[e]
        net += heat
        gross += abs(heat)
        remember(elements, state, e, here, beyond)
    for e in range(elements.first_partition, elements.count):
        p, s = elements.space[e], elements.other[e]
        here = work.film_inside[e] * air[p] + work.beam_inside[e] * radiant[p]
        here += work.source_inside[e]
        there = work.film_outside[e] * air[s] + work.beam_outside[e] * radiant[s]
        there += work.source_outside[e]
        inside = work.inner[e] * here + work.joint[e] * there
        outside = work.joint[e] * here + work.outer[e] * there
        remember(elements, state, e, inside, outside)
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
