"""Check air for burners by volume, by openings, and by the makeup rule of thumb."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.finding import Severity
from rooftree.readings.combustion_air import (
    AirOpening,
    AirSpace,
    CombustionAirTest,
    Cover,
    Joined,
    OpeningKind,
    OpeningPlace,
    RoomBurner,
    burner_air,
    free_area,
    known_air_volume,
    makeup_air,
    reduce_combustion_air,
    standard_volume,
)

KBTU = 1055.05585262e3 / 3600.0
FOOT3 = 0.3048**3
INCH = 0.0254
CFM = FOOT3 / 60.0
HIGH, LOW = OpeningPlace.HIGH, OpeningPlace.LOW

BASEMENT = CombustionAirTest(
    "basement",
    (AirSpace("basement", 70.0, 2.2),),
    (RoomBurner("furnace", 80.0 * KBTU, fan_assisted=True), RoomBurner("heater", 20.0 * KBTU)),
)
CLOSET = replace(BASEMENT, room="closet", spaces=(AirSpace("closet", 2.0, 2.4),))


def codes(test: CombustionAirTest) -> list[str]:
    """Return the codes of the findings without their first part."""
    return [
        finding.code.removeprefix("combustion-air/")
        for finding in reduce_combustion_air(test).findings
    ]


@pytest.mark.published(
    source="Uniform Mechanical Code, section 701.4 (= NFPA 54, 9.3.2)",
    where="50 ft3 per 1,000 Btu/h, 4.83 m3/kW",
    read="source",
)
def test_standard_method() -> None:
    """100,000 Btu/h ask for 5,000 ft³, and a kilowatt for 4.83 m³."""
    assert standard_volume(100.0 * KBTU) / FOOT3 == pytest.approx(5000.0)
    assert standard_volume(1000.0) == pytest.approx(4.83, abs=5e-3)


@pytest.mark.published(
    source="Uniform Mechanical Code, section 701.4; table of NFPA 54 reproduced",
    where="known infiltration: 21 and 15 ft3 over the air changes",
    read="source",
)
@pytest.mark.parametrize(
    ("input_rate", "changes", "assisted", "feet"),
    [
        (40, 0.40, False, 2100), (40, 0.30, False, 2800), (40, 0.10, False, 8400),
        (100, 0.50, True, 3000), (100, 0.30, True, 5000), (50, 0.60, True, 1250),
    ],
)  # fmt: skip
def test_known_infiltration(input_rate: float, changes: float, assisted: bool, feet: float) -> None:
    """The table's cells come out exactly."""
    volume = known_air_volume(input_rate * KBTU, changes, fan_assisted=assisted)
    assert volume / FOOT3 == pytest.approx(feet)


@pytest.mark.published(
    source="Uniform Mechanical Code, 701.4; DOE/NREL Standard Work Specifications 5.0502.1a",
    where="no more than 0.60 air changes are credited; below 0.40 the method is compulsory",
    read="source",
)
def test_air_changes_credited() -> None:
    """More than 0.60 count as 0.60; fewer than 0.40 forbid the standard rule."""
    capped = known_air_volume(1000.0, 0.9, fan_assisted=False)
    assert capped == known_air_volume(1000.0, 0.60, fan_assisted=False)
    assert codes(replace(BASEMENT, air_changes=0.9)) == ["air-changes-capped"]
    assert codes(replace(BASEMENT, air_changes=0.2)) == ["short", "standard-not-allowed"]


def test_volumes_of_burners_add_up() -> None:
    """Both kinds of burner ask for their own volume, and the sum decides."""
    result = reduce_combustion_air(replace(BASEMENT, air_changes=0.5))
    assert result.needed / FOOT3 == pytest.approx(15 / 0.5 * 80 + 21 / 0.5 * 20)
    assert result.method == "known infiltration"
    assert reduce_combustion_air(BASEMENT).needed / FOOT3 == pytest.approx(5000.0)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 17",
    where="0.4 L/(s kW) new forced draft; existing natural draft twice that",
    read="source",
)
def test_air_that_burners_draw() -> None:
    """30 kW draw 12 L/s with a fan and 24 L/s without, to half a litre."""
    assert burner_air(30e3, fan_assisted=True) == pytest.approx(0.012, abs=5e-4)
    assert burner_air(30e3, fan_assisted=False) == pytest.approx(0.024, abs=5e-4)


def test_room_that_is_large_enough() -> None:
    """154 m³ are 1.09 times what 100,000 Btu/h ask for: enough, and surely so."""
    result = reduce_combustion_air(BASEMENT)
    assert result.is_enough is True
    assert result.share is not None
    assert result.share.value == pytest.approx(1.088, abs=1e-3)
    assert result.findings == ()
    assert result.says == (
        "The rooms hold 1.1 times the air that the burners need by the standard method."
    )


