"""Check the effective resistance of a place against published sums and laws."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from readings.insulation.making import INCH, R, patch, survey
from rooftree.errors import OutOfRangeError
from rooftree.readings.insulation import (
    Contact,
    DepthPoint,
    Grade,
    InsulationSurvey,
    Material,
    Method,
    Position,
    reduce_insulation,
)
from rooftree.readings.insulation.materials import conductivity_of
from rooftree.units import DisplaySystem, told

depth = st.floats(0.5, 20.0)


def total(of: InsulationSurvey, method: Method = Method.PARALLEL) -> float:
    """Return the resistance from air to air [R]."""
    found = reduce_insulation(of, method=method).total
    assert found is not None
    return found.value / R


@pytest.mark.published(
    source="ANSI/ASHRAE/IES 90.1, table A2.4",
    where="attics with standard framing, R-19 to R-49",
    read="memory",
)
@pytest.mark.parametrize(
    ("label", "printed"), [(19.0, 0.053), (30.0, 0.034), (38.0, 0.027), (49.0, 0.021)]
)
def test_vented_attics_of_the_standard(label: float, printed: float) -> None:
    """85 % full and 5 % half as deep, 10 % joists: the printed U, to its last digit.

    The standard reckons with R-3 an inch; loose rock wool at R-3 stands for it.
    """
    k = INCH / (3.0 * R)
    ratio = conductivity_of(Material.LOOSE_ROCK_WOOL).value / k
    parts = tuple(
        patch(name=name, area=area, material=Material.LOOSE_ROCK_WOOL, framing_share=0.1)
        for name, area in (("full", 0.95), ("eaves", 0.05))
    )
    deep = label / 3.0 * INCH * ratio
    points = (*(DepthPoint("full", deep),) * 3, *(DepthPoint("eaves", 0.5 * deep),) * 3)
    joists = 3.5 * INCH * ratio
    attic = InsulationSurvey(
        "the attic",
        Position.ATTIC_FLOOR,
        tuple(
            replace(part, framing_depth=joists, framing_share=0.1 if part.name == "full" else 0.0)
            for part in parts
        ),
        points,
    )
    # Joists of 10 % of the whole lie in the full part, and resist whatever their depth.
    full, eaves = (part for part in attic.patches)
    attic = replace(attic, patches=(replace(full, framing_share=0.10 / 0.95), eaves))
    found = reduce_insulation(attic, method=Method.PARALLEL)
    assert found.transmittance is not None
    assert found.transmittance.value * R == pytest.approx(printed, abs=0.0005 + 0.0006)


@pytest.mark.parametrize(
    ("grade", "printed"), [(Grade.I, 12.03), (Grade.II, 11.54), (Grade.III, 10.87)]
)
def test_wall_by_grade(grade: Grade, printed: float) -> None:
    """A wall of 23 % framing and R-13 in its cavities loses by grade what the sum says, to R-0.02.

    Other layers R-2.50 in all, stud R-4.38, a void as good as R-0.9 of air.
    """
    wall = survey(
        (3.5, 3.5, 3.5),
        position=Position.WALL,
        part=patch(
            material=Material.GLASS_BATT,
            label_resistance=13 * R,
            label_depth=3.5 * INCH,
            framing_share=0.23,
            framing_depth=4.38 * R * 0.12,
            void_share=None,
            grade=grade,
        ),
        other_resistance=2.50 * R - 0.150,
    )
    assert total(wall) == pytest.approx(printed, abs=0.02)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals 2021, chapter 26, citing Verschoor 1977",
    where="voids of 4 % round R-19 ceiling batts halve what they resist",
    read="quoted in a working summary of the chapter",
)
def test_voids_that_halve_an_attic() -> None:
    """The measured halving of R-19 by 4 % of voids lies within the range given."""
    ceiling = survey(
        (6.25, 6.25, 6.25),
        part=patch(
            material=Material.GLASS_BATT,
            label_resistance=19 * R,
            label_depth=6.25 * INCH,
            void_share=0.04,
        ),
    )
    found = reduce_insulation(ceiling).resistance
    assert found is not None
    assert found.low <= 0.5 * 19 * R <= found.high


@pytest.mark.published(
    source="Warmer Mornings (blog), lumpy attic insulation", where="R-10 and R-50", read="source"
)
def test_lumpy_attic() -> None:
    """Half at R-10 and half at R-50 in all work as R-16.7, not R-30, to its last digit."""
    k = conductivity_of(Material.LOOSE_ROCK_WOOL).value
    around = (0.61 + 0.46 + 0.56) * R
    parts = tuple(patch(name=n, material=Material.LOOSE_ROCK_WOOL) for n in ("thin", "thick"))
    points = tuple(
        DepthPoint(name, (whole * R - around) * k)
        for name, whole in (("thin", 10.0), ("thick", 50.0))
        for _ in range(3)
    )
    attic = InsulationSurvey("the attic", Position.ATTIC_FLOOR, parts, points)
    assert total(attic) == pytest.approx(16.7, abs=0.06)


def test_missing_knee_wall_insulation() -> None:
    """A bare knee wall loses 7.8 times as much as one with R-19, to 1 %.

    Bare: board 0.45 and two still films of 0.68 (U 0.552). With R-19 in 5 1/2 in and 20 % of
    framing of R-4.38: U 0.0708.
    """
    part = patch(
        material=Material.GLASS_BATT,
        label_resistance=19 * R,
        label_depth=6.25 * INCH,
        framing_share=0.20,
        framing_depth=4.38 * R * 0.12,
        covers_framing=False,
    )
    knee = survey(
        (6.25,) * 3, position=Position.KNEE_WALL, part=part, other_resistance=1.81 * R - 0.24
    )
    bare = replace(knee, patches=(replace(part, covered_share=0.0, framing_share=0.0),))
    assert total(bare) == pytest.approx(1.81, rel=0.01)
    assert total(knee) == pytest.approx(1.0 / 0.0708, rel=0.01)
    assert total(knee) / total(bare) == pytest.approx(7.8, rel=0.01)


@given(st.lists(depth, min_size=3, max_size=8))
def test_uneven_depth_never_helps(depths: list[float]) -> None:
    """Insulation of uneven depth resists no more than the same amount spread evenly."""
    even = [sum(depths) / len(depths)] * len(depths)
    assert total(survey(depths)) <= total(survey(even)) * (1.0 + 1e-9)


@given(st.lists(depth, min_size=3, max_size=6), st.floats(0.1, 5.0))
def test_more_depth_resists_more(depths: list[float], more: float) -> None:
    """An inch more everywhere resists more."""
    assert total(survey([each + more for each in depths])) > total(survey(depths))


@pytest.mark.parametrize(
    "spoilt",
    [
        {"void_share": 0.02},
        {"framing_share": 0.1},
        {"covered_share": 0.95},
        {"washed_share": 0.2},
        {"contact": Contact.OPEN_GAP},
        {"age": 0.0},
        {"grade": Grade.III, "void_share": None},
    ],
)
def test_every_defect_costs(spoilt: dict[str, Any]) -> None:
    """Each defect lowers the resistance, has a line of its own, and lines add up."""
    good, bad = survey(), survey(part=patch(**spoilt))
    found = reduce_insulation(bad, method=Method.PARALLEL)
    assert total(bad) < total(good)
    assert len(found.costs) >= 1
    assert found.total is not None
    assert found.conductance is not None
    assert found.intended is not None
    around = (0.107 + 0.081) + 0.099
    lost = sum(cost.resistance for cost in found.costs)
    assert found.intended + around - lost == pytest.approx(found.total.value, rel=1e-6)
    heat = sum(cost.conductance for cost in found.costs)
    meant = found.area / (found.intended + around)
    assert meant + heat == pytest.approx(found.conductance.value, rel=1e-6)


def test_closed_gap_with_foil_helps() -> None:
    """A closed gap adds a little, one with clean foil more, an open one takes away."""
    plain, closed, foil, open_gap = (
        total(survey(position=Position.FLOOR, part=patch(**changes)))
        for changes in (
            {},
            {"contact": Contact.CLOSED_GAP, "gap": 0.04},
            {"contact": Contact.CLOSED_GAP, "gap": 0.04, "reflective": True},
            {"contact": Contact.OPEN_GAP, "gap": 0.04},
        )
    )
    assert open_gap < plain < closed < foil


def test_methods_bracket_the_combined_one() -> None:
    """Parallel paths give most, isothermal planes least, the combined method their middle."""
    wall = survey(
        (3.5, 3.5, 3.5),
        position=Position.WALL,
        part=patch(
            material=Material.GLASS_BATT,
            label_resistance=13 * R,
            label_depth=3.5 * INCH,
            framing_share=0.25,
        ),
    )
    found = reduce_insulation(wall)
    by_method = found.by_method
    assert by_method is not None
    assert by_method.iso_6946 is not None
    assert by_method.planes < by_method.iso_6946 < by_method.parallel
    assert by_method.iso_6946 == pytest.approx(0.5 * (by_method.planes + by_method.parallel))
    assert found.total is not None
    assert found.total.low < by_method.planes < by_method.parallel < found.total.high


def test_metal_framing_is_beyond_the_combined_method() -> None:
    """Framing that conducts far better than wood takes the limits too far apart."""
    part = patch(material=Material.CLOSED_FOAM, framing_share=0.25, framing_depth=0.001)
    wall = survey((5.5,) * 3, position=Position.WALL, part=replace(part, covers_framing=False))
    found = reduce_insulation(wall)
    assert found.by_method is not None
    assert found.by_method.iso_6946 is None
    assert "insulation/limits-apart" in {finding.code for finding in found.findings}


def test_fewer_depths_widen_the_range() -> None:
    """The same depth read once leaves a wider range than read five times."""
    once, often = (
        reduce_insulation(survey(depths)).resistance for depths in ((10.0,), (10.0, 9.0, 11.0) * 3)
    )
    assert once is not None
    assert often is not None
    assert once.standard / once.value > 1.5 * often.standard / often.value


@given(st.floats(0.2, 50.0))
def test_area_is_a_weight_only(factor: float) -> None:
    """A place twice as large resists the same and lets twice the heat through."""
    one, other = (reduce_insulation(survey(part=patch(area=a))) for a in (10.0, 10.0 * factor))
    assert one.total is not None
    assert other.total is not None
    assert one.conductance is not None
    assert other.conductance is not None
    assert other.total.value == pytest.approx(one.total.value)
    assert other.conductance.value == pytest.approx(factor * one.conductance.value)


def test_patches_split_alike_are_one() -> None:
    """A patch cut in two with the same depths resists as before."""
    whole = survey((8.0, 10.0, 12.0))
    halves = InsulationSurvey(
        "the attic",
        Position.ATTIC_FLOOR,
        (patch(name="a", area=50.0), patch(name="b", area=50.0)),
        tuple(DepthPoint(n, d * INCH) for n in "ab" for d in (8.0, 10.0, 12.0)),
    )
    assert total(halves) == pytest.approx(total(whole))


def test_averaging_resistances_says_too_much() -> None:
    """The mean of the patches' resistances is above what they do together."""
    attic = InsulationSurvey(
        "the attic",
        Position.ATTIC_FLOOR,
        (patch(name="a"), patch(name="b")),
        tuple(DepthPoint(n, d * INCH) for n, d in (("a", 3.0), ("b", 15.0)) for _ in range(3)),
    )
    found = reduce_insulation(attic)
    assert found.resistance is not None
    assert found.mean_of_patches is not None
    assert found.mean_of_patches > 1.3 * found.resistance.value


