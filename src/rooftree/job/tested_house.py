"""Put what the tests of a job found into its house, so that all of them describe one house."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rooftree.errors import RooftreeError
from rooftree.finding import Finding, Severity
from rooftree.fit.measured import OBSERVERS, Read
from rooftree.fit.network import fit_network
from rooftree.job.insulated_house import with_insulation
from rooftree.job.reduction import as_found
from rooftree.known import How, Known
from rooftree.readings.air_handler import AirHandlerResult
from rooftree.readings.airtightness import FanTestResult
from rooftree.readings.insulation import InsulationResult, InsulationSurvey
from rooftree.readings.ventilation import VentilationResult

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from rooftree.fit.network import FittedNetwork
    from rooftree.house import Fan, House
    from rooftree.job.kinds import Result
    from rooftree.job.model import Job, Test
    from rooftree.job.reduction import Reductions
    from rooftree.readings.ventilation import FanFlow


@dataclass(frozen=True, slots=True)
class TestedHouse:
    """The house as described, with what the tests found put into it.

    Attributes
    ----------
    house : House
        Ready to simulate.
    findings : tuple of Finding
        Where tests and description could not be brought together.
    """

    house: House
    findings: tuple[Finding, ...]


def house_with_tests(
    job: Job,
    reductions: Reductions,
    fit: Callable[[House, tuple[Read, ...]], FittedNetwork] = fit_network,
) -> TestedHouse:
    """Put what was measured into the job's house.

    Parameters
    ----------
    job : Job
        Whose house it is.
    reductions : Reductions
        Of the same job.
    fit : callable
        Fits the air network of a house to the tests of leaks; one that remembers may stand
        in for :func:`~rooftree.fit.network.fit_network`.

    Returns
    -------
    TestedHouse
        The house as described where there is no test, or where the tests cannot be put in;
        a finding then says why.

    Notes
    -----
    First the air handler's flow, the flows of fans that the house knows by name, and the
    insulation that was surveyed, each as it was found last; then all tests of leaks together
    (:func:`~rooftree.fit.network.fit_network`). Tests after work are left out.
    """
    results = {reduced.test.id: reduced.result for reduced in reductions.tests}
    tests = as_found(job)
    house = _with_air_handler(job.house, tests, results)
    house, no_fan = _with_fans(house, tests, results)
    house, no_surface = with_insulation(house, tuple(_surveys(tests, results)))
    findings = (*no_fan, *no_surface)
    reads = tuple(_reads(tests, results))
    if not reads:
        return TestedHouse(house, findings)
    try:
        fitted = fit(house, reads)
    except RooftreeError as error:
        return TestedHouse(house, (*findings, _left_out("What was measured of leaks", error)))
    return TestedHouse(fitted.house if fitted.readings else house, (*findings, *fitted.findings))


def _surveys(
    tests: list[Test], results: Mapping[str, Result | None]
) -> Iterator[tuple[str, InsulationSurvey, InsulationResult]]:
    for test in tests:
        result = results.get(test.id)
        if isinstance(test.reading, InsulationSurvey) and isinstance(result, InsulationResult):
            yield test.name, test.reading, result


def _reads(tests: list[Test], results: Mapping[str, Result | None]) -> Iterator[Read]:
    """Yield the tests that may tell of leaks: fan tests as reduced, others as read."""
    for test in tests:
        result = results.get(test.id)
        if isinstance(result, FanTestResult):
            yield Read(test.name, result)
        elif type(test.reading) in OBSERVERS:
            yield Read(test.name, test.reading)


def _with_air_handler(
    house: House, tests: list[Test], results: Mapping[str, Result | None]
) -> House:
    flows = [
        result.flow.value
        for test in tests
        if isinstance(result := results.get(test.id), AirHandlerResult) and result.flow
    ]
    if house.air_handler is None or not flows:
        return house
    handler = house.air_handler
    known = {**handler.known, "flow": Known(How.MEASURED, "test of the air handler")}
    return replace(house, air_handler=replace(handler, flow=flows[-1], known=known))


def _with_fans(
    house: House, tests: list[Test], results: Mapping[str, Result | None]
) -> tuple[House, tuple[Finding, ...]]:
    """Return the house whose fans move what was measured, by id or by name."""
    measured: dict[str, FanFlow] = {}
    for test in tests:
        if isinstance(result := results.get(test.id), VentilationResult):
            measured |= {one.reading.name.casefold(): one for one in result.fans if _tells(one)}
    if not measured:
        return house, ()
    fans = tuple(_measured_fan(fan, measured) for fan in house.fans)
    known = {name.casefold() for fan in house.fans for name in (fan.id, fan.name)}
    unknown = [one.reading.name for name, one in measured.items() if name not in known]
    findings = (_no_such_fan(unknown),) if unknown else ()
    return replace(house, fans=fans), findings


def _measured_fan(fan: Fan, measured: Mapping[str, FanFlow]) -> Fan:
    names = (fan.id.casefold(), fan.name.casefold())
    found = next((measured[name] for name in names if name in measured), None)
    if found is None:
        return fan
    known = {**fan.known, "flow": Known(How.MEASURED, "fan flows as found")}
    stream = found.exhaust or found.supply
    return replace(fan, flow=stream.value if stream else 0.0, known=known)


def _tells(found: FanFlow) -> bool:
    """Return whether a reading says what a fan moves between the house and outdoors."""
    return bool(found.exhaust or found.supply) or not found.reading.goes_outdoors


def _left_out(what: str, error: RooftreeError) -> Finding:
    return Finding(
        "test/not-in-house",
        Severity.NOTE,
        f"{what} is not put into the house, which stays as described: {error}.",
    )


def _no_such_fan(names: list[str]) -> Finding:
    return Finding(
        "test/not-in-house",
        Severity.NOTE,
        f"Measured, but not put into the house, which has no fan of that name: "
        f"{', '.join(names)}. Give the fan the same name in both places.",
    )
