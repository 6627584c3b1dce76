"""Check the page that says what a year of the house tells, and what its script asks for."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from rooftree.actions.diagnosis import diagnosis_of
from rooftree.actions.jobs import load_job
from rooftree.diagnosis.air import AppliancePressure
from rooftree.diagnosis.materials import material_kind
from rooftree.diagnosis.rooms import OddRoom, RoomCause
from rooftree.units import DisplaySystem
from rooftree.web.diagnosis.energy_charts import (
    REST,
    Stack,
    cause_chart,
    energy_months,
    money_chart,
    stacked_causes,
)
from rooftree.web.diagnosis.pressure_chart import pressure_chart
from rooftree.web.diagnosis.room_chart import room_chart
from rooftree.web.diagnosis.weeks import WEEKS, by_week, damp_strips, week_words

if TYPE_CHECKING:
    from starlette.testclient import TestClient

    from rooftree.diagnosis import Diagnosis
    from rooftree.records import Store

IP, SI = DisplaySystem.IP, DisplaySystem.SI


@pytest.fixture(scope="module")
def diagnosis(store: Store, job_name: str) -> Diagnosis:
    """Return the diagnosis of the demo."""
    return diagnosis_of(load_job(store, job_name))


def test_the_page_has_every_part(client: TestClient, job_path: str) -> None:
    """Section, heat and money, rooms, air, burners and damp places are on it."""
    text = client.get(f"{job_path}/diagnosis").text
    for head in ("Heat and money", "Rooms", "Where the air comes from", "What pulls on the burners",
                 "What gets damp, and when"):  # fmt: skip
        assert f">{head}</h2>" in text
    assert text.count("data-chart=") >= 6
    assert "data-moments=" in text
    assert 'aria-current="page">Diagnosis</a>' in text


def test_burners_come_with_the_usual_caution(client: TestClient, job_path: str) -> None:
    """No page about burners is without it."""
    text = client.get(f"{job_path}/diagnosis").text
    assert "is no test" in text
    assert "carbon monoxide" in text
    assert "licensed" in text
    assert "local codes" in text


def test_every_chart_has_words_and_a_table(client: TestClient, job_path: str) -> None:
    """Each figure has a caption, a text for who cannot see it, and its numbers."""
    text = client.get(f"{job_path}/diagnosis").text
    figures = re.findall(r"<figure class=\"chart.*?</figure>", text, re.DOTALL)
    assert len(figures) >= 6
    for figure in figures:
        assert re.search(r"<figcaption>[^<]{10,}[.]</figcaption>", figure)
        assert re.search(r'role="img" aria-label="[^"]{30,}"', figure)
        assert figure.count("<tr>") >= 3


@pytest.mark.parametrize(
    ("units", "own", "other"), [("ip", "Btu/h", " kW<"), ("si", "kW", "Btu/h")]
)
def test_numbers_are_in_the_chosen_units(
    client: TestClient, job_path: str, units: str, own: str, other: str
) -> None:
    """What is shown follows the choice of units."""
    client.cookies.set("rooftree-units", units)
    text = client.get(f"{job_path}/diagnosis").text
    assert own in text
    assert other not in text
    assert ("°F</td>" in text) == (units == "ip")


def test_any_moment_has_an_address(client: TestClient, job_path: str) -> None:
    """Without a script the form leads to each moment; what is no moment falls back."""
    noon = client.get(f"{job_path}/diagnosis?show=january&at=12").text
    assert "January, noon, mean of the month" in noon
    july = client.get(f"{job_path}/diagnosis?show=year&at=6").text
    assert "July, mean of the month" in july
    day = client.get(f"{job_path}/diagnosis?show=day&day=200&at=99").text
    assert "19 July, 11 p.m." in day
    for query in ("show=smarch", "at=x", "show=day&day=0", "day=99999999999"):
        assert client.get(f"{job_path}/diagnosis?{query}").status_code == 200


def test_moments_are_sent_for_the_script(client: TestClient, job_path: str) -> None:
    """A day is 24 moments with a value for each changing part of the drawing."""
    page = client.get(f"{job_path}/diagnosis").text
    places = {int(place) for place in re.findall(r'data-place="(\d+)"', page)}
    for name, count in (("coldest", 24), ("year", 12), ("day-36", 24)):
        sent = client.get(f"{job_path}/diagnosis/moments/{name}").json()
        assert len(sent["moments"]) == count
        for moment in sent["moments"]:
            assert set(range(len(moment["values"]))) == places


def test_unknown_moments_are_not_found(client: TestClient, job_path: str) -> None:
    """A name that is none is told as such."""
    for name in ("smarch", "day-366", "day-0"):
        assert client.get(f"{job_path}/diagnosis/moments/{name}").status_code == 404


@pytest.mark.parametrize("use", ["heating", "cooling"])
def test_a_stack_holds_all_energy_of_its_use(diagnosis: Diagnosis, use: str) -> None:
    """Month by month the parts sum to what is bought for heating, or for cooling."""
    stack = stacked_causes(diagnosis.energy, diagnosis.year.house, use)
    fuels = diagnosis.energy.heating if use == "heating" else diagnosis.energy.cooling
    assert stack.total == pytest.approx(sum(fuels.values()), rel=1e-6)
    assert len(stack.parts) <= 7
    sums = [months.sum() for name, months in stack.parts.items() if name != REST]
    assert sums == sorted(sums, reverse=True)


def test_months_of_a_cause_sum_to_its_year(diagnosis: Diagnosis) -> None:
    """What a cause takes by month is what it takes in the year."""
    for cause in diagnosis.energy.causes:
        months = energy_months(cause, "heating").sum() + energy_months(cause, "cooling").sum()
        assert months == pytest.approx(sum(cause.energy.values()), rel=1e-9, abs=1.0)


def test_a_chart_of_causes_says_the_largest(diagnosis: Diagnosis) -> None:
    """The title names the largest part, the table has each month and the year."""
    months = np.full(12, 1e9)
    drawing = cause_chart(Stack({"walls": 3.0 * months, "glass": months}), "heating", IP)
    assert drawing.title == "75 % of the energy for heating goes to walls."
    assert [row[0] for row in drawing.rows][-2:] == ["December", "Year"]
    assert drawing.columns[1:] == ("Walls, MMBtu", "Glass, MMBtu", "All, MMBtu")
    assert drawing.rows[0][1:] == ("2.8", "0.9", "3.8")
    assert [swatch.words for swatch in drawing.legend] == ["walls", "glass"]
    depths = [swatch.depth for swatch in drawing.legend]
    assert depths == sorted(depths, reverse=True)
    assert diagnosis.energy.causes


def test_money_sums_to_the_bills(store: Store, job_name: str, diagnosis: Diagnosis) -> None:
    """The chart of money holds what energy costs, standing charges left out."""
    job = load_job(store, job_name)
    drawing = money_chart(diagnosis.year.result, job.tariff)
    bought = diagnosis.year.result.energy.items()
    cost = sum(float(months.sum()) * job.tariff.price[fuel] for (fuel, _), months in bought)
    assert f"${round(cost, -1):,.0f} a year" in drawing.title
    assert drawing.rows[-1][-1] == f"{cost:,.0f}"


def test_a_room_chart_names_what_works_most() -> None:
    """The strongest cause is in the title; tiny ones are in the table only."""
    causes = (
        RoomCause("floor", ("garage",), -5.0, -1.0),
        RoomCause("glass", ("outdoors",), -2.0, -1.95),
        RoomCause("ceiling", ("attic",), -1.0, -2.0),
    )
    odd = OddRoom("bonus", "living", "heating", -1.1, 10.0, 2.0, causes)
    drawing = room_chart(odd, "bonus room", "living space", SI)
    assert drawing.title == "Why the bonus room is colder than the living space: above all, floor."
    drawn = [value["cause"] for value in drawing.spec["data"]["values"]]
    assert drawn == ["floor", "ceiling"]
    assert drawing.rows[0] == ("floor (garage)", "−5.00", "−1.00", "−4.00")
    assert len(drawing.rows) == 3
    hot = room_chart(replace(odd, season="cooling"), "bonus room", "living space", IP)
    assert "hotter" in hot.title
    assert hot.columns[1] == "Here, Btu/(h·ft²)"


def test_a_pressure_chart_has_limit_and_weeks() -> None:
    """Title, key and table tell the lowest pressure and the limit."""
    pressure = np.full(8760, -1.0)
    pressure[200] = -4.25
    burner = AppliancePressure("water heater", "living", 2.0, "recalled", -4.25, 1.0, 1.0)
    drawing = pressure_chart(burner, pressure, "utility closet")
    assert drawing.title == (
        "At the water heater the utility closet falls to −4.2 Pa against outdoors; −2 Pa is the "
        "limit."
    )
    assert "dashed" in drawing.key
    assert len(drawing.rows) == WEEKS
    assert drawing.rows[1] == ("from 8 January", "−4.2", "−1.0", "−1.0")
    free = pressure_chart(replace(burner, limit=None), pressure, "closet")
    assert "limit" not in free.title + free.key


def test_weeks_leave_no_hour_out() -> None:
    """52 weeks hold the 8760 hours, the last one with the day that is left."""
    weeks = by_week(np.arange(8760.0))
    assert len(weeks) == WEEKS
    assert {week.size for week in weeks[:-1]} == {168}
    assert np.concatenate(weeks).size == 8760
    assert week_words(0) == "from 1 January"


def test_strips_say_when_a_place_is_damp(diagnosis: Diagnosis) -> None:
    """Weeks below the dew point are wet, weeks above 80 % damp, and words say the same."""
    place = diagnosis.damp.places[0]
    warm, vapor = np.full(8760, 290.0), np.full(8760, 900.0)  # 46 % of 1.94 kPa
    vapor[: 168 * 2] = 1700.0  # 88 %
    vapor[168 * 20 : 168 * 21] = 2100.0  # above saturation
    changed = replace(
        place,
        place=replace(place.place, temperature=warm, vapor=vapor, wets=np.ones(8760)),
    )
    dry = replace(place, place=replace(place.place, temperature=warm, vapor=np.full(8760, 900.0)))
    (strip,) = damp_strips([changed, dry])
    assert strip.weeks[:3] == ("damp", "damp", "dry")
    assert strip.weeks[20] == "wet"
    assert strip.alternative == "damp in January, wet in May"
    assert sum(count for _, _, count in strip.runs) == WEEKS


@pytest.mark.parametrize(("words", "state"), [("plywood", "damp"), ("gypsum board", "wet")])
def test_wood_forgives_the_dew_of_a_night(diagnosis: Diagnosis, words: str, state: str) -> None:
    """Two hours below the dew point each night wet a board that cannot take them up, not wood."""
    place = diagnosis.damp.places[0]
    vapor = np.full(8760, 1620.0)  # 84 % of 1.94 kPa: 17 % of moisture in wood
    vapor[np.arange(8760) % 24 < 2] = 2000.0
    changed = replace(
        place.place, temperature=np.full(8760, 290.0), vapor=vapor, wets=np.ones(8760),
        material=material_kind(words),
    )  # fmt: skip
    (strip,) = damp_strips([replace(place, place=changed)])
    assert set(strip.weeks) == {state}
