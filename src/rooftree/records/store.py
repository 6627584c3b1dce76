"""The database of jobs: append-only, in one folder, one path for every write."""

from __future__ import annotations

import contextlib
import hashlib
import json
import re
import uuid
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError

from rooftree.errors import StoreError
from rooftree.records.bundle import Bundle, read_bundle, write_bundle
from rooftree.records.document import (
    JobDocument,
    check_raw,
    migrate,
    read_document,
    refuse_problems,
)
from rooftree.records.document.visit import FILE_PATTERN
from rooftree.records.engine import BUSY, FOR_WRITING, connect, plainly
from rooftree.records.files import write_whole
from rooftree.records.pictures import clean_picture
from rooftree.records.split import Record, join, split
from rooftree.records.tables import JOB, REVISION
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


@dataclass(frozen=True, slots=True)
class KeptJob:
    """One job of the database: its name, how often it was saved and when last."""

    name: str
    revision: int
    updated: datetime


@dataclass(frozen=True, slots=True)
class Change:
    """One line of a job's trail.

    Attributes
    ----------
    number : int
        Revision of the job.
    kind, name : str
        What was changed.
    removed : bool
        Whether it was taken out.
    made_at, made_by : datetime, str
        When and by whom.
    """

    number: int
    kind: str
    name: str
    removed: bool
    made_at: datetime
    made_by: str


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
        query = (
            sa.select(JOB.c.name, sa.func.max(REVISION.c.number), sa.func.max(REVISION.c.made_at))
            .join_from(JOB, REVISION)
            .group_by(JOB.c.id)
            .order_by(sa.func.max(REVISION.c.made_at).desc())
        )
        with self._reading() as connection:
            return tuple(KeptJob(*row) for row in connection.execute(query))

    def names(self) -> tuple[str, ...]:
        """Return the names of all jobs, last saved first."""
        return tuple(kept.name for kept in self.summaries())

    def revision(self, name: str) -> int:
        """Return how often a job was saved; StoreError if there is no such job."""
        with self._reading() as connection:
            job = self._job_id(connection, name)
            return self._newest(connection, job)

    def load(self, name: str) -> JobDocument:
        """Return a job as it stands; StoreError if there is no such job."""
        with self._reading() as connection:
            records = self._records(connection, self._job_id(connection, name))
        # What was saved was checked then: a rule made since must not lock the job away.
        return JobDocument.model_validate(migrate(join(list(records.values()))))

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
            self._name_job(connection, job, name)
            old = self._records(connection, job)
            number = self._newest(connection, job)
            if based_on is not None and number != based_on:
                message = (
                    f'somebody else has saved "{name}" meanwhile (revision {number}, yours is '
                    f"{based_on}); nothing was changed. Load it again and repeat your change"
                )
                raise StoreError(message)
            rows = _rows(old, new)
            if not rows:
                return number
            at = now or datetime.now(UTC)
            stamp = {"job_id": job, "number": number + 1, "made_at": at, "made_by": who}
            connection.execute(sa.insert(REVISION), [row | stamp for row in rows])
            return number + 1

    def history(self, name: str) -> tuple[Change, ...]:
        """Return who changed what and when, oldest first."""
        columns = ("number", "kind", "name", "removed", "made_at", "made_by")
        with self._reading() as connection:
            job = self._job_id(connection, name)
            query = (
                sa.select(*(REVISION.c[column] for column in columns))
                .where(REVISION.c.job_id == job)
                .order_by(REVISION.c.number, REVISION.c.kind, REVISION.c.name)
            )
            return tuple(Change(*row) for row in connection.execute(query))

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
            job = self._job_id(connection, name)
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

    def _job_id(self, connection: sa.Connection, name: str) -> str:
        found = connection.execute(sa.select(JOB.c.id).where(JOB.c.name == name)).scalar()
        if found is None:
            known = [row.name for row in connection.execute(sa.select(JOB.c.name))]
            there = ", ".join(known) or "none yet"
            message = f'there is no job "{name}" in {self.path}; jobs there: {there}'
            raise StoreError(message)
        return str(found)

    def _newest(self, connection: sa.Connection, job: str) -> int:
        query = sa.select(sa.func.max(REVISION.c.number)).where(REVISION.c.job_id == job)
        return connection.execute(query).scalar() or 0

    def _name_job(self, connection: sa.Connection, job: str, name: str) -> None:
        """Make the job's row, or give it its new name."""
        try:
            there = connection.execute(sa.select(JOB.c.name).where(JOB.c.id == job)).scalar()
            if there is None:
                connection.execute(sa.insert(JOB).values(id=job, name=name))
            elif there != name:
                connection.execute(sa.update(JOB).where(JOB.c.id == job).values(name=name))
        except IntegrityError as error:
            message = (
                f'another job is called "{name}" already; nothing was changed. Give this one '
                "another name"
            )
            raise StoreError(message) from error

    def _records(self, connection: sa.Connection, job: str) -> dict[str, Record]:
        """Return the newest revision of each record that was not removed."""
        newest = (
            sa.select(REVISION.c.record_id, sa.func.max(REVISION.c.number).label("number"))
            .where(REVISION.c.job_id == job)
            .group_by(REVISION.c.record_id)
            .subquery()
        )
        query = sa.select(REVISION).join(
            newest,
            (REVISION.c.record_id == newest.c.record_id) & (REVISION.c.number == newest.c.number),
        )
        return {
            row.record_id: Record(row.record_id, row.kind, row.name, json.loads(row.body))
            for row in connection.execute(query)
            if not row.removed
        }


def _rows(old: dict[str, Record], new: dict[str, Record]) -> list[dict[str, Any]]:
    """Return the revisions that lead from old records to new ones."""
    changed = [record for key, record in new.items() if old.get(key) != record]
    gone = [record for key, record in old.items() if key not in new]
    return [_row(r, removed=False) for r in changed] + [_row(r, removed=True) for r in gone]


def _row(record: Record, *, removed: bool) -> dict[str, Any]:
    return {
        "record_id": record.id,
        "kind": record.kind,
        "name": record.name,
        "body": json.dumps(record.body, ensure_ascii=False),
        "removed": removed,
    }
