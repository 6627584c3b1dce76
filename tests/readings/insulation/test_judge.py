"""Check what an insulation survey is doubted for, and that a good one is not."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from readings.insulation.making import INCH, R, patch, survey
from rooftree.finding import Severity
from rooftree.readings.insulation import (
    DepthPoint,
    Grade,
    InsulationSurvey,
    Material,
    Spot,
    reduce_insulation,
)
from rooftree.units import told

if TYPE_CHECKING:
    from collections.abc import Iterable


def codes(of: InsulationSurvey) -> set[str]:
    """Return the codes of its findings, without their kind."""
    return {f.code.removeprefix("insulation/") for f in reduce_insulation(of).findings}


def sentence(of: InsulationSurvey, code: str) -> str:
    """Return what one finding says."""
    found = reduce_insulation(of).findings
    return next(f.says for f in found if f.code == f"insulation/{code}")


def test_a_good_survey_raises_nothing() -> None:
    """Four depths that scatter a little, a share of voids and the right area raise nothing."""
    assert codes(survey((10.0, 9.0, 11.5, 10.5), area=101.0)) == set()


@pytest.mark.parametrize(
    ("depths", "code"),
    [
        ((10.0, 9.0), "few-depths"),
        ((10.0, 9.0, 11.0, 3.9), "odd-depth"),
        ((10.0, 9.0, 11.0, 25.4), "odd-depth"),
        ((10.0, 10.0, 10.0), "same-depths"),
        ((10.0, 9.0, 11.0, -1.0), "negative-depth"),
        ((40.0, 38.0, 42.0), "too-deep"),
        ((), "no-depth"),
    ],
)
def test_depths_are_doubted(depths: Iterable[float], code: str) -> None:
    """Too few, odd, copied, impossible and missing depths each have their finding."""
    assert code in codes(survey(depths))


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"void_share": None}, "not-graded"),
        ({"void_share": 0.06}, "voids"),
        ({"void_share": 0.02, "grade": Grade.I}, "grade"),
        ({"density": 60.0}, "density"),
        ({"age": 0.0}, "settles"),
        ({"material": Material.LOOSE_GLASS}, "cold-air"),
        ({"claimed_resistance": 60 * R}, "claim"),
        ({"area": 0.0}, "no-area"),
    ],
)
def test_patches_are_doubted(changes: dict[str, Any], code: str) -> None:
    """What is said of a patch and cannot be, or matters, has its finding."""
    assert code in codes(survey((10.0, 9.0, 11.5, 10.5), part=patch(**changes)))


def test_depths_at_the_hatch_only() -> None:
    """Depths read at the access alone are doubted and widen the range."""
    plain = survey((10.0, 9.0, 11.0))
    hatch = replace(plain, depths=tuple(replace(p, spot=Spot.HATCH) for p in plain.depths))
    assert "hatch-only" in codes(hatch)
    one, other = reduce_insulation(plain).total, reduce_insulation(hatch).total
    assert one is not None
    assert other is not None
    assert other.standard > 1.5 * one.standard


def test_old_batts_claimed_to_be_more() -> None:
    """R-11 claimed for an inch of old batts is almost certain to be too much."""
    old = survey(
        (1.0, 1.25, 0.75), part=patch(material=Material.GLASS_BATT, claimed_resistance=11 * R)
    )
    assert told(sentence(old, "claim"), None) == (
        "all is said to have R-11 (1.9 m²·K/W), and 1 in (25 mm) of glass fiber batt has about "
        "R-3.3 (0.58 m²·K/W) at best: that the claim is too high is almost certain. Photograph a "
        "ruler in it and use the depth."
    )


def test_an_honest_claim_is_not_doubted() -> None:
    """A claim within the range of the material and the depths is left alone."""
    assert "claim" not in codes(survey(part=patch(claimed_resistance=35 * R)))


def test_slip_of_the_unit_is_named() -> None:
    """A depth that is 2.54 times the others names the two units."""
    assert sentence(survey((10.0, 9.0, 11.0, 25.4)), "odd-depth").startswith(
        "One depth of all is 2.5 times the middle of the others. The ratio is that of inches and "
        "centimeters. A slip of the unit or the pen is "
    )


def test_eaves_are_not_odd() -> None:
    """Thin insulation along the eave is usual and no slip."""
    plain = survey((10.0, 9.0, 11.0))
    eave = DepthPoint("", 3.0 * INCH, Spot.EAVE)
    assert "odd-depth" not in codes(replace(plain, depths=(*plain.depths, eave)))


def test_patches_and_place_must_agree() -> None:
    """Patches that come to 80 % of the place raise a doubt, 97 % does not."""
    assert "area" in codes(survey(area=125.0))
    assert "area" not in codes(survey(area=103.0))


def test_depth_of_no_patch() -> None:
    """A depth that names no patch is left out and named."""
    plain = survey((10.0, 9.0, 11.0))
    more = replace(plain, depths=(*plain.depths, DepthPoint("attic of the neighbor", 0.1)))
    assert "unknown-patch" in codes(more)
    assert reduce_insulation(more).total == reduce_insulation(plain).total


def test_batts_thinner_than_their_grade() -> None:
    """Grade I with a third of its depths squeezed below 70 % of the label is contradicted."""
    part = patch(
        material=Material.GLASS_BATT, label_resistance=19 * R, label_depth=6.25 * INCH,
        grade=Grade.I, void_share=None,
    )  # fmt: skip
    assert "grade" in codes(survey((6.0, 6.25, 4.0), part=part))
    assert "grade" not in codes(survey((6.0, 6.25, 5.5), part=part))


def test_deeper_than_its_label() -> None:
    """A batt a third deeper than its label is another batt, or two."""
    part = patch(material=Material.GLASS_BATT, label_resistance=11 * R, label_depth=3.5 * INCH)
    assert "deeper-than-label" in codes(survey((5.0, 4.8, 5.2), part=part))


def test_vermiculite_stops_the_work() -> None:
    """Vermiculite is a STOP, with its cautions."""
    found = reduce_insulation(survey(part=patch(material=Material.VERMICULITE))).findings
    stop = next(f for f in found if f.code == "insulation/vermiculite")
    assert stop.severity is Severity.STOP
    assert "asbestos" in stop.says


def test_cover_stops_the_air() -> None:
    """Loose glass fiber with a cover, or at a known difference, needs no warning."""
    glass = patch(material=Material.LOOSE_GLASS)
    assert "cold-air" not in codes(survey(part=replace(glass, air_covered=True)))
    assert "cold-air" not in codes(survey(part=glass, temperature_difference=30.0))
