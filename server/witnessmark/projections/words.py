"""A word index: SQLite FTS5 with two columns, the words people look for and the tags the screens filter by.

Tags lie inside the index, so a rare word under a filter costs the same in a large workshop as in a small one. The
row ids follow the order of arrival, so the newest come first without sorting.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from sqlalchemy import Connection, text

_NOT_PLAIN = re.compile(r"[^a-wyz0-9]")


# The same few jobs, persons and places come again and again in a batch.
@lru_cache(maxsize=10_000)
def tag(sort: str, value: str) -> str:
    """A value as one word the tokeniser cannot cut: a letter for its sort, and all but plain letters spelt out."""
    return sort + _NOT_PLAIN.sub(lambda character: f"x{ord(character[0]):x}x", value.lower())


def phrase(words: str) -> str:
    """Text as a phrase of the words column, whatever signs it holds."""
    return '"' + words.replace('"', '""').replace("\0", "") + '"'


# The letter each sort of tag of a record begins with.
JOB, KIND, PERSON, STAGE, PLACE, DAY = "j", "k", "p", "s", "l", "d"
ALL = -1  # as a limit


class WordIndex:
    """One word index under one table name. Same create and drop as a table, so that a projection can list it."""

    def __init__(self, name: str):
        self.name = name
        # In the driver's own words: thousands of rows in a batch, and FTS5 is SQLite's alone anyway.
        self._insert = f"INSERT INTO {name}(rowid, words, tags) VALUES (?, ?, ?)"
        self._delete = text(f"DELETE FROM {name} WHERE rowid = :row")

    def create(self, conn: Connection, checkfirst: bool = True) -> None:
        conn.execute(
            text(
                f"CREATE VIRTUAL TABLE IF NOT EXISTS {self.name} USING fts5"
                '(words, tags, tokenize = "unicode61 remove_diacritics 2")'
            )
        )

    def drop(self, conn: Connection, checkfirst: bool = True) -> None:
        conn.execute(text(f"DROP TABLE IF EXISTS {self.name}"))

    def add(self, conn: Connection, rows: Sequence[tuple[int, str, str]]) -> None:
        """Adds (row, words, tags); rows must be new."""
        if rows:
            conn.exec_driver_sql(self._insert, [tuple(row) for row in rows])

    def replace(self, conn: Connection, rows: Sequence[tuple[int, str, str]]) -> None:
        """Puts (row, words, tags) in place of what the index holds under these rows, if anything."""
        if rows:
            conn.execute(self._delete, [{"row": row} for row, _, _ in rows])
            self.add(conn, rows)

    def held(self, conn: Connection, row: int) -> tuple[str, str] | None:
        """Words and tags under a row."""
        found = conn.execute(text(f"SELECT words, tags FROM {self.name} WHERE rowid = :row"), {"row": row}).first()
        return tuple(found) if found else None

    def rows(
        self, conn: Connection, match: str, limit: int, above: int = -1, below: int = 2**62, newest_first: bool = True
    ) -> list[int]:
        """Up to `limit` row ids that match, strictly between `above` and `below`."""
        order = "DESC" if newest_first else "ASC"
        query = (
            f"SELECT rowid FROM {self.name} WHERE {self.name} MATCH :match "
            f"AND rowid > :above AND rowid < :below ORDER BY rowid {order} LIMIT :limit"
        )
        given = {"match": match, "above": above, "below": below, "limit": limit}
        return list(conn.scalars(text(query), given))

    def count(self, conn: Connection, match: str, most: int, above: int, below: int) -> int | None:
        """How many match between the two, or None when they are more than `most`: nobody counts a whole log."""
        query = (
            f"SELECT count(*) FROM (SELECT rowid FROM {self.name} WHERE {self.name} MATCH :match "
            "AND rowid > :above AND rowid < :below LIMIT :limit)"
        )
        found = conn.scalar(text(query), {"match": match, "above": above, "below": below, "limit": most + 1})
        return found if found <= most else None


RECORD_WORDS = WordIndex("read_words")
JOB_WORDS = WordIndex("read_job_words")