def test_closet_is_short() -> None:
    """A closet without openings holds work back by a rule that was read."""
    (finding,) = reduce_combustion_air(CLOSET).findings
    assert (finding.code, finding.severity) == ("combustion-air/short", Severity.GATE)
    assert not finding.source.startswith("recalled")
    assert "almost certain" in finding.says


def pair(kind: OpeningKind, side: float, **more: object) -> tuple[AirOpening, AirOpening]:
    """Return a high and a low opening of one square size."""
    return (
        AirOpening(kind, side, side, HIGH, **more),  # type: ignore[arg-type]
        AirOpening(kind, side, side, LOW, **more),  # type: ignore[arg-type]
    )


@pytest.mark.published(
    source="NFPA 54, 9.3.2.3, text reproduced",
    where="two openings of 1 in2/1,000 Btu/h, 100 in2 at the least, one high and one low",
    read="source",
)
@pytest.mark.parametrize(
    ("side", "enough"), [(10.0 * INCH, True), (9.9 * INCH, False), (2.9 * INCH, False)]
)
def test_openings_join_rooms_of_a_storey(side: float, enough: bool) -> None:
    """Rooms count once both openings have the area; else the room stands alone."""
    test = replace(
        CLOSET,
        spaces=(*CLOSET.spaces, AirSpace("hall and living", 70.0, 2.4, Joined.OPENING)),
        openings=pair(OpeningKind.SAME_STOREY, side),
    )
    assert reduce_combustion_air(test).is_enough is enough
    assert ("opening-small" in codes(test)) is not enough


def test_both_openings_high_do_not_join() -> None:
    """Without a low one the air does not turn over."""
    openings = tuple(replace(one, place=HIGH) for one in pair(OpeningKind.SAME_STOREY, 0.3))
    test = replace(CLOSET, openings=openings)
    (rule,) = reduce_combustion_air(test).rules
    assert (rule.is_met, rule.lacks) == (False, "none within 12 in of the bottom")


@pytest.mark.published(
    source="NFPA 54, 9.3",
    where="outdoors two of 1/4,000 direct, 1/2,000 ducts, one of 1/3,000; storeys 2/1,000",
    read="memory",
)
@pytest.mark.parametrize(
    ("kind", "inches"),
    [(OpeningKind.DIRECT, 25.0), (OpeningKind.HORIZONTAL, 50.0)],
)
def test_outdoor_openings_reassure_and_never_decide(kind: OpeningKind, inches: float) -> None:
    """Enough by a recalled rule is neither enough nor short; just below, the room is short."""
    side = (inches * INCH**2) ** 0.5
    large = replace(CLOSET, openings=pair(kind, side * 1.001))
    assert reduce_combustion_air(large).is_enough is None
    assert "by-recalled-rule" in codes(large)
    assert "short" not in codes(large)
    small = replace(CLOSET, openings=pair(kind, side * 0.999))
    assert "short" in codes(small)


def test_one_opening_needs_the_vent_connectors() -> None:
    """One high opening counts from a third of a square inch and the connectors' area."""
    one = AirOpening(OpeningKind.DIRECT, 6.0 * INCH, 6.0 * INCH, HIGH)
    test = replace(CLOSET, openings=(one,), vent_connector_area=28.0 * INCH**2)
    assert reduce_combustion_air(test).is_enough is None
    larger = replace(test, vent_connector_area=40.0 * INCH**2)
    assert reduce_combustion_air(larger).is_enough is False
    unknown = reduce_combustion_air(replace(test, vent_connector_area=None))
    assert "area of the vent connectors not known" in unknown.rules[0].lacks


def test_other_storey_joins_by_a_recalled_rule_only() -> None:
    """Rooms joined that way count, and the answer stays open."""
    test = replace(
        CLOSET,
        spaces=(*CLOSET.spaces, AirSpace("upstairs", 80.0, 2.4, Joined.OPENING)),
        openings=(AirOpening(OpeningKind.OTHER_STOREY, 0.4, 0.4),),
    )
    assert reduce_combustion_air(test).is_enough is None


@pytest.mark.published(
    source="NFPA 54, 9.3.7", where="louvers: metal 75 %, wood 25 % free", read="memory"
)
@pytest.mark.parametrize(
    ("cover", "share"), [(Cover.METAL, 0.75), (Cover.WOOD, 0.25), (Cover.NONE, 1.0)]
)
def test_free_area_of_louvers(cover: Cover, share: float) -> None:
    """A printed share counts before the recalled one."""
    opening = AirOpening(OpeningKind.DIRECT, 0.5, 0.4, cover=cover)
    assert free_area(opening) == pytest.approx(0.2 * share)
    assert free_area(replace(opening, free_share=0.6)) == pytest.approx(0.12)


def test_sealed_burners_need_nothing() -> None:
    """A burner that does not take room air asks for none."""
    sealed = (RoomBurner("furnace", 80.0 * KBTU, takes_room_air=False),)
    result = reduce_combustion_air(replace(CLOSET, burners=sealed))
    assert (result.needed, result.is_enough, result.share) == (0.0, True, None)
    assert result.says == "No burner here takes its air from the room."


