"""A word index: SQLite FTS5 with two columns, the words people look for and the tags the screens filter by.

Tags lie inside the index, so a rare word under a filter costs the same in a large workshop as in a small one. The
row ids follow the order of arrival, so the newest come first without sorting.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from sqlalchemy import Connection, bindparam, text

from witnessmark.projections import tables

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
        tokens = 'tokenize = "unicode61 remove_diacritics 2"'
        conn.execute(text(f"CREATE VIRTUAL TABLE IF NOT EXISTS {self.name} USING fts5 (words, tags, {tokens})"))

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

    def held(self, conn: Connection, rows: Sequence[int]) -> dict[int, tuple[str, str]]:
        """Row -> words and tags, of those among `rows` that the index holds. At most a few hundred rows."""
        query = text(f"SELECT rowid, words, tags FROM {self.name} WHERE rowid IN :rows")
        rows_of_index = conn.execute(query.bindparams(bindparam("rows", expanding=True)), {"rows": list(rows)})
        return {row: (words, tags) for row, words, tags in rows_of_index}

    def rows(
        self, conn: Connection, match: str, limit: int, above: int = -1, below: int = 2**62, newest_first: bool = True
    ) -> list[int]:
        """Up to `limit` row ids that match, strictly between `above` and `below`."""
        order = "DESC" if newest_first else "ASC"
        given = {"match": match, "above": above, "below": below, "limit": limit}
        return list(conn.scalars(text(_matching(self.name, order)), given))


def found_rows(
    conn: Connection, match: str, limit: int, above: int = -1, below: int = 2**62, newest_first: bool = True
) -> list[int]:
    """Up to `limit` row ids of records that match, by their own words or by what was said of them later, strictly
    between `above` and `below`."""
    order = "DESC" if newest_first else "ASC"
    given = {"match": match, "above": above, "below": below, "limit": limit}
    return list(conn.scalars(text(f"{_matching_query(order)} ORDER BY row {order} LIMIT :limit"), given))


def count(conn: Connection, match: str, most: int, above: int, below: int) -> int | None:
    """How many records match between the two, or None when they are more than `most`: nobody counts a whole log."""
    given = {"match": match, "above": above, "below": below, "limit": most + 1}
    total = conn.scalar(text(f"SELECT count(*) FROM ({_matching_query('ASC')})"), given)
    return total if total <= most else None


def _matching_query(order: str) -> str:
    """The first `limit` rows of either index in that order; the first `limit` of both together are among them.

    What was said later is not in the order of its targets: it is sorted, at two microseconds for each that matches.
    """
    name, said_of = SAID_LATER.name, tables.said_of.name
    later = (
        f"SELECT DISTINCT target AS row FROM {name} JOIN {said_of} ON {said_of}.row = {name}.rowid "
        f"WHERE {name} MATCH :match AND target > :above AND target < :below ORDER BY target {order} LIMIT :limit"
    )
    return f"SELECT row FROM ({_matching(RECORD_WORDS.name, order)}) UNION SELECT row FROM ({later})"


def _matching(name: str, order: str) -> str:
    return (
        f"SELECT rowid AS row FROM {name} WHERE {name} MATCH :match AND rowid > :above AND rowid < :below "
        f"ORDER BY rowid {order} LIMIT :limit"
    )


RECORD_WORDS = WordIndex("read_words")
# What was said of records later, under the row of the record that says it; `tables.said_of` has the row of the one it
# speaks of. Nothing in either index is ever written again, however often a record is corrected.
SAID_LATER = WordIndex("read_said_later_words")
JOB_WORDS = WordIndex("read_job_words")
