"""Duct tests made on the simulated house, by a duct fan or by the fan in the door.

Ducts are bodies of air of their own (:mod:`rooftree.engine.duct_paths`); a leak goes from
them into the space that holds the run, which stands where the network has it: a crawlspace
that is pressed up by the house takes less than outdoors would.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.engine.duct_paths import (
    BRANCH,
    DUCT_EXPONENT,
    DUCTS,
    REGISTER_EXPONENT,
    RETURN_DUCTS,
    SUPPLY_DUCTS,
    Ducts,
    leak_coefficient,
)
from rooftree.engine.gauges import Opening, Setting, inside_doors, set_up
from rooftree.errors import HouseError, OutOfRangeError
from rooftree.house import OUTDOORS, Leak
from rooftree.readings.duct_leakage.readings import DuctLeakageTest
from rooftree.readings.duct_leakage_from_house.readings import (
    DeltaQTest,
    DuctSubtractionTest,
    HouseFlow,
)
from rooftree.readings.duct_pans.readings import DuctPanTest, DuctSide, PanReading

if TYPE_CHECKING:
    from rooftree.engine.gauges import GaugedHouse, Standing
    from rooftree.house import DuctRun, House

DOOR_AREA = 1.6
"""Free area of an outside door that stands open [m²]."""

USUAL_PRESSURES = (-50.0, -35.0, -20.0, -10.0, 10.0, 20.0, 35.0, 50.0)
"""House pressures of a test with the air handler off and on [Pa]."""


@dataclass(frozen=True, slots=True)
class Register:
    """One register that a pan is put over.

    Attributes
    ----------
    name : str
        Of the register.
    run : str
        Id of the duct run whose branch feeds it.
    share : float
        Of the leakage of that run that is in this branch [0-1].
    branch_flow : float
        Flow at 25 Pa from the other, open registers into the branch [m³/s], > 0: what keeps
        a leaking branch at the pressure of the house.
    """

    name: str
    run: str
    share: float
    branch_flow: float = 0.05


def simulate_duct_leakage(
    house: House, *, to_outdoors: bool, pressure: float = 25.0
) -> DuctLeakageTest:
    """Make a duct pressurization test on the simulated house.

    Parameters
    ----------
    house : House
        With an air handler and ducts.
    to_outdoors : bool
        Whether a second fan holds the house at the pressure of the ducts; else an outside
        door stands open and the whole leakage is read.
    pressure : float
        Of the ducts with reference to outdoors, or to the house [Pa], above 0 and up to 100.

    Returns
    -------
    DuctLeakageTest
        With the pressures of ducts, house and the leakiest duct space as they would be read.

    Raises
    ------
    OutOfRangeError
        If the pressure is outside its range.
    HouseError
        If there is no air handler with ducts.
    """
    if not 0.0 < pressure <= 100.0:
        raise OutOfRangeError("duct pressure", pressure, 0.0, 100.0, "Pa")
    test = set_up(house, Setting(_doors(house, outside=not to_outdoors), ducts=Ducts.SEALED))
    ducts, fan = test.place(DUCTS), test.fan
    standing = test.hold({ducts: pressure, fan: pressure} if to_outdoors else {ducts: pressure})
    shown = float(standing.pressure[ducts])
    housed = float(standing.pressure[fan])
    living = {space.id for space in house.living_spaces}
    outside = [run for run in house.ducts if run.space not in living]
    holding = max(outside, key=lambda run: run.leakage).space if outside else None
    beyond = None if holding is None else float(standing.pressure[test.place(holding)])
    return DuctLeakageTest(
        to_outdoors,
        shown,
        _volume(test, standing, ducts),
        house.air_handler.flow if house.air_handler else 0.0,
        DUCT_EXPONENT,
        duct_house_pressure=shown - housed,
        house_pressure=housed,
        space_pressure=beyond if to_outdoors else None,
        door_open=None if to_outdoors else True,
        dampers_open=True,
    )


def simulate_duct_subtraction(house: House, pressure: float = -50.0) -> DuctSubtractionTest:
    """Test the simulated house with its registers open, then sealed.

    Parameters
    ----------
    house : House
        With an air handler and ducts.
    pressure : float
        House with reference to outdoors, held both times, signed [Pa], up to 100 either way.

    Returns
    -------
    DuctSubtractionTest

    Raises
    ------
    OutOfRangeError
        If the pressure is outside its range.
    HouseError
        If there is no air handler with ducts.
    """
    if not 0.0 < abs(pressure) <= 100.0:
        raise OutOfRangeError("house pressure", pressure, -100.0, 100.0, "Pa")
    flows, apart = [], 0.0
    for ducts in (Ducts.OPEN, Ducts.SEALED):
        test = set_up(house, Setting(inside_doors(house), ducts=ducts))
        standing = test.hold({test.fan: pressure})
        flows.append(_volume(test, standing, test.fan))
        apart = float(standing.pressure[test.fan] - standing.pressure[test.place(DUCTS)])
    handler = house.air_handler.flow if house.air_handler else 0.0
    return DuctSubtractionTest(pressure, flows[0], flows[1], apart, handler, exponent=DUCT_EXPONENT)


def simulate_delta_q(house: House, pressures: tuple[float, ...] = USUAL_PRESSURES) -> DeltaQTest:
    """Read the fan over several pressures both ways, air handler off and on.

    Parameters
    ----------
    house : House
        With an air handler and ducts.
    pressures : tuple of float
        House with reference to outdoors, signed [Pa], up to 100 either way and not 0.

    Returns
    -------
    DeltaQTest

    Raises
    ------
    OutOfRangeError
        If a pressure is outside its range.
    HouseError
        If there is no air handler with ducts.
    """
    flows: list[HouseFlow] = []
    plenums: dict[str, float] = {}
    for runs in (False, True):
        setting = Setting(inside_doors(house), air_handler=runs, ducts=Ducts.OPEN)
        test = set_up(house, setting)
        if runs:
            calm = test.hold({})
            plenums = {
                name: abs(float(calm.pressure[test.place(name)] - calm.pressure[test.fan]))
                for name in (SUPPLY_DUCTS, RETURN_DUCTS)
            }
        for pressure in pressures:
            if not 0.0 < abs(pressure) <= 100.0:
                raise OutOfRangeError("house pressure", pressure, -100.0, 100.0, "Pa")
            standing = test.hold({test.fan: pressure})
            forced = float(standing.forced[test.fan])
            flow = math.copysign(_volume(test, standing, test.fan), forced)
            flows.append(HouseFlow(runs, pressure, flow))
    return DeltaQTest(
        plenums[SUPPLY_DUCTS],
        plenums[RETURN_DUCTS],
        tuple(flows),
        house.air_handler.flow if house.air_handler else 0.0,
        exponent=DUCT_EXPONENT,
    )


def simulate_duct_pans(
    house: House, registers: tuple[Register, ...], pressure: float = -50.0
) -> DuctPanTest:
    """Put a pan over one register after another while the fan holds the house.

    Parameters
    ----------
    house : House
        With an air handler and ducts.
    registers : tuple of Register
        What the pan is put over.
    pressure : float
        House with reference to outdoors, signed [Pa], up to 100 either way and not 0.

    Returns
    -------
    DuctPanTest

    Raises
    ------
    OutOfRangeError
        If the pressure is outside its range, or a share or a flow of a register is.
    HouseError
        If a register names a run that the house does not have.

    Notes
    -----
    The branch behind the pan is a body of air of its own: with its share of the leak of the
    run, and joined to the other ducts by `Register.branch_flow`.
    """
    if not 0.0 < abs(pressure) <= 100.0:
        raise OutOfRangeError("house pressure", pressure, -100.0, 100.0, "Pa")
    runs = {run.id: run for run in house.ducts}
    pans = []
    for register in registers:
        if register.run not in runs:
            message = (
                f"register {register.name} names the duct run {register.run}, which the house "
                "does not have"
            )
            raise HouseError(message)
        run = runs[register.run]
        read = _pan(house, register, run, pressure)
        place = house.space(run.space).name
        pans.append(PanReading(register.name, read, DuctSide(run.side), place))
    return DuctPanTest(
        pressure, tuple(pans), exponent=DUCT_EXPONENT, air_handler_off=True, registers=len(pans)
    )


def _pan(house: House, register: Register, run: DuctRun, pressure: float) -> float:
    """Return what the gauge shows at one pan, house with reference to the branch [Pa]."""
    if not 0.0 <= register.share <= 1.0:
        raise OutOfRangeError(f"share of {register.name}", register.share, 0.0, 1.0, "-")
    if not 0.0 < register.branch_flow < math.inf:
        name = f"branch flow of {register.name}"
        raise OutOfRangeError(name, register.branch_flow, 0.0, math.inf, "m³/s")
    leaking = leak_coefficient(house, register.share * run.leakage)
    joining = register.branch_flow / math.pow(25.0, REGISTER_EXPONENT)
    level = house.space(run.space).floor_level
    more = (
        Leak("(behind the pan)", "", BRANCH, run.space, level, None, leaking, DUCT_EXPONENT),
        Leak("(to the others)", "", BRANCH, DUCTS, level, None, joining, REGISTER_EXPONENT),
    )
    rest = replace(run, leakage=(1.0 - register.share) * run.leakage)
    ducts = tuple(rest if each.id == run.id else each for each in house.ducts)
    without = replace(house, ducts=ducts)
    test = set_up(without, Setting(inside_doors(house), ducts=Ducts.OPEN), ((BRANCH,), more))
    standing = test.hold({test.fan: pressure})
    return float(standing.pressure[test.fan] - standing.pressure[test.place(BRANCH)])


def _doors(house: House, *, outside: bool) -> tuple[str | Opening, ...]:
    """Return the inside doors, and with them an outside door."""
    doors = inside_doors(house)
    if not outside or not house.living_spaces:
        return doors
    main = max(house.living_spaces, key=lambda space: space.volume)
    return (*doors, Opening(main.id, OUTDOORS, DOOR_AREA, main.floor_level + 1.0))


def _volume(test: GaugedHouse, standing: Standing, place: int) -> float:
    """Return the volume that a test fan moves at a place, without sign [m³/s]."""
    mass = float(standing.forced[place])
    through = test.density[place] if mass < 0.0 else test.density[-1]
    return abs(mass) / float(through)
