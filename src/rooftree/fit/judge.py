"""What is odd about a fitted network: contradictions, what is not told, what to read next."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.stats import chi2

from rooftree.finding import Finding, Severity
from rooftree.fit.measured import IMPOSSIBLE
from rooftree.fit.unknowns import Role

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from rooftree.fit.network import FittedNetwork, FittedUnknown

UNLIKELY = 1e-3
"""Probability below which readings are said to contradict each other or the record [0-1]: once
in a thousand sound jobs."""

ALIKE = 0.5
"""Share of the largest misfit from which another test is named beside it [0-1]."""

ODD = 3.0
"""Distance of a size from what was described, over its spread before any reading, that says
the house was described wrongly [-]."""

UNTOLD = 0.36
"""Share of the variance before any reading below which the readings tell little [0-1]: the
spread is still four fifths of what it was."""

WORTH_A_READING = 0.1
"""Part of what is unsure that a further reading must take away to be proposed [0-1]."""

NETWORK = "the air network of this house, fitted to all readings together"


def judge_network(
    network: FittedNetwork,
    rows: NDArray[np.float64],
    residual: NDArray[np.float64],
    covariance: NDArray[np.float64],
) -> tuple[Finding, ...]:
    """Return what is odd about a fitted network.

    Parameters
    ----------
    network : FittedNetwork
        The fit.
    rows : ndarray, shape (m, n)
        Derivatives of the readings by all unknowns, over their uncertainty [-].
    residual : ndarray, shape (m,)
        Simulated less read, over the uncertainty [-].
    covariance : ndarray, shape (n, n)
        Of all unknowns [-].

    Returns
    -------
    tuple of Finding

    Notes
    -----
    Were a test left out, the misfit would sink by ``r' (1 - H)^-1 r`` with its own block of
    ``H = J S J'``, which is chi-squared with as many degrees of freedom as it has numbers:
    that is what makes a test stand out, and two that contradict each other stand out alike.
    """
    return (
        *_unusable(network),
        *_contradictions(network, rows, residual, covariance),
        *_far_off(network),
        *_untold(network),
    )


def misfit_by_test(
    network: FittedNetwork,
    rows: NDArray[np.float64],
    residual: NDArray[np.float64],
    covariance: NDArray[np.float64],
) -> dict[str, tuple[float, float]]:
    """Return by how much the misfit would sink without each test, and how likely that is.

    Parameters
    ----------
    network : FittedNetwork
        The fit.
    rows : ndarray, shape (m, n)
        Derivatives of the readings by all unknowns, over their uncertainty [-].
    residual : ndarray, shape (m,)
        Simulated less read, over the uncertainty [-].
    covariance : ndarray, shape (n, n)
        Of all unknowns [-].

    Returns
    -------
    dict
        Misfit [-] and probability of so large a one by chance [0-1], by name of the test.
    """
    tests: dict[str, list[int]] = {}
    for i, reading in enumerate(network.readings):
        tests.setdefault(reading.test, []).append(i)
    found = {}
    for name, places in tests.items():
        own = rows[places]
        left = np.eye(len(places)) - own @ covariance @ own.T
        mine = residual[places]
        sinks = float(mine @ np.linalg.solve(left + 1e-12 * np.eye(len(places)), mine))
        found[name] = (sinks, float(chi2.sf(sinks, len(places))))
    return found


def _unusable(network: FittedNetwork) -> Iterator[Finding]:
    for one in network.not_used:
        if one.is_told:
            code = "fit/impossible" if one.why == IMPOSSIBLE else "test/not-in-house"
            says = f"{one.test} is not put into the house: {one.why}."
            yield Finding(code, Severity.NOTE, says, about=one.test)


def _contradictions(
    network: FittedNetwork,
    rows: NDArray[np.float64],
    residual: NDArray[np.float64],
    covariance: NDArray[np.float64],
) -> Iterator[Finding]:
    by_test = misfit_by_test(network, rows, residual, covariance)
    limit = UNLIKELY / max(len(by_test), 1)
    suspects = {name: sinks for name, (sinks, chance) in by_test.items() if chance < limit}
    if not suspects:
        return
    worst = max(suspects.values())
    named = sorted(
        (name for name, sinks in suspects.items() if sinks >= ALIKE * worst),
        key=lambda name: -suspects[name],
    )
    if len(named) == 1:
        says = (
            f"{named[0]} cannot be brought together with the other readings and with the record, "
            "whatever the sizes of the leaks; read it again, and look for an opening that the "
            "record does not have."
        )
    else:
        says = (
            f"{_listed(named)} contradict each other: no sizes of leaks give all of them. Read "
            "again the one that was taken with less care, and check the units and that nothing "
            "was opened or closed between them."
        )
    yield Finding(
        "fit/contradiction", Severity.NOTE, says, network.misfit, float(network.freedom), "-",
        NETWORK, named[0],
    )  # fmt: skip


def _listed(names: list[str]) -> str:
    quoted = [f"“{name}”" for name in names]
    return f"{', '.join(quoted[:-1])} and {quoted[-1]}"


def _far_off(network: FittedNetwork) -> Iterator[Finding]:
    for one in network.unknowns:
        off = one.value / one.prior_spread
        if one.unknown.role is Role.SIZE and abs(off) > ODD:
            much = "larger" if off > 0.0 else "smaller"
            says = (
                f"By the readings the {one.unknown.says} are {much} than described, far beyond "
                "what a guess by place may be off; look for a hole that the record does not "
                "have, or one it has too many."
            )
            yield Finding("fit/scale", Severity.NOTE, says, off, ODD, "-", NETWORK)


def _untold(network: FittedNetwork) -> Iterator[Finding]:
    """Yield what the readings leave as it was guessed, with the reading to take next."""
    if not network.readings:
        return
    left = [one for one in network.unknowns if _is_untold(one)]
    best = next((one for one in network.worth if one.reduction >= WORTH_A_READING), None)
    if best is None or not left:
        return
    names = "; ".join(one.unknown.says for one in left[:4])
    says = (
        f"The readings hardly tell these sizes, which stay about as they were guessed: {names}. "
        f"Most would be told by {best.says}: {100.0 * best.reduction:.0f} % of what is still "
        "unsure about where the air leaks."
    )
    yield Finding(
        "fit/untold", Severity.NOTE, says, best.reduction, WORTH_A_READING, "0-1", NETWORK,
        best.space,
    )  # fmt: skip


def _is_untold(one: FittedUnknown) -> bool:
    is_guess = one.unknown.role is Role.SIZE and one.unknown.spread > 0.35
    return is_guess and 1.0 - (one.spread / one.unknown.spread) ** 2 < UNTOLD
