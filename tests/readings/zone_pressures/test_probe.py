"""Check the doubts about probe, tube and unit of a zone pressure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rooftree.readings.zone_pressures import ZoneKind, ZonePressureTest, reduce_zone_pressure

ATTIC = ZonePressureTest("attic", -50.0, -42.0, zone=ZoneKind.ATTIC)


def codes(test: ZonePressureTest, flow: float | None = None) -> set[str]:
    """Return what was noticed, without the kind of test."""
    return {f.code.partition("/")[2] for f in reduce_zone_pressure(test, flow).findings}


def test_rooms_are_not_ranked() -> None:
    """A room of the house gets no ratio, and the reason."""
    result = reduce_zone_pressure(replace(ATTIC, zone=ZoneKind.ROOM))
    assert result.ratio is None
    assert result.findings[0].code == "zone-pressure/room"
    assert "rooms cannot be ranked" in result.says


@pytest.mark.parametrize("kind", [k for k in ZoneKind if k is not ZoneKind.ROOM])
def test_every_buffer_space_is_divided(kind: ZoneKind) -> None:
    """Attic, knee wall, crawlspace, basement, garage and neighbour all have a ratio."""
    result = reduce_zone_pressure(replace(ATTIC, zone=kind))
    assert result.ratio is not None
    assert result.findings == ()


@pytest.mark.parametrize(
    ("kind", "pressure", "expected"),
    [
        (ZoneKind.ATTIC, -0.4, {"probe", "near-house"}),
        (ZoneKind.GARAGE, -0.4, {"probe", "near-house"}),
        (ZoneKind.ATTIC, -49.6, {"near-outdoors"}),
        (ZoneKind.BASEMENT, -0.4, {"near-house"}),
        (ZoneKind.BASEMENT, -49.6, {"probe", "near-outdoors"}),
    ],
)
def test_rare_ends_doubt_the_probe(kind: ZoneKind, pressure: float, expected: set[str]) -> None:
    """A vented zone that reads like the house, or a basement like outdoors, is doubted."""
    assert codes(replace(ATTIC, zone=kind, zone_pressure=pressure)) == expected


def test_repeated_end_is_only_possible() -> None:
    """Read so in two places, the doubt about the probe weighs less."""
    test = replace(ATTIC, zone_pressure=-0.4)
    (once, _), (twice, _) = (
        reduce_zone_pressure(each).findings for each in (test, replace(test, again_pressure=-0.3))
    )
    assert ". Likely:" in once.says
    assert "Possible, though it read so twice" in twice.says


def test_second_place_is_averaged_or_doubted() -> None:
    """A near second reading sharpens the ratio; a far one forbids it."""
    once = reduce_zone_pressure(ATTIC).ratio
    near = reduce_zone_pressure(replace(ATTIC, again_pressure=-42.4)).ratio
    assert once is not None
    assert near is not None
    assert near.standard < once.standard
    far = reduce_zone_pressure(replace(ATTIC, again_pressure=-30.0))
    assert far.ratio is None
    assert [f.code for f in far.findings] == ["zone-pressure/not-repeating"]


def test_three_pressures_must_add_up() -> None:
    """House to zone and zone to outdoors make house to outdoors, or the ratio is withheld."""
    fits = reduce_zone_pressure(replace(ATTIC, outdoor_pressure=-8.2))
    assert fits.ratio is not None
    assert fits.share is not None
    assert fits.share.value == pytest.approx((42.0 - 0.2 / 3) / (50.0 + 0.2 / 3), abs=1e-4)
    assert codes(replace(ATTIC, outdoor_pressure=-14.0)) == {"sum"}


def test_vents_that_would_pass_more_than_the_house() -> None:
    """Half a square metre of vents at 45 Pa would pass more than a tight house leaks."""
    test = replace(ATTIC, zone_pressure=-5.0, vent_area=0.5)
    assert codes(test, 0.5) == {"probe"}
    assert codes(test, 5.0) == set()
    assert codes(test) == set()
    flow = reduce_zone_pressure(test, 5.0).vent_flow_50
    assert flow is not None
    assert flow.value == pytest.approx(0.4 * 0.5 * (2 * 45.0 / 1.2041) ** 0.5, rel=1e-3)


def test_inches_of_water_are_recognized() -> None:
    """0.2 and 0.17 in. w.c. typed as pascals, both or the zone alone, are told."""
    assert codes(replace(ATTIC, house_pressure=-0.2, zone_pressure=-0.169)) == {"units"}
    assert codes(replace(ATTIC, zone_pressure=-0.169)) == {"units", "probe", "near-house"}
    assert codes(replace(ATTIC, house_pressure=-500.0, zone_pressure=-400.0)) == {"units"}


def test_neighbour_is_named() -> None:
    """The sentence about an attached dwelling says whose space it is."""
    says = reduce_zone_pressure(replace(ATTIC, zone=ZoneKind.NEIGHBOUR)).says
    assert says.startswith("The neighbour's space is open to outdoors")


def test_coarse_gauge_still_gets_a_remedy() -> None:
    """A gauge good to 15 Pa leaves nothing to divide, and says so instead of failing."""
    result = reduce_zone_pressure(replace(ATTIC, pressure_uncertainty=15.0, zone_pressure=-20.0))
    assert result.ratio is None
    assert result.findings
