"""Check the emissivity correction by hand-made balances of radiation."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rooftree.errors import OutOfRangeError
from rooftree.readings.moisture.limits import emissivities
from rooftree.readings.moisture.radiometry import true_temperature
from rooftree.readings.moisture.readings import Finish, MoistureTest

ZERO = 273.15


@pytest.mark.parametrize(
    ("apparent", "emissivity", "mirrored", "true"),
    [(15.0, 0.95, 20.0, 14.73), (15.0, 0.90, 20.0, 14.43), (5.0, 0.92, -20.0, 6.88),
     (40.0, 0.90, 20.0, 42.00)],
)  # fmt: skip
def test_fourth_powers_by_hand(
    apparent: float, emissivity: float, mirrored: float, true: float
) -> None:
    """Worked by hand, to 0.02 K."""
    found = true_temperature(apparent + ZERO, 1.0, emissivity, mirrored + ZERO)
    assert found - ZERO == pytest.approx(true, abs=0.02)


def test_bare_metal_multiplies_every_error() -> None:
    """At emissivity 0.10 a reading 3 K above what is mirrored means some 27 K."""
    assert true_temperature(25.0 + ZERO, 1.0, 0.10, 22.0 + ZERO) - ZERO == pytest.approx(
        48.6, abs=1.0
    )


@given(st.floats(250.0, 330.0), st.floats(0.5, 1.0), st.floats(260.0, 320.0))
def test_right_setting_changes_nothing(shown: float, emissivity: float, mirrored: float) -> None:
    """An instrument set to the emissivity of the face shows its temperature."""
    assert true_temperature(shown, emissivity, emissivity, mirrored) == pytest.approx(shown)


@given(st.floats(260.0, 320.0), st.floats(0.5, 1.0))
def test_a_face_as_warm_as_its_surroundings(temperature: float, emissivity: float) -> None:
    """Nothing can be wrong where the face mirrors its own temperature."""
    found = true_temperature(temperature, 0.95, emissivity, temperature)
    assert found == pytest.approx(temperature)


def test_no_emissivity_of_zero() -> None:
    """A face that radiates nothing has no temperature to see."""
    with pytest.raises(OutOfRangeError, match=r"^emissivity is 0 \[-\]; .* 0 to 1 \[-\]$"):
        true_temperature(290.0, 0.95, 0.0, 290.0)
    with pytest.raises(OutOfRangeError, match=r"^set emissivity is 1\.2 \[-\]; .*$"):
        true_temperature(290.0, 1.2, 0.9, 290.0)
    with pytest.raises(OutOfRangeError, match=r"^signal of the face is .* K⁴$"):
        true_temperature(200.0, 1.0, 0.2, 330.0)


@pytest.mark.published(
    source="ASHRAE Handbook - Fundamentals (2021), ch. 26",
    where="Table 2: wood, paper, masonry, paint 0.90; glass 0.84; galvanized 0.25; foil 0.05",
    read="source",
)
def test_emissivities_of_the_handbook() -> None:
    """The table of finishes is the handbook's."""
    assert emissivities() == {
        Finish.ORDINARY: 0.90, Finish.GLASS: 0.84, Finish.DULL_METAL: 0.25, Finish.FOIL: 0.05,
    }  # fmt: skip


@pytest.mark.published(
    source="Chen & Chen, Construction and Building Materials 126 (2016) 130",
    where="abstract: red brick 0.944, wood 0.902, flat glass 0.911",
    read="source",
)
@pytest.mark.parametrize(
    ("finish", "measured"),
    [(Finish.ORDINARY, 0.944), (Finish.ORDINARY, 0.902), (Finish.GLASS, 0.911)],
)
def test_measured_emissivities(finish: Finish, measured: float) -> None:
    """Measured ones lie within three standard uncertainties of the emissivity used."""
    doubt = 3.0 * MoistureTest(()).emissivity_uncertainty
    assert emissivities()[finish] == pytest.approx(measured, abs=doubt)