def test_nothing_logged_yet() -> None:
    """An empty form says what is missing."""
    assert codes(CombustionAirTest("room")) == ["not-logged"]
    assert reduce_combustion_air(CombustionAirTest("room")).says.startswith("No burner has been")


def test_room_at_the_limit_is_measured_again() -> None:
    """Enough by less than the doubt of the tape is told."""
    edge = replace(BASEMENT, spaces=(AirSpace("basement", 64.6, 2.2),))
    assert codes(edge) == ["hardly-enough"]


@pytest.mark.published(
    source="City of Edina (Minnesota), Approved Air Calculations Submittal Form",
    where="factors 0.15 to 0.03 cfm/ft2 and 80 % of the two largest",
    read="source",
)
@pytest.mark.parametrize(("atmospheric", "makeup"), [(1, 415), (0, 235), (2, 475)])
def test_makeup_air(atmospheric: int, makeup: float) -> None:
    """Dryer 135, hood 400, bath 100 cfm in 2,000 ft²."""
    air = makeup_air(
        2000 * 0.3048**2, atmospheric=atmospheric, dryer=135 * CFM, largest=400 * CFM,
        next_largest=100 * CFM,
    )  # fmt: skip
    assert air / CFM == pytest.approx(makeup, abs=0.5)


def test_makeup_air_is_never_negative() -> None:
    """Infiltration beyond the exhaust leaves nothing to make up."""
    assert makeup_air(500.0, atmospheric=0, dryer=0.05) == 0.0


def test_makeup_air_of_the_house() -> None:
    """The estimate needs a floor area and at least one flow."""
    test = replace(BASEMENT, dryer_flow=135 * CFM, largest_exhaust=450 * CFM)
    result = reduce_combustion_air(test, floor_area=2000 * 0.3048**2)
    assert result.makeup is not None
    assert result.makeup / CFM == pytest.approx(135 + 360 - 120, abs=0.5)
    assert codes(test) == ["large-hood"]
    assert reduce_combustion_air(test).makeup is None


@given(st.floats(1.0, 1e5), st.floats(0.01, 2.0), st.booleans())
def test_more_input_asks_for_more(rate: float, changes: float, assisted: bool) -> None:
    """Volume is in proportion to input, and fewer air changes never ask for less."""
    volume = known_air_volume(rate, changes, fan_assisted=assisted)
    twice = known_air_volume(2.0 * rate, changes, fan_assisted=assisted)
    assert twice == pytest.approx(2.0 * volume)
    assert known_air_volume(rate, 0.5 * changes, fan_assisted=assisted) >= volume


@pytest.mark.parametrize("changes", [0, -0.1, float("nan")])
def test_impossible_air_changes_are_refused(changes: float) -> None:
    """No air changes at all cannot be divided by."""
    with pytest.raises(OutOfRangeError, match=r"^air_changes is .* covers 0 to inf 1/h$"):
        known_air_volume(1000.0, changes, fan_assisted=False)


@pytest.mark.parametrize("function", [standard_volume, lambda r: burner_air(r, fan_assisted=True)])
def test_negative_input_is_refused(function: object) -> None:
    """A rating plate has no negative input."""
    with pytest.raises(OutOfRangeError, match=r"^input_rate is -1 W; .* covers 0 to inf W$"):
        function(-1)  # type: ignore[operator]


@pytest.mark.published(
    source="Uniform Mechanical Code, section 701.4",
    where="the volumes of all appliances in the space are summed",
    read="source",
)
@given(
    st.lists(st.tuples(st.floats(1e3, 5e4), st.booleans(), st.booleans()), min_size=1, max_size=5),
    st.sampled_from([None, 0.2, 0.5, 0.8]),
)
def test_burners_of_a_room_add_up(
    rows: list[tuple[float, bool, bool]], changes: float | None
) -> None:
    """Several burners need what each needs alone, together; sealed ones need nothing."""
    burners = tuple(RoomBurner(str(i), *row) for i, row in enumerate(rows))
    room = replace(BASEMENT, air_changes=changes)
    together = reduce_combustion_air(replace(room, burners=burners))
    alone = [reduce_combustion_air(replace(room, burners=(one,))).needed for one in burners]
    assert together.needed == pytest.approx(sum(alone))


@given(st.floats(1.0, 500.0), st.floats(1.0, 500.0))
def test_more_room_is_never_less_enough(area: float, more: float) -> None:
    """A room that is large enough stays so when another room opens to it."""
    small = replace(BASEMENT, spaces=(AirSpace("room", area, 2.2),))
    large = replace(small, spaces=(*small.spaces, AirSpace("more", more, 2.2, Joined.ITSELF)))
    one, other = reduce_combustion_air(small), reduce_combustion_air(large)
    assert other.volume == pytest.approx(one.volume + 2.2 * more)
    assert other.is_enough or not one.is_enough
