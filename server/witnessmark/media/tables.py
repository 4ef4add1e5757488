"""Two tables: the originals that are here, and the previews made of them.

Bytes belong to no workshop: the same bytes are the same file whoever brought them. Which workshop may speak
of a file is stated by its entries, which name the SHA-256. How far an upload has come is not in the database
at all: the length of the partial file is the only truth about it.
"""

from __future__ import annotations

from sqlalchemy import BigInteger, Column, Index, Integer, String, Table, Text

from witnessmark.db import db

media = Table(
    "media",
    db.metadata,
    Column("sha256", String(64), primary_key=True),
    Column("length", BigInteger, nullable=False),
    Column("type", String(64), nullable=False),  # our own reading of the first bytes, never what was claimed
    Column("received", String(24), nullable=False),  # RFC 3339, UTC, ms
    Column("looked", String(24)),  # when the server looked at the picture; null while that is still to do
    Column("facts", Text),  # JSON: what the file says of itself, see media.facts
    Column("fault", Text),  # why no preview could be made, a sentence
    Index("media_to_look_at", "looked"),
)

media_preview = Table(
    "media_preview",
    db.metadata,
    Column("sha256", String(64), primary_key=True),
    Column("source", String(8), nullable=False),  # 'phone': provisional · 'server': made from the original
    Column("width", Integer),
    Column("height", Integer),
    Column("made", String(24), nullable=False),
)
