"""Check the reduction of a moisture visit: places, faces, wood, and what they mean."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.finding import Severity
from rooftree.readings.moisture import (
    AirReading,
    Finish,
    InspectionRule,
    InTheWay,
    MeterMode,
    MoistureTest,
    PlaceKind,
    Side,
    SurfaceReading,
    Thermometer,
    Wood,
    WoodReading,
    moisture_limits,
    reduce_moisture,
)
from rooftree.readings.moisture.wood import equilibrium_content
from rooftree.units import told

ZERO = 273.15
YARD = AirReading("yard", PlaceKind.OUTDOORS, 0.0 + ZERO, 0.80)
HALL = AirReading("hall", PlaceKind.LIVING, 21.0 + ZERO, 0.50)
CRAWL = AirReading("crawl", PlaceKind.CRAWLSPACE, 12.0 + ZERO, 0.65)
WALL = SurfaceReading("wall", 19.0 + ZERO, "hall", thermometer=Thermometer.CONTACT)
WINTER = MoistureTest((YARD, HALL, CRAWL), (WALL,), (WoodReading("joist", 0.13, "crawl"),))


def codes(test: MoistureTest, winter: float | None = 272.0) -> set[str]:
    """Return the codes of all findings of a visit."""
    return {
        found.code.removeprefix("moisture/") for found in reduce_moisture(test, winter).findings
    }


def test_a_good_winter_visit_is_quiet() -> None:
    """A well-read visit to a dry house raises nothing and says where the water comes from."""
    result = reduce_moisture(WINTER, 272.0)
    assert result.findings == ()
    assert result.ranking == ("hall", "crawl", "yard")
    assert result.says.startswith("The house holds more water than outdoors: it is made inside")
    assert result.humidity_class == 3
    hall = result.places[1]
    assert hall.dew_point.value - ZERO == pytest.approx(10.19, abs=0.05)
    assert hall.wet_bulb - ZERO == pytest.approx(14.61, abs=0.05)
    assert hall.density == pytest.approx(1.1945, rel=1e-3)


def test_three_ways_to_read_one_air() -> None:
    """Relative humidity, wet bulb and dew point of the same air give the same result."""
    hall = reduce_moisture(MoistureTest((HALL,))).places[0]
    by_wet = replace(HALL, relative_humidity=None, wet_bulb=hall.wet_bulb)
    by_dew = replace(HALL, relative_humidity=None, dew_point=hall.dew_point.value)
    for reading in (by_wet, by_dew):
        other = reduce_moisture(MoistureTest((reading,))).places[0]
        assert other.humidity_ratio.value == pytest.approx(hall.humidity_ratio.value, rel=1e-3)
        assert other.relative_humidity.value == pytest.approx(0.50, abs=1e-3)


def test_summer_air_is_named_as_the_source() -> None:
    """Where outdoor air is the wettest, ventilation is said to wet the house."""
    summer = (
        AirReading("yard", PlaceKind.OUTDOORS, 30.0 + ZERO, 0.70),
        AirReading("hall", PlaceKind.LIVING, 24.0 + ZERO, 0.50),
    )
    assert reduce_moisture(MoistureTest(summer)).says.startswith("Outdoor air holds more water")


def test_wet_crawlspace_is_named_as_the_source() -> None:
    """A crawlspace wetter than house and outdoors is the source."""
    test = replace(
        WINTER, places=(YARD, HALL, replace(CRAWL, temperature=291.0, relative_humidity=0.95))
    )
    result = reduce_moisture(test, 272.0)
    assert result.says.startswith("The air of crawl holds more water than both")
    assert "moisture/crawlspace-humidity" in {found.code for found in result.findings}


def test_alike_airs_are_not_told_apart() -> None:
    """Differences within the doubt of the readings decide nothing."""
    test = MoistureTest((replace(HALL, name="yard", kind=PlaceKind.OUTDOORS), HALL))
    assert reduce_moisture(test).says.startswith("House and outdoors hold as much water")


def test_water_released_inside() -> None:
    """30 L/s of outdoor air carries 17 kg a day out of a house 5.4 g/kg wetter."""
    result = reduce_moisture(WINTER, 272.0, outdoor_air_flow=0.030)
    assert result.released is not None
    more = result.comparisons[0].difference.value
    assert result.released.value == pytest.approx(1.1945 / 1.0077 * 0.030 * more, rel=2e-3)
    assert result.released.low < result.released.value < result.released.high
    assert reduce_moisture(WINTER, 272.0).released is None


def test_more_water_than_people_make_is_told() -> None:
    """120 L/s of outdoor air through a house 5 g/kg wetter is a leak or bare soil, not people."""
    found = {f.code for f in reduce_moisture(WINTER, 272.0, 0.120).findings}
    assert found == {"moisture/much-released"}
    assert reduce_moisture(WINTER, 272.0, 0.025).findings == ()


def test_mould_says_how_soon() -> None:
    """Damp at a face names the weeks on bare pine, or the humidity that cold wood needs."""
    for celsius, words in ((12.2, "on bare pine after about"), (2.0, "on wood as cold as this")):
        hall = replace(HALL, relative_humidity=0.25 if celsius < 5.0 else 0.5)
        face = replace(WALL, temperature=celsius + ZERO)
        findings = reduce_moisture(replace(WINTER, places=(YARD, hall), surfaces=(face,))).findings
        says = next(f.says for f in findings if f.code == "moisture/mould-humidity")
        assert words in says


def test_duct_in_a_wet_crawlspace_condenses() -> None:
    """A metal face below the dew point of the air at it is almost certainly wet."""
    damp = replace(CRAWL, temperature=295.0, relative_humidity=0.85)
    boot = SurfaceReading("boot", 287.0, "crawl", Side.NEITHER, Thermometer.CONTACT)
    result = reduce_moisture(MoistureTest((YARD, damp), (boot,)))
    assert result.surfaces[0].condensing == pytest.approx(1.0, abs=1e-3)
    assert result.surfaces[0].factor is None
    assert result.says.startswith("Water condenses now on: boot.")
    assert any("almost certain" in found.says for found in result.findings)


def test_condensing_is_even_odds_at_the_dew_point() -> None:
    """A face exactly at the dew point is as likely wet as dry."""
    dew = reduce_moisture(MoistureTest((HALL,))).places[0].dew_point.value
    face = SurfaceReading("pipe", dew, "hall", Side.NEITHER, Thermometer.CONTACT)
    surface = reduce_moisture(MoistureTest((HALL,), (face,))).surfaces[0]
    assert surface.condensing == pytest.approx(0.5)
    assert surface.relative_humidity is not None
    assert surface.relative_humidity.value == pytest.approx(1.0, abs=1e-6)


@given(st.floats(283.0, 294.0), st.floats(0.1, 3.0))
def test_colder_faces_are_damper(face: float, colder: float) -> None:
    """A colder face has damper air at it and is more likely wet."""
    warm, cold = (
        reduce_moisture(replace(WINTER, surfaces=(replace(WALL, temperature=t),))).surfaces[0]
        for t in (face, face - colder)
    )
    assert warm.relative_humidity is not None
    assert cold.relative_humidity is not None
    assert warm.condensing is not None
    assert cold.condensing is not None
    assert cold.relative_humidity.value > warm.relative_humidity.value
    assert cold.condensing >= warm.condensing


def test_badly_insulated_face_is_found() -> None:
    """A factor below what the coldest month needs is said with the U-value that would do."""
    cold = replace(WINTER, surfaces=(replace(WALL, name="corner", temperature=12.0 + ZERO),))
    result = reduce_moisture(cold, 268.0)
    assert result.needed_factor == pytest.approx(0.716, abs=0.003)
    assert {"moisture/temperature-factor", "moisture/mould-humidity"} <= {
        found.code for found in result.findings
    }


def test_without_a_winter_no_verdict() -> None:
    """Where the coldest month is not known, the factor stands and a finding says what lacks."""
    result = reduce_moisture(WINTER)
    assert result.needed_factor is None
    assert [found.code for found in result.findings] == ["moisture/no-winter-temperature"]


def test_two_faces_tell_their_losses_apart() -> None:
    """Twice as far below the air, with equal films, means twice the loss."""
    faces = (WALL, replace(WALL, name="bay", temperature=17.0 + ZERO))
    good, bad = reduce_moisture(replace(WINTER, surfaces=faces), 272.0).surfaces
    assert good.loss_ratio is None
    assert bad.loss_ratio == pytest.approx(2.0)


def test_infrared_is_corrected_for_the_face() -> None:
    """Paint at 0.90 read with 0.95 is a little colder than shown, where it faces warm air."""
    read = replace(WALL, thermometer=Thermometer.INFRARED, temperature=15.0 + ZERO)
    found = reduce_moisture(replace(WINTER, surfaces=(read,)), 272.0).surfaces[0].temperature
    assert found is not None
    assert 14.4 < found.value - ZERO < 15.0
    assert found.standard > 0.7


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"finish": Finish.FOIL, "thermometer": Thermometer.INFRARED}, "reflective"),
        ({"finish": Finish.GLASS, "thermometer": Thermometer.INFRARED}, "mirrored"),
        ({"sunless_time": 3600.0}, "sun"),
        ({"temperature": 40.0 + ZERO}, "factor-range"),
        ({"temperature": 66.0 + ZERO}, "temperature-scale"),
        ({"place": "attic"}, "unknown-place"),
    ],
)
def test_doubts_about_a_face(change: dict[str, object], code: str) -> None:
    """Each way to misread a face has its finding."""
    face = replace(WALL, **change)  # type: ignore[arg-type]
    assert code in codes(replace(WINTER, surfaces=(face,)))


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"temperature": 70.0 + ZERO}, "temperature-scale"),
        ({"temperature": -6.1 + ZERO}, "temperature-scale"),
        ({"temperature": 5.0}, "impossible"),
        ({"relative_humidity": 0.0045}, "humidity-unit"),
        ({"relative_humidity": 1.10}, "beyond-saturated"),
        ({"relative_humidity": None}, "no-humidity"),
        ({"relative_humidity": None, "wet_bulb": 23.0 + ZERO}, "beyond-saturated"),
        ({"relative_humidity": None, "dew_point": 25.0 + ZERO}, "beyond-saturated"),
        ({"earlier_humidity": 0.60}, "not-settled"),
        ({"earlier_temperature": 19.0 + ZERO}, "not-settled"),
        ({"name": "yard"}, "same-name"),
    ],
)
def test_doubts_about_an_air(change: dict[str, object], code: str) -> None:
    """Each way to misread the air of a place has its finding, and nothing is raised."""
    hall = replace(HALL, **change)  # type: ignore[arg-type]
    assert code in codes(replace(WINTER, places=(YARD, hall, CRAWL)))


def test_slip_says_how_sure_and_what_was_meant() -> None:
    """A hall of 70 °C is almost certainly one of 70 °F."""
    hall = replace(HALL, temperature=70.0 + ZERO)
    found = reduce_moisture(replace(WINTER, places=(YARD, hall, CRAWL)), 272.0).findings
    says = next(f.says for f in found if f.code == "moisture/temperature-scale")
    assert "almost certain that it was read in °F, which makes it 70 °F (21.1 °C)" in told(
        says, None
    )


def test_no_outdoors_is_said() -> None:
    """Without outdoor air neither source nor factor can be told."""
    result = reduce_moisture(replace(WINTER, places=(HALL, CRAWL)), 272.0)
    assert "moisture/no-outdoors" in {found.code for found in result.findings}
    assert result.surfaces[0].factor is None
    assert result.comparisons == ()


def test_nothing_read_is_no_crash() -> None:
    """An empty visit asks for its readings."""
    result = reduce_moisture(MoistureTest(()))
    assert result.places == ()
    assert [found.code for found in result.findings] == ["moisture/no-outdoors"]


@pytest.mark.parametrize(
    ("change", "code"),
    [({"wind_speed": 8.0}, "wind"), ({"steady_time": 3600.0}, "not-steady")],
)
def test_weather_that_misleads(change: dict[str, float], code: str) -> None:
    """Wind and a young difference are said."""
    assert code in codes(replace(WINTER, **change))  # type: ignore[arg-type]


def test_mild_day_misleads() -> None:
    """Less than 10 K between inside and outdoors is said."""
    mild = replace(YARD, temperature=13.0 + ZERO)
    assert "temperature-difference" in codes(replace(WINTER, places=(mild, HALL, CRAWL)))


def test_rules_differ_in_wind_and_time() -> None:
    """6 m/s and 5 hours pass one rule and not the other."""
    test = replace(WINTER, wind_speed=6.0, steady_time=5 * 3600.0)
    assert not {"wind", "not-steady"} & codes(test)
    assert {"wind", "not-steady"} <= codes(replace(test, rule=InspectionRule.EN_13187))


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"in_the_way": InTheWay.FOIL}, "meter-in-the-way"),
        ({"mode": MeterMode.RELATIVE}, "relative-scale"),
        ({"mode": MeterMode.PINLESS}, "no-correction"),
        ({"wood": Wood.OAK}, "wrong-species"),
        ({"moisture_content": 0.06}, "meter-range"),
        ({"moisture_content": 0.17}, "damp-wood"),
        ({"moisture_content": 0.24}, "wet-wood"),
        ({"moisture_content": 0.60}, "meter-on-conductor"),
    ],
)
def test_doubts_about_wood(change: dict[str, object], code: str) -> None:
    """Each state of wood and each way to misread it has its finding."""
    joist = replace(WINTER.woods[0], **change)  # type: ignore[arg-type]
    assert code in codes(replace(WINTER, woods=(joist,)))


def test_wet_wood_holds_work_back() -> None:
    """Above 0.20 the finding is a gate, and stands first."""
    wet = replace(WINTER, woods=(WoodReading("sill", 0.25, "crawl"),), wind_speed=9.0)
    first = reduce_moisture(wet, 272.0).findings[0]
    assert (first.code, first.severity) == ("moisture/wet-wood", Severity.GATE)


def test_wet_neighbours_make_metal_less_likely() -> None:
    """A high reading among wet pieces is wood; among dry ones it is a nail."""
    suspect = WoodReading("sill", 0.33, "crawl")
    dry = tuple(WoodReading(f"joist {n}", 0.12, "crawl") for n in range(4))
    wet = tuple(WoodReading(f"joist {n}", 0.29, "crawl") for n in range(4))
    assert "meter-on-conductor" in codes(replace(WINTER, woods=(suspect, *dry)))
    assert "meter-on-conductor" not in codes(replace(WINTER, woods=(suspect, *wet)))


def test_cold_wood_is_wetter_than_shown() -> None:
    """The correction of a reading at 12 °C adds about a point and a half."""
    wood = reduce_moisture(WINTER, 272.0).woods[0]
    assert wood.temperature_correction == pytest.approx(0.0095, abs=0.004)
    assert wood.moisture_content is not None
    assert wood.moisture_content.value == pytest.approx(0.13 + wood.temperature_correction)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 26",
    where="Table 7, sorption of plywood 13 mm and OSB 12.7 mm",
    read="source",
)
@pytest.mark.parametrize(
    ("wood", "humidity", "percent"),
    [("plywood", 0.489, 7.0), ("plywood", 0.691, 9.2), ("plywood", 0.886, 15.8),
     ("oriented strand board", 0.489, 4.6), ("oriented strand board", 0.691, 7.8),
     ("oriented strand board", 0.886, 14.8)],
)  # fmt: skip
def test_sorption_of_panels(wood: str, humidity: float, percent: float) -> None:
    """The table's points, to 0.1 % as printed."""
    assert 100.0 * equilibrium_content(wood, 293.15, humidity) == pytest.approx(percent, abs=0.1)


def test_panels_keep_rising_beyond_the_table() -> None:
    """Above the last point the last slope goes on."""
    assert equilibrium_content("plywood", 293.15, 0.95) > 0.158


def test_recalled_limits_say_so_and_gate_nothing() -> None:
    """Only the wet-wood limit holds work back, and it was read in a document."""
    recalled = {limit.rule for limit in moisture_limits() if limit.source.startswith("recalled")}
    assert recalled == {"ASTM C1060", "watch", "full"}
    wet = next(limit for limit in moisture_limits() if limit.rule == "wet")
    assert wet.value == 0.20


def test_whole_numbers_are_taken() -> None:
    """Readings typed without a decimal point reduce like any others."""
    test = MoistureTest(
        (AirReading("a", PlaceKind.OUTDOORS, 280, 1), replace(HALL, temperature=294))
    )
    assert len(reduce_moisture(test).places) == 2
