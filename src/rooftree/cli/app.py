"""The commands. What they need is imported when they run, so that help is quick."""

from __future__ import annotations

import sys
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TextIO

from cyclopts import App, Parameter

from rooftree.cli.progress import Progress

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.plan.model import Plan

APP = App(
    name="rooftree",
    help="From one visit's readings to a safe, ordered, costed plan for a house.",
    help_format="plaintext",
    suppress_keyboard_interrupt=False,  # told in `main`, like everything that ends a command
)

Target = Annotated[str, Parameter(help="A job file, a bundle (.zip), or the name of a job.")]
Folder = Annotated[
    Path | None,
    Parameter(
        help="Folder of the database; else what ROOFTREE_FOLDER names, else your data folder."
    ),
]
AsJson = Annotated[bool, Parameter(name="--json", negative="", help="Print JSON, in SI units.")]
Metric = Annotated[bool, Parameter(negative="", help="Show SI units.")]
Output = Annotated[Path, Parameter(name=["--output", "-o"], help="File to write.")]
Port = Annotated[int, Parameter(help="Port on this computer; 0 for any that is free.")]

USUAL_PORT = 8437


@APP.command
def check(job: Target, /, *, folder: Folder = None, as_json: AsJson = False) -> None:
    """List every problem of a job file with its path; exit code 1 if it cannot be taken."""
    with Progress("Reading the job"):
        from rooftree.actions.place import data_folder
        from rooftree.actions.subject import check_subject
        from rooftree.cli.show import print_json, print_problems

        checked = check_subject(job, data_folder(folder))
    if as_json:
        print_json(checked)
    else:
        print_problems(job, checked.problems)
    sys.exit(1 if checked.is_refused else 0)


@APP.command
def reduce(
    job: Target, /, *, folder: Folder = None, as_json: AsJson = False, metric: Metric = False
) -> None:
    """Reduce every test of a job by its published method."""
    with Progress("Reducing the tests"):
        from rooftree.actions.readings import reduce_job
        from rooftree.cli.show import print_json

        subject = _open(job, folder)
        reductions = reduce_job(subject)
    if as_json:
        print_json(reductions)
    else:
        from rooftree.cli.show_tests import print_tests

        print_tests(subject, reductions, metric=metric)


@APP.command
def simulate(
    job: Target,
    /,
    *,
    hourly: Annotated[
        Path | None,
        Parameter(help="File for every hour of the year: .csv, or .parquet where pyarrow is."),
    ] = None,
    folder: Folder = None,
    as_json: AsJson = False,
    metric: Metric = False,
) -> None:
    """Run the house of a job, fitted to its tests, through its year of weather."""
    from rooftree.records.columns_file import require_columns_place

    if hourly is not None:
        require_columns_place(hourly)
    with Progress("Running the house through its year"):
        from rooftree.actions.simulation import year_of
        from rooftree.cli.show import print_json

        subject = _open(job, folder)
        year = year_of(subject)
    if hourly is not None:
        with Progress("Writing hours") as progress:
            from rooftree.actions.hours import write_hours

            write_hours(subject, hourly, progress=progress)
    if as_json:
        print_json(year)
    else:
        from rooftree.cli.show_year import print_year

        print_year(subject, year, metric=metric)


@APP.command
def loads(
    job: Target,
    /,
    *,
    stages: Annotated[
        bool, Parameter(negative="", help="Make the plan, and tell the loads after each stage.")
    ] = False,
    cold: Annotated[
        str | None, Parameter(help='Outdoors on the cold day, such as "14 F", if a code sets it.')
    ] = None,
    hot: Annotated[
        str | None, Parameter(help='Outdoors on the hot day, such as "93 F", if a code sets it.')
    ] = None,
    folder: Folder = None,
    as_json: AsJson = False,
    metric: Metric = False,
) -> None:
    """Tell what each room needs on a cold and a hot day, and whether the machines fit."""
    outdoors = [_degrees("--cold", cold), _degrees("--hot", hot)]
    subject, made = _planned(job, folder) if stages else (None, None)
    with Progress("Running the design days"):
        from rooftree.actions.loads import design_of
        from rooftree.cli.show import print_json

        subject = subject or _open(job, folder)
        design = design_of(
            subject, made, heating_temperature=outdoors[0], cooling_temperature=outdoors[1]
        )
    if as_json:
        print_json(design)
    else:
        from rooftree.cli.show_loads import print_loads

        print_loads(subject, design, metric=metric)


@APP.command
def use(
    job: Target, /, *, folder: Folder = None, as_json: AsJson = False, metric: Metric = False
) -> None:
    """Tell what a household of this size usually uses, part by part, beside what the job says."""
    with Progress("Reading the job"):
        from rooftree.actions.use import usual_use_of
        from rooftree.cli.show import print_json

        subject = _open(job, folder)
        usual = usual_use_of(subject)
    if as_json:
        print_json(usual)
    else:
        from rooftree.cli.show_use import print_use

        print_use(subject, usual, metric=metric)


def _degrees(option: str, text: str | None) -> float | None:
    """Return a temperature that was typed after an option [K]."""
    from rooftree.units import Kind, parse

    return None if text is None else parse(text, Kind.TEMPERATURE, path=option)


