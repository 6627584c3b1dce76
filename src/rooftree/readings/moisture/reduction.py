"""Reduce the moisture readings of one visit: places, surfaces, wood, and the source."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.finding import Finding, Severity
from rooftree.physics.propagation import propagate_positive
from rooftree.readings.moisture.air import PlaceAir, reduce_place
from rooftree.readings.moisture.comparison import (
    Comparison,
    compare,
    first_of,
    rank,
    source_in_words,
)
from rooftree.readings.moisture.judge_air import (
    judge_dampness,
    judge_missing,
    judge_place,
    judge_released,
)
from rooftree.readings.moisture.judge_surface import (
    judge_conditions,
    judge_factor,
    judge_pattern,
    judge_surface,
)
from rooftree.readings.moisture.judge_wood import judge_wood
from rooftree.readings.moisture.readings import PlaceKind
from rooftree.readings.moisture.surfaces import Surface, reduce_surface, with_loss_ratios
from rooftree.readings.moisture.temperature_factor import (
    LEAST_DIFFERENCE,
    humidity_class,
    least_factor,
)
from rooftree.readings.moisture.wood import WoodMoisture, reduce_wood

if TYPE_CHECKING:
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.moisture.readings import MoistureTest

CAUTIONS = (
    "Moist places can hold mould, decay, bad wiring and bad air: enter crawlspaces and attics only"
    " with protection and with somebody outside, leave mould undisturbed, and leave structure to"
    " an engineer. Local codes decide."
)
"""The usual cautions, for every page and paper that shows moisture readings."""


@dataclass(frozen=True, slots=True)
class MoistureResult:
    """What the moisture readings of one visit tell.

    Attributes
    ----------
    places : tuple of PlaceAir
        In the order read; those without a measure of moisture are left out.
    ranking : tuple of str
        Names of the places, wettest air first.
    comparisons : tuple of Comparison
        Each place against outdoors.
    surfaces : tuple of Surface
        In the order read.
    woods : tuple of WoodMoisture
        In the order read.
    needed_factor : float or None
        Temperature factor that inside faces need in the coldest month with the air of
        today [-]; None without a winter temperature.
    humidity_class : int or None
        Of the house, by its vapor pressure above outdoors; None without both readings, or
        on a mild day.
    released : Propagated or None
        Water that is released inside, from the flow of outdoor air [kg/s]; None without a
        flow, or where the house is not wetter than outdoors.
    says : str
        Where the moisture comes from, and what is wet.
    findings : tuple of Finding
        Gravest first.
    cautions : str
        The usual cautions; show them with the result.
    """

    places: tuple[PlaceAir, ...]
    ranking: tuple[str, ...]
    comparisons: tuple[Comparison, ...]
    surfaces: tuple[Surface, ...]
    woods: tuple[WoodMoisture, ...]
    needed_factor: float | None
    humidity_class: int | None
    released: Propagated | None
    says: str
    findings: tuple[Finding, ...]
    cautions: str = CAUTIONS


def reduce_moisture(
    test: MoistureTest,
    winter_temperature: float | None = None,
    outdoor_air_flow: float | None = None,
    outdoor_air_uncertainty: float = 0.2,
) -> MoistureResult:
    """Reduce the moisture readings of one visit.

    Parameters
    ----------
    test : MoistureTest
        Readings.
    winter_temperature : float or None
        Mean outdoor temperature of the coldest month, for the temperature factor [K].
    outdoor_air_flow : float or None
        Outdoor air that reaches the house now, for the water released inside [m³/s].
    outdoor_air_uncertainty : float
        Standard uncertainty of that flow [0-1], relative.

    Returns
    -------
    MoistureResult

    Notes
    -----
    Water released in steady state is ``rho V (W_in - W_out)``; walls and furniture that
    take up or give back water can outweigh it for days.

    Examples
    --------
    >>> from rooftree.readings.moisture.readings import AirReading, MoistureTest, PlaceKind
    >>> visit = MoistureTest((
    ...     AirReading("yard", PlaceKind.OUTDOORS, 278.15, 0.6),
    ...     AirReading("hall", PlaceKind.LIVING, 294.15, 0.5),
    ... ))
    >>> reduce_moisture(visit).ranking
    ('hall', 'yard')
    """
    read = {place.name: place for place in reversed(test.places)}
    outdoors = next((p for p in test.places if p.kind is PlaceKind.OUTDOORS), None)
    airs = [air for place in test.places if (air := reduce_place(place, test)) is not None]
    by_name = {air.name: air for air in reversed(airs)}
    faces = tuple(reduce_surface(s, read.get(s.place), outdoors, test) for s in test.surfaces)
    surfaces = with_loss_ratios(faces, read)
    woods = tuple(reduce_wood(wood, by_name.get(wood.place), test) for wood in test.woods)
    open_air, living = first_of(airs, PlaceKind.OUTDOORS), first_of(airs, PlaceKind.LIVING)
    needed = _needed_factor(living, winter_temperature)
    findings = list(judge_missing(test))
    findings += [doubt for place in test.places for doubt in judge_place(place, test)]
    findings += [damp for air in airs for damp in judge_dampness(air)]
    findings += judge_conditions(test, surfaces)
    for reading, surface in zip(test.surfaces, surfaces, strict=True):
        findings += judge_surface(reading, surface, read.get(reading.place), outdoors, test)
        findings += judge_pattern(reading)
        findings += judge_factor(surface, needed)
    for index, (piece, wood) in enumerate(zip(test.woods, woods, strict=True)):
        beside = [w for i, w in enumerate(woods) if i != index and w.place == wood.place]
        findings += judge_wood(piece, wood, beside)
    findings += _judge_absent(surfaces, winter_temperature)
    released = _released(living, open_air, outdoor_air_flow, outdoor_air_uncertainty)
    findings += judge_released(released)
    excess = None
    if open_air is not None and living is not None:
        excess = living.vapor_pressure.value - open_air.vapor_pressure.value
    return MoistureResult(
        places=tuple(airs),
        ranking=tuple(air.name for air in rank(airs)),
        comparisons=tuple(compare(a, open_air) for a in airs if a is not open_air)
        if open_air
        else (),
        surfaces=surfaces,
        woods=woods,
        needed_factor=needed,
        humidity_class=None
        if excess is None or open_air is None
        else humidity_class(excess, open_air.temperature.value),
        released=released,
        says=_says(airs, surfaces, findings),
        findings=tuple(sorted(findings, key=lambda found: found.severity is not Severity.GATE)),
    )


def _needed_factor(living: PlaceAir | None, winter: float | None) -> float | None:
    if living is None or winter is None:
        return None
    inside = living.temperature.value
    if inside - winter < LEAST_DIFFERENCE:
        return None
    return least_factor(inside, living.vapor_pressure.value, winter)


def _released(
    living: PlaceAir | None, outdoors: PlaceAir | None, flow: float | None, doubt: float
) -> Propagated | None:
    if living is None or outdoors is None or flow is None or flow <= 0.0:
        return None
    more = compare(living, outdoors).difference
    if more.value <= more.standard:
        return None
    density = living.density / (1.0 + living.humidity_ratio.value)
    return propagate_positive(
        lambda volume, ratio: density * volume * max(ratio, 1e-9),
        (flow, more.value),
        (doubt * flow, more.standard),
    )


def _judge_absent(surfaces: tuple[Surface, ...], winter: float | None) -> tuple[Finding, ...]:
    if winter is not None or all(surface.factor is None for surface in surfaces):
        return ()
    return (
        Finding(
            "moisture/no-winter-temperature",
            Severity.NOTE,
            "Temperature factors are stated without a verdict: the coldest month of the place is"
            " missing. Choose the weather of the job.",
            source="ISO 13788 (recalled)",
        ),
    )


def _says(airs: list[PlaceAir], surfaces: tuple[Surface, ...], findings: list[Finding]) -> str:
    wet = [s.name for s in surfaces if (s.condensing or 0.0) >= 0.5]
    doubted = {found.about for found in findings if found.code == "moisture/meter-on-conductor"}
    soaked = [found.about for found in findings if found.code == "moisture/wet-wood"]
    named = [name for name in dict.fromkeys(soaked) if name not in doubted]
    # What is wet comes first: it cannot wait.
    parts = [f"Wet wood: {', '.join(named)}."] if named else []
    if wet:
        parts.append(f"Water condenses now on: {', '.join(wet)}.")
    return " ".join([*parts, source_in_words(airs)])
