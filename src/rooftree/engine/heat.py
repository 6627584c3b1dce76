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
def recall_past(elements: Any, state: Any, work: Any) -> None:
    """Sum what the modes of each element send out of its two faces [W/m²]."""
    mode, modes = elements.mode, state.modes
    feel_inside, feel_outside = elements.feel_inside, elements.feel_outside
    for e in range(elements.count):
        inner, outer = spread(0.0), spread(0.0)
        for m in range(mode[e], mode[e + 1]):
            inner += feel_inside[m] * modes[m]
            outer += feel_outside[m] * modes[m]
        work.source_inside[e] = inner
        work.source_outside[e] = outer
        work.past_inside[e] = inner
        work.past_outside[e] = outer


@on_lanes
def let_sun_in(elements: Any, air: Any, state: Any, work: Any) -> Any:
    """Pass the sun through windows to the faces of each space; return all of it [W].

    Adds to the sources of the faces.
    """
    beam, diffuse, now = work.sun_beam, work.sun_diffuse, work.now
    source, area, space = work.source_inside, elements.area, elements.space
    shining = spread(0.0)
    for w in range(elements.windows):
        shining += now[elements.heat_column[w]]
    for p in range(air.spaces):
        beam[p] = spread(0.0)
        diffuse[p] = spread(0.0)
    total = spread(0.0)
    if not any_of(shining > 0.0):
        return total
    for w in range(elements.windows):
        e = elements.first_window + w
        p, through = space[e], elements.glass_area[w]
        beam[p] += through * now[elements.beam_column[w]]
        diffuse[p] += through * now[elements.diffuse_column[w]]
        taken = elements.glass_taken[w] * now[elements.heat_column[w]]
        source[e] += taken
        total += area[e] * taken
    beam_inside, diffuse_inside = elements.beam_inside, elements.diffuse_inside
    for e in range(elements.count):
        p = space[e]
        taken = beam_inside[e] * beam[p] + diffuse_inside[e] * diffuse[p]
        source[e] += taken
        total += area[e] * taken
    for e in range(elements.first_partition, elements.count):
        p = elements.other[e]
        taken = elements.beam_outside[e] * beam[p] + elements.diffuse_outside[e] * diffuse[p]
        work.source_outside[e] += taken
        total += area[e] * taken
    return total


@on_lanes
def face_outdoors(elements: Any, state: Any, work: Any) -> None:
    """Balance the outside faces of elements to outdoors, but for what comes from inside.

    ``(film + outside) v = across u + source``: wind and still air, radiation to sky, air
    and ground at the temperature of the air, sun, and the past of the layers.
    """
    now = work.now
    air, sky = now[AIR_OUTDOORS], now[SKY]
    face, film, to_sky, outer = state.face_outside, work.film_outside, work.to_sky, work.outer
    for e in range(elements.first_ground):
        t = face[e]
        blown = now[elements.film_column[e]]
        still = STILL_AIR * cube_root(abs(t - air))
        convective = still + elements.roughness[e] * (root(still * still + blown * blown) - still)
        with_air = convective + elements.air_factor[e] * (t * t + air * air) * (t + air)
        with_sky = elements.sky_factor[e] * (t * t + sky * sky) * (t + sky)
        film[e] = with_air
        to_sky[e] = with_sky
        outer[e] = 1.0 / (with_air + with_sky + elements.outside[e])
        gain = elements.absorptance[e] * now[elements.sun_column[e]]
        gain += with_air * air + with_sky * sky
        work.gain_outside[e] = gain
        work.source_outside[e] += gain


@on_lanes
def film_rooms(elements: Any, state: Any, work: Any) -> None:
    """Find convection and radiation at the faces in all spaces.

    Convection follows the cube root of the difference between face and air an hour ago;
    radiation the cube of the temperature of the radiant point.
    """
    air, radiant, face = state.air, state.radiant, state.face_inside
    above, below, share = elements.warm_inside, elements.cold_inside, elements.radiant_inside
    for e in range(elements.count):
        p = elements.space[e]
        t = radiant[p]
        work.beam_inside[e] = (4.0 * STEFAN_BOLTZMANN) * share[e] * (t * t * t)
        excess = face[e] - air[p]
        factor = select(excess > 0.0, above[e], below[e])
        work.film_inside[e] = factor * cube_root(abs(excess)) + LEAST_CONVECTION
    face = state.face_outside
    above, below, share = elements.warm_outside, elements.cold_outside, elements.radiant_outside
    for e in range(elements.first_partition, elements.count):
        p = elements.other[e]
        t = radiant[p]
        work.beam_outside[e] = (4.0 * STEFAN_BOLTZMANN) * share[e] * (t * t * t)
        excess = face[e] - air[p]
        factor = select(excess > 0.0, above[e], below[e])
        work.film_outside[e] = factor * cube_root(abs(excess)) + LEAST_CONVECTION


