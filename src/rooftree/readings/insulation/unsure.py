"""How unsure what patches let through is, input by input."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from rooftree.physics.propagation import propagate_positive
from rooftree.readings.insulation.through import EVERYTHING, transmittances

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rooftree.physics.propagation import Propagated
    from rooftree.readings.insulation.patch import PatchTerms


@dataclass(frozen=True, slots=True)
class Stepped:
    """A conductance at its best inputs, and how it changes as each is one doubt off.

    Attributes
    ----------
    base : float
        At the best inputs [W/K].
    moves : mapping of str to (float, float)
        For each key the changes as its inputs are moved up and down [W/K].
    """

    base: float
    moves: Mapping[str, tuple[float, float]]

    def resistance(self, area: float) -> Propagated:
        """Return the resistance of an area with this conductance.

        Parameters
        ----------
        area : float
            [m²].

        Returns
        -------
        Propagated
            From air to air [m²·K/W]; each key by its own step, as
            :func:`~rooftree.physics.propagation.propagate_positive` takes them.
        """
        moves = tuple(self.moves.values())

        def at(*off: float) -> float:
            for (up, down), step in zip(moves, off, strict=True):
                if step:
                    return area / (self.base + (up if step > 0.0 else down))
            return area / self.base

        return propagate_positive(at, [0.0] * len(moves), [1.0] * len(moves))

    @property
    def least_known(self) -> str:
        """Return the key that makes the conductance most unsure."""
        return max(self.moves, key=lambda key: abs(self.moves[key][0] - self.moves[key][1]))


def step_patch(terms: PatchTerms) -> Stepped:
    """Return what a patch lets through, and how each of its keys moves it.

    Parameters
    ----------
    terms : PatchTerms
        The patch.

    Returns
    -------
    Stepped
        Of its whole area [W/K].
    """
    keys = tuple(sorted({key for _, doubt, key in terms.inputs.values() if doubt}))
    number = len(keys)
    steps = np.vstack([np.zeros(number), np.eye(number), -np.eye(number)])
    moved = {
        name: value + doubt * steps[:, keys.index(key)]
        for name, (value, doubt, key) in terms.inputs.items()
        if doubt
    }
    through = (terms.patch.area * transmittances(terms, EVERYTHING, moved)).tolist()
    base, ups, downs = through[0], through[1 : number + 1], through[number + 1 :]
    changes = zip(keys, ups, downs, strict=True)
    return Stepped(base, {key: (up - base, down - base) for key, up, down in changes})


def step_together(parts: Sequence[Stepped]) -> Stepped:
    """Return what patches let through together; a key moves all that have it at once.

    Parameters
    ----------
    parts : sequence of Stepped
        Of the patches.

    Returns
    -------
    Stepped
    """
    moves: dict[str, tuple[float, float]] = {}
    for part in parts:
        for key, (up, down) in part.moves.items():
            before = moves.get(key, (0.0, 0.0))
            moves[key] = (before[0] + up, before[1] + down)
    return Stepped(sum(part.base for part in parts), moves)
