"""The commands. What they need is imported when they run, so that help is quick."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

APP = App(
    name="rooftree",
    help="From one visit's readings to a safe, ordered, costed plan for a house.",
    help_format="plaintext",
)

Target = Annotated[str, Parameter(help="A job file, a bundle (.zip), or the name of a job.")]
Folder = Annotated[
    Path | None, Parameter(help="Folder of the database; ROOFTREE_FOLDER, or your data folder.")
]
AsJson = Annotated[bool, Parameter(name="--json", negative="", help="Print JSON, in SI units.")]
Metric = Annotated[bool, Parameter(negative="", help="Show SI units.")]


@APP.command
def check(job: Target, *, folder: Folder = None, as_json: AsJson = False) -> None:
    """List every problem of a job file with its path; exit code 1 if it cannot be taken."""
    from rooftree.actions.jobs import check_file
    from rooftree.actions.place import data_folder
    from rooftree.cli.show import print_json, print_problems

    problems = check_file(job, data_folder(folder))
    if as_json:
        print_json({"problems": problems})
    else:
        print_problems(job, problems)
    sys.exit(1 if any(problem.blocks for problem in problems) else 0)


@APP.command
def reduce(
    job: Target, *, folder: Folder = None, as_json: AsJson = False, metric: Metric = False
) -> None:
    """Reduce every test of a job by its published method."""
    from rooftree.actions.jobs import open_subject
    from rooftree.actions.place import data_folder
    from rooftree.actions.readings import reduce_job
    from rooftree.cli.show import print_json, print_tests

    reductions = reduce_job(open_subject(job, data_folder(folder)))
    if as_json:
        print_json(reductions)
    else:
        print_tests(reductions, metric=metric)


@APP.command
def simulate(
    job: Target, *, folder: Folder = None, as_json: AsJson = False, metric: Metric = False
) -> None:
    """Run the house of a job, fitted to its tests, through its year of weather."""
    from rooftree.actions.jobs import open_subject
    from rooftree.actions.place import data_folder
    from rooftree.actions.simulation import simulate_job
    from rooftree.cli.show import print_json, print_year

    subject = open_subject(job, data_folder(folder))
    year = simulate_job(subject)
    if as_json:
        print_json(year)
    else:
        print_year(subject, year, metric=metric)


@APP.command
def plan(
    job: Target, *, folder: Folder = None, as_json: AsJson = False, metric: Metric = False
) -> None:
    """Simulate every feasible package of a job's measures and print the staged plan."""
    from rooftree.actions.jobs import open_subject
    from rooftree.actions.place import data_folder
    from rooftree.actions.planning import plan_job
    from rooftree.cli.progress import Progress
    from rooftree.cli.show import print_json, print_plan

    subject = open_subject(job, data_folder(folder))
    with Progress("Simulating packages") as progress:
        made = plan_job(subject, progress=progress)
    if as_json:
        print_json(made)
    else:
        print_plan(subject, made, metric=metric)


@APP.command
def report(
    job: Target,
    *,
    output: Annotated[Path, Parameter(name=["--output", "-o"], help="File to write.")],
    folder: Folder = None,
    as_json: AsJson = False,
    metric: Metric = False,
) -> None:
    """Make the plan of a job and write the owner's report as a PDF."""
    from rooftree.actions.jobs import open_subject
    from rooftree.actions.papers import write_report
    from rooftree.actions.place import data_folder
    from rooftree.actions.planning import plan_job
    from rooftree.cli.progress import Progress
    from rooftree.cli.show import print_json

    subject = open_subject(job, data_folder(folder))
    with Progress("Simulating packages") as progress:
        made = plan_job(subject, progress=progress)
    size = write_report(subject, made, output, metric=metric)
    if as_json:
        print_json({"file": str(output), "bytes": size})
    else:
        print(f"{output}: {size / 1024:.0f} kB")


@APP.command
def serve(
    *,
    folder: Folder = None,
    port: Annotated[int, Parameter(help="Port on this computer only.")] = 8437,
    as_json: AsJson = False,
) -> None:
    """Serve the pages on this computer, and on this computer only."""
    from rooftree.actions.place import data_folder
    from rooftree.cli.show import print_json
    from rooftree.records import open_store
    from rooftree.web import serve as serve_pages

    address = f"http://127.0.0.1:{port}/"
    if as_json:
        print_json({"address": address})
    else:
        print(f"Rooftree serves {address} (stop with Ctrl+C)", flush=True)
    serve_pages(open_store(data_folder(folder)), port)


@APP.command(name="export")
def export_job(
    job: Target,
    *,
    output: Annotated[Path, Parameter(name=["--output", "-o"], help="A .json or .zip file.")],
    folder: Folder = None,
    as_json: AsJson = False,
) -> None:
    """Write a job to a file: .json without photos, .zip with them."""
    from rooftree.actions.jobs import export_file
    from rooftree.actions.place import data_folder
    from rooftree.cli.show import print_json

    size = export_file(job, output, data_folder(folder))
    if as_json:
        print_json({"file": str(output), "bytes": size})
    else:
        print(f"{output}: {size / 1024:.0f} kB")


@APP.command(name="import")
def import_job(
    file: Annotated[Path, Parameter(help="A job file or a bundle.")],
    *,
    folder: Folder = None,
    as_json: AsJson = False,
) -> None:
    """Bring a job file or a bundle into the database."""
    from rooftree.actions.jobs import bring_in
    from rooftree.actions.place import data_folder
    from rooftree.cli.show import print_json

    name, revision = bring_in(file, data_folder(folder))
    if as_json:
        print_json({"job": name, "revision": revision})
    else:
        print(f'job "{name}", revision {revision}')


@APP.command
def demo(
    *,
    folder: Annotated[Path, Parameter(help="Folder for the demo's database.")] = Path("demo"),
    report: Annotated[Path, Parameter(help="Where the report goes.")] = Path("demo-report.pdf"),
    serve: Annotated[bool, Parameter(help="Serve the pages afterwards.")] = True,
    port: Annotated[int, Parameter(help="Port on this computer only.")] = 8437,
    as_json: AsJson = False,
) -> None:
    """Load the invented demo house, run the whole job on it and serve the pages."""
    from rooftree.actions.demo import run_demo
    from rooftree.cli.progress import Progress
    from rooftree.cli.show import print_demo, print_json
    from rooftree.records import open_store
    from rooftree.web import serve as serve_pages

    with Progress("Simulating packages") as progress:
        summary = run_demo(folder, report, progress=progress)
    if as_json:
        print_json(summary)
    else:
        print_demo(summary)
    if serve:
        print(f"\nServing http://127.0.0.1:{port}/ (stop with Ctrl+C)", flush=True)
        serve_pages(open_store(folder), port)
