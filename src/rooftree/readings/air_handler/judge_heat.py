"""Doubts about temperatures of an air handler, and what its split means."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from rooftree.readings.air_handler.air import COLDEST, HOTTEST, plenum_humidity
from rooftree.readings.air_handler.heat import FREEZING
from rooftree.readings.air_handler.note import SURE, how_sure, kelvin_of, note
from rooftree.readings.air_handler.readings import Operation, RegisterSide

if TYPE_CHECKING:
    from rooftree.finding import Finding
    from rooftree.physics.propagation import Propagated
    from rooftree.readings.air_handler.readings import AirHandlerTest

COOL_ROOM, WARM_ROOM = 278.15, 313.15
"""Between which return air of a house lies [K]: 5 to 40 °C; ours."""

LARGEST_RISE = 56.0
"""Temperature rise that no furnace is made for [K]: 100 °F; ours."""

MOST_CAPACITY = 1.35
"""Capacity over its nominal value that no cooling machine reaches [-]; ours: 71 °F wet bulb
and 75 °F outdoors give 1.19."""

DERIVED = "derived: apparatus dew point and bypass factor at the rating point"


def judge_temperatures(test: AirHandlerTest) -> tuple[Finding, ...]:
    """Return doubts about what the thermometers show.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.

    Returns
    -------
    tuple of Finding
    """
    found = []
    back, out = test.return_temperature, test.supply_temperature
    if back is not None and not COOL_ROOM <= back <= WARM_ROOM:
        found.append(_unit(back, "return", COOL_ROOM if back < COOL_ROOM else WARM_ROOM))
    if out is not None and not COLDEST <= out <= HOTTEST:
        found.append(_unit(out, "supply", COLDEST if out < COLDEST else HOTTEST))
    for side, dry, wet, share in (
        (RegisterSide.RETURN, back, test.return_wet_bulb, test.return_humidity),
        (RegisterSide.SUPPLY, out, test.supply_wet_bulb, test.supply_humidity),
    ):
        given = dry is not None and (wet is not None or share is not None)
        if given and plenum_humidity(test, side) is None:
            found.append(
                note(
                    "wet-bulb",
                    f"The humidity of the {side.value} air cannot be: the wet bulb has to lie"
                    " below the dry bulb and above freezing, a relative humidity between 0 and"
                    " 100 %. Almost certain: two readings are swapped, or the wick is dry."
                    " Wet it and read again.",
                    wet if wet is not None else share,
                    dry if wet is not None else 1.0,
                    "K" if wet is not None else "-",
                )
            )
    return tuple(found)


def _unit(value: float, side: str, edge: float) -> Finding:
    return note(
        "temperature-units",
        f"The {side} air at {value - FREEZING:.0f} °C ({1.8 * (value - FREEZING) + 32.0:.0f} °F)"
        " can hardly be. Likely: °C and °F are mixed. Enter the reading again with its unit.",
        value,
        edge,
        "K",
        "ours",
    )


def judge_split(
    test: AirHandlerTest, split: Propagated | None, expected: Propagated | None
) -> tuple[Finding, ...]:
    """Return what the temperature split or rise means.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    split : Propagated or None
        Positive the right way [K].
    expected : Propagated or None
        Of a sound machine while cooling [K].

    Returns
    -------
    tuple of Finding
    """
    if split is None or test.operation is Operation.FAN_ONLY:
        return ()
    if split.value < -SURE * split.standard:
        return (
            note(
                "split-sign",
                f"{how_sure(split.value / split.standard)}: supply and return temperatures are"
                f" swapped, or it is not {test.operation.value}: the supply air is"
                f" {'warmer' if test.operation is Operation.COOLING else 'colder'} than the"
                " return. Look at the thermostat and at the two sensors.",
                split.value,
                0.0,
                "K",
                "conservation of energy",
            ),
        )
    if test.operation is Operation.COOLING:
        return (*_judge_frost(test), *_judge_cooling(split, expected))
    return _judge_rise(test, split)


def _judge_frost(test: AirHandlerTest) -> tuple[Finding, ...]:
    out = test.supply_temperature
    if out is None or out >= FREEZING:
        return ()
    return (
        note(
            "split-impossible",
            f"Supply air of {out - FREEZING:.1f} °C is below freezing: the coil would be ice."
            " Almost certain: a wrong unit or sensor; if not, switch the cooling off, let the"
            " fan run, and call the licensed technician.",
            out,
            FREEZING,
            "K",
            "water freezes on the coil",
        ),
    )


def _judge_cooling(split: Propagated, expected: Propagated | None) -> tuple[Finding, ...]:
    if expected is None:
        return ()
    off = split.value - expected.value
    doubt = math.hypot(split.standard, expected.standard)
    if abs(off) <= SURE * doubt:
        return ()
    cause = (
        "Likely too little air: filter, coil, closed registers, fan speed. Measure the flow."
        if off > 0.0
        else "Likely little cooling for this air: charge, compressor, a dirty outdoor coil,"
        " warm air leaking into the return; or much more air than thought. What touches the"
        " refrigerant is for a licensed technician."
    )
    return (
        note(
            "split",
            f"{how_sure(off / doubt)}: the split of {kelvin_of(split.value)}"
            f" is {'above' if off > 0.0 else 'below'} the {kelvin_of(expected.low)}"
            f" to {kelvin_of(expected.high)} that a sound machine"
            f" makes of this return air. {cause} Let it run steady for fifteen minutes before"
            " you trust it.",
            split.value,
            expected.value,
            "K",
            DERIVED,
        ),
    )


def _judge_rise(test: AirHandlerTest, split: Propagated) -> tuple[Finding, ...]:
    low, high = test.rated_rise_low, test.rated_rise_high
    if split.value > LARGEST_RISE:
        return (
            note(
                "split-impossible",
                f"A rise of {kelvin_of(split.value)} is more than any"
                " furnace is made for. Likely: °C and °F are mixed, or the sensor sees the burner."
                " If it is real, switch it off: the heat exchanger is in danger.",
                split.value,
                LARGEST_RISE,
                "K",
                "ours",
            ),
        )
    for edge, is_high in ((low, False), (high, True)):
        if edge is None or (split.value <= edge if is_high else split.value >= edge):
            continue
        distance = (split.value - edge) / split.standard
        cause = (
            "too little air (filter, coil, ducts, fan speed), or the burner set too high"
            if is_high
            else "too much air, too little heat, or cold air leaking into the return"
        )
        return (
            note(
                "rise",
                f"{how_sure(distance)}: a rise of {kelvin_of(split.value)} is"
                f" {'above' if is_high else 'below'} the nameplate's"
                f" {kelvin_of(edge)}: {cause}. The burner is for a licensed technician.",
                split.value,
                edge,
                "K",
                "nameplate",
            ),
        )
    return ()


def judge_heat(
    test: AirHandlerTest, sensible: Propagated | None, total: Propagated | None
) -> tuple[Finding, ...]:
    """Return what cannot be about the heat that leaves the equipment.

    Parameters
    ----------
    test : AirHandlerTest
        Readings.
    sensible : Propagated or None
        By the temperature of the air [W].
    total : Propagated or None
        With the water taken out [W].

    Returns
    -------
    tuple of Finding
    """
    if sensible is None:
        return ()
    if test.operation is Operation.HEATING and test.heat_input:
        most = test.heat_input + max(test.blower_power or 0.0, 0.0)
        word = "more heat would leave than goes in"
    elif test.operation is Operation.COOLING and test.rated_capacity:
        most = MOST_CAPACITY * test.rated_capacity
        word = "more cooling would leave than the machine can make"
    else:
        return ()
    found = []
    if sensible.value - SURE * sensible.standard > most:
        found.append(
            note(
                "heat-balance",
                f"Almost certain: {word} ({sensible.value / 1000.0:.1f} against"
                f" {most / 1000.0:.1f} kW). The flow is too high, a temperature wrong, or the input"
                " or capacity entered in another unit. Repeat the flow and both temperatures.",
                sensible.value,
                most,
                "W",
                "conservation of energy",
            )
        )
    if total is not None and total.value < sensible.value - SURE * total.standard:
        found.append(
            note(
                "supply-humidity",
                "The supply air would carry more water than the return, which a cooling coil"
                " cannot do. Likely: a wet bulb or humidity is wrong, or return air is drawn in"
                " from a damp place. Read both again with one instrument.",
                total.value,
                sensible.value,
                "W",
                "a coil adds no water",
            )
        )
    return tuple(found)