@on_lanes
def gather_rooms(elements: Any, air: Any, day_hour: int, state: Any, work: Any) -> None:
    """Fill the balance of radiant points and air: gains, and elements of one space only."""
    n = air.spaces
    matrix, right, now = work.matrix, work.right, work.now
    for i in range(2 * n):
        for j in range(i, 2 * n):
            matrix[i, j] = spread(0.0)
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
    convective, radiative = work.film_inside, work.beam_inside
    source, inner, outer = work.source_inside, work.inner, work.outer
    across, inside, area, space = elements.across, elements.inside, elements.area, elements.space
    for e in range(elements.first_ground):
        source[e] += across[e] * outer[e] * work.source_outside[e]
        passing = inside[e] - across[e] * across[e] * outer[e]
        inner[e] = 1.0 / (convective[e] + radiative[e] + passing)
    for e in range(elements.first_ground, elements.first_partition):
        source[e] += across[e] * now[GROUND]
        inner[e] = 1.0 / (convective[e] + radiative[e] + inside[e])
    e = 0
    while e < elements.first_partition:
        p = space[e]
        of_radiant, of_both, of_air = spread(0.0), spread(0.0), spread(0.0)
        to_radiant, to_air = spread(0.0), spread(0.0)
        while e < elements.first_partition and space[e] == p:
            c, r, i = convective[e], radiative[e], inner[e]
            by_air, by_radiant = area[e] * c, area[e] * r
            of_radiant += by_radiant * (1.0 - i * r)
            of_both += by_air * i * r
            of_air += by_air * (1.0 - i * c)
            to_radiant += by_radiant * i * source[e]
            to_air += by_air * i * source[e]
            e += 1
        matrix[p, p] += of_radiant
        matrix[p, n + p] -= of_both
        matrix[n + p, n + p] += of_air
        right[p] += to_radiant
        right[n + p] += to_air


@on_lanes
def gather_partitions(elements: Any, air: Any, work: Any) -> None:
    """Do the same for elements between two spaces, whose two faces are solved together."""
    n = air.spaces
    matrix, right = work.matrix, work.right
    for e in range(elements.first_partition, elements.count):
        p, s = elements.space[e], elements.other[e]
        across, area = elements.across[e], elements.area[e]
        c1, c2 = work.film_inside[e], work.film_outside[e]
        r1, r2 = work.beam_inside[e], work.beam_outside[e]
        a11 = c1 + r1 + elements.inside[e]
        a22 = c2 + r2 + elements.outside[e]
        scale = 1.0 / (a11 * a22 - across * across)
        i11, i12, i22 = a22 * scale, across * scale, a11 * scale
        work.inner[e] = i11
        work.outer[e] = i22
        work.joint[e] = i12
        q1, q2 = work.source_inside[e], work.source_outside[e]
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
def restore_faces(elements: Any, state: Any, work: Any) -> None:
    """Find all faces back from the temperatures of the spaces, and step the modes."""
    air, radiant, face, other_face = state.air, state.radiant, state.face_inside, state.face_outside
    space, inner, outer = elements.space, work.inner, work.outer
    convective, radiative, source = work.film_inside, work.beam_inside, work.source_inside
    across, source_outside = elements.across, work.source_outside
    for e in range(elements.first_ground):
        p = space[e]
        here = inner[e] * (source[e] + convective[e] * air[p] + radiative[e] * radiant[p])
        face[e] = here
        other_face[e] = outer[e] * (source_outside[e] + across[e] * here)
    for e in range(elements.first_ground, elements.first_partition):
        p = space[e]
        face[e] = inner[e] * (source[e] + convective[e] * air[p] + radiative[e] * radiant[p])
        other_face[e] = work.now[GROUND]
    for e in range(elements.first_partition, elements.count):
        p, s = space[e], elements.other[e]
        here = source[e] + convective[e] * air[p] + radiative[e] * radiant[p]
        there = work.film_outside[e] * air[s] + work.beam_outside[e] * radiant[s]
        there += source_outside[e]
        face[e] = inner[e] * here + work.joint[e] * there
        other_face[e] = work.joint[e] * here + outer[e] * there
    modes, fade, owner = state.modes, elements.fade, elements.owner
    push_inside, push_outside = elements.push_inside, elements.push_outside
    for i in range(elements.modes):
        e = owner[i]
        modes[i] = fade[i] * modes[i] + push_inside[i] * face[e] + push_outside[i] * other_face[e]


@on_lanes
def heat_through_envelope(elements: Any, state: Any, work: Any) -> tuple[Any, Any]:
    """Return net and gross heat that enters from beyond the outer films and the ground [W].

    To outdoors: sun and film at the outside face. To the ground: conduction at the ground.
    """
    net, gross = spread(0.0), spread(0.0)
    area, face = elements.area, state.face_outside
    for e in range(elements.first_ground):
        lost = (work.film_outside[e] + work.to_sky[e]) * face[e]
        heat = area[e] * (work.gain_outside[e] - lost)
        net += heat
        gross += abs(heat)
    for e in range(elements.first_ground, elements.first_partition):
        heat = elements.outside[e] * face[e] - elements.across[e] * state.face_inside[e]
        heat = area[e] * (heat - work.past_outside[e])
        net += heat
        gross += abs(heat)
    return net, gross


@on_lanes
def stored_heat(elements: Any, air: Any, state: Any) -> Any:
    """Return the heat in all layers and in the air [J], from an arbitrary zero."""
    total = spread(0.0)
    for i in range(elements.modes):
        total += elements.area[elements.owner[i]] * elements.store[i] * state.modes[i]
    for p in range(air.spaces):
        total += air.capacity[p] * state.air[p]
    return total
