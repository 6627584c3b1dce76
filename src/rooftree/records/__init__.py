"""Records: job file, database, attachments, years of weather."""

from rooftree.records.store import Change, KeptJob, Store, open_store

__all__ = ["Change", "KeptJob", "Store", "open_store"]
