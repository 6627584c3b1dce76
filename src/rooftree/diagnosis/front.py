"""The whole diagnosis of a simulated year by one call."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rooftree.diagnosis.air import AirDiagnosis, diagnose_air
from rooftree.diagnosis.attribution import Attribution, attribute_energy, judge_attribution
from rooftree.diagnosis.comfort import BAND, ComfortDiagnosis, diagnose_comfort
from rooftree.diagnosis.damp import DampDiagnosis, diagnose_damp
from rooftree.diagnosis.heat import HeatSplit, split_heat, split_whole_house
from rooftree.diagnosis.rooms import RoomsDiagnosis, diagnose_rooms
from rooftree.diagnosis.simulated_year import SimulatedYear, read_year

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rooftree.engine import YearResult
    from rooftree.finding import Finding
    from rooftree.house import Fuel, House
    from rooftree.weather import WeatherYear


@dataclass(frozen=True, slots=True, eq=False)
class Diagnosis:
    """What a simulated year says of a house.

    Attributes
    ----------
    year : SimulatedYear
        House, year and weather that it was made from.
    heat : tuple of HeatSplit
        Heat of every space by cause, in the order of the spaces.
    whole : HeatSplit
        The same of all living spaces together.
    energy : Attribution
        What the energy of heating and cooling is for.
    air : AirDiagnosis
        Where air comes from, what pushes it, what pulls on burners.
    damp : DampDiagnosis
        What gets wet.
    comfort : ComfortDiagnosis
        How the living spaces feel.
    rooms : RoomsDiagnosis
        The cold and the hot room, and why.
    """

    year: SimulatedYear
    heat: tuple[HeatSplit, ...]
    whole: HeatSplit
    energy: Attribution
    air: AirDiagnosis
    damp: DampDiagnosis
    comfort: ComfortDiagnosis
    rooms: RoomsDiagnosis

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return all findings: rooms, energy, air, damp, comfort."""
        return (
            *self.rooms.findings,
            *judge_attribution(self.energy),
            *self.air.findings,
            *self.damp.findings,
            *self.comfort.findings,
        )

    def heat_of(self, space: str) -> HeatSplit:
        """Return the heat of one space by cause; KeyError if there is none."""
        for split in self.heat:
            if split.space == space:
                return split
        raise KeyError(space)


def diagnose(
    house: House,
    result: YearResult,
    weather: WeatherYear,
    *,
    prices: Mapping[Fuel, float] | None = None,
    band: tuple[float, float] = BAND,
) -> Diagnosis:
    """Say what a simulated year tells of a house: heat, air, damp, comfort, rooms.

    Parameters
    ----------
    house : House
        The house that was simulated.
    result : YearResult
        Its year, simulated with ``hourly=True``.
    weather : WeatherYear
        The weather that it was run through.
    prices : mapping from Fuel to float or None
        Price of each fuel [$/J]; without them causes have no cost.
    band : tuple of float
        Operative temperatures between which a room is comfortable, the lower first [K].

    Returns
    -------
    Diagnosis

    Raises
    ------
    NotEnoughDataError
        If the year was simulated without keeping its hours.
    HouseError
        If result, house and weather do not belong together.
    OutOfRangeError
        If the upper end of the band is not above the lower.
    """
    year = read_year(house, result, weather)
    heat = split_heat(year)
    whole = split_whole_house(year, heat)
    comfort = diagnose_comfort(year, band)
    return Diagnosis(
        year=year,
        heat=heat,
        whole=whole,
        energy=attribute_energy(year, whole, prices),
        air=diagnose_air(year),
        damp=diagnose_damp(year),
        comfort=comfort,
        rooms=diagnose_rooms(year, heat, comfort.rooms),
    )
