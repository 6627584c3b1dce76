"""What a command was given: a job file, a bundle, or a job of the database by name."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from rooftree.actions.reading import read_file
from rooftree.errors import DocumentError, StoreError
from rooftree.records import open_store
from rooftree.records.bundle import Bundle, read_bundle, write_bundle
from rooftree.records.document import Problem, check_document, check_raw, read_document
from rooftree.records.files import write_whole
from rooftree.records.store import FILE_NAME
from rooftree.records.weather_files import add_shelf

if TYPE_CHECKING:
    from rooftree.job import Job
    from rooftree.records import Store
    from rooftree.records.document import JobDocument

BUNDLE, JOB_FILE = ".zip", ".json"


@dataclass(frozen=True, slots=True)
class Written:
    """A file that was written.

    Attributes
    ----------
    file : str
        Its path.
    bytes : int
        Its size [bytes].
    """

    file: str
    bytes: int


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """A job that was brought into the database.

    Attributes
    ----------
    job : str
        Its name.
    revision : int
        How often it has been saved; as before where nothing was new.
    """

    job: str
    revision: int


@dataclass(frozen=True, slots=True)
class Checked:
    """What is wrong with a job file.

    Attributes
    ----------
    problems : tuple of Problem
        Each with its path and remedy; empty where all is well.
    """

    problems: tuple[Problem, ...]

    @property
    def is_refused(self) -> bool:
        """Return whether the file cannot be taken as it is."""
        return any(problem.blocks for problem in self.problems)


def open_subject(target: str, folder: Path) -> Job:
    """Open what a command was given.

    Parameters
    ----------
    target : str
        Path of a job file or a bundle, or name of a job.
    folder : Path
        Of the database; it is not made if it is not there.

    Returns
    -------
    Job
        Its year of weather is looked for beside its file, then in the folder.

    Raises
    ------
    DocumentError, StoreError
        If it cannot be taken or is not there.
    """
    path = Path(target)
    if path.is_file():
        for shelf in (folder / "weather", path.parent):
            add_shelf(shelf)
    return _document(target, folder).to_core()


def check_subject(target: str, folder: Path) -> Checked:
    """List every problem of a job file, a bundle, or a job of the database.

    Parameters
    ----------
    target : str
        Path of a job file or a bundle, or name of a job.
    folder : Path
        Of the database.

    Returns
    -------
    Checked

    Raises
    ------
    StoreError
        If there is nothing to check.
    """
    path = Path(target)
    if path.is_file() and not _is_bundle(path):
        return Checked(check_document(read_file(path)))
    try:
        return Checked(check_raw(_document(target, folder).plain()))
    except DocumentError as error:
        return Checked(tuple(_problem(*one) for one in error.problems))


def export_subject(target: str, path: Path, folder: Path) -> Written:
    """Write a job to a file: a bundle with its photos, or the job file alone.

    Parameters
    ----------
    target : str
        Path of a job file or a bundle, or name of a job.
    path : Path
        Where: ``.zip`` for a bundle, ``.json`` for a job file.
    folder : Path
        Of the database.

    Returns
    -------
    Written

    Raises
    ------
    DocumentError, StoreError
        If it cannot be taken or written; what was there before stays.
    """
    if path.suffix.lower() == JOB_FILE:
        content = _document(target, folder).to_json().encode()
        write_whole(path, content)
        return Written(str(path), len(content))
    if not _is_bundle(path):
        message = f"{path} ends in neither {JOB_FILE} nor {BUNDLE}; end it in one of them"
        raise StoreError(message)
    if not Path(target).is_file():
        return Written(str(path), _store(target, folder).export_bundle(target, path))
    bundle = _bundle(Path(target))
    with TemporaryDirectory() as folder_of_photos:
        photos = {name: Path(folder_of_photos) / name for name in bundle.photos}
        for name, photo in bundle.photos.items():
            photos[name].write_bytes(photo)
        return Written(str(path), write_bundle(path, bundle.document, photos))


def import_subject(path: Path, folder: Path) -> BroughtIn:
    """Bring a job file or a bundle into the database of a folder.

    Parameters
    ----------
    path : Path
        Of the file.
    folder : Path
        Of the database; made if it is not there.

    Returns
    -------
    BroughtIn

    Raises
    ------
    DocumentError, StoreError
        If it cannot be taken or saved; nothing is changed then.
    """
    content = read_file(path)
    store = open_store(folder)
    document = store.import_file(path.name, content, "import")
    return BroughtIn(document.name, store.revision(document.name))


def _document(target: str, folder: Path) -> JobDocument:
    path = Path(target)
    return _bundle(path).document if path.is_file() else _store(target, folder).load(target)


def _bundle(path: Path) -> Bundle:
    content = read_file(path)
    return read_bundle(content) if _is_bundle(path) else Bundle(read_document(content))


def _is_bundle(path: Path) -> bool:
    return path.suffix.lower() == BUNDLE


def _store(target: str, folder: Path) -> Store:
    """Return the database, which a command that only reads does not make."""
    if Path(target).suffix.lower() in (BUNDLE, JOB_FILE):
        raise StoreError(f"there is no file {target}; check its path")
    if not (folder / FILE_NAME).is_file():
        message = (
            f'there is neither a file "{target}" nor a database in {folder}; give the path of a '
            "job file, or import it first"
        )
        raise StoreError(message)
    return open_store(folder)


def _problem(path: str, text: str) -> Problem:
    says, _, remedy = text.partition("; ")
    return Problem(path, says, remedy)
