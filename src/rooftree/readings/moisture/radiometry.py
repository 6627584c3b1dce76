"""What an infrared instrument shows, corrected for the emissivity of the face."""

from __future__ import annotations

import math

from rooftree.errors import OutOfRangeError


def true_temperature(
    shown: float, set_emissivity: float, emissivity: float, mirrored: float
) -> float:
    """Return the temperature of a face from what an infrared instrument shows.

    Parameters
    ----------
    shown : float
        Temperature shown [K].
    set_emissivity : float
        Emissivity set on the instrument [0-1], > 0; 1 for the apparent temperature.
    emissivity : float
        Of the face [0-1], > 0.
    mirrored : float
        Temperature of what the face mirrors, and that the instrument takes for it [K].

    Returns
    -------
    float
        Temperature of the face [K].

    Raises
    ------
    OutOfRangeError
        If an emissivity is not in its range, or the face would have to be below 0 K.

    Notes
    -----
    The signal is ``e T_face⁴ + (1 - e) T_mirrored⁴``, the path of a few meters of air being
    clear (transmission above 0.99). Real instruments see a band, not all wavelengths: tenths
    of a kelvin between 0 and 40 °C.

    Examples
    --------
    >>> round(true_temperature(288.15, 1.0, 0.95, 293.15) - 273.15, 2)
    14.73
    """
    for name, value in (("set emissivity", set_emissivity), ("emissivity", emissivity)):
        if not 0.0 < value <= 1.0:
            raise OutOfRangeError(name, value, 0.0, 1.0, "[-]")
    around = mirrored**4
    signal = set_emissivity * shown**4 + (1.0 - set_emissivity) * around
    face = (signal - (1.0 - emissivity) * around) / emissivity
    if face <= 0.0:
        raise OutOfRangeError("signal of the face", face, 0.0, math.inf, "K⁴")
    return float(face**0.25)