def test_nothing_read_gives_nothing() -> None:
    """Without a depth or a label there is no value, a sentence and a finding."""
    found = reduce_insulation(survey(()))
    assert found.total is None
    assert (
        found.says == "the attic: nothing was read from which the insulation could be worked out."
    )
    assert {finding.code for finding in found.findings} == {"insulation/no-depth"}


def test_label_stands_in_for_depths() -> None:
    """A batt with a label and no depth counts as its label, with a finding."""
    found = reduce_insulation(
        survey(
            (),
            part=patch(
                material=Material.GLASS_BATT, label_resistance=19 * R, label_depth=6.25 * INCH
            ),
        )
    )
    assert found.resistance is not None
    assert found.resistance.value / R == pytest.approx(19.0)
    assert "insulation/no-depth" in {finding.code for finding in found.findings}


def test_bare_spots_are_depths_of_zero() -> None:
    """Depths of 0 are taken, and cost nearly all."""
    assert total(survey((10.0, 10.0, 0.0, 10.0))) < 0.3 * total(survey((10.0,) * 4))


def test_the_sentence_says_range_and_worst_defect() -> None:
    """The sentence names the place, the range and what costs most."""
    found = reduce_insulation(survey((12.0, 12.5, 11.5), part=patch(void_share=0.03)))
    assert told(found.says, DisplaySystem.IP) == (
        "the attic: the insulation works as R-9 to R-25, not as the R-40 of its depth or label; "
        "55 % of the heat goes through because of gaps and voids."
    )


@pytest.mark.parametrize("share", [-0.01, 1.01])
def test_share_out_of_range_is_refused(share: float) -> None:
    """A share must lie between 0 and 1; the message names the field and the patch."""
    with pytest.raises(
        OutOfRangeError,
        match=r"^void share of all is -?[\d.]+ \[0-1\]; the method covers 0 to 1 \[0-1\]$",
    ):
        reduce_insulation(survey(part=patch(void_share=share)))
