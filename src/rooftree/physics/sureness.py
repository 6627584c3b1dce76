"""How sure a doubt is, in plain words: from its odds or its distance in uncertainties."""

from __future__ import annotations

import math

ALMOST_CERTAIN, LIKELY = 0.95, 0.70
"""Probability from which a doubt is called so [0-1]; ours."""


def sureness(probability: float) -> str:
    """Return the words for a probability.

    Parameters
    ----------
    probability : float
        Of what is suspected [0-1].

    Returns
    -------
    str
        ``"almost certain"`` from 0.95, ``"likely"`` from 0.70, else ``"possible"``.

    Examples
    --------
    >>> sureness(0.8)
    'likely'
    """
    if probability >= ALMOST_CERTAIN:
        return "almost certain"
    return "likely" if probability >= LIKELY else "possible"


def probability_within(distance: float) -> float:
    """Return how rarely chance alone leads as far from the expected value.

    Parameters
    ----------
    distance : float
        From the expected value, in standard uncertainties, either way [-].

    Returns
    -------
    float
        Probability that a normal deviate stays nearer than that [0-1].

    Examples
    --------
    >>> round(probability_within(2.0), 4)
    0.9545
    """
    return math.erf(abs(distance) / math.sqrt(2.0))


def probability_from_odds(log_ratio: float) -> float:
    """Return how sure one of two explanations is, both held as likely before the reading.

    Parameters
    ----------
    log_ratio : float
        Natural logarithm of the likelihood of the suspected explanation over that of the
        other one [-].

    Returns
    -------
    float
        Probability of the suspected one [0-1].

    Notes
    -----
    Bayes' rule for even prior odds: ``L / (1 + L)``.

    Examples
    --------
    >>> probability_from_odds(0.0)
    0.5
    """
    if log_ratio >= 0.0:
        return 1.0 / (1.0 + math.exp(-log_ratio))
    return math.exp(log_ratio) / (1.0 + math.exp(log_ratio))