@APP.command
def plan(job: Target, /, *, folder: Folder = None, as_json: AsJson = False) -> None:
    """Simulate every feasible package of a job's measures and print the staged plan."""
    subject, made = _planned(job, folder)
    if as_json:
        from rooftree.cli.show import print_json

        print_json(made)
    else:
        from rooftree.cli.show_plan import print_plan

        print_plan(subject, made)


@APP.command
def report(
    job: Target,
    /,
    *,
    output: Output,
    folder: Folder = None,
    as_json: AsJson = False,
    metric: Metric = False,
) -> None:
    """Make the plan of a job and write the owner's report as a PDF."""
    from rooftree.actions.papers import require_place, write_report
    from rooftree.cli.show import print_json, print_written

    require_place(output)
    subject, made = _planned(job, folder)
    with Progress("Setting the report"):
        written = write_report(subject, made, output, metric=metric)
    if as_json:
        print_json(written)
    else:
        print_written(written)


@APP.command
def serve(*, folder: Folder = None, port: Port = USUAL_PORT, as_json: AsJson = False) -> None:
    """Serve the pages on this computer, and on this computer only, until Ctrl+C."""
    from rooftree.actions.place import data_folder

    _serve(data_folder(folder), port, as_json=as_json)


@APP.command(name="export")
def export_job(
    job: Target, /, *, output: Output, folder: Folder = None, as_json: AsJson = False
) -> None:
    """Write a job to a file: .json without photos, .zip with them."""
    with Progress("Writing the job"):
        from rooftree.actions.place import data_folder
        from rooftree.actions.subject import export_subject
        from rooftree.cli.show import print_json, print_written

        written = export_subject(job, output, data_folder(folder))
    if as_json:
        print_json(written)
    else:
        print_written(written)


@APP.command(name="import")
def import_job(
    file: Annotated[Path, Parameter(help="A job file or a bundle (.zip).")],
    /,
    *,
    folder: Folder = None,
    as_json: AsJson = False,
) -> None:
    """Bring a job file or a bundle into the database."""
    with Progress("Bringing in the job"):
        from rooftree.actions.place import data_folder
        from rooftree.actions.subject import import_subject
        from rooftree.cli.show import print_json

        brought = import_subject(file, data_folder(folder))
    if as_json:
        print_json(brought)
    else:
        print(f'job "{brought.job}", revision {brought.revision}')


@APP.command
def weather(
    file: Annotated[Path | None, Parameter(help="An EPW, TMY3 or TM2 file to keep.")] = None,
    /,
    *,
    at: Annotated[
        tuple[float, float] | None,
        Parameter(
            negative="", help="Degrees north and east of a place whose year is to be fetched."
        ),
    ] = None,
    folder: Folder = None,
    as_json: AsJson = False,
) -> None:
    """Keep a year of weather for jobs to name, from a file or fetched; list those there are."""
    with Progress("Reading the weather"):
        from rooftree.actions.place import data_folder
        from rooftree.actions.weather import keep_weather
        from rooftree.cli.show import print_json

        shelf = keep_weather(data_folder(folder), file, at)
    if as_json:
        print_json(shelf)
    else:
        print("\n".join(shelf.names))


@APP.command
def demo(
    *,
    folder: Annotated[Path, Parameter(help="Folder for the demo's database.")] = Path("demo"),
    report: Annotated[Path, Parameter(help="Where the report goes.")] = Path("demo-report.pdf"),
    serve: Annotated[bool, Parameter(help="Serve the pages afterwards.")] = True,
    port: Port = USUAL_PORT,
    as_json: AsJson = False,
) -> None:
    """Load the invented demo house, run the whole job on it and serve the pages."""
    with Progress("Simulating packages", first="Preparing the demo house") as progress:
        from rooftree.actions.demo import run_demo
        from rooftree.cli.show import print_json, print_lines

        summary = run_demo(folder, report, progress=progress)
    if as_json:
        print_json(summary)
    else:
        print_lines(summary.lines)
    if serve:
        _serve(folder, port, as_json=False, to=sys.stderr if as_json else sys.stdout)


def _open(job: str, folder: Path | None) -> Job:
    from rooftree.actions.place import data_folder
    from rooftree.actions.subject import open_subject

    return open_subject(job, data_folder(folder))


def _planned(job: str, folder: Path | None) -> tuple[Job, Plan]:
    with Progress("Simulating packages", first="Fitting the house to its tests") as progress:
        from rooftree.actions.planning import plan_job

        subject = _open(job, folder)
        return subject, plan_job(subject, progress=progress)


def _serve(folder: Path, port: int, *, as_json: bool, to: TextIO | None = None) -> None:
    from rooftree.cli.show import print_json
    from rooftree.records import open_store
    from rooftree.web import serve as serve_pages

    def announce(address: str) -> None:
        if as_json:
            print_json({"address": address})
        else:
            print(f"Serving {address} (stop with Ctrl+C)", file=to, flush=True)

    with suppress(KeyboardInterrupt):
        serve_pages(open_store(folder), port, announce=announce)
