"""Judge readings near the steady state with people."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rooftree.readings.tracer_decay.judge import note

if TYPE_CHECKING:
    from rooftree.finding import Finding


def judge_steady(
    excess: float,
    doubt: float,
    people: float,
    *,
    stored_share: float,
    most_stored: float,
    lacks_volume: bool,
) -> tuple[Finding, ...]:
    """Return why readings near the steady state give no flow.

    Parameters
    ----------
    excess : float
        Mean concentration above the background [ppm].
    doubt : float
        Standard uncertainty of the background [ppm].
    people : float
        In the house [-].
    stored_share : float
        Share of the source that piles up in the air [-].
    most_stored : float
        How much of it may [-].
    lacks_volume : bool
        Whether the concentration changes and no volume is known.

    Returns
    -------
    tuple of Finding
    """
    if people <= 0.0:
        return (
            note(
                "steady-people", "How many people breathed out is not entered: no steady estimate."
            ),
        )
    if excess <= 3.0 * doubt:
        return (
            note(
                "steady-low",
                f"With people inside it read {excess:.0f} ppm above outdoors, which cannot be"
                f" told from the doubt of {doubt:.0f} ppm: no steady estimate. Wait longer, or"
                " shut the windows.",
            ),
        )
    if lacks_volume:
        return (
            note(
                "steady-volume",
                "The concentration still changes; the volume of the house is needed to allow"
                " for that. Enter it.",
            ),
        )
    if stored_share > most_stored:
        return (
            note(
                "not-steady",
                f"The concentration still changes by {100.0 * stored_share:.0f} % of what the"
                " people give off: far from steady, certain. Wait until it levels off.",
                source="S. Batterman, IJERPH 14(2):145, 2017, section 2.1; limit ours",
            ),
        )
    return ()
