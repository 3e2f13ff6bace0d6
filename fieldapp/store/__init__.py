"""The only place with SQL. `Store` opens the data folder; the modules read and write it."""

from fieldapp.store.connection import Store, utc_now

__all__ = ["Store", "utc_now"]
