"""Records: job file, database, attachments, years of weather."""

from rooftree.records.revisions import Change, KeptJob
from rooftree.records.store import Store, open_store

__all__ = ["Change", "KeptJob", "Store", "open_store"]
