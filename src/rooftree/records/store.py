"""The database of jobs: append-only, in one folder, one path for every write."""

from __future__ import annotations

import contextlib
import hashlib
import re
import uuid
from datetime import UTC, datetime
from typing import TYPE_CHECKING

import sqlalchemy as sa
from pydantic import ValidationError

from rooftree.errors import StoreError
from rooftree.records.bundle import Bundle, read_bundle, write_bundle
from rooftree.records.document import (
    JobDocument,
    check_raw,
    migrate,
    read_document,
    refuse_problems,
)
from rooftree.records.document.problems import problems_of
from rooftree.records.document.visit import FILE_PATTERN
from rooftree.records.engine import BUSY, FOR_WRITING, connect, plainly
from rooftree.records.files import write_whole
from rooftree.records.pictures import clean_picture
from rooftree.records.revisions import (
    Change,
    KeptJob,
    changes_of,
    job_id,
    name_job,
    newest_revision,
    records_of,
    rows_between,
    summaries_of,
)
from rooftree.records.split import join, split
from rooftree.records.tables import REVISION
from rooftree.records.upgrade import upgrade
from rooftree.records.weather_files import (
    GREENSBORO,
    SUFFIXES,
    add_shelf,
    plain_name,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

FILE_NAME = "rooftree.db"

_PHOTO = re.compile(FILE_PATTERN)


def open_store(folder: Path, *, busy: float = BUSY) -> Store:
    """Open the database in a folder; make it if it is not there.

    Parameters
    ----------
    folder : Path
        Holds the database, photos and years of weather.
    busy : float
        How long a write waits for another program [s].

    Returns
    -------
    Store

    Raises
    ------
    StoreError
        If the folder cannot be written or the file in it is not a database of ours.
    """
    path = folder / FILE_NAME
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        message = f"{folder} cannot be made: {error.strerror}; choose another folder"
        raise StoreError(message) from error
    store = Store(folder, connect(path, busy=busy))
    with plainly(path):
        upgrade(store.engine, path)
    add_shelf(folder / "weather")
    return store


class Store:
    """Jobs in a folder.

    Parameters
    ----------
    folder : Path
        Of the database.
    engine : sqlalchemy.Engine
        To its file; use `open_store`.
    """

    def __init__(self, folder: Path, engine: sa.Engine) -> None:
        self.folder = folder
        self.engine = engine

    @property
    def path(self) -> Path:
        """Return the path of the database file."""
        return self.folder / FILE_NAME

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()

    @contextlib.contextmanager
    def _reading(self) -> Iterator[sa.Connection]:
        with plainly(self.path), self.engine.connect() as connection:
            yield connection

    @contextlib.contextmanager
    def _writing(self) -> Iterator[sa.Connection]:
        writer = self.engine.execution_options(begin=FOR_WRITING)
        with plainly(self.path), writer.begin() as connection:
            yield connection

    def summaries(self) -> tuple[KeptJob, ...]:
        """Return every job, last saved first."""
        with self._reading() as connection:
            return summaries_of(connection)

    def names(self) -> tuple[str, ...]:
        """Return the names of all jobs, last saved first."""
        return tuple(kept.name for kept in self.summaries())

    def revision(self, name: str) -> int:
        """Return how often a job was saved; StoreError if there is no such job."""
        with self._reading() as connection:
            job = job_id(connection, name, self.path)
            return newest_revision(connection, job)

    def load(self, name: str, revision: int | None = None) -> JobDocument:
        """Return a job as it stands, or as it stood at a revision.

        Parameters
        ----------
        name : str
            Of the job.
        revision : int or None
            1 for the job as it was first saved; None for the newest.

        Returns
        -------
        JobDocument

        Raises
        ------
        StoreError
            If there is no such job, or no such revision of it.
        DocumentError
            If this program can no longer take what was saved.
        """
        with self._reading() as connection:
            job = job_id(connection, name, self.path)
            records = records_of(connection, job, revision)
            newest = newest_revision(connection, job)
        if not 1 <= (newest if revision is None else revision) <= newest:
            message = f'"{name}" has the revisions 1 to {newest}, not {revision}'
            raise StoreError(message)
        # What was saved was checked then: a rule made since must not lock the job away.
        raw = migrate(join(list(records.values())))
        try:
            return JobDocument.model_validate(raw)
        except ValidationError as error:
            refuse_problems(tuple(problems_of(error, raw)))
            raise

    def save(
        self,
        document: JobDocument,
        who: str,
        now: datetime | None = None,
        *,
        based_on: int | None = None,
    ) -> int:
        """Save a job: only what changed becomes a new revision; all of it or nothing.

        Parameters
        ----------
        document : JobDocument
            The whole job.
        who : str
            For the trail.
        now : datetime or None
            Time of the change; the clock's where None.
        based_on : int or None
            Revision that was changed: if the job has moved on since, nothing is saved.
            None overwrites what others have changed meanwhile.

        Returns
        -------
        int
            Revision of the job; unchanged if nothing differs.

        Raises
        ------
        DocumentError
            If the job has problems that block.
        StoreError
            If the database is locked, full or damaged, another job has the name, or
            somebody else has saved the job since `based_on`.
        """
        whole = document.plain()
        refuse_problems(check_raw(whole))
        new = split(whole)
        job, name = str(whole["id"]), str(whole["name"])
        with self._writing() as connection:
            name_job(connection, job, name)
            old = records_of(connection, job)
            number = newest_revision(connection, job)
            if based_on is not None and number != based_on:
                message = (
                    f'somebody else has saved "{name}" meanwhile (revision {number}, yours is '
                    f"{based_on}); nothing was changed. Load it again and repeat your change"
                )
                raise StoreError(message)
            rows = rows_between(old, new)
            if not rows:
                return number
            at = now or datetime.now(UTC)
            stamp = {"job_id": job, "number": number + 1, "made_at": at, "made_by": who}
            connection.execute(sa.insert(REVISION), [row | stamp for row in rows])
            return number + 1

    def history(self, name: str) -> tuple[Change, ...]:
        """Return who changed what and when, oldest first."""
        with self._reading() as connection:
            return changes_of(connection, job_id(connection, name, self.path))

    def weather_names(self) -> tuple[str, ...]:
        """Return the names of the years of weather that jobs can name."""
        shelf = self.folder / "weather"
        files = sorted(p.name for p in shelf.glob("*") if p.suffix in SUFFIXES)
        return (GREENSBORO, *files)

    def add_weather(self, name: str, content: bytes) -> str:
        """Keep a year of weather; WeatherError if it is not whole. Returns its name."""
        from rooftree.weather import parse_any

        kept = plain_name(name)
        parse_any(content.decode("utf-8", errors="replace"), kept)
        write_whole(self.folder / "weather" / kept, content)
        return kept

    def import_file(
        self, name: str, content: bytes, who: str, now: datetime | None = None
    ) -> JobDocument:
        """Bring in a job file or a bundle: as a new job, or as a new revision of its own job.

        Parameters
        ----------
        name : str
            Of the file: a bundle ends in ``.zip``.
        content : bytes
            Of the file.
        who : str
            For the trail.
        now : datetime or None
            Time of the change; the clock's where None.

        Returns
        -------
        JobDocument

        Raises
        ------
        DocumentError
            If it cannot be taken; nothing is changed then.
        StoreError
            If it cannot be saved, or another job has the name.
        """
        is_bundle = name.lower().endswith(".zip")
        bundle = read_bundle(content) if is_bundle else Bundle(read_document(content))
        # Photos first: a job that names them is there only once they are.
        for file, photo in bundle.photos.items():
            write_whole(self._photo_folder(bundle.document.id) / file, photo)
        self.save(bundle.document, who, now)
        return bundle.document

    def import_bundle(self, path: Path, who: str, now: datetime | None = None) -> JobDocument:
        """Bring in a job file or a bundle that lies at a path; see `import_file`."""
        try:
            content = path.read_bytes()
        except OSError as error:
            message = f"{path} cannot be read: {error.strerror}; check its name and permissions"
            raise StoreError(message) from error
        return self.import_file(path.name, content, who, now)

    def export_bundle(self, name: str, path: Path) -> int:
        """Write a job with its photos to a zip, whole or not at all; returns its size [bytes]."""
        document = self.load(name)
        folder = self._photo_folder(document.id)
        files = {photo.file: folder / photo.file for photo in document.photos if photo.file}
        return write_bundle(path, document, files)

    def photo_path(self, name: str, file: str) -> Path:
        """Return where a photo of a job lies, by its file name, whether or not it is there."""
        with self._reading() as connection:
            job = job_id(connection, name, self.path)
        return self._photo_folder(job) / (file if _PHOTO.match(file) else plain_name(file))

    def put_photo(self, name: str, file: str, content: bytes) -> str:
        """Keep a photo of a job.

        Parameters
        ----------
        name : str
            Of the job.
        file : str
            Name of the file as it came.
        content : bytes
            Of the file; its position is stripped.

        Returns
        -------
        str
            Name under which it is kept, for `file` of a photo of the job. A photo that is
            there already is never overwritten by another.

        Raises
        ------
        DocumentError
            If it is not a picture.
        StoreError
            If there is no such job, or it cannot be written.
        """
        clean = clean_picture(content, file)
        path = self.photo_path(name, file)
        if path.exists() and path.read_bytes() != clean:
            path = path.with_stem(f"{path.stem}-{hashlib.sha256(clean).hexdigest()[:12]}")
        write_whole(path, clean)
        return path.name

    def _photo_folder(self, job: str) -> Path:
        return self.folder / "photos" / str(uuid.UUID(job))
